"""What can a field of a job hold, how is it typed, read and checked?

`Field` is what one attribute of the `spinefit.job.model` declares of itself: command line, job
files and columns of tables follow from it. Its `Kind` is what many fields have in common: the
reader of texts and plain TOML values, and the check that holds for values made in Python too.
Settings of a variable font are held to the OpenType specification (fvar table, axis registry);
how far the axes of a font run is for the shaping stage, which opens it. Whether several fields
go together is for `spinefit.job.fields` and `spinefit.job.resolve`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import field as attribute
from dataclasses import fields
from enum import StrEnum
from functools import partial
from typing import Any, NamedTuple

from spinefit.errors import FaultsAt, FieldError, did_you_mean
from spinefit.job import checks, nudges, paper, values
from spinefit.job.lengths import parse_number
from spinefit.vocabulary import AxisGoal, GroupShape

AxisSetting = tuple[str, float | AxisGoal]
"""An axis tag, with a value in the axis's own units or the end to look for."""

_AXES_EXAMPLE = "such as wght=650,wdth=80"
_MOST_AXES = 64  # far more axes than fonts have
_GOALS = {
    "wght": (AxisGoal.LIGHTEST, AxisGoal.HEAVIEST),
    "wdth": (AxisGoal.NARROWEST, AxisGoal.WIDEST),
}

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
        listed: True where a comma parts figures, so that it begins no decimals.
        whole: True where 3.0 in a table is 3, as spreadsheets write it.
        choices: what it may be, where there is a list; else empty.
    """

    metavar: str
    read: Callable[[object], Any]
    check: Callable[[Any, str], Any]
    repeatable: bool = False
    flag: bool = False
    listed: bool = False
    whole: bool = False
    choices: tuple[str, ...] = ()


class Field(NamedTuple):
    """One thing a person may say about a job.

    Attributes:
        name: its option without the dashes, its key in a job file, its column in a table.
        heading: the heading it stands under in the help.
        kind: what it holds.
        meaning: what it means, and what is assumed without it.
        part: the attribute of `Job` it belongs to; "" for `Job` itself.
        attribute: where it lands in that part.
        house: None where each book has its own; else a house may say it once for all its books,
            for those of which one of these fields is said, or for any where there are none.
    """

    name: str
    heading: str
    kind: Kind
    meaning: str
    part: str = ""
    attribute: str = ""
    house: tuple[str, ...] | None = None


def option(
    name: str,
    heading: str,
    kind: Kind,
    meaning: str,
    *,
    default: object = None,
    house: tuple[str, ...] | None = None,
    also: Field | None = None,
) -> Any:
    """An attribute that holds ``default`` where nothing was said; for the rest see `Field`.

    Another field, ``also``, may land there.
    """
    field = Field(name, heading, kind, meaning, house=house)
    both = (field,) if also is None else (field, also)
    return attribute(default=default, metadata={_FIELDS: both})


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
    choices = tuple(kind if among is None else among)

    def check(value: object, where: str) -> Any:
        return checks.member(value, kind, where)

    return Kind(metavar, values.choice(choices), check, choices=tuple(map(str, choices)))


def some_of(metavar: str, kind: type[StrEnum]) -> Kind:
    """Several members of an enumeration, none of them twice."""

    def check(value: Sequence[object], where: str) -> tuple[Any, ...]:
        found = tuple([checks.member(one, kind, where) for one in value])
        if len(set(found)) < len(found):
            raise FieldError(
                "one of them given twice", value=",".join(map(str, found)), where=where,
                remedy="give each once",
            )  # fmt: skip
        return found

    return Kind(metavar, values.choices(kind), check, choices=tuple(map(str, kind)))


def parse_axes(typed: str) -> tuple[AxisSetting, ...]:
    """The settings a text means; none where it says so.

    Raises:
        FieldError: no settings, or one that cannot be read.

    >>> parse_axes("wght=650, wdth=widest")
    (('wght', 650.0), ('wdth', <AxisGoal.WIDEST: 'widest'>))
    """
    if typed.strip().casefold() == "none":
        return ()
    parts = [part.strip() for part in typed.split(",")]
    if not all("=" in part for part in parts):
        raise FieldError("no settings of axes", value=typed, remedy=_AXES_EXAMPLE)
    pairs = (part.partition("=") for part in parts)
    return _axis_settings([(tag.strip(), value.strip()) for tag, _, value in pairs])


def read_axes(value: object) -> tuple[AxisSetting, ...]:
    """Settings of a variable font, from a text or a table of a job file."""
    if not isinstance(value, dict):
        return parse_axes(values.text(value))
    return _axis_settings([(tag, _axis_as_typed(setting)) for tag, setting in value.items()])


def checked_axes(
    settings: object, *, size_pt: float | None
) -> tuple[tuple[tuple[str, float], ...], tuple[str, AxisGoal] | None]:
    """Settings that can be asked for together: the values, and the axis to be looked for.

    Args:
        settings: pairs of a tag and a value or a goal, or None.
        size_pt: the size asked for, or None.

    Raises:
        FieldError: no such pairs, two axes to be looked for, or one without a size.
    """
    values: list[tuple[str, float]] = []
    sought: tuple[str, AxisGoal] | None = None
    for tag, value in _axis_pairs(settings):
        if not isinstance(value, AxisGoal):
            values.append((tag, value))
            continue
        if sought is not None:
            raise FieldError(
                "two axes to be found at once", value=f"{sought[0]}, {tag}", where="--axes",
                remedy="give one of them a value",
            )  # fmt: skip
        if size_pt is None:
            raise FieldError(
                f"the {value} setting is found for one size", value=tag, where="--axes",
                remedy="give --size, such as --size 12",
            )  # fmt: skip
        sought = (tag, value)
    return tuple(sorted(values)), sought


def _axis_pairs(settings: object) -> tuple[AxisSetting, ...]:
    """Settings made in Python are held to the same rules as typed ones."""
    if not settings:
        return ()
    try:
        assert isinstance(settings, Sequence)
        typed = [(tag, value if isinstance(value, str) else repr(value)) for tag, value in settings]
        with FaultsAt("--axes"):
            return _axis_settings(typed)
    except (AssertionError, TypeError, ValueError):
        raise FieldError(
            "no settings of axes", value=settings, where="--axes",
            remedy='give pairs such as (("wght", 650.0),)',
        ) from None  # fmt: skip


def _axis_settings(typed: Sequence[tuple[str, str]]) -> tuple[AxisSetting, ...]:
    if not 1 <= len(typed) <= _MOST_AXES:
        raise FieldError("no settings of axes", remedy=_AXES_EXAMPLE)
    found: dict[str, float | AxisGoal] = {}
    for tag, value in typed:
        if len(tag) != 4 or not tag.isascii() or not tag.isprintable():
            raise FieldError("an axis has a tag of four letters", value=tag, remedy=_AXES_EXAMPLE)
        if tag in found:
            raise FieldError("an axis given twice", value=tag, remedy="leave one of them out")
        found[tag] = _axis_value(tag, value)
    return tuple(found.items())


def _axis_value(tag: str, typed: str) -> float | AxisGoal:
    plain = typed.casefold()
    if plain[:1].isalpha() and plain not in ("nan", "inf"):
        goals = {str(goal): goal for goal in _GOALS.get(tag, ())}
        if plain in goals:
            return goals[plain]
        known = f"or {' or '.join(goals)}" if goals else "only wght and wdth can be found by a word"
        hint = did_you_mean(plain, goals, otherwise=f"give {tag} a number, {known}")
        raise FieldError(f"no setting of {tag}", value=typed, remedy=hint)
    return parse_number(typed)


def _axis_as_typed(value: object) -> str:
    """A value of a table as it would be typed."""
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise FieldError("no setting of an axis", value=value, remedy="write wght = 650")
    return value if isinstance(value, str) else repr(value)


def _number(
    metavar: str, *endings: str, least: float, most: float, above: bool = False,
    whole: bool = False, unit: str = "",
) -> Kind:  # fmt: skip
    """Plain numbers in bounds."""
    check = partial(checks.number, least=least, most=most, above=above, unit=unit)
    return Kind(metavar, values.number(*endings), check, whole=whole)


def _count(check: Callable[[int, str], int], read: Callable[[object], Any] = values.count) -> Kind:
    """Whole numbers."""
    return Kind("N", read, check, whole=True)


LENGTH = Kind("LENGTH", values.length, checks.length_mm)
"""A length that must be more than nothing."""

ROOM = Kind("LENGTH", values.length, partial(checks.length_mm, zero=True))
"""A length that may be nothing, such as space kept free."""

WIDTH = Kind("LENGTH", values.width, checks.width_mm)
DISTANCE = LENGTH._replace(check=partial(checks.number, least=0.0, most=10_000.0, above=True))
THICKNESS = LENGTH._replace(check=checks.label_thickness_mm)
RECTANGLE = Kind("WxH", values.panel, checks.sides)
OLD_INK = Kind("WxH@D", values.old_lettering, checks.old_ink)
AREAS = Kind("WxH@X,Y", values.keep_free, checks.areas, repeatable=True)
OUTLINE = Kind("CORNERS", values.outline, checks.anything)  # judged where shapes are made
POSITIONS = Kind(
    "POSITIONS", values.positions, checks.anything, listed=True
)  # judged with the bands

BANDS = _count(checks.whole("bands", 0, 50))
PANEL_NUMBER = _count(checks.panel_number)
LINES = _count(checks.whole("lines", 1, 60, "give any, or a whole number"), values.line_count)
CARDS = _count(checks.card_count)
PAGES = Kind(
    "N", paper.read_counts("pages", "pp.", "pp", "p.", "p"), paper.count_range("pages", 4, 10_000),
    whole=True,
)  # fmt: skip
LEAVES = Kind(
    "N", paper.read_counts("leaves", "ff.", "ff"), paper.count_range("leaves", 2, 5_000), whole=True
)
ENDPAPERS = _count(checks.whole("free endpapers", 0, 40))
CALIPER = Kind("THICKNESS", paper.read_caliper, paper.leaf_mm)
GRAMMAGE = _number("G/M2", "g/m2", "g/m²", "gsm", "g", least=10.0, most=800.0, unit="g/m2")
PAPER_BULK = Kind("CM3/G", values.number("cm3/g", "cm³/g"), paper.paper_bulk)
DEGREES = _number("DEGREES", "deg", "degrees", "°", least=0.0, most=90.0, above=True)
RATIO = _number("RATIO", least=0.1, most=10.0)
TRACKING = _number("N", least=-200.0, most=2000.0, whole=True)
LIFTS = Kind(
    "LENGTHS", nudges.read_lifts, partial(checks.numbers, least=-50.0, most=50.0, unit="mm"),
    listed=True,
)  # fmt: skip
TRACKINGS = Kind(
    "NUMBERS",
    nudges.read_trackings,
    partial(checks.numbers, least=-200.0, most=2000.0),
    listed=True,
)
LEADING = _number("EM", "em", least=0.0, most=20.0, above=True)
SIZE = Kind("SIZE", values.size_pt, checks.size_pt)
SIZES = Kind("SIZES", values.sizes_pt, checks.drawer, listed=True)

FONT = Kind("NAME-OR-FILE", values.text, checks.text)
FONTS = Kind("FONT", values.fonts, checks.texts, repeatable=True)
FACE = Kind("N-or-NAME", values.face, checks.text, whole=True)
AXES = Kind("SETTINGS", read_axes, checks.anything)  # judged with the size
FILE = Kind("FILE", values.text, checks.anything)  # what stands in it is judged once it is read
SHAPE = one_of("SHAPE", GroupShape)._replace(read=values.group_shape)
COUNTRY = Kind("CODE", values.text, checks.text)
LANGUAGE = Kind("TAG", values.text, checks.language_tag)
METHOD = Kind("NAME", values.text, checks.method)
YES = Kind("", values.yes_or_no, checks.anything, flag=True)
