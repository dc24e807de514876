"""What does each way of lettering hold, and who says so?

Rows of ``methods.toml`` by name; a plain check parses one of them. `method_of` makes a method
of a table whose numbers are whole rows, on top of another method where it is like one; a
binder's own file is brought into that form by `spinefit.job.files`. Keys carry their
unit, so does each row. What foil holds, `blocked` takes from ``foil.toml``, by stock and die.
How the numbers judge an answer is for the judgement.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from enum import StrEnum
from functools import lru_cache
from typing import Any, NamedTuple, TypeVar

from spinefit.catalogue.fonts import FontRow, default_font, font_named, font_rows
from spinefit.catalogue.tables import DATA, read, read_table, sourced, sourced_list
from spinefit.errors import CatalogueError, FaultsAt, did_you_mean
from spinefit.units import mm_from_pt
from spinefit.vocabulary import (
    Die,
    Letters,
    Material,
    Place,
    Sourced,
    SourcedList,
    Status,
    Stock,
    Work,
)

E = TypeVar("E", bound=StrEnum)

NUMBER_KEYS = (
    "smallest_pt",
    "smallest_cap_mm",
    "sizes_pt",
    "step_pt",
    "stroke_mm",
    "stroke_advised_mm",
    "gap_mm",
    "gap_advised_mm",
    "placing_mm",
    "label_edge_mm",
    "inner_margin_mm",
    "frame_mm",
    "cut_outside_mm",
    "thickness_mm",
    "counter_mm",
    "counter_advised_mm",
    "aperture_mm",
    "part_mm",
    "edge_mm",
)
"""Keys that hold a number, in the order they are shown; the last two letters are the unit."""

METHOD_KEYS = (
    "name", "place", "letters", *NUMBER_KEYS, "cautions", "caution", "stock", "die", "work",
    "material", "protection",
)  # fmt: skip
"""Every key that a method's table may have."""

_FILE = "methods.toml"
_FOIL = "foil.toml"
_CHOICES: dict[str, type[StrEnum]] = {
    "place": Place, "letters": Letters, "stock": Stock, "die": Die, "work": Work,
    "material": Material,
}  # fmt: skip
_WORK_BY_PLACE = {
    Place.LABEL: Work.LABEL, Place.CASE: Work.CASE, Place.BACK: Work.PAPERBACK,
}  # fmt: skip
_GRADES = ("stroke", "stroke_advised", "counter", "counter_advised")
_OF_LABELS = ("label_edge", "inner_margin", "frame", "cut_outside", "thickness", "material",
              "protection")  # fmt: skip
_ABOVE_NOTHING = ("smallest_pt", "smallest_cap_mm", "sizes_pt", "step_pt")
_MOST = 2000.0  # mm or pt: past any book; a slip of the unit is
_ANY_TENTH = Sourced(
    0.1, "pt", "our choice: a tenth of a point is the finest worth stating", Status.CHOSEN
)


