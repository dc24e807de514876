"""What is the smallest change that makes the title fit, or be read?

In: the judged job and a way to run it again with something changed (handed in, since this
stage knows no earlier entry point). Out: remedies, each run and found to work, cheapest
first. Nothing is claimed that the run did not show.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any, NamedTuple

from spinefit.job.model import Panel, Shape
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.sizes import Judged, smallest_offered_pt
from spinefit.shaping.title import ShapedTitle
from spinefit.units import step_down_pt
from spinefit.vocabulary import BreakWords, Case, Orientation, Verdict

__all__ = ["Remedy", "Trial", "remedies_for"]

Trial = Callable[[ResolvedJob], tuple[Judged | None, Sequence[Judged]]]
"""Runs a changed job; gives the advised layout, or None, and all layouts."""

_MOST_WORDS_TO_BREAK = 6  # of more words, it is not one long word that is in the way
_WORTH_WHILE = 1.1  # a remedy for lettering that fits must make it larger by a tenth


class Remedy(NamedTuple):
    """A change that was run and found to work.

    Attributes:
        change: smaller, split, turn, capitals, break-word, over-bands, cover.
        outcome: the layout it gives; None where the place cannot be measured.
        cost: 1 (the setting alone) to 5 (another place on the book).
    """

    change: str
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
    needed = best.set_pt * _WORTH_WHILE if best is not None else 0.0
    found: list[Remedy] = []
    smaller = _smaller(job, best, verdict, trial)
    if smaller is not None:
        found.append(smaller)
    if verdict is not Verdict.TIGHT or not readable:
        for remedy in _changes(job, title, trial):
            if remedy.outcome is not None and _helps(remedy.outcome, best, needed):
                found.append(remedy)
        found.extend(_over_bands(judged, best))
        if best is None or not readable:
            found.extend(_cover(job, trial))
    return tuple(sorted(found, key=lambda remedy: remedy.cost))


def _helps(outcome: Judged, best: Judged | None, needed_pt: float) -> bool:
    """Whether a change gives letters that are larger, not only points that are more."""
    if best is None:
        return True
    return outcome.set_pt >= needed_pt and outcome.cap_height_mm > best.cap_height_mm


def _smaller(
    job: ResolvedJob, best: Judged | None, verdict: Verdict, trial: Trial
) -> Remedy | None:
    """A smaller size: the advised one for a size too large, or one with room to place it."""
    if best is None:
        return _advised_instead(job, trial)
    if verdict is not Verdict.TIGHT:
        return None
    share = _share_for_tolerance(best, job.method.placing.value)
    size = step_down_pt(best.set_pt * share, job.method.step.value)
    if size < smallest_offered_pt(job.method):
        return None
    outcome, _all = trial(_with(job, size_pt=size))
    if outcome is None or outcome.tight:
        return None
    return Remedy(change="smaller", outcome=outcome, cost=1)


def _advised_instead(job: ResolvedJob, trial: Trial) -> Remedy | None:
    """The advised size where the one asked for is too large."""
    asked = job.lettering.size_pt
    if asked is None:
        return None
    outcome, _all = trial(_with(job, size_pt=None))
    if outcome is None or outcome.set_pt >= asked:
        return None
    return Remedy(change="smaller", outcome=outcome, cost=1)


def _share_for_tolerance(one: Judged, tolerance_mm: float) -> float:
    """Part of the size at which every edge is as far from the ink as the tolerance.

    The ink shrinks towards the placing point in proportion, so on each side the distance
    grows from that of the ink to that of the placing point.
    """
    ink = one.to_edge_mm
    panel, (x, y) = one.layout.panel, one.centre_mm
    half, end = panel.width_mm / 2, (panel.height_mm or 0.0) / 2
    pairs = [
        (ink.left, half + x + panel.margin_left_mm),
        (ink.right, half - x + panel.margin_right_mm),
    ]
    if ink.head is not None and ink.tail is not None:
        pairs.append((ink.head, end - y + (panel.margin_head_mm or 0.0)))
        pairs.append((ink.tail, end + y + (panel.margin_tail_mm or 0.0)))
    shares = [
        (to_point - tolerance_mm) / (to_point - to_ink)
        for to_ink, to_point in pairs
        if to_point > to_ink
    ]
    return max(0.0, min([1.0, *shares]))


def _changes(job: ResolvedJob, title: ShapedTitle, trial: Trial) -> Iterator[Remedy]:
    """Changes of the setting, run one at a time."""
    asked = job.lettering
    if asked.lines is not None or len(job.title_lines) > 1:
        whole = job._replace(title_lines=(" ".join(job.title_lines),))
        yield from _run("split", _with(whole, lines=None), trial, 1)
    if asked.orientation is not Orientation.ANY:
        lines = None if asked.orientation is Orientation.PILLAR else asked.lines
        yield from _run("turn", _with(job, orientation=Orientation.ANY, lines=lines), trial, 2)
    if asked.case is not Case.CAPITALS and not title.all_capitals:
        yield from _run("capitals", _with(job, case=Case.CAPITALS), trial, 2)
    across = asked.orientation in (Orientation.ANY, Orientation.TRANSVERSE)
    few = len(title.run.pieces) <= _MOST_WORDS_TO_BREAK
    if asked.break_words is BreakWords.NEVER and across and few:
        broken = _with(
            job,
            break_words=BreakWords.HYPHEN,
            orientation=Orientation.TRANSVERSE,
            lines=None,
        )
        outcome = _largest_broken(trial(broken)[1])
        if outcome is not None:
            yield Remedy(change="break-word", outcome=outcome, cost=4)


def _largest_broken(judged: Sequence[Judged]) -> Judged | None:
    """The setting with the fewest breaks inside words among those near the largest."""
    broken = [one for one in judged if one.fits and any(one.layout.group.broken)]
    if not broken:
        return None
    return max(broken, key=lambda one: (-sum(one.layout.group.broken), one.set_pt))


def _run(change: str, job: ResolvedJob, trial: Trial, cost: int) -> Iterator[Remedy]:
    outcome, _all = trial(job)
    if outcome is not None:
        yield Remedy(change=change, outcome=outcome, cost=cost)


def _over_bands(judged: Sequence[Judged], best: Judged | None) -> Iterator[Remedy]:
    for one in judged:
        larger = best is None or one.cap_height_mm > best.cap_height_mm
        if one.layout.over_bands and one.set_pt <= one.largest_pt and larger:
            yield Remedy(change="over-bands", outcome=one, cost=4)


def _cover(job: ResolvedJob, trial: Trial) -> Iterator[Remedy]:
    """The title across the front cover, of which the height of the back is known at best."""
    height_mm = None if job.spine is None else job.spine.height_mm
    if height_mm is None:
        yield Remedy(change="cover", outcome=None, cost=5)
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
    outcome, _all = trial(asked)
    if outcome is not None:
        yield Remedy(change="cover", outcome=outcome, cost=5)


def _with(job: ResolvedJob, **changes: Any) -> ResolvedJob:
    return job._replace(lettering=job.lettering._replace(**changes))
