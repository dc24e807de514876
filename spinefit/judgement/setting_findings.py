"""What should a binder know of one setting at the size it is judged at?

In: a judged layout. Out: findings on the method's smallest size, legibility (graded, never
deciding), placing, the round, the bands, the sense of the line breaks; of the advised setting
also on its letters: which are fine, which stand too near, and which font would hold smaller.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from spinefit.catalogue import title_words
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.judgement.offer import (
    Offer,
    Weakest,
    closest_letters,
    failing_letters,
    finer_letters,
    whose_floor,
)
from spinefit.layout.sense import line_faults
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Case, Level, Orientation, SetBy, Sourced, Status

if TYPE_CHECKING:
    from spinefit.judgement.sturdier import Sturdier
    from spinefit.shaping.glyphs import Outline

OF_LETTERS = {"stroke": "thin-stroke", "counter": "small-counter"}
"""The topic under which a letter is named that no size here holds."""
_COMPUTED = "computed from the outlines and the panel"
_ADVISED_BY = {"advised.share": "advised-share", "advised.most_arcmin": "advised-eye"}
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


def setting_findings(job: ResolvedJob, one: Judged, *, shown: bool) -> tuple[Finding, ...]:
    """Findings on a judged layout, the gravest matters first.

    Args:
        job: the resolved job.
        one: one of its layouts.
        shown: whether it is the advised one, or the nearest, whose letters are looked at too.
    """
    size = tuple(_size(job, one))
    return (
        *size,
        *_over_bands(one),
        *_legibility(job, one),
        *_legibility_limit(job, one),
        *_placing(job, one),
        *_round(job, one),
        *_foot(job, one),
        *_words(job, one),
        *_lost(job, one),
        *(_letters(job, one, {each.topic for each in size}) if shown else ()),
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
    """All that keeps the size judged from being set; else which rule advised it."""
    offer = one.offer
    if offer.touching:
        yield Finding.by_rule(
            "letters-touch", Level.FAILURE, 0.0, job.method.gap or offer.floor,
            letters=" and ".join(offer.touching), method=job.method.name,
        )  # fmt: skip
        return
    if offer.unheld is not None:
        yield offer.unheld.finding(job.method.name)
        return
    known = offer.weakest is not None or one.set_by is SetBy.ASKED
    if known and (one.set_pt > one.largest_pt or one.set_pt < offer.floor_pt):
        yield from _weakest(job, one, offer.weakest)
        offer = offer.of_method or offer  # sturdier letters alone may not be enough
        if one.set_by is SetBy.ADVISED and offer.reaches(one.largest_pt):
            return
    yield from _out_of_offer(job, one, offer)


def _out_of_offer(job: ResolvedJob, one: Judged, offer: Offer) -> Iterator[Finding]:
    """Why a size cannot be set, whatever its letters; else which rule advised it."""
    method, least_pt = whose_floor(job, offer), offer.smallest_pt()
    cap = job.method.smallest_cap if offer.floor is job.method.smallest_cap else None
    if one.largest_pt < least_pt:
        yield _of_sizes(
            "below-method", Level.FAILURE, one.largest_pt, offer.floor, least_pt,
            method=method, smallest_pt=least_pt, cap=cap,
        )  # fmt: skip
    elif one.set_pt < least_pt:
        yield _of_sizes(
            "size-below-method", Level.FAILURE, one.set_pt, offer.floor, least_pt,
            method=method, smallest_pt=least_pt, cap=cap,
        )  # fmt: skip
    elif one.set_pt > one.largest_pt:
        excess_mm = -min(one.spare_mm.known())
        yield Finding(
            "too-large", Level.FAILURE, one.set_pt, one.largest_pt, "pt", _COMPUTED,
            Status.COMPUTED, {"excess_mm": excess_mm},
        )  # fmt: skip
    elif one.meeting is not None:
        upper, lower = one.meeting
        yield Finding.of(
            "lines-meet", Level.FAILURE, one.set_pt, unit="pt", upper=upper, lower=lower
        )
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


def _weakest(job: ResolvedJob, one: Judged, weakest: Weakest | None) -> Iterator[Finding]:
    """The letters that do not hold at the largest size, or at the size asked for.

    Of strokes and of counters the one that needs the largest size.
    """
    size_pt = min(one.largest_pt, one.set_pt) if one.set_by is SetBy.ASKED else one.largest_pt
    failing = {weakest.what: weakest} if weakest and weakest.needs_pt > size_pt else {}
    title = one.layout.title.at_size(size_pt) if size_pt else None
    for each in failing_letters(job, title, size_pt) if title else ():
        failing.setdefault(each.what, each)
    for each in failing.values():
        yield Finding.by_rule(
            OF_LETTERS[each.what],
            Level.FAILURE,
            each.measured_em * mm_from_pt(size_pt),
            each.rule,
            letter=each.letter,
            size_pt=size_pt,
            needs_pt=each.needs_pt,
            largest_pt=one.largest_pt,
            larger_fits=one.offer.reaches(one.largest_pt),
            method=job.method.name,
        )


def _advised(job: ResolvedJob, one: Judged) -> Finding:
    """Which rule gave the advised size."""
    if one.set_because == "floor":
        floor, floor_pt = one.offer.floor, one.offer.floor_pt
        return _of_sizes("advised-floor", Level.NOTE, one.set_pt, floor, floor_pt)
    rule = job.rules[one.set_because]
    topic = _ADVISED_BY.get(one.set_because, "advised-aim")
    limit_pt = rule.value * one.largest_pt if topic == "advised-share" else None
    return _of_sizes(
        topic, Level.GOOD, one.set_pt, rule, limit_pt,
        figure=rule.value, distance_mm=job.reading_distance_mm, work=job.work.words,
        cap_mm=one.cap_height_mm,
    )  # fmt: skip


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
    panel, tail_mm = one.layout.panel, one.to_edge_mm.tail
    if job.spine is None or panel.number is not None or tail_mm is None:
        return
    if job.call_number is not None:  # it is that mark
        from spinefit.judgement.call_number import standing_findings

        yield from standing_findings(job, one)
        return
    if job.label is not None:  # what lies beyond a label is the back's
        tail_mm += panel.margin_tail_mm or 0.0
    if one.fits and "foot" not in job.spine.typed and tail_mm < rule.value:
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
        if kind == "alone" and job.lettering.group_shape is not None:
            continue  # whoever asks for a shape sees its lines
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


def _letters(job: ResolvedJob, one: Judged, said: set[str]) -> Iterator[Finding]:
    """Letters that are finer than asked, stand too near or need care, and a sturdier font.

    Args:
        job: the resolved job.
        one: its setting; one that was not asked for and does not fit has a size nobody sets.
        said: topics of the size; letters that fail are not warned of as well.
    """
    if not one.fits and one.set_by is SetBy.ADVISED:
        return
    title, method = one.layout.title, job.method
    fine = [
        each
        for each in finer_letters(job, title, one.set_pt, as_advised=True)
        if OF_LETTERS[each.what] not in said
    ]
    stroke, counter = method.stroke_advised, method.counter_advised or method.counter
    if not fine and stroke is not None and counter is not None and one.fits:
        yield Finding.by_rule(
            "letters-as-asked", Level.GOOD, None, stroke, counter_mm=counter.value,
            method=method.name,
        )  # fmt: skip
    by_floor = one.set_because == "floor" and one.offer.weakest is not None
    # Where it does not fit, fonts that hold are among the remedies.
    sturdier = _sturdier(job, one) if one.fits and (fine or by_floor) else None
    if sturdier is not None and not fine:
        yield _of_sizes(
            "sturdier-letter", Level.NOTE, sturdier.size_pt, one.offer.floor, one.set_pt,
            font=sturdier.font,
        )  # fmt: skip
    for what in dict.fromkeys(each.what for each in fine):
        own = [each for each in fine if each.what == what]
        yield Finding.by_rule(
            "finer-than-advised",
            Level.WARNING,
            own[0].measured_em * one.size_mm,
            own[0].rule,
            what=what,
            letters=tuple(dict.fromkeys(each.letter for each in own)),
            needs_pt=own[0].needs_pt,
            cut=job.method.part is not None,
            sturdier=sturdier,
        )
        sturdier = None  # said once
    yield from _apertures(job, one)
    yield from _spaces(job, one)


def _sturdier(job: ResolvedJob, one: Judged) -> Sturdier | None:
    from spinefit.judgement.sturdier import sturdier_letter  # for letters that may be too fine

    return sturdier_letter(job, one)


def _glyphs(one: Judged) -> Iterator[tuple[str, Outline, float]]:
    """Each different glyph of every text: its characters, its curves, and the size of its em."""
    for text in one.layout.title.texts:
        for letter, curves in text.title.inked_glyphs():
            yield letter, curves, text.scale * one.size_mm


def _lost(job: ResolvedJob, one: Judged) -> Iterator[Finding]:
    """Of what is cut: dots, points and accents that are lost in weeding."""
    part = job.method.part
    if part is None:
        return
    from spinefit.geometry.polygons import least_part_em

    sizes_mm: dict[str, float] = {}
    for text, curves, em_mm in _glyphs(one):
        size_mm = (least_part_em(curves) or 1.0) * em_mm
        sizes_mm[text] = min(size_mm, sizes_mm.get(text, size_mm))
    lost = tuple(text for text, size_mm in sizes_mm.items() if size_mm < part.value)
    if lost:
        least_mm = min(sizes_mm[text] for text in lost)
        yield Finding.by_rule("parts-lost", Level.WARNING, least_mm, part, letters=lost)


def _apertures(job: ResolvedJob, one: Judged) -> Iterator[Finding]:
    """Of what is cut: open mouths that want care in weeding."""
    aperture = job.method.aperture
    if aperture is None:
        return
    from spinefit.geometry.polygons import closes_within

    narrow = tuple(
        text
        for text, curves, em_mm in _glyphs(one)
        if closes_within(curves, aperture.value / em_mm)
    )
    if narrow:
        yield Finding.by_rule("narrow-apertures", Level.NOTE, None, aperture, letters=narrow)


def _spaces(job: ResolvedJob, one: Judged) -> Iterator[Finding]:
    """Letters that may run together."""
    close = closest_letters(job, one.layout.title, one.layout, one.set_pt)
    if close is not None:
        near_enough = close.gap_mm >= job.rules.value("tracking.near_enough") * close.rule.value
        yield Finding.by_rule(
            "letters-close",
            Level.GOOD if near_enough else Level.WARNING,
            close.gap_mm,
            close.rule,
            method=job.method.name,
            in_line=close.in_line,
            tracking=1000 * (job.lettering.tracking_em + close.missing_em),
        )