class Method(NamedTuple):
    """What a way of lettering can do. Numbers in the unit of their row; None: not known.

    Attributes:
        key: the name it is asked for by.
        name: the name it is spoken of by, as after "a".
        smallest: smallest size in points.
        step: steps of its sizes in points; where ``sizes`` is not None, those are the sizes.
        placing: how far it may be out of place in mm, either way.
        place: what the lettering is put on.
        letters: whether a font's outlines are lettered, or tools with widths of their own.
        work: the kind of work it is, on a back without bands.
        sizes: the only sizes there are, in points, rising; None where sizes are continuous.
        smallest_cap: least height of a capital in mm.
        stroke, stroke_advised: thinnest stroke in mm that is held, and that is asked for.
        counter, counter_advised: smallest enclosed counter in mm, by the largest circle in it,
            likewise.
        gap, gap_advised: narrowest space between letters in mm, and what is asked for.
        aperture: open apertures in mm that are to be minded.
        part: dots, points and accents smaller than this in mm are lost; for what is cut.
        edge: from the joint to the ink in mm, for what is no printed cover and no label.
        stock, die: for blocked foil, what it is blocked on and with as a rule; else None.
        label_edge: from the joint to the label in mm.
        inner_margin: from the label's edge to the ink in mm, a frame line not counted.
        frame: thickness of the label's frame line in mm.
        cut_outside: how far outside the frame line the label is cut, in mm.
        thickness: of the label in mm.
        caution: the one line about what can hurt: heat, blades, presses, fumes.
        cautions: what to mind, a sentence or two each, that line first.
        material: what a label is made of.
        protection: what keeps a label from harm, by common practice, a sentence or two each.
    """

    key: str
    name: str
    smallest: Sourced
    step: Sourced
    placing: Sourced
    place: Place = Place.BACK
    letters: Letters = Letters.OUTLINES
    work: Work = Work.PAPERBACK
    sizes: SourcedList | None = None
    smallest_cap: Sourced | None = None
    stroke: Sourced | None = None
    stroke_advised: Sourced | None = None
    gap: Sourced | None = None
    gap_advised: Sourced | None = None
    label_edge: Sourced | None = None
    inner_margin: Sourced | None = None
    frame: Sourced | None = None
    cut_outside: Sourced | None = None
    thickness: Sourced | None = None
    caution: str = ""
    counter: Sourced | None = None
    counter_advised: Sourced | None = None
    aperture: Sourced | None = None
    part: Sourced | None = None
    edge: Sourced | None = None
    stock: Stock | None = None
    die: Die | None = None
    cautions: tuple[str, ...] = ()
    material: Material | None = None
    protection: tuple[str, ...] = ()

    @property
    def parts_letters(self) -> bool:
        """Whether letters that touch are spoilt: in foil they clot, in film they are one piece."""
        return self.stock is not None or self.part is not None


@lru_cache(maxsize=1)
def methods() -> dict[str, Method]:
    """All methods by key, the default one first."""
    rows = read(DATA / _FILE)
    return {key: method_of(key, row, f"{_FILE}: [{key}]") for key, row in rows.items()}


@lru_cache(maxsize=32)
def method(wanted: str) -> Method:
    """The method of that key, or that words mean; where the key is given no other is parsed.

    Raises:
        FieldError: there is none, or more than one.
    """
    key = "-".join(wanted.casefold().replace("_", " ").replace("-", " ").split())
    is_plain = key.isascii() and key.replace("-", "").isalnum()
    row = read_table(DATA / _FILE, key) if is_plain else None
    if row is not None:
        return method_of(key, row, f"{_FILE}: [{key}]")
    from spinefit.catalogue.meant import method_meant

    known = methods()
    with FaultsAt("--method"):
        return known[method_meant(wanted, {key: row.name for key, row in known.items()})]


def blocked(method: Method, stock: Stock, die: Die) -> Method:
    """A method of blocked foil with what it holds on a stock, with a die.

    The harsher of the two governs each figure; figures of the method's own stand.
    """
    tables = []
    for key in (stock, die):
        table, where = read_table(DATA / _FOIL, key), f"{_FOIL}: [{key}]"
        assert table is not None  # a test compares the file with the vocabulary
        tables.append(
            {_attribute(name): _read_key(name, row, where) for name, row in table.items()}
        )
    harsher = {
        name: max((table[name] for table in tables), key=lambda row: row.value)
        for name in _GRADES
        if getattr(method, name) is getattr(method, name.removesuffix("_advised")) is None
    }
    return method._replace(stock=stock, die=die, **harsher)


