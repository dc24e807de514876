"""Which of several settings of one orientation reads best, and do their small words join?

In: settings that fit. Out: those worth choosing from, and the one to choose. Splits within a
tenth of the best size count as equal, and sense chooses. A small word joins a neighbour (Pleger,
1914, p. 250) where that can be read, and where letters hold as well as apart.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.custom import is_across_by_custom, needs_room_across
from spinefit.judgement.judged import Judged
from spinefit.judgement.offer import finer_letters
from spinefit.layout.sense import is_good_shape
from spinefit.tolerances import SAME_SHARE
from spinefit.vocabulary import Orientation

GRAVE = "sense.line_alone"
"""A fault that weighs as much is grave."""


def joined(job: ResolvedJob, fitting: list[Judged]) -> list[Judged]:
    """The settings without those where small words stand alone, where the rest can be read.

    Those with no fault as grave, such as an article stranded, if there are any; a broken word is
    graver. Not where a shape was asked for. Where across is the custom, those where they stand
    alone if only joined words make letters finer than the method asks, or smaller than custom.

    Args:
        job: the resolved job.
        fitting: the settings of one orientation that fit.
    """
    apart = [one for one in fitting if is_alone(one)]
    together = [one for one in fitting if not is_alone(one)]
    if not apart or job.lettering.group_shape is not None:
        return fitting
    grave, pinch = map(job.rules.value, (GRAVE, "legibility.failing_arcmin"))
    sound = [one for one in together if one.layout.group.penalty < grave]

    def can_be_read(settings: Sequence[Judged]) -> bool:
        return any([one.arcminutes >= pinch for one in settings if not one.word_broken])

    found = next(filter(can_be_read, (sound, together, fitting)), sound or together or fitting)
    if found is fitting or all([one.word_broken for one in found]):
        return fitting
    whole = [one for one in apart if not one.word_broken]
    if not whole or not is_across_by_custom(job):
        return found
    finer = _are_fine(job, found) and not _are_fine(job, whole)
    smaller = _hold_least(job, whole) and not _hold_least(job, found)
    return whole if finer or smaller else found


def _hold_least(job: ResolvedJob, settings: Sequence[Judged]) -> bool:
    """Whether the largest of them holds the least size that custom asks for across."""
    least = job.rules.get(f"{job.work}.across_least_pt")
    return least is None or max([one.set_pt for one in settings]) >= least.value


def _are_fine(job: ResolvedJob, settings: Sequence[Judged]) -> bool:
    """Whether the best of them has strokes or counters finer than the method is advised."""
    best = reads_best(job, settings)
    return bool(finer_letters(job, best.layout.title, best.set_pt, as_advised=True))


def is_alone(one: Judged) -> bool:
    """Whether a line of it holds small words only, which should join a neighbour."""
    return one.layout.group.lines.strands_small_words


def reads_best(job: ResolvedJob, settings: Sequence[Judged]) -> Judged:
    """Of several settings, the one that reads best within a tenth of the largest.

    Of a shape that was asked for the largest, as in the list of shapes.
    """
    if job.lettering.group_shape is not None:
        return largest_of(settings)
    if len(settings) == 1:
        return settings[0]
    asked = job.lettering.size_pt is not None
    sizes = [one.largest_pt if asked else one.set_pt for one in settings]
    least = near_share(job) * max(sizes)
    near = [one for one, size_pt in zip(settings, sizes, strict=True) if size_pt >= least]
    least_penalty = min([one.layout.group.penalty for one in near])
    good = [one for one in near if one.layout.group.penalty == least_penalty]
    return good[0] if len(good) == 1 else min(good, key=tie_break)


def near_share(job: ResolvedJob) -> float:
    """The share of the best size from which on splits count as equal."""
    return job.rules.value("lines.sense_share") * (1 - SAME_SHARE)


def largest_of(settings: Sequence[Judged]) -> Judged:
    """The setting that could be largest; of those as large the one that reads best."""
    return min(settings, key=lambda one: (-one.largest_pt, one.layout.group.penalty))


def tie_break(one: Judged) -> tuple[object, ...]:
    """What chooses between settings of equal penalty: the least is the best."""
    group = one.layout.group
    return (
        not is_good_shape(group.shape),
        one.tight,
        group.line_count,
        -group.lines.phrases,
        max(group.widths_em),  # sizes lie within a tenth: a hair more is no gain
        -one.set_pt,
        -one.largest_pt,
    )


def most_lines(job: ResolvedJob, orientation: Orientation) -> float:
    """How many lines look well; as many as were asked for, or as a shape asked for takes."""
    if job.lettering.group_shape is not None:
        return math.inf
    if orientation is Orientation.LONGITUDINAL:
        return job.rules.value("lines.most_along")
    if not needs_room_across(job):
        return math.inf
    asked = max(len(job.title_lines), job.lettering.lines or 0)
    return max(job.rules.value("across.most_lines"), asked)
