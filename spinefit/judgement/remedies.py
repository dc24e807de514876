"""What is the smallest change that makes the title fit, or be read?

In: the judged job and a way to run it again with something changed (handed in, since this
stage knows no earlier entry point). Out: remedies, cheapest first. Each is a change of
options whose run advises just the setting that is claimed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any, NamedTuple

from spinefit.catalogue import font_rows
from spinefit.job.model import Panel, Shape
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.placing import nearest_edge_mm, place, to_edge
from spinefit.judgement.sizes import Judged
from spinefit.shaping.title import ShapedTitle
from spinefit.units import mm_from_pt
from spinefit.vocabulary import BreakWords, Case, Orientation, Verdict

__all__ = ["Remedy", "Trial", "remedies_for"]

Trial = Callable[[ResolvedJob], tuple[Judged | None, Sequence[Judged]]]
"""Runs a changed job; gives the advised layout, or None, and all layouts."""

_WORTH_WHILE = 1.1  # a remedy for lettering that fits must make it larger by a tenth
_MOST_WORDS_TO_BREAK = 6  # of more words, it is not one long word that is in the way
_FONTS_TO_TRY = 4  # each has to be measured
_STEPS = 60  # halvings of a size; far finer than any step


class Remedy(NamedTuple):
    """A change that was run and found to work.

    Attributes:
        change: smaller, split, font, turn, capitals, break-word, over-bands, cover.
        options: the options of the command line that make the change; empty where it is no
            change of options (another place on the book).
        outcome: the layout it gives; None where the place cannot be measured.
        cost: 1 (the setting alone) to 5 (another place on the book).
    """

    change: str
    options: str
    outcome: Judged | None
    cost: int


def remedies_for(
    job: ResolvedJob,
    title: ShapedTitle,
    judged: Sequence[Judged],
    best: Judged | None,
    verdict: Verdict,
    trial: Trial,
) -> tuple[Remedy, ...]:
    """Ways out where a title does not fit, is tight, or is too small to read.

    Args:
        job: the resolved job.
        title: its shaped title.
        judged: all its layouts.
        best: the advised one, or None.
        verdict: the verdict on the job.
        trial: runs a changed job.
    """
    least_arcmin = job.rules.value("legibility.least_arcmin")
    readable = best is not None and best.arcminutes >= least_arcmin
    if verdict is Verdict.FITS and readable:
        return ()
    found = [*_smaller(job, best, verdict, trial)]
    if best is None or not readable:
        found += [
            remedy for remedy in _changes(job, title, judged, best, trial) if _helps(remedy, best)
        ]
        found += [*_over_bands(judged, best), *_cover(job, trial)]
    return tuple(sorted(found, key=lambda remedy: remedy.cost))


def _helps(remedy: Remedy, best: Judged | None) -> bool:
    """Whether a change gives letters that are larger, not only points that are more."""
    if remedy.outcome is None or best is None:
        return remedy.outcome is not None
    larger = remedy.outcome.cap_height_mm >= _WORTH_WHILE * best.cap_height_mm
    return larger and remedy.outcome.set_pt > best.set_pt


def _smaller(
    job: ResolvedJob, best: Judged | None, verdict: Verdict, trial: Trial
) -> Iterator[Remedy]:
    """A smaller size: the advised one for a size too large, or one with room to place it."""
    asked = job.lettering.size_pt
    if best is None and asked is not None:
        advised, _all = trial(_with(job, size_pt=None))
        size = asked if advised is None else advised.set_pt
        outcome, _all = trial(_with(job, size_pt=size))
        if outcome is not None and size < asked:
            yield Remedy("smaller", f"--size {outcome.set_pt:g}", outcome, 1)
    if best is None or verdict is not Verdict.TIGHT:
        return
    size = best.offer.at_most(_size_for_tolerance(job, best))
    if size >= best.set_pt:
        return
    outcome, _all = trial(_with(job, size_pt=size))
    if outcome is not None and not outcome.tight:
        yield Remedy("smaller", f"--size {size:g}", outcome, 1)


def _size_for_tolerance(job: ResolvedJob, one: Judged) -> float:
    """The largest size in points at which the placing tolerance is covered on every side."""
    tolerance_mm = job.method.placing.value

    def is_covered(size_pt: float) -> bool:
        size_mm = mm_from_pt(size_pt)
        beyond = to_edge(job, one.layout, place(job, one.layout, size_mm)[1])
        return nearest_edge_mm(one.layout, beyond, size_mm) >= tolerance_mm

    low, high = 0.0, one.set_pt
    for _ in range(_STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if is_covered(middle) else (low, middle)
    return low


def _changes(
    job: ResolvedJob,
    title: ShapedTitle,
    judged: Sequence[Judged],
    best: Judged | None,
    trial: Trial,
) -> Iterator[Remedy]:
    """Changes of the setting, run one at a time."""
    asked = job.lettering
    if asked.lines is not None or len(job.title_lines) > 1:
        whole = job._replace(title_lines=(" ".join(job.title_lines),))
        yield from _run("split", "--lines any", _with(whole, lines=None), trial, 1)
    yield from _sturdier(job, judged, trial)
    yield from _turned(job, best, trial)
    if asked.case is not Case.CAPITALS and not title.all_capitals:
        orientation = asked.orientation
        if best is not None:
            orientation = best.layout.candidate.orientation
        options = f"--case capitals{_orientation_option(orientation)}"
        changed = _with(job, case=Case.CAPITALS, orientation=orientation)
        yield from _run("capitals", options, changed, trial, 2)
    yield from _broken(job, title, trial)


def _sturdier(job: ResolvedJob, judged: Sequence[Judged], trial: Trial) -> Iterator[Remedy]:
    """A font at hand whose strokes hold, where those of the one asked for do not.

    Its own bold first, then the others, the sturdiest first; a few are tried.
    """
    if not any(one.offer.weakest is not None for one in judged):
        return
    own = f"{job.lettering.font.casefold()} bold"
    rows = sorted(
        font_rows(), key=lambda row: (row.name.casefold() != own, -row.thinnest_stroke_em)
    )
    for row in rows[:_FONTS_TO_TRY]:
        outcome, _all = trial(_with(job, font=row.name))
        if outcome is not None:
            yield Remedy("font", f"--font '{row.name}'", outcome, 2)
            return


def _turned(job: ResolvedJob, best: Judged | None, trial: Trial) -> Iterator[Remedy]:
    """The other orientations, where one was asked for or another one was advised."""
    taken = job.lettering.orientation
    if taken is Orientation.ANY:
        if best is None:
            return
        taken = best.layout.candidate.orientation
    for other in (Orientation.TRANSVERSE, Orientation.LONGITUDINAL):
        if other is not taken:
            lines = None if taken is Orientation.PILLAR else job.lettering.lines
            changed = _with(job, orientation=other, lines=lines)
            yield from _run("turn", f"--orientation {other}", changed, trial, 2)


def _orientation_option(orientation: Orientation) -> str:
    return "" if orientation is Orientation.ANY else f" --orientation {orientation}"


def _broken(job: ResolvedJob, title: ShapedTitle, trial: Trial) -> Iterator[Remedy]:
    """A word broken with a hyphen, across the back, where the binder allows it."""
    asked = job.lettering
    across = asked.orientation in (Orientation.ANY, Orientation.TRANSVERSE)
    if asked.break_words is not BreakWords.NEVER or not across:
        return
    if len(title.run.pieces) > _MOST_WORDS_TO_BREAK:
        return
    changed = _with(
        job, break_words=BreakWords.HYPHEN, orientation=Orientation.TRANSVERSE, lines=None
    )
    most = job.rules.value("across.most_lines")
    broken = [
        one
        for one in trial(changed)[1]
        if one.fits and any(one.layout.group.broken) and len(one.layout.group.texts) <= most
    ]
    if not broken:
        return
    wanted = max(broken, key=lambda one: (-sum(one.layout.group.broken), one.set_pt))
    lines = len(wanted.layout.group.texts)
    options = f"--break-words hyphen --orientation transverse --lines {lines}"
    outcome, _all = trial(_with(changed, lines=lines))
    if outcome is not None and any(outcome.layout.group.broken):
        yield Remedy("break-word", options, outcome, 4)


def _run(change: str, options: str, job: ResolvedJob, trial: Trial, cost: int) -> Iterator[Remedy]:
    outcome, _all = trial(job)
    if outcome is not None:
        yield Remedy(change, options, outcome, cost)


def _over_bands(judged: Sequence[Judged], best: Judged | None) -> Iterator[Remedy]:
    for one in judged:
        larger = best is None or one.cap_height_mm > best.cap_height_mm
        possible = one.offer.holds(one.set_pt) and one.set_pt <= one.largest_pt
        if one.layout.over_bands and possible and larger:
            yield Remedy("over-bands", "", one, 4)


def _cover(job: ResolvedJob, trial: Trial) -> Iterator[Remedy]:
    """The title across the front cover, of which the height of the back is known at best."""
    height_mm = None if job.spine is None else job.spine.height_mm
    if height_mm is None:
        yield Remedy("cover", "", None, 5)
        return
    breadth_mm = height_mm * job.rules.value("cover.board_ratio")
    margin = 1 - 2 * job.rules.value("cover.margin_share")
    board = job._replace(
        spine=None,
        widest=None,
        shape=Shape(),
        panel=Panel(width_mm=breadth_mm * margin, height_mm=height_mm * margin),
    )
    asked = _with(board, orientation=Orientation.TRANSVERSE, lines=None, size_pt=None)
    yield from _run("cover", "", asked, trial, 5)


def _with(job: ResolvedJob, **changes: Any) -> ResolvedJob:
    return job._replace(lettering=job.lettering._replace(**changes))
