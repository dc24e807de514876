"""What should a binder know of one setting at the size it is judged at?

In: a judged layout. Out: findings on the method's smallest size, legibility (graded, never
deciding), placing, the round, the bands, the sense of the line breaks; of the advised setting
also on its letters: which are fine, which stand too near, and which font would hold smaller.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from spinefit.catalogue import FontRow, Method, font_rows, title_words
from spinefit.errors import FontError
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import SHARES, Judged
from spinefit.judgement.offer import Weakest, closest_letters, held_from, offer_of, weakest_at
from spinefit.layout.sense import line_faults
from spinefit.shaping.title import shape_title
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Case, Letters, Level, Orientation, SetBy, Sourced, Status

__all__ = ["setting_findings", "sturdier_letter", "sturdiest"]

_FONTS_TO_TRY = 3  # each may have to be measured
_WORTH_NAMING = 0.9  # as of remedies: a change helps by a tenth or is not named
_COMPUTED = "computed from the outlines and the panel"
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


def setting_findings(job: ResolvedJob, one: Judged, *, advised: bool) -> tuple[Finding, ...]:
    """Findings on a judged layout, the gravest matters first.

    Args:
        job: the resolved job.
        one: one of its layouts.
        advised: whether it is the advised one, whose letters are looked at too.
    """
    return (
        *_size(job, one),
        *_over_bands(one),
        *_legibility(job, one),
        *_legibility_limit(job, one),
        *_placing(job, one),
        *_round(job, one),
        *_foot(job, one),
        *_words(job, one),
        *(_letters(job, one) if advised else ()),
    )


def _over_bands(one: Judged) -> Iterator[Finding]:
    if one.over_bands:
        yield Finding(
            topic="over-bands",
            level=Level.WARNING,
            source="Cockerell, Bookbinding and the Care of Books, ch. XV, fig. 95",
            status=Status.PUBLISHED,
        )


def _size(job: ResolvedJob, one: Judged) -> Iterator[Finding]:
    """Why the size judged cannot be set; else which rule advised it."""
    offer, method = one.offer, job.method.name
    if offer.weakest is not None and (one.set_pt > one.largest_pt or one.set_pt < offer.floor_pt):
        yield _weakest(job, one, offer.weakest)
        offer = offer.of_method or offer  # sturdier letters alone may not be enough
        if one.set_by is SetBy.ADVISED and offer.reaches(one.largest_pt):
            return
    least_pt = offer.smallest_pt()
    if one.largest_pt < least_pt:
        cap = job.method.smallest_cap
        yield _of_sizes(
            "below-method", Level.FAILURE, one.largest_pt, offer.floor, least_pt,
            method=method, smallest_pt=least_pt, cap=cap if offer.floor is cap else None,
        )  # fmt: skip
    elif one.set_pt < least_pt:
        yield _of_sizes(
            "size-below-method", Level.FAILURE, one.set_pt, offer.floor, least_pt,
            method=method, smallest_pt=least_pt,
        )  # fmt: skip
    elif one.set_pt > one.largest_pt:
        excess_mm = -min(one.spare_mm.known())
        yield Finding(
            "too-large", Level.FAILURE, one.set_pt, one.largest_pt, "pt", _COMPUTED,
            Status.COMPUTED, {"excess_mm": excess_mm},
        )  # fmt: skip
    elif not offer.holds(one.set_pt):
        yield _of_sizes(
            "size-not-offered", Level.FAILURE, one.set_pt, offer.floor, None,
            sizes_pt=offer.sizes_pt,
        )  # fmt: skip
    elif one.set_by is SetBy.ADVISED:
        yield _advised(job, one)


def _of_sizes(
    topic: str, level: Level, size_pt: float, rule: Sourced, limit_pt: float | None, **facts: object
) -> Finding:
    """A finding whose figure and limit are sizes, whatever the unit of its rule."""
    found = Finding.by_rule(topic, level, size_pt, rule, **facts)
    return found._replace(limit=limit_pt, unit="pt")


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
    """Which rule gave the advised size."""
    if one.set_because == "floor":
        floor, floor_pt = one.offer.floor, one.offer.floor_pt
        return _of_sizes("advised-floor", Level.NOTE, one.set_pt, floor, floor_pt)
    if one.set_because == "eye":
        rule = job.rules["advised.most_arcmin"]
        return _of_sizes(
            "advised-eye", Level.GOOD, one.set_pt, rule, None,
            arcmin=rule.value, distance_mm=job.reading_distance_mm,
        )  # fmt: skip
    rule = job.rules[SHARES[one.orientation]]
    limit_pt = rule.value * one.largest_pt
    return _of_sizes("advised-share", Level.GOOD, one.set_pt, rule, limit_pt, share=rule.value)


def _legibility(job: ResolvedJob, one: Judged) -> Iterator[Finding]:
    least, failing = job.rules["legibility.least_arcmin"], job.rules["legibility.failing_arcmin"]
    if one.arcminutes < failing.value:
        rule, level = failing, Level.FAILURE
    else:
        rule, level = least, Level.NOTE if one.arcminutes < least.value else Level.GOOD
    yield Finding.by_rule(
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


def _legibility_limit(job: ResolvedJob, one: Judged) -> Iterator[Finding]:
    """Said where even the largest that fits is too small to be read with ease."""
    rule = job.rules["legibility.least_arcmin"]
    if not one.largest_pt or one.over_bands:
        return
    largest = one.at(one.largest_pt)
    if largest.arcminutes < rule.value:
        yield Finding.by_rule(
            "legibility-limit",
            Level.NOTE,
            largest.arcminutes,
            rule,
            largest_pt=one.largest_pt,
            distance_mm=job.reading_distance_mm,
            reads_from_mm=largest.reads_from_mm,
        )


def _placing(job: ResolvedJob, one: Judged) -> Iterator[Finding]:
    if one.fits:
        level, rule = Level.WARNING if one.tight else Level.GOOD, job.method.placing
        yield Finding.by_rule("placing", level, one.nearest_edge_mm, rule, method=job.method.name)


def _foot(job: ResolvedJob, one: Judged) -> Iterator[Finding]:
    """Lettering that reaches into the space libraries letter or label."""
    rule = job.rules["ends.library_foot_mm"]
    tail_mm = one.to_edge_mm.tail
    if job.spine is None or one.layout.panel.number is not None or tail_mm is None:
        return
    if "foot" not in job.spine.typed and tail_mm < rule.value:
        yield Finding.by_rule("library-foot", Level.NOTE, max(0.0, tail_mm), rule)


def _round(job: ResolvedJob, one: Judged) -> Iterator[Finding]:
    rule = job.rules["round.narrowed"]
    if one.foreshortening < rule.value:
        yield Finding.by_rule(
            "foreshortened",
            Level.NOTE,
            one.foreshortening,
            rule,
            angle_deg=math.degrees(math.acos(min(1.0, one.foreshortening))),
            along=one.orientation is Orientation.LONGITUDINAL,
        )


def _words(job: ResolvedJob, one: Judged) -> Iterator[Finding]:
    """What is wrong with the lines, each kind of fault once with all its places."""
    texts: dict[str, list[str]] = {}
    for fault in line_faults(
        one.layout.group.texts,
        title_words(job.language),
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


def _letters(job: ResolvedJob, one: Judged) -> Iterator[Finding]:
    """Letters that need a large size, are fine, or may run together."""
    title = one.layout.title
    if one.set_because == "floor" and one.offer.weakest is not None:
        yield from _sturdier(job, one)
    fine = weakest_at(job, title, one.set_pt, as_advised=True)
    if fine is not None:
        yield Finding.by_rule(
            "finer-than-advised",
            Level.NOTE,
            fine.measured_em * one.size_mm,
            fine.rule,
            what=fine.what,
            letter=fine.letter,
            needs_pt=fine.needs_pt,
        )
    close = closest_letters(job, title, one.layout, one.set_pt)
    if close is not None:
        yield Finding.by_rule(
            "letters-close",
            Level.WARNING,
            close.gap_mm,
            close.rule,
            method=job.method.name,
            in_line=close.in_line,
            tracking=1000 * (job.lettering.tracking_em + close.missing_em),
        )


def _sturdier(job: ResolvedJob, one: Judged) -> Iterator[Finding]:
    found = sturdier_letter(job, one.set_pt)
    if found is not None:
        font, from_pt = found
        rule = one.offer.floor
        yield _of_sizes("sturdier-letter", Level.NOTE, from_pt, rule, one.set_pt, font=font)


def sturdier_letter(job: ResolvedJob, floor_pt: float) -> tuple[str, float] | None:
    """The bundled font in which a title holds from a size smaller by a tenth at least.

    Looked for where the advised setting fits, but larger than looks well; where it does not
    fit, remedies run the job in other fonts.

    Args:
        job: the resolved job.
        floor_pt: the smallest size that holds in its own font, in points.

    Returns:
        The font's name and the smallest size it is offered in, in points; None where none is.
    """
    if job.method.letters is not Letters.OUTLINES:
        return None
    rows = sturdiest(job.method)[:_FONTS_TO_TRY]
    sizes = [(row.name, _held_from_pt(job, row.name)) for row in rows]
    held = [(font, size_pt) for font, size_pt in sizes if size_pt is not None]
    best = min(held, key=lambda one: one[1], default=None)
    return best if best is not None and best[1] <= _WORTH_NAMING * floor_pt else None


def sturdiest(method: Method) -> list[FontRow]:
    """The bundled fonts, first those of which a method holds the smallest."""
    return sorted(font_rows(), key=lambda row: _listed_mm(method, row))


def _held_from_pt(job: ResolvedJob, font: str) -> float | None:
    """From which size a title holds in a bundled font; None where that lacks a letter."""
    lettering = job.lettering._replace(font=font, face=None, axes=(), sought=None)
    tried = job._replace(lettering=lettering)
    try:
        title = shape_title(tried)
    except FontError:
        return None
    offer = offer_of(tried, title)
    return offer.raised_by(held_from(tried, title, offer.smallest_pt())).smallest_pt()


def _listed_mm(method: Method, row: FontRow) -> float:
    """The em at which every letter listed for a font holds, in mm."""
    stroke_mm = method.stroke.value / row.thinnest_stroke_em if method.stroke else 0.0
    gap_mm = method.gap.value / row.narrowest_gap_em if method.gap else 0.0
    return max(stroke_mm, gap_mm)
