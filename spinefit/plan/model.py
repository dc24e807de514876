"""What did the person say of a back with several texts?

A `BackPlan` holds what was said and nothing else, as `spinefit.job.model` does for one text:
None was not said. Lengths are millimetres, sizes DTP points. `spinefit.plan.back` checks it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

from spinefit.job.model import Lettering, Panel, Spine
from spinefit.vocabulary import Case

if TYPE_CHECKING:
    from spinefit.catalogue import Method

__all__ = ["BackPlan", "BackText", "Order", "Relation", "Role"]


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
    """Several texts on one back.

    Attributes:
        spine: the spine as measured; its height is needed.
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
    """

    spine: Spine
    texts: tuple[BackText, ...]
    lettering: Lettering = field(default_factory=Lettering)
    market: str | None = None
    language: str | None = None
    method: str | Method | None = None
    reading_distance_mm: float | None = None
    order: Order = Order.CUSTOM
    relation: Relation = Relation.GRADED
    slash_breaks: bool = True
    label_thickness_mm: float | None = None
