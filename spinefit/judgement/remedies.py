"""What is the smallest change that makes the title fit, be placed safely, or be read?

In: the judged job and a way to run it again with something changed (handed in, since this
stage knows no earlier entry point). Out: remedies, cheapest first, the best of each kind.
Each is a change whose run advises just the setting that is claimed. The ways themselves are
in ``remedy_*.py``, loaded only where one is looked for.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import Judged
from spinefit.judgement.remedy import Need, Remedy, Trial
from spinefit.judgement.verdict import verdict_of
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import Verdict

__all__ = ["Remedy", "Trial", "remedies_for"]

_MOST = 8  # more is a list nobody reads to its end


def remedies_for(
    job: ResolvedJob,
    title: ShapedTitle,
    judged: Sequence[Judged],
    best: Judged | None,
    trial: Trial,
) -> tuple[Remedy, ...]:
    """Ways out where a title does not fit, is tight, or is too small to read.

    Args:
        job: the resolved job.
        title: its shaped title.
        judged: all its layouts.
        best: the advised one, or None.
        trial: runs a changed job.
    """
    verdict = verdict_of(best)
    need = Need(job, title, judged, best, verdict, trial)
    rework: tuple[Remedy, ...] = ()
    if job.old_lettering is not None:
        from spinefit.judgement import remedy_rework

        rework = tuple(remedy_rework.ways(need))
    if verdict is Verdict.FITS and need.readable:
        return rework
    from spinefit.judgement import remedy_letters, remedy_places, remedy_settings, remedy_words

    single = (
        *remedy_settings.ways(need),
        *remedy_words.ways(need),
        *rework,
        *remedy_places.ways(need),
        *remedy_letters.ways(need),  # last, since letters may have to be measured
    )
    if best is not None:
        return _cheapest(single)
    from spinefit.judgement import remedy_pairs

    return _cheapest((*single, *remedy_pairs.ways(need, single)))


def _cheapest(found: Iterable[Remedy]) -> tuple[Remedy, ...]:
    """The best of each kind, cheapest first; of too many the cheapest and the last resort."""
    best: dict[str, Remedy] = {}
    for remedy in found:
        other = best.get(remedy.change)
        if other is None or _rank(remedy) < _rank(other):
            best[remedy.change] = remedy
    ordered = sorted(best.values(), key=lambda remedy: remedy.cost)
    if len(ordered) > _MOST:
        ordered = [*ordered[: _MOST - 1], ordered[-1]]
    return tuple(ordered)


def _rank(remedy: Remedy) -> tuple[float, ...]:
    height_mm = 0.0 if remedy.outcome is None else remedy.outcome.cap_height_mm
    return remedy.cost, -height_mm