def usual_fonts(method: Method) -> tuple[str, ...]:
    """The fonts that are taken, in this order, where none is named.

    The first of all, where its letters hold at the smallest size of the method; else the
    sturdiest with serifs, the sturdiest of all for what does not fit in that, and at last the
    first of all, which has letters that those may lack.
    """
    first, least_mm = font_named(default_font()), mm_from_pt(method.smallest.value)
    assert first is not None
    stroke_mm, counter_mm = first.thinnest_stroke_em * least_mm, first.least_counter_em * least_mm
    holds = (method.stroke is None or method.stroke.value <= stroke_mm) and (
        method.counter is None or method.counter.value <= counter_mm
    )
    if holds or method.letters is Letters.TOOLS:
        return (first.name,)
    return (*(row.name for row in sturdiest_fonts(method)), first.name)


def sturdiest_fonts(method: Method) -> tuple[FontRow, ...]:
    """The sturdiest of the bundled fonts with serifs, and that of all; for what is cut that alone.

    Serifs are cut and weeded badly: a bold sans is what vinyl asks for (common practice).
    """
    rows = fonts_by_strength(method)
    serif = next(row for row in rows if "serif" in row.kind)
    return (rows[0],) if serif is rows[0] or method.part is not None else (serif, rows[0])


def fonts_by_strength(method: Method) -> list[FontRow]:
    """The bundled fonts, the sturdiest first.

    It is the one whose thinnest stroke and smallest counter, as listed, are both as the method
    asks from the smallest size on.
    """
    stroke = method.stroke_advised or method.stroke
    counter = method.counter_advised or method.counter

    def needs_mm(row: FontRow) -> float:
        return max(
            stroke.value / row.thinnest_stroke_em if stroke else 0.0,
            counter.value / row.least_counter_em if counter else 0.0,
        )

    return sorted(font_rows(), key=needs_mm)


def method_of(
    key: str, table: Mapping[str, object], where: str, *, like: Method | None = None
) -> Method:
    """The method that a table describes.

    Args:
        key: its name.
        table: its keys; every number a row of value, unit, source and status.
        where: file and table, for messages.
        like: the method whose numbers it has where the table is silent.

    Raises:
        CatalogueError: an unknown key, a broken or missing number, or numbers that
            contradict each other.
    """
    said = {_attribute(name): _read_key(name, table[name], where) for name in table}
    fields = _inherited(like, said) | said
    sizes = fields.get("sizes")
    if sizes is not None:
        least = Sourced(sizes.values[0], sizes.unit, sizes.source, sizes.status)
        fields.setdefault("smallest", least)
    for name in ("smallest_pt", "placing_mm"):
        if _attribute(name) not in fields:
            raise CatalogueError(
                f"no {name}", where=where, remedy='write it, or say like = "leather-label"'
            )
    fields.setdefault("name", key.replace("-", " "))
    fields.setdefault("step", _ANY_TENTH)
    fields.setdefault("work", _WORK_BY_PLACE[fields.get("place", Place.BACK)])
    cautions = fields.get("cautions", ())
    fields.setdefault("caution", next(iter(cautions), ""))
    fields["cautions"] = tuple(dict.fromkeys(filter(None, (fields["caution"], *cautions))))
    if fields.get("stock") is not None:
        fields.setdefault("die", Die.MAGNESIUM)
    found = Method(key=key, **fields)
    _refuse_contradictions(found, said, where)
    return found


def _attribute(name: str) -> str:
    return name[:-3] if name in NUMBER_KEYS else name


def _inherited(like: Method | None, said: Mapping[str, Any]) -> dict[str, Any]:
    """What a method has of the one it is like, without what its own words replace."""
    if like is None:
        return {}
    dropped = {"key", "name"}
    if "sizes" in said:
        dropped |= {"smallest", "step"}
    if "step" in said:
        dropped.add("sizes")
    for held in ("stroke", "counter", "gap"):
        if held in said:
            dropped.add(f"{held}_advised")
    if "place" in said:
        dropped.add("work")
    if said.get("place", Place.LABEL) is not Place.LABEL:
        dropped.update(_OF_LABELS)
    return {name: value for name, value in like._asdict().items() if name not in dropped}


