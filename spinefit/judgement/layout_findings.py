"""What should a binder know of one setting at the size it is judged at?

In: a judged layout. Out: findings on legibility (graded, never deciding), placing, the
method's smallest size, the sense of the line breaks, the round, the bands.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from spinefit.catalogue import TitleWords
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import SHARES, Judged
from spinefit.judgement.placing import height_seen, place
from spinefit.judgement.strength import Weakest
from spinefit.layout.title_rules import line_faults
from spinefit.provenance import Status
from spinefit.units import arcminutes_of, distance_mm_at_arcminutes, mm_from_pt
from spinefit.vocabulary import Case, Level, Orientation, SetBy

__all__ = ["layout_findings"]

_FAULT_SOURCES = {
    "alone": (
        "Pleger (1914), p. 250; against it Adam (1903), rule 2: small words on lines of their "
        "own improve a title",
        Status.PUBLISHED,
    ),
    "chosen": (
        "Adam (1903), rule 2: small words on lines of their own improve a title; against it "
        "Pleger (1914), p. 250",
        Status.PUBLISHED,
    ),
    "stranded": ("common practice: an article stays with its word", Status.PRACTICE),
    "broken": (
        "Pleger (1914), p. 250: never break a word; Cockerell, ch. XV, allows it for legibility",
        Status.PUBLISHED,
    ),
}


def layout_findings(job: ResolvedJob, one: Judged, words: TitleWords) -> tuple[Finding, ...]:
    """Findings on a judged layout, the gravest matters first."""
    found: list[Finding] = []
    found.extend(_size_findings(job, one))
    if one.layout.over_bands:
        found.append(
            Finding(
                topic="over-bands",
                level=Level.WARNING,
                source="Cockerell, Bookbinding and the Care of Books, ch. XV, fig. 95",
                status=Status.PUBLISHED,
            )
        )
    found.append(_legibility(job, one))
    found.extend(_legibility_limit(job, one))
    found.extend(_placing(job, one))
    found.extend(_round(job, one))
    found.extend(_foot(job, one))
    found.extend(_words(job, one, words))
    return tuple(found)


def _words(job: ResolvedJob, one: Judged, words: TitleWords) -> Iterator[Finding]:
    """What is wrong with the lines, each kind of fault once with all its places."""
    texts: dict[str, list[str]] = {}
    for fault in line_faults(
        one.layout.group.texts,
        words,
        broken=one.layout.group.broken,
        small_words=job.lettering.small_words,
    ):
        kind, _, text = fault.partition(": ")
        texts.setdefault(kind, []).append(text)
    for kind, places in texts.items():
        source, status = _FAULT_SOURCES[kind]
        yield Finding(
            topic=f"words-{kind}",
            level=Level.NOTE,
            value=", ".join(places),
            source=source,
            status=status,
        )


def _size_findings(job: ResolvedJob, one: Judged) -> list[Finding]:
    floor = one.offer.floor
    least = one.offer.smallest_pt()
    short = one.set_pt > one.largest_pt or one.set_pt < one.offer.floor_pt
    if one.offer.weakest is not None and short:
        return [_weakest(job, one, one.offer.weakest)]
    if one.largest_pt < least:
        return [
            Finding.by_rule(
                "below-method",
                Level.FAILURE,
                one.largest_pt,
                floor,
                method=job.method.name,
                smallest_pt=least,
            )._replace(limit=least, unit="pt")
        ]
    if one.set_pt < least:
        return [
            Finding.by_rule(
                "size-below-method",
                Level.FAILURE,
                one.set_pt,
                floor,
                method=job.method.name,
                smallest_pt=least,
            )._replace(limit=least, unit="pt")
        ]
    if one.set_pt > one.largest_pt:
        return [
            Finding(
                topic="too-large",
                level=Level.FAILURE,
                value=one.set_pt,
                limit=one.largest_pt,
                unit="pt",
                source="computed from the outlines and the panel",
                status=Status.COMPUTED,
                facts={"excess_mm": -min(one.spare_mm.known())},
            )
        ]
    if not one.offer.holds(one.set_pt):
        return [
            Finding(
                topic="size-not-offered",
                level=Level.FAILURE,
                value=one.set_pt,
                unit="pt",
                source=one.offer.floor.source,
                status=one.offer.floor.status,
                facts={"sizes_pt": one.offer.sizes_pt},
            )
        ]
    return [_advised(job, one)] if one.set_by is SetBy.ADVISED else []


def _weakest(job: ResolvedJob, one: Judged, weakest: Weakest) -> Finding:
    """The letter that does not hold at the largest size, or at the size asked for."""
    size_pt = min(one.largest_pt, one.set_pt) if one.set_by is SetBy.ASKED else one.largest_pt
    return Finding.by_rule(
        {"stroke": "thin-stroke", "gap": "thin-gap"}[weakest.what],
        Level.FAILURE,
        weakest.measured_em * mm_from_pt(size_pt),
        weakest.rule,
        letter=weakest.letter,
        size_pt=size_pt,
        needs_pt=weakest.needs_pt,
        largest_pt=one.largest_pt,
        method=job.method.name,
    )


def _advised(job: ResolvedJob, one: Judged) -> Finding:
    """Which rule gave the advised size; figure and limit are sizes, whatever the rule's unit."""
    if one.set_because == "floor":
        found = Finding.by_rule("advised-floor", Level.NOTE, one.set_pt, one.offer.floor)
        return found._replace(limit=one.offer.floor_pt, unit="pt")
    if one.set_because == "eye":
        rule = job.rules["advised.most_arcmin"]
        return Finding.by_rule(
            "advised-eye",
            Level.GOOD,
            one.set_pt,
            rule,
            arcmin=rule.value,
            distance_mm=job.reading_distance_mm,
        )._replace(limit=None, unit="pt")
    rule = job.rules[SHARES[one.layout.candidate.orientation]]
    return Finding.by_rule(
        "advised-share", Level.GOOD, one.set_pt, rule, share=rule.value
    )._replace(limit=rule.value * one.largest_pt, unit="pt")


