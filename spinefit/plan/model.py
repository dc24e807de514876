"""What did the person say of a back with several texts?

A `BackPlan` holds what was said and nothing else, as `spinefit.job.model` does for one text:
None was not said. Lengths are millimetres, sizes DTP points. `spinefit.plan.checks` checks it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

from spinefit.job.model import Job, Lettering, Panel, Shape, Spine
from spinefit.vocabulary import Case

if TYPE_CHECKING:
    from spinefit.catalogue import Method
    from spinefit.job.model import FrontBoard, OldLettering, Recess

__all__ = [
    "SHARED_WITH_JOB",
    "BackPlan",
    "BackText",
    "Order",
    "Relation",
    "Role",
    "Zone",
    "plan_of",
]


class Zone(NamedTuple):
    """A stretch of the back, in mm from its head."""

    begins_mm: float
    ends_mm: float

    @property
    def length_mm(self) -> float:
        """From its beginning to its end in mm."""
        return self.ends_mm - self.begins_mm

    @property
    def middle_mm(self) -> float:
        """Its middle in mm from the head."""
        return (self.begins_mm + self.ends_mm) / 2

    def lower_by(self, length_mm: float) -> Zone:
        """The same so much further from the head."""
        return Zone(self.begins_mm + length_mm, self.ends_mm + length_mm)

    def seen_from_tail(self, height_mm: float) -> Zone:
        """The same on a back of that height in mm from its tail, or back in mm from its head."""
        return Zone(height_mm - self.ends_mm, height_mm - self.begins_mm)


class Role(StrEnum):
    """What a text on a back is, in the order custom gives."""

    AUTHOR = "author"
    TITLE = "title"
    SUBTITLE = "subtitle"
    VOLUME = "volume"
    DATE = "date"
    IMPRINT = "imprint"


class Order(StrEnum):
    """The order of the texts on a back without bands."""

    CUSTOM = "custom"  # author, title, subtitle, volume, date, imprint
    AS_TYPED = "as-typed"


class Relation(StrEnum):
    """How the sizes of the texts are related."""

    GRADED = "graded"  # the title largest
    ONE_SIZE = "one-size"


@dataclass(frozen=True, slots=True, kw_only=True)
class BackText:
    """One of the texts on a back.

    Attributes:
        text: what is to be lettered; `` / `` forces a line break.
        role: what it is.
        panel: the panel between bands it stands in, from 1 at the head.
        weight: its share of the space, beside those of its neighbours.
        size_pt: the size to judge it at, in DTP points.
        case: as typed, capitals or small capitals; None for that of the plan.
        font: a known font's name or a font file; None for that of the plan.
        label: name of a label that it shares with the other texts of that name; None for its own.
        label_size_mm: width and height of that label; None where it is to be worked out.
    """

    text: str
    role: Role
    panel: int | None = None
    weight: float | None = None
    size_pt: float | None = None
    case: Case | None = None
    font: str | None = None
    label: str | None = None
    label_size_mm: Panel | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BackPlan:
    """The texts on one back.

    Attributes:
        spine: the spine as measured; several texts need its height. None for a title alone on
            a panel or a front board.
        texts: the texts, one of them the title, every role once at most.
        lettering: how they are lettered; its ``size_pt`` and ``lines`` are the title's.
        market: ISO 3166 code of the country where the book is sold or shelved.
        language: BCP 47 tag of the texts.
        method: the way the lettering is made.
        reading_distance_mm: from the eye to the shelf.
        order: the order of the texts on a back without bands.
        relation: whether the sizes are graded or all one.
        slash_breaks: False where `` / `` in a text is no forced break, as in catalogues.
        label_thickness_mm: thickness of the labels; None for the method's.
        panel, shape, front_board: as of a `Job`, for a title alone.
        recess, old_lettering, overlap_mm: as of a `Job`; they are the title's.
    """

    spine: Spine | None = None
    texts: tuple[BackText, ...] = ()
    lettering: Lettering = field(default_factory=Lettering)
    market: str | None = None
    language: str | None = None
    method: str | Method | None = None
    reading_distance_mm: float | None = None
    order: Order = Order.CUSTOM
    relation: Relation = Relation.GRADED
    slash_breaks: bool = True
    label_thickness_mm: float | None = None
    panel: Panel | None = None
    shape: Shape | None = None
    front_board: FrontBoard | None = None
    recess: Recess | None = None
    old_lettering: OldLettering | None = None
    overlap_mm: float | None = None

    @property
    def is_single(self) -> bool:
        """True for one text with nothing beside it, which then is asked as any title is."""
        if len(self.texts) != 1:
            return False
        return self.texts[0].label is None and self.texts[0].label_size_mm is None

    @property
    def has_bands(self) -> bool:
        """True where bands part the back into panels."""
        return bool(self.bands)

    @property
    def bands(self) -> int:
        """How many bands the back has."""
        return 0 if self.spine is None else self.spine.bands or len(self.spine.bands_at_mm or ())

    @property
    def height_mm(self) -> float | None:
        """Height of the back, or of the panel given outright; None where it is open."""
        if self.spine is not None:
            return self.spine.height_mm
        return None if self.panel is None else self.panel.height_mm


SHARED_WITH_JOB = (
    "spine", "lettering", "market", "language", "method", "reading_distance_mm", "slash_breaks",
    "label_thickness_mm", "panel", "shape", "front_board", "recess", "old_lettering", "overlap_mm",
)  # fmt: skip
"""Fields of a `BackPlan` that a `Job` has too."""


def plan_of(job: Job) -> BackPlan:
    """A title alone as the only text of its back."""
    title = BackText(role=Role.TITLE, text=job.title)
    return BackPlan(texts=(title,), **{name: getattr(job, name) for name in SHARED_WITH_JOB})