def _read_key(name: str, value: object, where: str) -> Any:
    """The value of one key of a table."""
    at = f"{where} {name}"
    if name == "sizes_pt":
        sizes = sourced_list(value, at)
        for size in sizes.values:
            _check_number(name, size, sizes.unit, at)
        if len(set(sizes.values)) < len(sizes.values):
            raise CatalogueError("a size given twice", where=at, remedy="take one of them out")
        return sizes._replace(values=tuple(sorted(sizes.values)))
    if name in NUMBER_KEYS:
        found = sourced(value, at)
        _check_number(name, found.value, found.unit, at)
        return found
    if name in _CHOICES:
        return _member(value, _CHOICES[name], at)
    if name in ("cautions", "protection"):
        return _texts(value, at)
    if name in ("name", "caution"):
        return _texts([value], at)[0]
    hint = did_you_mean(name, METHOD_KEYS, otherwise=f"known keys: {', '.join(METHOD_KEYS)}")
    raise CatalogueError("no such key", value=name, where=where, remedy=hint)


def _check_number(name: str, value: float, unit: str, where: str) -> None:
    if unit != name[-2:]:
        raise CatalogueError(
            f"not in {name[-2:]}", value=unit, where=where, remedy=f"give it in {name[-2:]}"
        )
    least = "more than 0" if name in _ABOVE_NOTHING else "0 or more"
    if not math.isfinite(value) or not 0 <= value <= _MOST or (value == 0 and least[0] != "0"):
        raise CatalogueError(
            "out of bounds", value=value, where=where, remedy=f"give {least}, in {unit}"
        )


def _member(value: object, kind: type[E], where: str) -> E:
    choices = [member.value for member in kind]
    if value in choices:
        return kind(value)
    raise CatalogueError(
        "no such choice", value=value, where=where, remedy=f"choose from {', '.join(choices)}"
    )


def _texts(value: object, where: str) -> tuple[str, ...]:
    texts = value if isinstance(value, list) else [None]
    if not all(isinstance(text, str) and text.strip() and text.isprintable() for text in texts):
        raise CatalogueError(
            "not a plain text", value=value, where=where, remedy="put one line in quotes"
        )
    return tuple(texts)


def _refuse_contradictions(found: Method, said: Mapping[str, object], where: str) -> None:
    if "sizes" in said and "step" in said:
        raise CatalogueError(
            "both sizes_pt and step_pt", where=where, remedy="keep the one that is true"
        )
    if found.sizes is not None and found.smallest.value > found.sizes.values[-1]:
        raise CatalogueError(
            "no size in sizes_pt is as large as smallest_pt", where=where, remedy="mend one of them"
        )
    for held, advised, name in (
        (found.stroke, found.stroke_advised, "stroke_advised_mm"),
        (found.counter, found.counter_advised, "counter_advised_mm"),
        (found.gap, found.gap_advised, "gap_advised_mm"),
    ):
        if held is not None and advised is not None and advised.value < held.value:
            raise CatalogueError(
                f"less than the {held.value:g} mm that is held", value=f"{advised.value:g} mm",
                where=f"{where} {name}", remedy="give as much or more, or leave it out",
            )  # fmt: skip
    if found.die is not None and found.stock is None:
        raise CatalogueError(
            "a die without a stock", value=found.die, where=f"{where} die",
            remedy='say stock = "fine-cloth", or another, or leave it out',
        )  # fmt: skip
    if found.place is Place.LABEL:
        needed = {"label_edge_mm": found.label_edge, "inner_margin_mm": found.inner_margin}
        for name, number in needed.items():
            if number is None:
                raise CatalogueError(f"a label needs {name}", where=where, remedy="write it")
        return
    for name in _OF_LABELS:
        if name in said:
            raise CatalogueError(
                "counts only for a label", where=f"{where} {name}_mm",
                remedy='say place = "label" or leave it out',
            )  # fmt: skip