def _legibility(job: ResolvedJob, one: Judged) -> Finding:
    least, failing = job.rules["legibility.least_arcmin"], job.rules["legibility.failing_arcmin"]
    if one.arcminutes < failing.value:
        rule, level = failing, Level.FAILURE
    else:
        rule, level = least, Level.NOTE if one.arcminutes < least.value else Level.GOOD
    return Finding.by_rule(
        "legibility",
        level,
        one.arcminutes,
        rule,
        cap_mm=one.cap_height_mm,
        distance_mm=job.reading_distance_mm,
        small=job.lettering.case is Case.SMALL_CAPITALS,
        title=one.layout.title.text,
        along=one.layout.candidate.orientation is Orientation.LONGITUDINAL,
        height_seen=one.height_seen,
        outermost_seen=one.foreshortening,
    )


def _legibility_limit(job: ResolvedJob, one: Judged) -> list[Finding]:
    """Said where even the largest that fits is too small to be read with ease."""
    rule = job.rules["legibility.least_arcmin"]
    if not one.largest_pt or one.layout.over_bands:
        return []
    size_mm = mm_from_pt(one.largest_pt)
    x_mm = place(job, one.layout, size_mm)[0][0]
    height_mm = one.layout.title.reading_height_em * size_mm
    seen_mm = height_mm * height_seen(one.layout, size_mm, x_mm)
    arcminutes = arcminutes_of(seen_mm, job.reading_distance_mm)
    if arcminutes >= rule.value:
        return []
    return [
        Finding.by_rule(
            "legibility-limit",
            Level.NOTE,
            arcminutes,
            rule,
            largest_pt=one.largest_pt,
            distance_mm=job.reading_distance_mm,
            reads_from_mm=distance_mm_at_arcminutes(seen_mm, rule.value),
        )
    ]


def _placing(job: ResolvedJob, one: Judged) -> list[Finding]:
    if not one.fits:
        return []
    level = Level.WARNING if one.tight else Level.GOOD
    nearest = one.nearest_edge_mm
    return [Finding.by_rule("placing", level, nearest, job.method.placing, method=job.method.name)]


def _foot(job: ResolvedJob, one: Judged) -> list[Finding]:
    """Lettering that reaches into the space libraries letter or label."""
    rule = job.rules["ends.library_foot_mm"]
    tail_mm = one.to_edge_mm.tail
    if job.spine is None or one.layout.panel.number is not None or tail_mm is None:
        return []
    if "foot" in job.spine.typed or tail_mm >= rule.value:
        return []
    return [Finding.by_rule("library-foot", Level.NOTE, max(0.0, tail_mm), rule)]


def _round(job: ResolvedJob, one: Judged) -> list[Finding]:
    rule = job.rules["round.narrowed"]
    if one.foreshortening >= rule.value:
        return []
    along = one.layout.candidate.orientation is Orientation.LONGITUDINAL
    return [
        Finding.by_rule(
            "foreshortened",
            Level.NOTE,
            one.foreshortening,
            rule,
            angle_deg=math.degrees(math.acos(min(1.0, one.foreshortening))),
            along=along,
        )
    ]
