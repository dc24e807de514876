"""What is the smallest change that makes the title fit, be placed safely, or be read?

In: a judged job and the runner of changed ones. Out: remedies, cheapest first, the best of each
kind. Each is a change whose run advises just the setting that is claimed. Where no single change
makes it fit, pairs of the cheap ones are run, a bounded number, the cheapest first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from spinefit.catalogue import usual_fonts
from spinefit.errors import SpinefitError
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement import remedy_lettering as lettering
from spinefit.judgement import remedy_places as places
from spinefit.judgement.judged import Judged
from spinefit.judgement.remedy import Need, Remedy, Trial, size_option, with_lettering
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import Case, Orientation

_MOST = 8  # more is a list nobody reads to its end
_MOST_RUNS = 24
_ENOUGH = 3  # pairs that help
_ONLY_FORCED = 4  # from this cost on a single remedy is none that is advised


def remedies_for(
    job: ResolvedJob,
    title: ShapedTitle,
    judged: Sequence[Judged],
    best: Judged | None,
    trial: Trial,
) -> tuple[Remedy, ...]:
    """What could be changed where a title does not fit, is tight, or is too small to read.

    Args:
        job: the resolved job.
        title: its shaped title.
        judged: all its layouts.
        best: the advised one, or None.
        trial: runs a changed job.
    """
    need = Need(job, title, judged, best, trial)
    return tuple(_naming_font(job, remedy) for remedy in _found(need))


def _naming_font(job: ResolvedJob, remedy: Remedy) -> Remedy:
    """The remedy with the font it was run in, where another might be chosen for the changed job."""
    chosen = any(line.startswith("font:") for line in job.assumed)
    if not chosen or len(usual_fonts(job.method)) == 1 or "--font" in remedy.options:
        return remedy
    return remedy._replace(options=f"{remedy.options} --font '{job.lettering.font}'".lstrip())


def _found(need: Need) -> tuple[Remedy, ...]:
    """The remedies, as they were run."""
    covered = tuple(places.covering_label(need))
    if need.is_readable and not need.is_tight:
        return covered
    single = (
        *lettering.changed_setting(need),
        *lettering.changed_words(need),
        *covered,
        *places.changed_place(need),
        *lettering.changed_letters(need),  # last, since letters may have to be measured
    )
    return _cheapest((*single, *_pairs(need, single)))


def _cheapest(found: Iterable[Remedy]) -> tuple[Remedy, ...]:
    """The best of each kind, cheapest first; of too many the cheapest and the last resort."""
    best: dict[str, Remedy] = {}
    for remedy in found:
        other = best.get(remedy.change)
        if other is None or remedy.rank() < other.rank():
            best[remedy.change] = remedy
    ordered = sorted(best.values(), key=lambda remedy: remedy.cost)
    if len(ordered) > _MOST:
        ordered = [*ordered[: _MOST - 1], ordered[-1]]
    return tuple(ordered)


class _Changed(NamedTuple):
    """A job with one change made, the options that make it, and what its words need."""

    job: ResolvedJob
    options: str
    facts: dict[str, object]


_Change = Callable[[Need, ResolvedJob], _Changed | None]


def _pairs(need: Need, single: tuple[Remedy, ...]) -> Iterator[Remedy]:
    """Pairs that make it fit, where it does not and no advised single change does."""
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
    return remedy if not closer or lettering.stays_open(need, job, remedy) else None


def _split(need: Need, job: ResolvedJob) -> _Changed | None:
    changed = lettering.unsplit(job)
    return None if changed is None else _Changed(changed, "--lines any", {})


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
    for row, _own in lettering.narrower_fonts(need):
        return _Changed(*lettering.in_font(job, row), {"font": row.name})
    return None


def _abbreviated(need: Need, job: ResolvedJob) -> _Changed | None:
    changed, used = lettering.shortened_job(job)
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
    least_em = lettering.least_leading(job)
    if least_em is None:
        return None
    changed = with_lettering(job, leading_em=least_em)
    return _Changed(changed, f"--leading {least_em:g}", {"leading_em": least_em})


# In the order in which they are made: the later ones measure what the earlier have changed.
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
