"""Which of the layouts that fit is advised?

Within an orientation, splits within a tenth of the best size count as equal and sense
chooses. Between across and along, capitals are compared, never points; on a back without
bands across needs room (rules.toml across.*), in a panel between bands across is the rule
unless only a longitudinal setting can be read (Cockerell, ch. XV, fig. 95).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.judgement.sizes import Judged
from spinefit.layout.shapes import is_good_shape
from spinefit.provenance import Status
from spinefit.vocabulary import Level, Orientation

__all__ = ["Choice", "choose"]

_SAME_SIZE = 1 - 1e-9


class Choice(NamedTuple):
    """The advised layout's place in the list, or None, and why it was taken."""

    place: int | None
    findings: tuple[Finding, ...]


def choose(job: ResolvedJob, judged: Sequence[Judged]) -> Choice:
    """The advised one of the layouts that fit.

    Args:
        job: the resolved job.
        judged: all layouts.
    """
    fitting = [one for one in judged if one.fits]
    if not fitting:
        return Choice(None, ())
    across = _best(job, fitting, Orientation.TRANSVERSE)
    along = _best(job, fitting, Orientation.LONGITUDINAL)
    pillar = _best(job, fitting, Orientation.PILLAR)
    best, why = _between(job, judged, across, along)
    if pillar is not None:
        best, why = pillar, ()
    found = best or across or along or fitting[0]
    return Choice(next(at for at, one in enumerate(judged) if one is found), why)


def _best(job: ResolvedJob, fitting: Sequence[Judged], orientation: Orientation) -> Judged | None:
    """Of the settings of one orientation, the one that reads best within a tenth of the best."""
    all_of_it = [one for one in fitting if one.layout.candidate.orientation is orientation]
    if orientation is Orientation.LONGITUDINAL:
        most = job.rules.value("lines.most_along")
        all_of_it = [one for one in all_of_it if len(one.layout.group.texts) <= most] or all_of_it
    if orientation is Orientation.TRANSVERSE and _gated(job):
        most = job.rules.value("across.most_lines")
        usual = [
            one
            for one in all_of_it
            if len(one.layout.group.texts) <= most and not any(one.layout.group.broken)
        ]
        all_of_it = usual or all_of_it
    if not all_of_it:
        return None
    share = job.rules.value("lines.sense_share")
    if job.lettering.size_pt is None:
        least = share * max(one.set_pt for one in all_of_it) * _SAME_SIZE
        near = [one for one in all_of_it if one.set_pt >= least]
    else:
        least = share * max(one.largest_pt for one in all_of_it) * _SAME_SIZE
        near = [one for one in all_of_it if one.largest_pt >= least]
    return min(near, key=_sense)


def _sense(one: Judged) -> tuple[object, ...]:
    group = one.layout.group
    return (
        group.penalty,
        not is_good_shape(group.shape),
        one.tight,
        len(group.texts),
        -one.set_pt,
        -one.largest_pt,
    )


def _gated(job: ResolvedJob) -> bool:
    """True where across has to earn its place: a back without bands, or a tall label."""
    if job.spine is not None:
        return job.spine.bands == 0
    panel = job.panel
    return panel is not None and (
        panel.height_mm > job.rules.value("across.tall_label") * panel.width_mm
    )


def _between(
    job: ResolvedJob,
    judged: Sequence[Judged],
    across: Judged | None,
    along: Judged | None,
) -> tuple[Judged | None, tuple[Finding, ...]]:
    both_tried = {one.layout.candidate.orientation for one in judged} >= {
        Orientation.TRANSVERSE,
        Orientation.LONGITUDINAL,
    }
    if not both_tried:
        return across or along, ()
    if across is None or along is None:
        return across or along, _only_one(along)
    return _gate(job, across, along) if _gated(job) else _in_panel(job, across, along)


def _only_one(along: Judged | None) -> tuple[Finding, ...]:
    topic = "across-does-not-fit" if along is not None else "along-does-not-fit"
    return (Finding(topic=topic, level=Level.NOTE, source="computed", status=Status.COMPUTED),)


def _gate(job: ResolvedJob, across: Judged, along: Judged) -> tuple[Judged, tuple[Finding, ...]]:
    """Across on a back without bands, if it is wide enough and the letters not too small."""
    rules = job.rules
    width_mm, least_mm = _width_and_least(job)
    if width_mm < least_mm:
        rule = rules["across.least_back_mm"]
        return along, (
            _refused("across-narrow", width_mm, rule.value, "mm", rule.source, rule.status),
        )
    group = across.layout.group
    if len(group.texts) > rules.value("across.most_lines"):
        rule = rules["across.most_lines"]
        return along, (
            _refused("across-lines", len(group.texts), rule.value, "", rule.source, rule.status),
        )
    if any(group.broken):
        return along, (
            _refused("across-broken", None, None, "", "Pleger (1914), p. 250", Status.PUBLISHED),
        )
    rule = rules["across.cap_share"]
    enough = rule.value * along.cap_height_mm
    readable = across.arcminutes >= rules.value("legibility.least_arcmin")
    if across.cap_height_mm < enough and not readable:
        return along, (
            _refused("across-small", across.cap_height_mm, enough, "mm", rule.source, rule.status),
        )
    return across, (
        Finding(
            topic="across-chosen",
            level=Level.GOOD,
            value=across.cap_height_mm,
            limit=enough,
            unit="mm",
            source='ISO 6357:1985, via the German encyclopaedia article "ISO 6357": '
            "across when the spine is wide enough",
            status=Status.PUBLISHED,
        ),
    )


def _width_and_least(job: ResolvedJob) -> tuple[float, float]:
    """The width to hold against the least for lettering across, and that least, in mm.

    A label is held against what such a back leaves for ink.
    """
    least_mm = job.rules.value("across.least_back_mm")
    if job.spine is not None:
        return job.spine.width_mm, least_mm
    assert job.panel is not None  # a resolved job has one of the two
    return job.panel.width_mm, least_mm - job.rules.value("edge.usual_mm")


def _refused(
    topic: str,
    value: float | None,
    limit: float | None,
    unit: str,
    source: str,
    status: Status,
) -> Finding:
    return Finding(
        topic=topic,
        level=Level.NOTE,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        status=status,
    )


def _in_panel(
    job: ResolvedJob, across: Judged, along: Judged
) -> tuple[Judged, tuple[Finding, ...]]:
    """Across in a panel, unless only the longitudinal setting can be read."""
    rule = job.rules["legibility.failing_arcmin"]
    if across.arcminutes < rule.value <= along.arcminutes:
        return along, (
            _refused(
                "across-unreadable",
                across.arcminutes,
                rule.value,
                rule.unit,
                rule.source,
                rule.status,
            ),
        )
    return across, (
        Finding(
            topic="across-in-panel",
            level=Level.GOOD,
            source="Cockerell, Bookbinding and the Care of Books, ch. XV, fig. 95: along the "
            "back is to be avoided on a banded book unless forced",
            status=Status.PUBLISHED,
        ),
    )
