"""Where does a label stand that several texts share, and how large is it?

In: a plan whose texts name a label, and the same plan solved as if they named none. Out: a
`SharedLabel` for each name, and the seats beside and upon them. A size that was given holds;
else a label alone in its panel fills that, and any other is as high as its lettering, the gaps
between its texts and its margin ask. Lengths in mm from the head of the back.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import cast

from spinefit.errors import FieldError, ImpossibleBackError
from spinefit.geometry.back import build_back
from spinefit.geometry.framing import refuse_large_label
from spinefit.geometry.panels import divide
from spinefit.job.resolved import ResolvedJob
from spinefit.job.values import Panel
from spinefit.judgement.finding import CUT_WIDTH
from spinefit.plan.model import BackPlan, Zone
from spinefit.plan.result import PlannedLabel, PlannedText
from spinefit.plan.seats import Seat, SharedLabel, panels_of
from spinefit.plan.standing import leading_text, title_from_head_mm
from spinefit.tolerances import SHOWN_MM
from spinefit.vocabulary import Orientation, Place, Role


def check_labels(plan: BackPlan, job: ResolvedJob) -> None:
    """Refuse labels that cannot be.

    Raises:
        FieldError: no label by the method, two sizes or two panels for one, a size for none.
    """
    sizes: dict[str, Panel] = {}
    panels: dict[str, int] = {}
    for number, text in enumerate(plan.texts, 1):
        where = f"text {number}: label"
        if text.label is None:
            if text.label_size_mm is not None:
                raise FieldError(
                    "a size for which label?", where=f"text {number}: label-size",
                    remedy='name the label, such as label = "title piece"',
                )  # fmt: skip
            continue
        if job.method.place is not Place.LABEL:
            raise FieldError(
                f"a {job.method.name} is no label", value=text.label, where=where,
                remedy='give method = "paper-label" or another label, or leave it out',
            )  # fmt: skip
        if text.label_size_mm is not None:
            if plan.lap_mm is not None:
                raise FieldError(
                    "back, joints and lap say how wide the label is",
                    where=f"text {number}: label-size", remedy="leave out one of the two",
                )  # fmt: skip
            if sizes.setdefault(text.label, text.label_size_mm) != text.label_size_mm:
                raise FieldError(
                    f"two sizes for the label '{text.label}'", where=f"text {number}: label-size",
                    remedy="give it once",
                )  # fmt: skip
            _check_size(text.label_size_mm, f"text {number}: label-size")
        if text.panel is not None and panels.setdefault(text.label, text.panel) != text.panel:
            raise FieldError(
                f"two panels for the label '{text.label}'", value=text.panel,
                where=f"text {number}: panel", remedy="give it once",
            )  # fmt: skip


def _check_size(size: Panel, where: str) -> None:
    if not (size.width_mm > 0 and size.height_mm > 0):
        raise FieldError("a label needs a width and a height above 0", where=where)


def without_labels(plan: BackPlan, job: ResolvedJob) -> BackPlan:
    """The same texts, in the panels of their labels, as if each stood on its own."""
    assert job.spine is not None  # a plan has a spine
    count = len(divide(job.spine))
    panels = panels_of(plan, job, count) if count > 1 else {}
    return replace(
        plan,
        old_lettering=None if _is_over_old(plan) else plan.old_lettering,
        texts=tuple(
            replace(
                text,
                label=None,
                label_size_mm=None,
                panel=panels.get(text.role) if text.label is not None else text.panel,
            )
            for text in plan.texts
        ),
    )


def _is_over_old(plan: BackPlan, label: str | None = None) -> bool:
    """Whether a shared label, or that one, has the title and is to cover old lettering."""
    title = leading_text(plan.texts)
    named = title.label is not None and label in (None, title.label)
    return plan.old_lettering is not None and named


def place_labels(
    plan: BackPlan, job: ResolvedJob, bare: Sequence[tuple[Seat, Sequence[PlannedText], float]]
) -> dict[str, SharedLabel]:
    """Where every shared label stands.

    Args:
        plan: with the labels named.
        job: the resolved job of the title.
        bare: every stretch of the plan without its labels, its texts where they then stand, and
            the gap between two of them.

    Raises:
        ImpossibleBackError: a size that its panel, or the back, has no room for.
    """
    found: dict[str, SharedLabel] = {}
    for name in dict.fromkeys(text.label for text in plan.texts if text.label is not None):
        roles = [text.role for text in plan.texts if text.label == name]
        seat, texts, gap_mm = next(one for one in bare if roles[0] in one[0].roles)
        own = [one for one in texts if one.role in roles]
        size = next((one.label_size_mm for one in plan.texts if one.label == name and
                     one.label_size_mm is not None), None)  # fmt: skip
        alone = seat.panel is not None and len(own) == len(texts)
        if size is None and alone:
            found[name] = SharedLabel(name, seat.zone, is_full=True)
            continue
        if size is None:
            height_mm = _asked_mm(job, seat, own, gap_mm)
            width_mm = None
        else:
            height_mm, width_mm = size.height_mm, _covered_mm(job, size.width_mm)
            _refuse_too_large(name, seat, job, (width_mm, height_mm))
        old = job.old_lettering if _is_over_old(plan, name) else None
        if old is not None and size is None:
            height_mm = min(max(height_mm, old.label_mm[1]), seat.zone.length_mm)
        zone = _placed(job, seat, own, height_mm, None if old is None else old.middle_mm)
        found[name] = SharedLabel(name, zone, width_mm, is_given=size is not None)
    return found


def _asked_mm(job: ResolvedJob, seat: Seat, own: Sequence[PlannedText], gap_mm: float) -> float:
    """The height that the lettering asks, with its margins; by weights where they are given."""
    clearance_mm = job.lettering.clearance_mm
    lengths = {one.role: _ink_mm(one, clearance_mm) for one in own}
    gaps_mm = gap_mm * (len(own) - 1)
    ink_mm = sum(lengths.values())
    if seat.is_weighted:
        total = sum(seat.weights[role] for role in lengths)
        ink_mm = max(each * total / seat.weights[role] for role, each in lengths.items())
    asked_mm = ink_mm + gaps_mm + 2 * clearance_mm + SHOWN_MM
    return min(asked_mm, seat.zone.length_mm)


def _ink_mm(one: PlannedText, clearance_mm: float) -> float:
    """The length of back a text's ink covers, twice its longer reach from its middle."""
    shown = one.shown
    if shown.orientation is Orientation.TRANSVERSE and one.panel is None:
        return shown.ink_height_mm
    spare, height_mm = shown.spare_mm, one.judged.panel.height_mm
    if height_mm is None or spare.head is None or spare.tail is None:
        return shown.ink_height_mm
    return height_mm - 2 * clearance_mm - 2 * min(spare.head, spare.tail)


