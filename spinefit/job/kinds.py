"""What can a field of a job hold, how is it typed, read and checked?

`Field` is what one attribute of the `spinefit.job.model` declares of itself: command line, job
files and columns of tables follow from it. Its `Kind` is what many fields have in common: the
reader of texts and plain TOML values, and the check that holds for values made in Python too.
Whether several fields go together is for `spinefit.job.fields` and `spinefit.job.resolve`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import field as attribute
from dataclasses import fields
from enum import StrEnum
from functools import partial
from typing import Any, Literal, NamedTuple

from spinefit.job import checks, values

__all__ = ["Field", "Kind", "declared", "fields_of", "one_of", "option", "with_meanings"]

_FIELDS = "fields"


class Kind(NamedTuple):
    """What several fields hold alike.

    Attributes:
        metavar: what to write, in a word.
        read: from a text or plain TOML value to what `Job` holds.
        check: from what `Job` holds and the option's place to the same, whole numbers of
            millimetres made floats; raises a FieldError where it cannot be.
        repeatable: True where its option may be given several times.
        flag: True where its option takes no value.
        comma: what a comma can be in a table's cell: the beginning of decimals, the mark between
            two figures, or "" where it is a character like others.
        whole: True where 3.0 in a table is 3, as spreadsheets write it.
    """

    metavar: str
    read: Callable[[object], Any]
    check: Callable[[Any, str], Any]
    repeatable: bool = False
    flag: bool = False
    comma: Literal["", "decimal", "between"] = ""
    whole: bool = False


class Field(NamedTuple):
    """One thing a person may say about a job.

    Attributes:
        name: its option without the dashes, its key in a job file, its column in a table.
        heading: the heading it stands under in the help.
        kind: what it holds.
        meaning: what it means, and what is assumed without it.
        part: the attribute of `Job` it belongs to; "" for `Job` itself.
        attribute: where it lands in that part.
    """

    name: str
    heading: str
    kind: Kind
    meaning: str
    part: str = ""
    attribute: str = ""


def declared(
    name: str, heading: str, kind: Kind, meaning: str, also: Field | None = None
) -> dict[str, tuple[Field, ...]]:
    """What an attribute of the model says of itself: its field, and another that lands there."""
    field = Field(name, heading, kind, meaning)
    return {_FIELDS: (field,) if also is None else (field, also)}


def option(
    name: str,
    heading: str,
    kind: Kind,
    meaning: str,
    *,
    default: object = None,
    also: Field | None = None,
) -> Any:
    """An attribute that holds ``default`` where nothing was said; for the rest see `Field`."""
    return attribute(default=default, metadata=declared(name, heading, kind, meaning, also))


def fields_of(record: type, part: str = "") -> list[Field]:
    """The fields that a record of the model declares, in order.

    Args:
        record: a dataclass.
        part: the attribute of `Job` in which it stands.
    """
    return [
        field._replace(part=part, attribute=attribute.name)
        for attribute in fields(record)
        for field in attribute.metadata.get(_FIELDS, ())
    ]


def with_meanings(record: type) -> str:
    """The docstring of a record with the meaning of each attribute, as the help has it."""
    text = (record.__doc__ or "").rstrip()
    if "Attributes:" not in text:
        text += "\n\n    Attributes:"
    meanings = {field.attribute: field.meaning for field in reversed(fields_of(record))}
    lines = [f"\n        {name}: {meaning}" for name, meaning in reversed(meanings.items())]
    return f"{text}{''.join(lines)}\n    "


def one_of(metavar: str, kind: type[StrEnum], among: Iterable[StrEnum] | None = None) -> Kind:
    """Members of an enumeration; ``among`` narrows what may be typed."""
    read = values.choice(kind if among is None else among)
    return Kind(metavar, read, lambda value, where: checks.member(value, kind, where))


_figure = partial(Kind, comma="decimal")
_figures = partial(Kind, comma="between")


def _number(
    metavar: str, *endings: str, least: float, most: float, above: bool = False, whole: bool = False
) -> Kind:
    """Plain numbers in bounds."""
    check = partial(checks.number, least=least, most=most, above=above)
    return _figure(metavar, values.number(*endings), check, whole=whole)


def _count(check: Callable[[int, str], int], read: Callable[[object], Any] = values.count) -> Kind:
    """Whole numbers."""
    return _figure("N", read, check, whole=True)


LENGTH = _figure("LENGTH", values.length, checks.length_mm)
"""A length that must be more than nothing."""

ROOM = _figure("LENGTH", values.length, partial(checks.length_mm, zero=True))
"""A length that may be nothing, such as space kept free."""

WIDTH = _figure("LENGTH", values.width, checks.width_mm)
DISTANCE = LENGTH._replace(check=partial(checks.number, least=0.0, most=10_000.0, above=True))
THICKNESS = LENGTH._replace(check=checks.label_thickness_mm)
RECTANGLE = _figure("WxH", values.panel, checks.sides)
OLD_INK = _figure("WxH@D", values.old_lettering, checks.old_ink)
AREAS = Kind("WxH@X,Y", values.keep_free, checks.areas, repeatable=True)
OUTLINE = Kind("CORNERS", values.outline, checks.anything)  # judged where shapes are made
POSITIONS = _figures("POSITIONS", values.positions, checks.anything)  # judged with the bands

BANDS = _count(checks.whole("bands", 0, 50))
PANEL_NUMBER = _count(checks.panel_number)
LINES = _count(checks.whole("lines", 1, 60, "give any, or a whole number"), values.line_count)
CARDS = _count(checks.card_count)
DEGREES = _number("DEGREES", "deg", "degrees", "°", least=0.0, most=90.0, above=True)
RATIO = _number("RATIO", least=0.1, most=10.0)
TRACKING = _number("N", least=-200.0, most=2000.0, whole=True)
LEADING = _number("EM", "em", least=0.0, most=20.0, above=True)
SIZE = _figure("SIZE", values.size_pt, checks.size_pt)
SIZES = _figures("SIZES", values.sizes_pt, checks.drawer)

FONT = Kind("NAME-OR-FILE", values.text, checks.text)
FONTS = Kind("FONT", values.fonts, checks.texts, repeatable=True)
FACE = Kind("N-or-NAME", values.face, checks.text, whole=True)
AXES = Kind("SETTINGS", values.axes, checks.anything)  # judged with the size
FILE = Kind("FILE", values.text, checks.anything)  # what stands in it is judged once it is read
COUNTRY = Kind("CODE", values.text, checks.text)
LANGUAGE = Kind("TAG", values.text, checks.language_tag)
METHOD = Kind("NAME", values.text, checks.method)
YES = Kind("", values.yes_or_no, checks.anything, flag=True)
