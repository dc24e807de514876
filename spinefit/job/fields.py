"""Which fields does a job have, and how does a set of values become a `Job`?

In: names of fields with texts or the plain numbers and lists of a TOML file. Out: a `Job`, a
binder's own method and tools read from their files. Faults carry the place they came from.
Whether the figures make a possible back is for `spinefit.job.resolve`.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import replace
from itertools import compress, repeat
from operator import attrgetter, is_not
from typing import Any, TypeVar

from spinefit.errors import FaultsAt, FieldError, nearest
from spinefit.job import values as read
from spinefit.job.bulk import OF_MAKING
from spinefit.job.house import NO_HOUSE, House
from spinefit.job.kinds import Field, fields_of
from spinefit.job.model import (
    HEADINGS,
    PARTS,
    Job,
    Lettering,
    Recess,
    Shape,
    Spine,
)
from spinefit.job.places import CallNumber, FrontBoard
from spinefit.job.values import Part
from spinefit.vocabulary import PanelForm

P = TypeVar("P", Spine, Shape, Lettering, FrontBoard, Recess, CallNumber, Job)

_IN_PARTS = [field for part, record in PARTS.items() for field in fields_of(record, part)]

FIELDS = tuple(sorted(_IN_PARTS, key=lambda field: HEADINGS.index(field.heading)))
"""Every field, in the order of the help."""

_BY_NAME = {field.name: field for field in FIELDS}
_OF_BACK = tuple(field.name for field in FIELDS if field.part == "spine")
GIVES_A_WIDTH = frozenset({"width", *OF_MAKING})
"""Fields of which one has to be said of a back."""
_OF_BOARD = tuple(field.name for field in FIELDS if field.part == "front_board")
_BESIDE_A_LAP = ("front-board", "leaves", "squares", "joint-width")  # where its ends lie
_ROUNDS = ("rise", "radius", "arc")


def option_place(name: str) -> str:
    """Where a value stands on the command line: ``--name``, or TITLE."""
    return "TITLE" if name == "title" else f"--{name}"


def field_named(name: str) -> Field:
    """The field of that name.

    Raises:
        FieldError: there is none; the nearest name is offered.

    >>> field_named("band-height").kind.metavar
    'LENGTH'
    """
    if name in _BY_NAME:
        return _BY_NAME[name]
    like = nearest(name, (*_BY_NAME, "title"))
    hint = f"did you mean '{like}'?" if like else "'spinefit check --help' lists the names"
    raise FieldError("no field of that name", value=name, remedy=hint)


def assemble(
    title: object,
    values: Mapping[str, object],
    *,
    place: Callable[[str], str] = option_place,
    parts: tuple[Part, ...] = (),
    house: House = NO_HOUSE,
    roles: Collection[str] = (),
) -> Job:
    """The `Job` that a title and typed values describe, with what its house says of all.

    Args:
        title: the text to letter; None beside parts.
        values: field name to text, or to a plain number, text or list of a TOML file; None
            stands for a field that was not said.
        place: where the value of a name came from, for messages.
        parts: the texts of a label, instead of a title.
        house: the file of a house, for what is said nowhere else.
        roles: what the texts of a back are, where it has several.

    Raises:
        JobError: a value its field cannot hold, an unknown name, no width and no panel, or
            two values that exclude each other.

    >>> assemble("Tide Tables", {"width": "9mm", "lines": 1}).spine.width_mm
    9.0
    """
    given = {name: value for name, value in values.items() if value is not None}
    with FaultsAt(place("title")):
        words = "" if parts and title is None else read.title(title)
    for name in given:
        with FaultsAt(place(name)):
            field_named(name)
    own = house.beside(given, roles=roles, of_label=bool(parts))
    given = own | given
    parsed: dict[str, Any] = {}
    for field in FIELDS:
        if field.name in given:
            with FaultsAt(place(field.name)):
                parsed[field.name] = field.kind.read(given[field.name])
    _refuse_contradictions(parsed, place)
    if "method-file" in parsed:
        parsed["method"] = _own_method(parsed, place)
    if "tools" in parsed:
        from spinefit.job.tools import read_tools

        with FaultsAt(place("tools")):
            parsed["tools"] = read_tools(parsed["tools"])
    of_house = tuple([f"{name} {house.words[name]}" for name in own])
    return _job(words, parts, parsed, of_house)


def _own_method(given: Mapping[str, Any], place: Callable[[str], str]) -> Any:
    """The method named, a binder's own or a known one."""
    from spinefit.job.files import pick_method, read_methods

    path, name = given["method-file"], given.get("method")
    with FaultsAt(place("method-file")):
        own = read_methods(path)
    with FaultsAt(place("method-file" if name is None else "method")):
        return pick_method(name, own, path)


