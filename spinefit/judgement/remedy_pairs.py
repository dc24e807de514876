"""Would two small changes together do, where neither does by itself?

Pairs of the cheap changes, asked for only where no single one makes the title fit. Each pair
is run before it is offered; the number of runs is bounded, the cheapest pairs first.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import combinations
from typing import Any, NamedTuple

from spinefit.errors import SpinefitError
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.remedy import Need, Remedy, size_option, with_lettering
from spinefit.judgement.remedy_letters import narrower_fonts
from spinefit.judgement.remedy_settings import stays_open
from spinefit.judgement.remedy_words import shortened_job
from spinefit.layout.group import leading_em, least_leading_em
from spinefit.shaping import shape_title
from spinefit.vocabulary import Case, Orientation

__all__ = ["ways"]

_MOST_RUNS = 24
_ENOUGH = 3  # pairs that help; more is a list nobody reads
_CENTS = 100  # leading is stated in hundredths of an em
_ONLY_FORCED = 4  # from this cost on a single remedy is no way out that is advised


class _Changed(NamedTuple):
    """A job with one change made, the options that make it, and what its words need."""

    job: ResolvedJob
    options: str
    facts: dict[str, object]


_Change = Callable[[Need, ResolvedJob], _Changed | None]


def ways(need: Need, single: tuple[Remedy, ...]) -> Iterator[Remedy]:
    """Pairs that make it fit, where it does not and no advised single change does.

    Args:
        need: the job.
        single: the remedies of one change.
    """
    helped = any(one.cost < _ONLY_FORCED and one.change != "cover-old" for one in single)
    if need.best is not None or helped:
        return
    pairs = sorted(combinations(_CHANGES, 2), key=lambda pair: pair[0][1] + pair[1][1])
    runs = found = 0
    for first, second in pairs:
        if runs >= _MOST_RUNS or found >= _ENOUGH:
            return
        pair = _both(need, first, second)
        if pair is None:
            continue
        runs += 1
        remedy = _run(need, *pair)
        if remedy is not None:
            found += 1
            yield remedy


_Row = tuple[str, int, _Change]


def _both(need: Need, first: _Row, second: _Row) -> tuple[ResolvedJob, Remedy] | None:
    """The job with both changes made, and the remedy that it would be."""
    try:
        one = first[2](need, need.job)
        two = None if one is None else second[2](need, one.job)
    except SpinefitError:  # such as tools that lack the letters of another case
        return None
    if one is None or two is None:
        return None
    parts = ((first[0], one.facts), (second[0], two.facts))
    options = " ".join(option for option in (one.options, two.options) if option)
    cost = max(first[1], second[1], 2)  # two changes are more than the setting alone
    change = f"{first[0]}+{second[0]}"
    return two.job, Remedy(change, options, None, cost, {"parts": parts})


def _run(need: Need, job: ResolvedJob, remedy: Remedy) -> Remedy | None:
    outcome, _all = need.trial(job)
    if outcome is not None and "size" in remedy.change.split("+"):
        job = with_lettering(job, size_pt=outcome.set_pt)  # as its option will have it
        options = f"{remedy.options} {size_option(outcome.set_pt)}".strip()
        remedy = remedy._replace(options=options)
        outcome, _all = need.trial(job)
    if outcome is None:
        return None
    remedy = remedy._replace(outcome=outcome)
    closer = {"tracking", "leading"} & set(remedy.change.split("+"))
    return remedy if not closer or stays_open(need, job, remedy) else None


def _split(need: Need, job: ResolvedJob) -> _Changed | None:
    if job.lettering.lines is None and len(job.title_lines) == 1:
        return None
    whole = job._replace(title_lines=(" ".join(job.title_lines),))
    return _Changed(with_lettering(whole, lines=None), "--lines any", {})


def _size(need: Need, job: ResolvedJob) -> _Changed | None:
    if job.lettering.size_pt is None:
        return None
    return _Changed(with_lettering(job, size_pt=None), "", {})


def _turned(need: Need, job: ResolvedJob) -> _Changed | None:
    other = {
        Orientation.TRANSVERSE: Orientation.LONGITUDINAL,
        Orientation.LONGITUDINAL: Orientation.TRANSVERSE,
    }.get(job.lettering.orientation)
    if other is None:
        return None
    return _Changed(with_lettering(job, orientation=other), f"--orientation {other}", {})


def _case(need: Need, job: ResolvedJob) -> _Changed | None:
    """Capitals alone, or capitals left where they were asked for."""
    if need.job.lettering.case is Case.CAPITALS:
        wanted = Case.AS_TYPED
    elif need.title.all_capitals:
        return None
    else:
        wanted = Case.CAPITALS
    return _Changed(with_lettering(job, case=wanted), f"--case {wanted}", {"case": wanted})


def _condensed(need: Need, job: ResolvedJob) -> _Changed | None:
    row = next(narrower_fonts(need), None)
    if row is None:
        return None
    name = row[0].name
    return _Changed(with_lettering(job, font=name), f"--font '{name}'", {"font": name})


def _abbreviated(need: Need, job: ResolvedJob) -> _Changed | None:
    changed, used = shortened_job(job)
    if not used:
        return None
    title = " / ".join(changed.title_lines)
    return _Changed(changed, "", {"title": title, "rows": used})


def _tracking(need: Need, job: ResolvedJob) -> _Changed | None:
    tightest: float = round(job.rules.value("tracking.tightest") * 1000)
    if job.lettering.tracking_em > 0:
        tightest = 0
    if job.lettering.tracking_em * 1000 <= tightest:
        return None
    facts: dict[str, object] = {"tracking": tightest}
    changed = with_lettering(job, tracking_em=tightest / 1000)
    return _Changed(changed, f"--tracking {tightest:g}", facts)


def _leading(need: Need, job: ResolvedJob) -> _Changed | None:
    """Lines brought as close as those of the changed title may be."""
    title = shape_title(job)
    least_em = math.ceil(least_leading_em(title, job.rules) * _CENTS) / _CENTS
    several = len(title.run.pieces) > 1 and job.lettering.lines != 1
    if not several or least_em >= leading_em(title, job.lettering.leading_em, job.rules):
        return None
    facts: dict[str, Any] = {"leading_em": least_em}
    return _Changed(with_lettering(job, leading_em=least_em), f"--leading {least_em:g}", facts)


# In the order in which they are made: what the later ones measure is then settled.
_CHANGES: tuple[_Row, ...] = (
    ("size", 1, _size),
    ("split", 1, _split),
    ("turn", 2, _turned),
    ("case", 2, _case),
    ("condensed", 2, _condensed),
    ("abbreviate", 3, _abbreviated),
    ("tracking", 1, _tracking),
    ("leading", 1, _leading),
)
