"""What does the value of a field mean, be it a text or a plain TOML value?

In: a text from the command line, or a number, text or list from a job file. Out: what `Job`
holds, in mm, points, a member of an enumeration or one of the small records below. A plain number
is read as if it had been typed, so both follow the same rules of `spinefit.job.lengths`.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, TypeVar

from spinefit.errors import FieldError, UnitError
from spinefit.job import lengths
from spinefit.job.title import refuse_long
from spinefit.vocabulary import Case, GroupShape, Measure, Role, Ruling

_IN_VIEW = " in view"
_MOST_PARTS = 200  # positions, areas or corners: past any back
C = TypeVar("C", bound=str)


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A usable panel given outright, as with a label already chosen.

    Attributes:
        width_mm: across the spine, in mm.
        height_mm: along the spine, in mm.
    """

    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepFree:
    """A rectangle of the panel that must stay free of ink: a device, a shelf mark.

    Attributes:
        width_mm, height_mm: its size in mm.
        x_mm, y_mm: its middle in mm from the middle of the panel, to the right and to the head.
    """

    width_mm: float
    height_mm: float
    x_mm: float = 0.0
    y_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class OldLettering:
    """Lettering that stands on the back already, in the middle of its width.

    Attributes:
        width_mm: its ink and impression across the back in mm; over a round by a tape.
        height_mm: the same along the back in mm.
        from_head_mm: from the head of the back down to its upper edge; None where unsaid.
        label_mm: from the head to both edges of a label over it that several texts share.
        of_another: True for a text that the title's label does not concern, but which has to
            stand clear of old lettering.
        at_mm: from the head to the middle of the label, where the volumes of a set have theirs at
            one height. A plan says these three, nobody else.
        in_view: True where it is to stay in view, and the new to stand clear of it.
    """

    width_mm: float
    height_mm: float
    from_head_mm: float | None = None
    label_mm: tuple[float, float] | None = None
    of_another: bool = False
    at_mm: float | None = None
    in_view: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One of several texts of a label, or a rule between two; they stand in the order given.

    Attributes:
        role: what it is.
        text: as of a `Job`; "" for a rule.
        size_pt, ratio: its size in DTP points, or its part of the title's; None as usual.
        case: the case it is lettered in; None for that of the label.
        font: a known font's name or a font file; None for that of the label.
        rule, measure: which line a rule is, and how long; None for thin, and for short.
        lines_up_mm, lines_tracking: as of the lettering of a `Job`, of this text.
    """

    role: Role
    text: str = ""
    size_pt: float | None = None
    ratio: float | None = None
    case: Case | None = None
    font: str | None = None
    rule: Ruling | None = None
    measure: Measure | None = None
    lines_up_mm: tuple[float, ...] | None = None
    lines_tracking: tuple[float, ...] | None = None


def text(value: object) -> str:
    """A name or a tag, spaces at its ends taken off.

    Raises:
        FieldError: no text, nothing in it, or bytes that are no text.
    """
    name = _whole_text(value).strip()
    if not name:
        raise FieldError("nothing given", value=value, remedy="give a name or leave it out")
    return name


def fonts(value: object) -> tuple[str, ...]:
    """Names or files of fonts, in a list, or with ``;`` between them.

    Raises:
        FieldError: an empty name.
    """
    return tuple(text(part) for part in _listed(value, ";"))


def title(value: object) -> str:
    """The text to letter, just as it stands.

    Raises:
        FieldError: no text, bytes that are no text, or no letters in it.
    """
    if isinstance(value, str):
        refuse_long(value)
    words = _whole_text(value)
    if not any(unicodedata.category(char)[0] in "LNPS" for char in words if char != "/"):
        raise FieldError("a title with no letters", value=value, remedy="give the words to letter")
    return words


def length(value: object) -> float:
    """A length in mm."""
    return lengths.parse_length(_typed(value))


def width(value: object) -> float | tuple[float, float]:
    """A width in mm, or the least and greatest of a range."""
    return lengths.parse_range(_typed(value))


def panel(value: object) -> Panel:
    """A panel as ``WxH``."""
    across_mm, along_mm = lengths.parse_rectangle(_typed(value))
    return Panel(width_mm=across_mm, height_mm=along_mm)


def rectangles(value: object) -> tuple[Panel, ...]:
    """Panels as ``WxH``, in a list or in a text, where a unit on the last serves all.

    >>> [one.height_mm for one in rectangles("30x20,3x2cm")]
    [200.0, 20.0]
    """
    if isinstance(value, list | tuple):
        return tuple([panel(part) for part in _few(value)])
    typed = _typed(value)
    mark = ";" if ";" in typed else ","  # which then may begin decimals
    parts = _few([part for part in typed.split(mark) if part.strip()])
    unit = re.sub(r"\A.*[0-9¼-¾⅐-⅞]", "", parts[-1])
    return tuple([panel(part + unit if part.strip()[-1].isnumeric() else part) for part in parts])


def old_lettering(value: object) -> OldLettering:
    """Old lettering as ``WxH``, or ``WxH@D`` with its upper edge D down from the head.

    After it ``in view`` where it is to stay so.

    Raises:
        UnitError: no such extents.
    """
    typed = lengths.plain_spaces(_typed(value)).rstrip()
    extents = typed.removesuffix(_IN_VIEW)
    sides, at, head = _sides_and_place(extents)
    parts = [*sides, head] if at else sides
    if len(sides) != 2 or not all(parts):
        raise UnitError(
            "not the extents of lettering",
            value=_shown(value),
            remedy="write width and height of its ink and impression, 28x12mm, or 28x12@35mm "
            "where its upper edge lies 35 mm below the head of the back; then in view if it stays",
        )
    wide_mm, high_mm, *place = lengths.parse_figures(parts, last="last figure")
    return OldLettering(
        width_mm=wide_mm,
        height_mm=high_mm,
        from_head_mm=place[0] if place else None,
        in_view=extents != typed,
    )


def size_pt(value: object) -> float:
    """A type size in DTP points."""
    return lengths.parse_size(_typed(value))


def sizes_pt(value: object) -> tuple[float, ...]:
    """Sizes of a drawer in DTP points, rising: ``10,12,14didot``, or a list.

    Raises:
        UnitError: not sizes in points, or one of them twice.
    """
    return lengths.parse_sizes([_typed(part) for part in _listed(value)])


def face(value: object) -> str:
    """Which face or named instance of a font: a number from 1, or a name."""
    return text(value if isinstance(value, str) else _typed(value))


def count(value: object) -> int:
    """A whole number from 0."""
    return lengths.parse_count(_typed(value))


def line_count(value: object) -> int | None:
    """A number of lines, or None for ``any``."""
    typed = _typed(value)
    if typed.strip().casefold() == "any":
        return None
    try:
        return lengths.parse_count(typed)
    except FieldError as fault:
        fault.remedy = "give any, or a whole number such as 2"
        raise


def number(*endings: str) -> Callable[[object], float]:
    """A reader of plain numbers that may carry one of these endings."""
    return lambda value: lengths.parse_number(_typed(value), endings=endings)


def choice(choices: Iterable[C]) -> Callable[[object], C]:
    """A reader of one of these choices."""
    known = tuple(choices)
    return lambda value: lengths.parse_choice(text(value), known)


def choices(choices: Iterable[C]) -> Callable[[object], tuple[C, ...]]:
    """A reader of several of these choices, in a list or with commas between them."""
    read = choice(choices)
    return lambda value: tuple([read(part) for part in _listed(value)])


def group_shape(value: object) -> GroupShape:
    """The shape of a group of lines, by its own name or what a binder calls it.

    >>> str(group_shape("diamond"))
    'lozenge'
    """
    named = {str(shape).replace(" ", "-"): shape for shape in GroupShape}
    called = {**named, "diamond": GroupShape.LOZENGE, "rectangle": GroupShape.SQUARED}
    return called[lengths.parse_choice(text(value).replace(" ", "-"), called)]


def yes_or_no(value: object) -> bool:
    """Yes or no: an option without a value, true or false in a job file, a word in a table."""
    if isinstance(value, bool):
        return value
    return lengths.parse_choice(text(value), ("yes", "no")) == "yes"


def positions(value: object) -> tuple[float, ...]:
    """Positions in mm from the head, in order: ``40,80,120mm``, or a list of lengths.

    Raises:
        UnitError: not lengths, or not in order from the head.
    """
    parts = listed(value)
    if isinstance(value, str):
        places = lengths.parse_figures(parts, last="last position")
    else:
        places = tuple(map(lengths.parse_length, parts))
    if any(after <= before for before, after in pairwise(places)):
        raise UnitError(
            "positions out of order",
            value=_shown(value),
            remedy="give each farther from the head than the one before, decimals with a point",
        )
    return places


def keep_free(value: object) -> tuple[KeepFree, ...]:
    """Areas as ``WxH@X,Y``, several with ``;`` between them or in a list.

    Raises:
        UnitError: no such area.
    """
    return tuple(_area(area) for part in _listed(value, ";") for area in _typed(part).split(";"))


def _area(typed: str) -> KeepFree:
    sides, at, place = _sides_and_place(typed)
    middle = place.split(",") if at else []
    if len(sides) != 2 or len(middle) not in (0, 2) or not all((*sides, *middle)):
        raise UnitError(
            "not an area", value=typed, remedy="write it as 12x8@0,-60mm: width, height, its middle"
        )
    found = lengths.parse_figures([*sides, *middle], last="last figure", signed=True)
    wide_mm, high_mm, *offsets_mm = found
    if min(wide_mm, high_mm) < 0:
        raise UnitError(
            "an area's sides cannot be negative", value=typed, remedy="take off the minus"
        )
    x_mm, y_mm = offsets_mm or (0.0, 0.0)
    return KeepFree(width_mm=wide_mm, height_mm=high_mm, x_mm=x_mm, y_mm=y_mm)


def _sides_and_place(typed: str) -> tuple[list[str], str, str]:
    """The sides of ``WxH@PLACE``, the ``@`` if there is one, and the place."""
    size, at, place = lengths.plain_spaces(typed).partition("@")
    return re.split("[xX×]", size), at, place


def outline(value: object) -> tuple[tuple[float, float], ...]:
    """Corners in mm from the middle: ``-9,-20 9,-20 0,20mm``, or a list of pairs.

    Raises:
        UnitError: fewer than three corners, or one that is no pair of lengths.
    """
    if isinstance(value, list | tuple):
        pairs = [part if isinstance(part, list | tuple) else () for part in _few(value)]
        found = [lengths.parse_length(_typed(end), signed=True) for pair in pairs for end in pair]
    else:
        typed = _closed_up(lengths.plain_spaces(_typed(value)))
        corners = _few([part for part in re.split("[ ;]+", typed) if part])
        pairs = [corner.split(",") for corner in corners]
        flat = [end for pair in pairs for end in pair] or [""]
        found = list(lengths.parse_figures(flat, last="last figure", signed=True))
    if len(pairs) < 3 or any(len(pair) != 2 for pair in pairs):
        raise UnitError(
            "not an outline",
            value=_shown(value),
            remedy="give three corners or more, x,y each, such as -9,-20 9,-20 0,20mm",
        )
    return tuple(zip(found[::2], found[1::2], strict=True))


def _closed_up(typed: str) -> str:
    """Spaces taken out after a comma and before a unit, so that the rest part the corners."""
    return re.sub(r"(?<=,) | (?=,)| (?=[^0-9.,;\s+−-])", "", typed)


def _whole_text(value: object) -> str:
    if not isinstance(value, str):
        raise FieldError("not a text", value=_shown(value), remedy="put it in quotes")
    if any("\ud800" <= char <= "\udfff" for char in value):
        raise FieldError(
            "bytes that are no text", value=value, remedy="type it in a UTF-8 terminal or file"
        )
    return value


def _typed(value: object) -> str:
    """The value as a person would type it."""
    if isinstance(value, str):
        return value
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise FieldError(
            "neither a number nor a text",
            value=_shown(value),
            remedy='write a plain number, or a text in quotes such as "9mm"',
        )
    try:
        return repr(value)
    except ValueError:  # an integer past the interpreter's limit of digits
        raise FieldError(
            "far too large a number", value="thousands of digits", remedy="look at the figure"
        ) from None


def listed(value: object) -> list[str]:
    """The parts of a list, or of a text parted by semicolons or commas, as they were typed."""
    return [_typed(part) for part in _listed(value)]


def _listed(value: object, marks: str = ";,") -> Any:
    """The parts of a list, or of a text parted by the first of the marks that is in it."""
    if isinstance(value, list | tuple):
        return _few(value)
    typed = _typed(value)
    return _few(typed.split(next((mark for mark in marks if mark in typed), marks[-1])))


def _few(parts: Any) -> Any:
    if not 1 <= len(parts) <= _MOST_PARTS:
        raise FieldError(f"{len(parts)} values", remedy=f"give 1 to {_MOST_PARTS}")
    return parts


def _shown(value: object) -> object:
    return str(value).lower() if isinstance(value, bool) else value
