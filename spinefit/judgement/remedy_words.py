"""Would other words do, or a word in two parts?

Remedies of the words: one that the trade abbreviates, as a suggestion with the shortened
title, and a word broken with a hyphen. Each is run before it is offered.
"""

from __future__ import annotations

from collections.abc import Iterator

from spinefit.catalogue import Shortening, shortenings
from spinefit.job.resolved import ResolvedJob
from spinefit.job.title import guess_language
from spinefit.judgement.remedy import Need, Remedy, run, with_lettering
from spinefit.vocabulary import BreakWords, Orientation
from spinefit.words import folded

__all__ = ["shortened_job", "ways"]

_MOST_WORDS_TO_BREAK = 6  # of more words, it is not one long word that is in the way
_MOST_ALONE = 3  # words shortened one at a time before all of them together
_POINTS = ".,;:!?"
_ROMAN = frozenset("IVXLCDM")


def ways(need: Need) -> Iterator[Remedy]:
    """Every way out by the words."""
    yield from _abbreviated(need)
    yield from _broken(need)


def _abbreviated(need: Need) -> Iterator[Remedy]:
    """A word the trade abbreviates: the one that saves most, else all there are."""
    table = shortenings(need.job.language)
    words = [_bare(word) for line in need.job.title_lines for word in line.split()]
    own = {word: table[word] for word in words if word in table}
    if len(words) == 1 or not own:
        return
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
    table = shortenings(job.language)
    words = [_bare(word) for line in job.title_lines for word in line.split()]
    if len(words) == 1:
        return job, ()
    return _with_shortened(job, {word: table[word] for word in words if word in table})


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
    for found in run(need, "break-word", options, with_lettering(changed, lines=lines), 4):
        if found.outcome is not None and any(found.outcome.layout.group.broken):
            yield found
