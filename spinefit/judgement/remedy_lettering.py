"""Would the title do otherwise lettered: in another setting, another letter, other words?

Remedies that leave it in its place: a smaller size, another split, tighter tracking, less
leading, the other way round; words that the trade abbreviates, or one broken with a hyphen;
capitals alone, a condensed companion, a font whose strokes hold. Each is run before it is
offered.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from spinefit.catalogue import (
    FontRow,
    Shortening,
    font_named,
    font_rows,
    fonts_by_strength,
    shortenings,
    sturdiest_fonts,
)
from spinefit.catalogue.words import folded
from spinefit.job.resolved import ResolvedJob
from spinefit.job.title import guess_language
from spinefit.judgement.judged import Judged
from spinefit.judgement.offer import closest_letters
from spinefit.judgement.remedy import Need, Remedy, run, size_option, with_lettering
from spinefit.layout.group import leading_em, least_leading_em
from spinefit.shaping import shape_title
from spinefit.vocabulary import BreakWords, Case, Letters, Orientation

_STEPS = 60  # halvings of a size; far finer than any step
_CENTS = 100  # leading is stated in hundredths of an em
_MOST_WORDS_TO_BREAK = 6  # of more words, it is not one long word that is in the way
_MOST_ALONE = 3  # words shortened one at a time before all of them together
_POINTS = ".,;:!?"
_ROMAN = frozenset("IVXLCDM")
_FONTS_TO_TRY = 4  # each may have to be measured
_NARROW = "condensed"


def changed_setting(need: Need) -> Iterator[Remedy]:
    """Every remedy that changes nothing but the setting."""
    yield from _other_size(need)
    yield from _split(need)
    yield from _tracking(need)
    yield from _leading(need)
    yield from _turned(need)


def _other_size(need: Need) -> Iterator[Remedy]:
    """The least that holds, the advised one for one too large, or one with room to place it."""
    job, best, asked = need.job, need.best, need.job.lettering.size_pt
    if best is None and asked is not None:
        held = need.judged[0].offer.smallest_pt()
        if held > asked:
            own = with_lettering(job, size_pt=held)
            yield from run(need, "larger", size_option(held), own, 1)
        advised, _all = need.trial(with_lettering(job, size_pt=None))
        size = asked if advised is None else advised.set_pt
        outcome, _all = need.trial(with_lettering(job, size_pt=size))
        if outcome is not None and size < asked:
            yield Remedy("smaller", size_option(outcome.set_pt), outcome, 1)
    if best is None or not need.is_tight:
        return
    size = best.offer.at_most(_size_for_tolerance(job, best))
    if size >= best.set_pt:
        return
    outcome, _all = need.trial(with_lettering(job, size_pt=size))
    can_be_read = job.rules.value("legibility.failing_arcmin")
    if outcome is not None and not outcome.tight and outcome.arcminutes >= can_be_read:
        yield Remedy("smaller", size_option(size), outcome, 1)


def _size_for_tolerance(job: ResolvedJob, one: Judged) -> float:
    """The largest size in points at which the placing tolerance is covered on every side."""
    tolerance_mm = job.method.placing.value

    def is_covered(size_pt: float) -> bool:
        return one.at(size_pt).nearest_edge_mm >= tolerance_mm

    low, high = 0.0, one.set_pt
    for _ in range(_STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if is_covered(middle) else (low, middle)
    return low


def _split(need: Need) -> Iterator[Remedy]:
    """Lines as they fall, where their number or their breaks were asked for."""
    changed = unsplit(need.job)
    if changed is not None:
        yield from run(need, "split", "--lines any", changed, 1)


def unsplit(job: ResolvedJob) -> ResolvedJob | None:
    """The job with its lines left open; None where they are."""
    if job.lettering.lines is None and len(job.title_lines) == 1:
        return None
    whole = job._replace(title_lines=(" ".join(job.title_lines),))
    return with_lettering(whole, lines=None)


def _tracking(need: Need) -> Iterator[Remedy]:
    """Letters closed up, by as little as helps, down to the tightest of practice; or parted.

    What fits and is not tight is only too small: a fiftieth of the size never mends that.
    """
    if any(one.offer.touching for one in need.judged):
        own = with_lettering(need.job, tracking_em=0.0)
        yield from run(need, "tracking", "--tracking 0", own, 1, parted=True)
        return
    if need.best is not None and not need.is_tight and need.job.lettering.tracking_em <= 0:
        return
    asked_em = need.job.lettering.tracking_em
    tightest = round(need.job.rules.value("tracking.tightest") * 1000)
    for tracking in (0, tightest / 2, tightest):
        if tracking / 1000 >= asked_em:
            continue
        changed = with_lettering(need.job, tracking_em=tracking / 1000)
        for found in run(need, "tracking", f"--tracking {tracking:g}", changed, 1):
            if stays_open(need, changed, found):
                yield found._replace(facts={"tracking": tracking})
            return


def _leading(need: Need) -> Iterator[Remedy]:
    """Lines closed up, down to the least gap between the ink of two."""
    least_em = least_leading(need.job)
    if least_em is None:
        return
    changed = with_lettering(need.job, leading_em=least_em)
    for found in run(need, "leading", f"--leading {least_em:g}", changed, 1):
        several = found.outcome is not None and len(found.outcome.lines) > 1
        if several and stays_open(need, changed, found):
            yield found._replace(facts={"leading_em": least_em})


def least_leading(job: ResolvedJob) -> float | None:
    """The least leading of its lines in em; None where it has one line, or no more than that."""
    title, asked = shape_title(job), job.lettering
    least_em = math.ceil(least_leading_em(title, job.rules) * _CENTS) / _CENTS
    several = len(title.run.pieces) > 1 and asked.lines != 1
    closer = least_em < leading_em(title, asked.leading_em, job.rules)
    return least_em if several and closer else None


def stays_open(need: Need, changed: ResolvedJob, found: Remedy) -> bool:
    """Whether closing up keeps open what the method keeps open, or what was closed before."""
    outcome, best = found.outcome, need.best
    assert outcome is not None  # such a remedy has been run
    if best is not None and closest_letters(need.job, need.title, best.layout, best.set_pt):
        return True
    title = shape_title(changed)
    return closest_letters(changed, title, outcome.layout, outcome.set_pt) is None


def _turned(need: Need) -> Iterator[Remedy]:
    """The other orientations, where one was asked for or another one was advised."""
    job, taken = need.job, need.job.lettering.orientation
    if taken is Orientation.ANY:
        if need.best is None:
            return
        taken = need.best.orientation
    for other in (Orientation.TRANSVERSE, Orientation.LONGITUDINAL):
        if other is not taken:
            lines = None if taken is Orientation.PILLAR else job.lettering.lines
            changed = with_lettering(job, orientation=other, lines=lines)
            yield from run(need, "turn", f"--orientation {other}", changed, 2)


def changed_words(need: Need) -> Iterator[Remedy]:
    """Every remedy of the words."""
    yield from _abbreviated(need)
    yield from _broken(need)


def _abbreviated(need: Need) -> Iterator[Remedy]:
    """A word the trade abbreviates: the one that saves most, else all there are."""
    own = _shortenings_of(need.job)
    saving = sorted(own, key=lambda word: len(own[word].short) - len(word))
    tries = [{word: own[word]} for word in saving[:_MOST_ALONE]]
    for rows in (*tries, own) if len(own) > 1 else tries:
        changed, used = _with_shortened(need.job, rows)
        title = " / ".join(changed.title_lines)
        found = list(run(need, "abbreviate", "", changed, 3, title=title, rows=used))
        if found and used:
            yield from found
            return


def shortened_job(job: ResolvedJob) -> tuple[ResolvedJob, tuple[Shortening, ...]]:
    """The job with every word shortened that the trade shortens, and the rows that were used."""
    return _with_shortened(job, _shortenings_of(job))


def _shortenings_of(job: ResolvedJob) -> dict[str, Shortening]:
    """How the trade shortens words of a title; none of a title of one word."""
    table = shortenings(job.language)
    words = [_bare(word) for line in job.title_lines for word in line.split()]
    return {word: table[word] for word in words if word in table and len(words) > 1}


def _with_shortened(
    job: ResolvedJob, rows: dict[str, Shortening]
) -> tuple[ResolvedJob, tuple[Shortening, ...]]:
    """The job with words of its title shortened, and the rows that were used.

    The language is guessed again, as it would be for the shortened title.
    """
    lines: list[str] = []
    used: list[Shortening] = []
    for line in job.title_lines:
        words = line.split(" ")
        for at, (word, following) in enumerate(zip(words, (*words[1:], ""), strict=True)):
            row = rows.get(_bare(word))
            if row is not None and (_is_number(following) or not row.before_number):
                words[at] = _shortened(word, row.short)
                used.append(row)
        lines.append(" ".join(words))
    changed = job._replace(title_lines=tuple(lines))
    if job.language is None or any(one.startswith("language:") for one in job.assumed):
        again = guess_language(changed.title_lines, job.market.languages)
        changed = changed._replace(language=again)
    return changed, tuple(dict.fromkeys(used))


def _bare(word: str) -> str:
    return folded(word).strip(_POINTS)


def _shortened(word: str, short: str) -> str:
    """The short form in the word's own case, with the punctuation that follows it.

    >>> _shortened("HISTORY,", "hist."), _shortened("Volume", "vol."), _shortened("and", "&")
    ('HIST.,', 'Vol.', '&')
    """
    bare = word.rstrip(_POINTS)
    after = word[len(bare) :]
    if bare.isupper():
        short = short.upper()
    elif bare[:1].isupper():
        short = short[:1].upper() + short[1:]
    return short + (after.removeprefix(".") if short.endswith(".") else after)


def _is_number(word: str) -> bool:
    bare = word.strip(_POINTS)
    return bare.isdigit() or (bool(bare) and set(bare) <= _ROMAN)


def _broken(need: Need) -> Iterator[Remedy]:
    """A word broken with a hyphen, across the back, where the binder allows it."""
    job, asked = need.job, need.job.lettering
    across = asked.orientation in (Orientation.ANY, Orientation.TRANSVERSE)
    if asked.break_words is not BreakWords.NEVER or not across:
        return
    if len(need.title.run.pieces) > _MOST_WORDS_TO_BREAK:
        return
    changed = with_lettering(
        job, break_words=BreakWords.HYPHEN, orientation=Orientation.TRANSVERSE, lines=None
    )
    most = job.rules.value("across.most_lines")
    broken = [
        one
        for one in need.trial(changed)[1]
        if one.fits and any(one.layout.group.broken) and len(one.layout.group.texts) <= most
    ]
    if not broken:
        return
    wanted = max(broken, key=lambda one: (-sum(one.layout.group.broken), one.set_pt))
    lines = len(wanted.layout.group.texts)
    options = f"--break-words hyphen --orientation transverse --lines {lines}"
    beside = [one for one in broken if len(one.lines) == lines and one.lines != wanted.lines]
    lettered = with_lettering(changed, lines=lines)
    for found in run(need, "break-word", options, lettered, 4, beside=beside[-1:]):
        if found.outcome is not None and any(found.outcome.layout.group.broken):
            yield found


def changed_letters(need: Need) -> Iterator[Remedy]:
    """Every remedy of the letter; brass letters are not changed for a font."""
    yield from _capitals(need)
    yield from _as_typed(need)
    if need.job.method.letters is Letters.OUTLINES:
        yield from _condensed(need)
        yield from _sturdier(need)
        yield from _sturdy_capitals(need)


def _capitals(need: Need) -> Iterator[Remedy]:
    asked = need.job.lettering
    if asked.case is Case.CAPITALS or need.title.all_capitals:
        return
    orientation = asked.orientation
    if need.best is not None:
        orientation = need.best.orientation
    option = "" if orientation is Orientation.ANY else f" --orientation {orientation}"
    changed = with_lettering(need.job, case=Case.CAPITALS, orientation=orientation)
    yield from run(need, "capitals", f"--case capitals{option}", changed, 2)


def _as_typed(need: Need) -> Iterator[Remedy]:
    """Small letters where capitals alone were asked for, and the title has any."""
    if need.job.lettering.case is Case.CAPITALS:
        changed = with_lettering(need.job, case=Case.AS_TYPED)
        yield from run(need, "as-typed", "--case as-typed", changed, 2)


def _condensed(need: Need) -> Iterator[Remedy]:
    for row, own in narrower_fonts(need):
        yield from _in_font(need, "condensed", row, 2 if own else 3, own=own)


def narrower_fonts(need: Need) -> Iterator[tuple[FontRow, bool]]:
    """The font's own condensed companion, else the condensed fonts of another design.

    Each with whether it is the font's own; none for brass letters, for a font that is narrow
    already, and where what fails is the strokes, not the room.
    """
    name = need.job.lettering.font
    if need.job.method.letters is not Letters.OUTLINES or _NARROW in name.casefold():
        return
    if any(one.fails_by_letters for one in need.judged):
        return
    own = font_named(f"{name} {_NARROW}")
    if own is not None:
        yield own, True
        return
    bold = name.casefold().endswith(" bold")
    for row in font_rows():
        if _NARROW in row.name.casefold() and ("bold" in row.name.casefold()) is bold:
            yield row, False


def _sturdier(need: Need) -> Iterator[Remedy]:
    """A font at hand whose strokes and counters hold, where those of the one asked for do not."""
    if any(one.offer.weakest for one in need.judged):
        for row in sturdiest_fonts(need.job.method):
            yield from _in_font(need, "font", row, 2)


def _sturdy_capitals(need: Need) -> Iterator[Remedy]:
    """Capitals alone in a font that holds, where letters do not: what a thin back takes at all.

    The sturdiest are tried, and the bold condensed ones, which are sturdy too and need less room;
    the one with the highest capitals is named.
    """
    asked = need.job.lettering
    weak = any(one.offer.weakest for one in need.judged)
    if not weak or asked.case is Case.CAPITALS or need.title.all_capitals:
        return
    found: list[Remedy] = []
    for row in _sturdy_and_narrow(need.job):
        job, options = in_font(need.job, row)
        job = with_lettering(job, case=Case.CAPITALS, size_pt=None)
        options += " --case capitals"
        outcome, _all = need.trial(job)
        if outcome is not None and asked.size_pt is not None:
            job = with_lettering(job, size_pt=outcome.set_pt)
            options += f" {size_option(outcome.set_pt)}"
        if outcome is not None:
            found += run(need, "font+case", options, job, 2, font=row.name)
    yield from sorted(found, key=Remedy.rank)[:1]


def _sturdy_and_narrow(job: ResolvedJob) -> list[FontRow]:
    """The sturdiest fonts for a method, then the bold condensed ones."""
    rows = fonts_by_strength(job.method)
    narrow = [row for row in rows if {_NARROW, "bold"} <= set(row.name.casefold().split())]
    return list(dict.fromkeys((*rows[:_FONTS_TO_TRY], *narrow)))


def _in_font(need: Need, change: str, row: FontRow, cost: int, **facts: object) -> Iterator[Remedy]:
    changed, options = in_font(need.job, row)
    yield from run(need, change, options, changed, cost, font=row.name, **facts)


def in_font(job: ResolvedJob, row: FontRow) -> tuple[ResolvedJob, str]:
    """The job in a bundled font, and the options that put it there."""
    asked = job.lettering
    options = f"--font '{row.name}'"
    options += " --face 1" if asked.face is not None else ""
    options += " --axes none" if asked.axes else ""
    return with_lettering(job, font=row.name, face=None, axes=()), options
