"""What should a binder know of a plan as a whole?

In: a `Plan`, and its texts or volumes as reported. Out: findings as facts, with who says so, the
gravest first; their sentences stand in `templates` with all others.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from spinefit.judgement.finding import Finding
from spinefit.plan.model import Relation
from spinefit.plan.result import Limit, Plan, PlannedRole, PlannedText, PlannedVolume
from spinefit.say.old_lettering import old_shows
from spinefit.say.phrasing import limit_pt, line_count, listed, on_lines, pt, shown
from spinefit.say.plan_model import TextReport, VolumeReport
from spinefit.say.plan_words import along_or_across
from spinefit.vocabulary import Level, Orientation, Reading, Role, Status

_OF_OUTLINES = "computed from the outlines and the back"
_ORDER = (
    "Brazilian guides to NBR 12225; Bailey, Library Bookbinding (1916), who names the publishers' "
    'habit; ISO 6357:1985, via the German encyclopaedia article "ISO 6357": the title, the author '
    "if possible, the publisher only if room is left"
)
_AGAINST_PANELS = "against it Bailey, Library Bookbinding (1916), and Spofford (1900): author first"
_RELATION = (
    "graded: Zaehnsdorf, The Art of Bookbinding, and Adam, Practical Bookbinding (1903), rules 1, "
    "4 and 5; one size: Cockerell, Bookbinding and the Care of Books, ch. XV"
)
_WORST = (
    "the worst is the rule for all, or one thin volume goes its own way: Cockerell, Bookbinding "
    "and the Care of Books, ch. XV, fig. 115"
)
_APART = (
    "Cockerell, Bookbinding and the Care of Books, ch. XV, fig. 115: a thin volume may compromise "
    "rather than shrink the whole set"
)
_ONE_HEIGHT = "common practice: volumes of a set are lettered at one height"
_PARTED = r"([0-9]{5})(?:[.,][0-9]+)?"  # a part of a day
_FIVE_FIGURES = re.compile(rf"{_PARTED}(?:\s*[-–—/]\s*{_PARTED})?")
_DAY_ZERO = date(1899, 12, 30)  # as most spreadsheets count, who take 1900 for a leap year


def text_findings(plan: Plan, one: PlannedText) -> Iterator[Finding]:
    """Of one text by what it is: a date or volume that a spreadsheet may have made a day number."""
    least, most = plan.job.rules["day_number.least"], plan.job.rules["day_number.most"]
    figures = _FIVE_FIGURES.fullmatch(one.text.strip())
    if one.role not in (Role.VOLUME, Role.DATE) or figures is None:
        return
    numbers = [int(number) for number in figures.groups() if number]
    if all(least.value <= number <= most.value for number in numbers):
        days = [_DAY_ZERO + timedelta(number) for number in numbers]
        said = " to ".join(f"{day.day} {day:%B} {day.year}" for day in days)
        found = Finding.by_rule(
            "day-number", Level.WARNING, figures[0], least, role=one.role, day=said,
            are_two=len(days) > 1, dated=one.role is Role.DATE,
        )  # fmt: skip
        yield found._replace(limit=said, unit="")


def back_findings(plan: Plan, texts: Sequence[TextReport]) -> Iterator[Finding]:
    """Of several texts on one back."""
    volume = plan.volumes[0]
    yield from (breach for one in volume.texts for breach in one.breaches)
    crowded = [one.role for one in volume.texts if one.role in volume.failing and not one.breaches]
    yield from (
        _without_room(one)
        for one in texts
        if one.role in crowded and not (old_shows(one.report) or one.judged.shown.fits_uncut)
    )
    if plan.turned:
        yield _note("plan-turned", "computed", Status.COMPUTED)
    yield from _order(plan, texts)
    yield from _relation(plan, texts)
    yield from _library_foot(plan, texts)


def _without_room(one: TextReport) -> Finding:
    layout = shown(one.report)
    assert one.zone is not None  # several texts share a back of known height
    sides_mm = (layout.ink_height_mm, layout.ink_width_mm)
    is_along = layout.orientation is Orientation.LONGITUDINAL
    along_mm, across_mm = reversed(sides_mm) if is_along else sides_mm
    spare_mm = layout.spare_mm
    width_mm = across_mm + (spare_mm.left or 0.0) + (spare_mm.right or 0.0)
    too_wide = along_mm <= one.zone.length_mm and across_mm > width_mm
    facts = {"along_mm": along_mm} if too_wide else {"across_mm": across_mm}
    return Finding(
        topic="text-without-room",
        level=Level.FAILURE,
        value=across_mm if too_wide else along_mm,
        limit=width_mm if too_wide else one.zone.length_mm,
        unit="mm",
        source=_OF_OUTLINES,
        status=Status.COMPUTED,
        facts={"role": one.role.words, "set_pt": one.set_pt, **facts},
    )


def _note(topic: str, source: str, status: Status, **facts: object) -> Finding:
    return Finding(topic=topic, level=Level.NOTE, source=source, status=status, facts=facts)


def _order(plan: Plan, texts: Sequence[TextReport]) -> Iterator[Finding]:
    if any(one.panel is not None for one in texts):
        title, author = plan.job.rules["bands.title_panel"], plan.job.rules["plan.author_panel"]
        source = f"{title.source}; {_AGAINST_PANELS}"
        panels = {"title_panel": title.value, "author_panel": author.value}
        yield _note("plan-panels", source, title.status, **panels)
    elif any(one.role is Role.AUTHOR for one in texts):
        yield _note("plan-order", _ORDER, Status.PUBLISHED)


def _relation(plan: Plan, texts: Sequence[TextReport]) -> Iterator[Finding]:
    if len(texts) < 2:
        return
    graded = plan.backs[0].relation is Relation.GRADED
    yield _note("plan-relation", _RELATION, Status.PUBLISHED, graded=graded)
    title_pt = next(one.set_pt for one in texts if one.role is Role.TITLE)
    asked = {one.role for one in plan.backs[0].texts if one.size_pt is not None}
    of_their_own = {Role.TITLE, Role.CALL_NUMBER, *asked}
    equal = [
        str(one.role)
        for one in texts
        if graded and one.role not in of_their_own and one.set_pt >= title_pt
    ]
    if equal:
        smallest = plan.job.method.smallest
        yield Finding(
            topic="plan-relation-lost",
            level=Level.NOTE,
            value=title_pt,
            limit=plan.job.rules.value("plan.author_ratio") * title_pt,
            unit="pt",
            source=smallest.source,
            status=smallest.status,
            facts={"roles": listed(equal)},
        )


def _library_foot(plan: Plan, texts: Sequence[TextReport]) -> Iterator[Finding]:
    """Lettering that reaches into the space libraries letter or label."""
    rule, spine = plan.job.rules["ends.library_foot_mm"], plan.job.spine
    if spine is None or spine.height_mm is None or spine.bands or "foot" in spine.typed:
        return
    others = [one for one in texts if one.role is not Role.CALL_NUMBER]  # which is that mark
    lowest_mm = min(_from_tail_mm(one, spine.height_mm) for one in others)
    if lowest_mm < rule.value:
        yield Finding.by_rule("library-foot", Level.NOTE, max(0.0, lowest_mm), rule)


def _from_tail_mm(one: TextReport, height_mm: float) -> float:
    """From the tail of the back to the lowest ink of a text, in mm."""
    assert one.zone is not None  # several texts share a back of known height
    return height_mm - one.zone.ends_mm + (shown(one.report).spare_mm.tail or 0.0)


def backs_findings(plan: Plan, volumes: Sequence[VolumeReport], limit: Limit) -> Iterator[Finding]:
    """Of volumes of several texts each."""
    for planned, volume in zip(plan.volumes, volumes, strict=True):
        texts = {one.role: one for one in volume.texts}
        breaches = {one.role: one.breaches for one in planned.texts}
        for role in volume.failing:
            for breach in breaches[role]:
                yield breach._replace(facts={**breach.facts, "volume": volume.label})
            if not breaches[role]:
                yield _without_room_alike(volume, texts[role])
    yield from _set_apart(plan)
    if plan.fits and not plan.matched:
        yield Finding(
            topic="set-limit",
            level=Level.NOTE,
            value=next(one.set_pt for one in plan.roles if one.role is Role.TITLE),
            unit="pt",
            source="computed: the plan again without each text and each volume",
            status=Status.COMPUTED,
            facts={
                "volume": limit.volume,
                "role": limit.role,
                "alone": listed([f"{one.label} {pt(one.title_alone_pt)}" for one in volumes]),
            },
        )
    yield from (_height(one, role=one.role.words) for one in plan.roles)


def _without_room_alike(volume: VolumeReport, one: TextReport) -> Finding:
    return Finding(
        topic="text-without-room",
        level=Level.FAILURE,
        value=one.set_pt,
        limit=shown(one.report).largest_pt,
        unit="pt",
        source="computed from the outlines and the backs",
        status=Status.COMPUTED,
        facts={
            "volume": volume.label,
            "role": one.role.words,
            "length_mm": None if one.zone is None else one.zone.length_mm,
            "answer": one.report.answer,
        },
    )


def _height(one: PlannedRole, **facts: object) -> Finding:
    """One height over the shelf, or why there is none."""
    return Finding(
        topic="set-height",
        level=Level.NOTE if one.stands_mm is None else Level.GOOD,
        value=one.stands_mm,
        unit="mm",
        source=_ONE_HEIGHT,
        status=Status.PRACTICE,
        facts={"across": one.reading is Reading.ACROSS, **facts},
    )


def set_findings(plan: Plan, volumes: Sequence[VolumeReport], limit: Limit) -> Iterator[Finding]:
    """Of volumes with a title each."""
    common = plan.roles[0]
    lines = line_count(common.lines)
    for one in volumes:
        if not one.fits:
            facts = {} if one.apart else {"lines": lines}
            yield _failing(one, common.set_pt, shown(one.report).largest_pt, **facts)
    yield from _set_apart(plan)
    yield Finding(
        topic="set-limit",
        level=Level.NOTE,
        value=common.set_pt,
        limit=plan.largest_pt,
        unit="pt",
        source=_WORST,
        status=Status.PUBLISHED,
        facts={
            "way": along_or_across(common.orientation),
            "lines": lines,
            "most": listed(
                [f"{one.label} {limit_pt(one.largest_pt)}" for one in volumes if not one.apart]
            ),
            "volume": limit.volume,
        },
    )
    yield _height(common, labels=plan.backs[0].panel is not None)


def _set_apart(plan: Plan) -> Iterator[Finding]:
    """Every volume that goes its own way, and why."""
    gain, alike = plan.job.rules["sets.apart_gain"], plan.alike
    why = "since no size was found that it and the others can have"
    if alike is not None:
        way = f"{along_or_across(alike.orientation)} {on_lines(alike.lines)}"
        why = f"or all would stand {way} at {pt(alike.set_pt)}"
    others = [one for one in plan.volumes if one.apart is None]
    for one in plan.volumes:
        if one.apart is None:
            continue
        asked = one.apart.asked
        yield Finding(
            topic="set-apart",
            level=Level.NOTE,
            value=one.title.set_pt,
            limit=next(each.set_pt for each in plan.roles if each.role is Role.TITLE),
            unit="pt",
            source=_APART if asked else gain.source,
            status=Status.PUBLISHED if asked else gain.status,
            facts={
                "volume": one.label,
                "why": "as was asked" if asked else why,
                "thin": all(_width_mm(one) < _width_mm(each) for each in others),
            },
        )


def _width_mm(one: PlannedVolume) -> float:
    spine = one.title.judged.job.spine
    return 0.0 if spine is None else spine.width_mm


def _failing(one: VolumeReport, set_pt: float, largest_pt: float, **facts: object) -> Finding:
    return Finding(
        topic="volume-does-not-fit",
        level=Level.FAILURE,
        value=set_pt,
        limit=largest_pt,
        unit="pt",
        source=_OF_OUTLINES,
        status=Status.COMPUTED,
        facts={"volume": one.label, "answer": one.report.answer, **facts},
    )


def match_findings(plan: Plan, volumes: Sequence[VolumeReport]) -> Iterator[Finding]:
    """Every breach of a pattern with the volume that makes it, and what does not fit it."""
    assert plan.pattern is not None  # it was to be matched
    for planned, one in zip(plan.volumes, volumes, strict=True):
        breaches = planned.title.breaches
        for breach in breaches:
            yield breach._replace(facts={**breach.facts, "volume": one.label})
        if not one.fits and not breaches:
            yield _failing(one, plan.pattern.size_pt, one.largest_pt)