def _refuse_contradictions(given: Mapping[str, object], place: Callable[[str], str]) -> None:
    of_back = [name for name in _OF_BACK if name in given]
    of_board = [name for name in _OF_BOARD if name in given]
    if "lap" in given and of_back:
        of_board = [name for name in of_board if name not in _BESIDE_A_LAP]
    if of_board and ("panel" in given or of_back):
        raise FieldError(
            f"{place('panel') if 'panel' in given else place(of_back[0])} beside the front board",
            where=place(of_board[0]),
            remedy="the lettering stands on one of them: leave out the other",
        )
    if "panel" in given and "label-size" in given:
        raise FieldError(
            "a panel and a label of given size", where=place("label-size"),
            remedy="without a back both are the label itself: leave out one of the two",
        )  # fmt: skip
    if "label-size" in given and of_board:
        raise FieldError(
            "a label's size beside the front board", where=place("label-size"),
            remedy="give it as board-label",
        )  # fmt: skip
    if "panel" in given and of_back:
        raise FieldError(
            "an option of the back beside a panel",
            where=place(of_back[0]),
            remedy="a panel given outright needs no back: leave out one of the two",
        )
    if "from-tail" in given and "first-line-from-tail" in given:
        raise FieldError(
            "two places for one call number",
            where=place("first-line-from-tail"),
            remedy="give its lower edge or its first line",
        )
    rounds = [name for name in _ROUNDS if name in given]
    if len(rounds) > 1:
        raise FieldError(
            f"{' and '.join(rounds)} given for one round",
            where=place(rounds[1]),
            remedy="keep the one you measured best",
        )
    if "panel-outline" in given and "panel-shape" in given:
        raise FieldError(
            "an outline is a shape of its own",
            where=place("panel-shape"),
            remedy="leave out this or the outline",
        )
    if not ({"panel", "label-size"} | GIVES_A_WIDTH) & given.keys() and not of_board:
        raise FieldError(
            "neither the width of a back nor a panel is given",
            remedy="give --width 13mm for a back, or --panel 20x30mm for a label",
        )


def _job(
    title: str, texts: tuple[Part, ...], parsed: Mapping[str, object], house: tuple[str, ...]
) -> Job:
    parts: dict[str, dict[str, Any]] = {}
    for name, value in parsed.items():
        if name == "method-file":
            continue  # read already: the method itself stands under its name
        field = _BY_NAME[name]
        parts.setdefault(field.part, {})[field.attribute] = value
    if "panel-outline" in parsed:
        parts["shape"]["form"] = PanelForm.POLYGON
    if "label-size" in parsed and "spine" not in parts:
        parts[""]["panel"] = parsed["label-size"]  # the label by itself
    of_job = parts.pop("", {})
    records = {part: PARTS[part](**given) for part, given in parts.items()}
    return Job(title=title, parts=texts, house=house, **records, **of_job)


def checked(record: P) -> P:
    """A part of a job with each of its values checked, whole numbers of mm made floats.

    Raises:
        FieldError: a value that its field cannot hold.
    """
    changed = {}
    for value, field in _said(record):
        found = field.kind.check(value, option_place(field.name))
        if found is not value:
            changed[field.attribute] = found
    return replace(record, **changed) if changed else record


def names_said(record: P) -> frozenset[str]:
    """The names of the fields of a part of a job that were said."""
    return frozenset([field.name for _value, field in _said(record)])


def _said(record: P) -> Iterable[tuple[Any, Field]]:
    """The values of a part of a job that were said, with their fields."""
    values_of, fields = _OF_RECORD[type(record)]
    values = values_of(record)
    return compress(zip(values, fields, strict=True), map(is_not, values, repeat(None)))


def _of_record(record: type) -> tuple[Callable[[Any], tuple[Any, ...]], list[Field]]:
    """What reads all values that have fields, and the fields."""
    fields = fields_of(record)
    return attrgetter(*[field.attribute for field in fields]), fields


_OF_RECORD = {record: _of_record(record) for record in PARTS.values()}
