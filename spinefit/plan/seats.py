"""Which text stands where on the back?

In: a plan and its resolved back. Out: its `Seat`s, each with the texts that share it, from
head to tail: between bands the panels that custom gives (rules.toml plan.*; title second,
author third, volume, date and imprint towards the tail), without bands the whole back in the
order of the standard. What was typed has the last word. Lengths in mm from the head.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from spinefit.errors import FieldError, ImpossibleBackError
from spinefit.geometry.panels import divide
from spinefit.job.resolved import ResolvedJob, ResolvedSpine
from spinefit.plan.model import BackPlan, BackText, Order, Zone
from spinefit.plan.standing import lettered_zone
from spinefit.tolerances import SAME_MM
from spinefit.vocabulary import Orientation, Reading, Role

_LEAST_PART_MM = 1.0  # less than any lettering

SeatKey = tuple[int | None, str | None, "Zone | None"]
"""What tells one seat of a back from another: panel, label, and which part beside labels."""


class SharedLabel(NamedTuple):
    """A label that several texts share, once it is known where it stands.

    Attributes:
        name: as typed.
        zone: from its upper to its lower edge, in mm from the head of the back.
        width_mm: its width; None where it reaches from edge to edge.
        is_given: True where its size was given: then its texts are to fill it.
        is_full: True where it fills its panel.
    """

    name: str
    zone: Zone
    width_mm: float | None = None
    is_given: bool = False
    is_full: bool = False


class Seat(NamedTuple):
    """A panel, a label or the whole back, and the texts that share it.

    Attributes:
        panel: number of the panel, or None for the whole back.
        zone: what the texts share; of a label, what it leaves for ink.
        texts: in the order of custom; from head to tail once it is known how lines run.
        label: the label they share, or None.
        is_part: True beside a label, where the zone is but a part of the panel or back.
        orientation: of all its lines; ANY until that is known.
    """

    panel: int | None
    zone: Zone
    texts: tuple[BackText, ...]
    label: SharedLabel | None = None
    is_part: bool = False
    orientation: Orientation = Orientation.ANY

    def running(self, orientation: Orientation, reading: Reading) -> Seat:
        """The seat with its lines running one way; ascending lines are read from the tail."""
        upwards = orientation is Orientation.LONGITUDINAL and reading is Reading.ASCENDING
        texts = self.texts[::-1] if upwards else self.texts
        return self._replace(texts=texts, orientation=orientation)

    @property
    def key(self) -> SeatKey:
        """By which the same seat is found again on the backs of a set."""
        label = None if self.label is None else self.label.name
        return self.panel, label, self.zone if self.is_part else None

    @property
    def room(self) -> Zone | None:
        """What of its panel, or of the back, its texts are tried in; None for all of it."""
        if self.label is not None:
            return self.label.zone if self.label.is_given else None
        return self.zone if self.is_part else None

    @property
    def roles(self) -> tuple[Role, ...]:
        """Of its texts."""
        return tuple(text.role for text in self.texts)

    @property
    def is_weighted(self) -> bool:
        """True where some text was given a weight."""
        return any(text.weight is not None for text in self.texts)

    @property
    def weights(self) -> dict[Role, float]:
        """The share of each text; 1 where none was given."""
        return {one.role: 1.0 if one.weight is None else one.weight for one in self.texts}

    @property
    def is_lone(self) -> bool:
        """True where one text has all of its panel, or of the back, as a title alone has."""
        return len(self.texts) == 1 and self.label is None and not self.is_part

    @property
    def is_along(self) -> bool:
        """True where the lines run along the back."""
        return self.orientation is Orientation.LONGITUDINAL

    @property
    def hangs(self) -> bool:
        """True where texts across a back without bands hang from the head, not by weight."""
        return (
            self.panel is None
            and self.label is None
            and self.orientation is Orientation.TRANSVERSE
            and not self.is_weighted
        )


def seats_of(
    plan: BackPlan,
    job: ResolvedJob,
    labels: Mapping[str, SharedLabel] | None = None,
    *,
    single: bool = False,
) -> tuple[Seat, ...]:
    """The panels that are lettered, from head to tail, with their texts.

    Args:
        plan: what was said.
        job: the resolved job of the title.
        labels: the labels that texts share, by name; None where there is none.
        single: True for a title asked as it is alone: its panel is that of its own job.

    Raises:
        ImpossibleBackError: a panel that is not there.
        FieldError: a panel named on a back without bands.
    """
    spans = () if job.spine is None else divide(job.spine)
    if single:
        return (Seat(None, _zone_alone(plan, job), plan.texts),)
    assert job.spine is not None  # several texts need a back of a known height
    zones = {span.number: Zone(span.top_mm, span.bottom_mm) for span in spans}
    texts = _in_order(plan)
    if len(spans) == 1:
        _refuse_panels(plan)
        seats: tuple[Seat, ...] = (Seat(None, zones[1], texts),)
    else:
        panels = panels_of(plan, job, len(spans))
        seats = tuple(
            Seat(
                number,
                zones[number],
                tuple(text for text in texts if panels[text.role] == number),
            )
            for number in sorted(set(panels.values()))
        )
    if not labels:
        return seats
    return _with_labels(seats, labels, clearance_mm=job.lettering.clearance_mm)


def _zone_alone(plan: BackPlan, job: ResolvedJob) -> Zone:
    """The zone of a title alone; without a length where no height is known."""
    if job.spine is None or job.spine.height_mm is None:
        return Zone(0.0, plan.height_mm or 0.0)
    if not plan.has_bands:
        _refuse_panels(plan)
    return lettered_zone(job.spine)


def panels_of(plan: BackPlan, job: ResolvedJob, count: int) -> dict[Role, int]:
    """The panel of each text between bands; texts that share a label have one in common."""
    found = {text.role: _panel_of(text, plan, job, count) for text in plan.texts}
    for name in {text.label for text in plan.texts if text.label is not None}:
        sharing = [text for text in plan.texts if text.label == name]
        typed = next((text for text in sharing if text.panel is not None), None)
        lead = typed or next((one for one in sharing if one.role is Role.TITLE), sharing[0])
        found |= dict.fromkeys((text.role for text in sharing), found[lead.role])
    return found


def _in_order(plan: BackPlan) -> tuple[BackText, ...]:
    if plan.order is Order.AS_TYPED:
        return plan.texts
    order = list(Role)
    return tuple(sorted(plan.texts, key=lambda text: order.index(text.role)))


def _refuse_panels(plan: BackPlan) -> None:
    for number, text in enumerate(plan.texts, 1):
        if text.panel is not None:
            raise FieldError(
                "a back without bands has no panels",
                value=text.panel,
                where=f"text {number}: panel",
                remedy="leave it out, or give the number of bands",
            )


def _panel_of(text: BackText, plan: BackPlan, job: ResolvedJob, count: int) -> int:
    """The panel a text stands in, from 1: as typed, else by custom, never past the tail."""
    if text.panel is not None:
        if not 1 <= text.panel <= count:
            number = plan.texts.index(text) + 1
            raise ImpossibleBackError(
                "there is no such panel",
                value=text.panel,
                where=f"text {number}: panel",
                remedy=f"panels are numbered 1 to {count}, from the head",
            )
        return text.panel
    title = _title_panel(plan, job)
    if text.role in (Role.TITLE, Role.SUBTITLE):
        return title
    rules = job.rules
    author = min(int(rules.value("plan.author_panel")), count)
    if author == title:
        author = min(title + 1, count)
    if text.role is Role.AUTHOR:
        return author
    panel = count - int(rules.value(f"plan.{text.role}_above_tail"))
    has_author = any(one.role is Role.AUTHOR for one in plan.texts)
    taken = {title, author} if has_author else {title}
    return panel if panel > max(taken) else count


def _title_panel(plan: BackPlan, job: ResolvedJob) -> int:
    spine: ResolvedSpine | None = job.spine
    assert spine is not None  # a plan has a spine
    typed = next((text.panel for text in plan.texts if text.role is Role.TITLE), None)
    return spine.title_panel if typed is None else typed


def _with_labels(
    seats: Iterable[Seat], labels: Mapping[str, SharedLabel], *, clearance_mm: float
) -> tuple[Seat, ...]:
    """The seats, each cut into its labels and what is left above, between and below them."""
    found: list[Seat] = []
    for seat in seats:
        names = list(dict.fromkeys(one.label for one in seat.texts if one.label is not None))
        if not names:
            found.append(seat)
            continue
        found += _cut(seat, [labels[name] for name in names], clearance_mm)
    return tuple(found)


def _cut(seat: Seat, labels: Sequence[SharedLabel], clearance_mm: float) -> list[Seat]:
    found: list[Seat] = []
    begins_mm, loose = seat.zone.begins_mm, []
    left = list(labels)
    for text in seat.texts:
        if text.label is None:
            loose.append(text)
        elif left and text.label == left[0].name:
            label = left.pop(0)
            if loose:
                found.append(_part(seat, Zone(begins_mm, label.zone.begins_mm), loose, label))
            if label.zone.begins_mm < begins_mm - SAME_MM:
                raise _no_room(label, "the label above it")
            inner = Zone(label.zone.begins_mm + clearance_mm, label.zone.ends_mm - clearance_mm)
            sharing = tuple(one for one in seat.texts if one.label == label.name)
            found.append(Seat(seat.panel, inner, sharing, label, is_part=True))
            begins_mm, loose = label.zone.ends_mm, []
    if loose:
        found.append(_part(seat, Zone(begins_mm, seat.zone.ends_mm), loose, labels[-1]))
    return found


def _part(seat: Seat, zone: Zone, texts: Sequence[BackText], label: SharedLabel) -> Seat:
    if zone.length_mm < _LEAST_PART_MM:
        raise _no_room(label, " and ".join(f"the {text.role}" for text in texts))
    return Seat(seat.panel, zone, tuple(texts), None, is_part=True)


def _no_room(label: SharedLabel, beside: str) -> ImpossibleBackError:
    return ImpossibleBackError(
        f"the label leaves no room beside it for {beside}",
        value=f"{label.zone.length_mm:.4g} mm",
        where=f"label '{label.name}'",
        remedy="give a smaller label-size, or put that text on the label or into another panel",
    )
