"""Would the same words in the same letter do in another setting?

Remedies of the setting: a smaller size, another split, tighter tracking, less leading, the
other way round. Each is run before it is offered.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import Judged
from spinefit.judgement.offer import closest_letters
from spinefit.judgement.remedy import Need, Remedy, run, size_option, with_lettering
from spinefit.layout.group import leading_em, least_leading_em
from spinefit.shaping import shape_title
from spinefit.vocabulary import Orientation, Verdict

__all__ = ["stays_open", "ways"]

_STEPS = 60  # halvings of a size; far finer than any step
_CENTS = 100  # leading is stated in hundredths of an em


def ways(need: Need) -> Iterator[Remedy]:
    """Every way out that changes nothing but the setting."""
    yield from _smaller(need)
    yield from _split(need)
    yield from _tracking(need)
    yield from _leading(need)
    yield from _turned(need)


def _smaller(need: Need) -> Iterator[Remedy]:
    """A smaller size: the advised one for a size too large, or one with room to place it."""
    job, best, asked = need.job, need.best, need.job.lettering.size_pt
    if best is None and asked is not None:
        advised, _all = need.trial(with_lettering(job, size_pt=None))
        size = asked if advised is None else advised.set_pt
        outcome, _all = need.trial(with_lettering(job, size_pt=size))
        if outcome is not None and size < asked:
            yield Remedy("smaller", size_option(outcome.set_pt), outcome, 1)
    if best is None or need.verdict is not Verdict.TIGHT:
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
    job = need.job
    if job.lettering.lines is not None or len(job.title_lines) > 1:
        whole = job._replace(title_lines=(" ".join(job.title_lines),))
        yield from run(need, "split", "--lines any", with_lettering(whole, lines=None), 1)


def _tracking(need: Need) -> Iterator[Remedy]:
    """Letters closed up, by as little as helps, down to the tightest of practice.

    What fits and is not tight is only too small: a fiftieth of the size never mends that.
    """
    if need.verdict is Verdict.FITS and need.job.lettering.tracking_em <= 0:
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
    title, asked = need.title, need.job.lettering
    least_em = math.ceil(least_leading_em(title, need.job.rules) * _CENTS) / _CENTS
    if len(title.run.pieces) == 1 or asked.lines == 1:
        return
    if least_em >= leading_em(title, asked.leading_em, need.job.rules):
        return
    changed = with_lettering(need.job, leading_em=least_em)
    for found in run(need, "leading", f"--leading {least_em:g}", changed, 1):
        several = found.outcome is not None and len(found.outcome.layout.group.texts) > 1
        if several and stays_open(need, changed, found):
            yield found._replace(facts={"leading_em": least_em})


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
        taken = need.best.layout.candidate.orientation
    for other in (Orientation.TRANSVERSE, Orientation.LONGITUDINAL):
        if other is not taken:
            lines = None if taken is Orientation.PILLAR else job.lettering.lines
            changed = with_lettering(job, orientation=other, lines=lines)
            yield from run(need, "turn", f"--orientation {other}", changed, 2)
