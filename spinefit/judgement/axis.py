"""How light, heavy, narrow or wide can the letters of a variable font be?

In: a job that asks for the end of an axis, as ``wght=lightest``, at one size, and a way to run
it with a value. Out: the job with that value: the one nearest that end with which the title fits
and the method holds its letters. Values are tried from that end in even steps, since what holds
need not reach from one end to the other; then halved to the step in which a value is given. It
was run itself and so was the next one past it, whose run says what stands in the way.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from spinefit.errors import one_line
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.judgement.offer import letters_hold
from spinefit.judgement.remedy import Trial
from spinefit.shaping.faces import axis_named
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.harfbuzz import Axis
from spinefit.shaping.stack import shape_title
from spinefit.vocabulary import AxisGoal, Level

_SAMPLES = 12  # from one end of the axis to the other
_LOW_ENDS = (AxisGoal.LIGHTEST, AxisGoal.NARROWEST)
_FINE_RANGE = 10  # an axis no longer than this is set in hundredths


def find_axis(job: ResolvedJob, trial: Trial) -> tuple[ResolvedJob, Finding | None]:
    """The job with the axis that it asks to be found, and what was found; as it is for none.

    Args:
        job: the resolved job, its size asked for.
        trial: runs a changed job.

    Raises:
        FontError: a font without that axis.
    """
    lettering = job.lettering
    if lettering.sought is None:
        return job, None
    tag, goal = lettering.sought
    font = open_font(lettering.font, lettering.face, lettering.axes)
    axis = axis_named(font.shaper.axes, tag, font.name)

    def with_value(value: float) -> ResolvedJob:
        others = tuple(each for each in lettering.axes if each[0] != tag)
        axes = tuple(sorted((*others, (tag, value))))
        changed = lettering._replace(axes=axes, sought=None, axes_found=True)
        return job._replace(lettering=changed)

    def fits(value: float) -> bool:
        changed = with_value(value)
        size_pt = lettering.size_pt or 0.0  # it was asked for, or the job had been refused
        if not letters_hold(changed, shape_title(changed).at_size(size_pt), size_pt):
            return False
        return trial(changed)[0] is not None

    value, past = _nearest_end(axis, goal, fits)
    facts: dict[str, object] = {
        "tag": tag,
        "goal": str(goal),
        "font": one_line(font.name),
        "size": lettering.size_pt,
    }
    if value is None:
        nearest = max(
            (axis.usual, axis.least, axis.most), key=lambda at: _room_pt(trial, with_value(at))
        )
        ends = {"least": axis.least, "most": axis.most}
        missed = Finding.of("axis-not-found", Level.WARNING, nearest)
        return with_value(nearest), missed._replace(facts={**facts, **ends})
    judged: Sequence[Judged] = () if past is None else trial(with_value(past))[1]
    return with_value(value), _found(value, past, judged, facts)


def _nearest_end(
    axis: Axis, goal: AxisGoal, fits: Callable[[float], bool]
) -> tuple[float | None, float | None]:
    """The value nearest the end that is wanted, and the next one past it, which does not fit.

    None for the value where none fits; None for the next one at the very end of the axis.
    """
    step = 0.01 if axis.most - axis.least <= _FINE_RANGE else 1.0
    values = [axis.least, axis.most]
    first, last = int(axis.least // step) + 1, -int(-axis.most // step) - 1
    values[1:1] = [at * step for at in range(first, last + 1)]
    if goal not in _LOW_ENDS:
        values.reverse()
    stride = max(1, len(values) // _SAMPLES)
    samples = sorted({*range(0, len(values), stride), len(values) - 1})
    before = -1
    for at in samples:
        if fits(values[at]):
            break
        before = at
    else:
        return None, None
    while at - before > 1:
        middle = (at + before) // 2
        if fits(values[middle]):
            at = middle
        else:
            before = middle
    return round(values[at], 2), None if before < 0 else round(values[before], 2)


def _found(
    value: float, past: float | None, judged: Sequence[Judged], facts: dict[str, object]
) -> Finding:
    """The value, and the rule or the room that stands in the way of the next one."""
    found = Finding.of("axis-found", Level.NOTE, value)
    because = "end" if past is None else "room"
    more: dict[str, object] = {"past": past}
    weakest = next((one.offer.weakest for one in judged if one.offer.weakest), None)
    if weakest is not None:
        because, rule = weakest.what, weakest.rule
        more |= {"letter": weakest.letter, "least_mm": rule.value}
        found = found._replace(source=rule.source, status=rule.status)
    return found._replace(facts={**facts, **more, "because": because})


def _room_pt(trial: Trial, job: ResolvedJob) -> float:
    """The largest size that any setting of a job takes."""
    return max((one.largest_pt for one in trial(job)[1]), default=0.0)