def _placed(
    job: ResolvedJob,
    seat: Seat,
    own: Sequence[PlannedText],
    height_mm: float,
    over_mm: float | None = None,
) -> Zone:
    """In the middle of its panel; on a back without bands where its title, or texts, would be.

    Over old lettering, where the middle of that is known.
    """
    begins_mm, ends_mm = seat.zone
    if over_mm is not None:
        middle_mm = over_mm
    elif seat.panel is not None and len(own) == len(seat.roles):
        middle_mm = seat.zone.middle_mm
    elif seat.hangs and any(one.role is Role.TITLE for one in own):
        middle_mm = title_from_head_mm(job)
    else:
        first, last = own[0].zone, own[-1].zone
        assert first is not None and last is not None  # a label stands on a back of known height
        middle_mm = (first.begins_mm + last.ends_mm) / 2
    start_mm = max(begins_mm, min(middle_mm - height_mm / 2, ends_mm - height_mm))
    return Zone(start_mm, start_mm + height_mm)


def _covered_mm(job: ResolvedJob, cut_width_mm: float) -> float:
    """The width of back that a label cut so wide covers, round the arc."""
    assert job.spine is not None  # a plan has a spine
    return build_back(job.spine, job.rules).covered_mm(job.label_thickness_mm, cut_width_mm)


def _refuse_too_large(
    name: str, seat: Seat, job: ResolvedJob, sides_mm: tuple[float, float]
) -> None:
    where = f"label '{name}': label-size"
    refuse_large_label(sides_mm, (_developed_mm(job), seat.zone.length_mm), where)
    if min(sides_mm) <= 2 * job.lettering.clearance_mm:
        raise ImpossibleBackError(
            "the label's inner margin leaves nothing of it",
            value=f"{min(sides_mm):g} mm",
            where=where,
            remedy=f"its lettering keeps {job.lettering.clearance_mm:g} mm from each edge",
        )


def _developed_mm(job: ResolvedJob) -> float:
    assert job.spine is not None  # a plan has a spine
    return build_back(job.spine, job.rules).developed_width_mm


def plan_on(plan: BackPlan, job: ResolvedJob, label: SharedLabel | None) -> BackPlan:
    """The plan as it holds for the texts of a label: no wider than that is, over what it covers."""
    if label is None:
        return plan
    if plan.old_lettering is not None:
        plan = replace(plan, old_lettering=replace(plan.old_lettering, label_mm=label.zone))
    if label.width_mm is None:
        return plan
    assert plan.spine is not None  # a shared label stands on a back
    edge_mm = max(0.0, (_developed_mm(job) - label.width_mm) / 2)
    return replace(plan, spine=replace(plan.spine, edge_mm=edge_mm))


def planned_labels(
    seats: Iterable[Seat], texts: Sequence[PlannedText], failing: Iterable[Role]
) -> tuple[PlannedLabel, ...]:
    """Every shared label as it stands with its texts."""
    out = set(failing)
    found = []
    for seat in seats:
        label = seat.label
        if label is None:
            continue
        own = [one for one in texts if one.role in seat.roles]
        cut_mm = _cut_width_mm(own[0])
        found.append(
            PlannedLabel(
                name=label.name,
                panel=seat.panel,
                zone=label.zone,
                width_mm=own[0].judged.panel.width_mm,
                cut_width_mm=cut_mm,
                is_given=label.is_given,
                is_full=label.is_full,
                roles=tuple(one.role for one in own),
                baselines_mm=tuple(_baselines(one, label.zone.begins_mm) for one in own),
                fits=not out & {one.role for one in own},
                over_joints=own[0].judged.job.lap is not None,
            )
        )
    return tuple(found)


def _baselines(one: PlannedText, top_mm: float) -> tuple[float, ...]:
    shown = one.shown
    first_mm = shown.first_from_head_mm
    if first_mm is None or shown.orientation is not Orientation.TRANSVERSE:
        return ()
    first = shown.baselines_mm[0]
    return tuple(first_mm - top_mm + first - each for each in shown.baselines_mm)


def _cut_width_mm(one: PlannedText) -> float | None:
    """Its width before it is bent over a round of known radius; None where it is not bent."""
    for finding in one.judged.judgement.findings:
        if finding.topic in CUT_WIDTH:
            return float(cast("float", finding.value))
    return None
