"""What is known, and who says so? The commands ``spinefit fonts``, ``markets`` and ``methods``.

In: rows of the catalogue, a binder's own methods, on demand the fonts installed on this machine.
Out: the same with source and status, as text as wide as the screen or as JSON. Nothing is shaped
or measured; only where a font has to be opened is the engine loaded that opens it.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

import click

from spinefit import catalogue
from spinefit.catalogue import FontRow, Market
from spinefit.catalogue.method_table import NUMBER_KEYS, Method
from spinefit.cli import output
from spinefit.cli.options import format_option
from spinefit.errors import FaultsAt, FieldError, SpinefitError
from spinefit.say.as_json import to_json
from spinefit.say.screen import screen
from spinefit.vocabulary import Letters, Place, Sourced, SourcedList

if TYPE_CHECKING:
    from spinefit.shaping.choosing import FontFilter
    from spinefit.shaping.faces import Installed

_FORMATS = ("text", "json")
_INDENT = " " * 4
_FONT_KEYS = (
    "name", "file", "kind", "scripts", "small_capitals", "use", "licence", "copyright", "version",
    "origin",
)  # fmt: skip
_MARKET_KEYS = (
    "languages", "reading", "firmness", "binding_side", "source", "status", "note", "weakening",
)  # fmt: skip
_NO_ROW = "no row of its own: the international standard is followed"
_PLACES = {
    Place.BACK: "lettered straight on the back",
    Place.LABEL: "a label pasted on the back",
    Place.CASE: "lettered flat, before casing in",
}
_LETTERS = {
    Letters.OUTLINES: "letters of a font",
    Letters.TOOLS: "letters of the binder's own tools",
}
_NUMBER_NAMES = {
    "smallest_pt": "smallest size",
    "smallest_cap_mm": "smallest capital",
    "sizes_pt": "sizes",
    "step_pt": "sizes by steps of",
    "stroke_mm": "thinnest stroke held",
    "stroke_advised_mm": "thinnest stroke advised",
    "counter_mm": "smallest counter held",
    "counter_advised_mm": "smallest counter advised",
    "gap_mm": "space between letters",
    "gap_advised_mm": "space between letters advised",
    "aperture_mm": "open apertures to be minded under",
    "part_mm": "dots and accents lost under",
    "edge_mm": "joint to ink",
    "placing_mm": "may be out of place by",
    "label_edge_mm": "joint to label",
    "inner_margin_mm": "label's edge to ink",
    "frame_mm": "frame line",
    "cut_outside_mm": "cut outside the frame line",
    "thickness_mm": "thickness of the label",
}


@click.command()
@click.argument("name", metavar="[NAME]", required=False)
@click.option("--installed", is_flag=True, help="List the fonts installed on this machine too.")
@click.option("--covers", metavar="TEXT", help="Only fonts that have every character of TEXT.")
@click.option(
    "--weight", metavar="WEIGHT",
    help="Only of that weight: a class such as 600, a name such as semi-bold, or 600..700.",
)  # fmt: skip
@click.option(
    "--width", metavar="WIDTH",
    help="Only of that width: a class from 1 to 9, a name such as condensed, or 75%..90%.",
)  # fmt: skip
@format_option(*_FORMATS)
def fonts(
    name: str | None,
    installed: bool,
    covers: str | None,
    weight: str | None,
    width: str | None,
    form: str,
) -> int:
    """List the fonts that come with spinefit, the usual one first.

    NAME is a part of a font's name, or a pattern with * and ? for all of it. A variable font
    is listed for every weight and width on its axes.
    """
    rows: tuple[FontRow, ...] = catalogue.font_rows()
    found: tuple[Installed, ...] = ()
    skipped = 0
    if installed or any(one is not None for one in (name, covers, weight, width)):
        from spinefit.shaping.choosing import bundled_with, installed_with

        wanted = _wanted(name, covers, weight, width)
        rows = bundled_with(wanted)
        if installed:
            found, skipped = installed_with(wanted)
    if form == "json":
        more = {"installed": [_installed_dict(one) for one in found], "skipped": skipped}
        _write_rows("fonts", [_font_dict(row) for row in rows], **(more if installed else {}))
        return 0
    entries = [(row.name, _font_lines(row)) for row in rows] + [
        (one.face.name, _installed_lines(one)) for one in found
    ]
    if entries:
        _write_entries(entries)
    else:
        hint = "" if installed else "; --installed lists those of this machine too"
        output.write_text(f"No font meets all of that{hint}.\n")
    if skipped:
        noun = "file is no font that" if skipped == 1 else "files are no fonts that"
        output.write_text(f"{skipped} installed {noun} can be measured, and left out.\n")
    return 0


def _wanted(
    name: str | None, covers: str | None, weight: str | None, width: str | None
) -> FontFilter:
    from spinefit.shaping.choosing import FontFilter, weight_range, width_range

    found = FontFilter(name=name, covers=covers)
    if covers is not None and not found.codes:
        raise FieldError(
            "no characters to cover", value=covers, where="--covers", remedy="give the title"
        )
    if weight is not None:
        with FaultsAt("--weight"):
            found = found._replace(weight=weight_range(weight))
    if width is not None:
        with FaultsAt("--width"):
            found = found._replace(width_percent=width_range(width))
    return found


def _font_lines(row: FontRow) -> list[str]:
    small = "true small capitals" if row.small_capitals else "no small capitals"
    return [
        f"{row.kind}; {', '.join(row.scripts)}; {small}",
        row.use,
        f"{row.licence}; version {row.version}; {row.origin}",
    ]


def _installed_lines(one: Installed) -> list[str]:
    face = one.face
    lines = [f"weight {face.weight:g}; width {face.width_percent:g} %"]
    if face.axes:
        ranges = ", ".join(f"{axis.tag} {axis.least:g} to {axis.most:g}" for axis in face.axes)
        lines.append(f"variable: {ranges}")
    if face.instances:
        lines.append(", ".join(instance.name for instance in face.instances))
    number = f", face {face.number}" if face.number > 1 else ""
    return [*lines, f"installed: {one.path}{number}"]


def _font_dict(row: FontRow) -> dict[str, Any]:
    return {**{key: getattr(row, key) for key in _FONT_KEYS}, "axes": dict(row.axes)}


def _installed_dict(one: Installed) -> dict[str, Any]:
    face = one.face
    return {
        "name": face.name,
        "file": one.path,
        "face": face.number,
        "weight": face.weight,
        "width_percent": face.width_percent,
        "axes": {
            axis.tag: {"least": axis.least, "usual": axis.usual, "most": axis.most}
            for axis in face.axes
        },
        "instances": [
            {"name": instance.name, "axes": dict(instance.axes)} for instance in face.instances
        ],
    }


@click.command()
@click.argument("codes", metavar="[CODE]...", nargs=-1)
@format_option(*_FORMATS)
def markets(codes: tuple[str, ...], form: str) -> int:
    """List which way lettering runs along the back, by market.

    CODE is an ISO 3166 country code such as GB; without one every market is listed.
    """
    rows = [_market(code) for code in codes] or [
        (row.code, row.name, row) for row in catalogue.markets().values()
    ]
    if form == "json":
        _write_rows("markets", [_market_dict(*row) for row in rows])
    else:
        _write_entries(
            entry for code, name, row in rows for entry in _market_entries(code, name, row)
        )
    return 0


def _market(code: str) -> tuple[str, str, Market]:
    """A country's code and name, and the row that serves it."""
    row, own = catalogue.market(code)
    plain = catalogue.country(code)
    return plain, row.name if own else catalogue.iso_3166_codes()[plain], row


def _market_entries(code: str, name: str, row: Market) -> Iterator[tuple[str, list[str]]]:
    """A market, and its titles of one language that run another way."""
    unknown = [] if row.code == code else [_NO_ROW]
    yield f"{code}  {name}".strip(), [*unknown, *_custom_lines(row)]
    for titles in catalogue.titles_of(code):
        yield f"{code}  {titles.name}", _custom_lines(titles)


def _custom_lines(row: Market) -> list[str]:
    firmness = f"{row.firmness} but weakening" if row.weakening else row.firmness
    lines = [
        f"{row.reading}, {firmness}; spine at the {row.binding_side}, front cover up",
        f"{row.source} ({row.status})",
    ]
    return [*lines, row.note] if row.note else lines


def _market_dict(code: str, name: str, row: Market) -> dict[str, Any]:
    own = {"code": code or None, "name": name, "own_row": row.code == code}
    titles = [
        {key: getattr(one, key) for key in ("name", *_MARKET_KEYS)}
        for one in catalogue.titles_of(code)
    ]
    return own | {key: getattr(row, key) for key in _MARKET_KEYS} | {"titles": titles}


@click.command()
@click.argument("names", metavar="[NAME]...", nargs=-1)
@click.option("--method-file", metavar="FILE", help="A TOML file with methods of your own.")
@format_option(*_FORMATS)
def methods(names: tuple[str, ...], method_file: str | None, form: str) -> int:
    """List what each way of lettering holds, with sources.

    NAME is a method such as leather-label; without one every method is listed, or with a file
    those of the file.
    """
    rows = _rows(names, method_file)
    if form == "json":
        _write_rows("methods", [_method_dict(row) for row in rows])
    else:
        _write_entries((f"{row.key}  {row.name}", _method_lines(row)) for row in rows)
    return 0


def _rows(names: tuple[str, ...], path: str | None) -> list[Method]:
    """The methods asked for, a binder's own first."""
    if path is None:
        try:
            return [catalogue.method(name) for name in names] or list(catalogue.methods().values())
        except SpinefitError as fault:
            fault.where = "NAME" if fault.where == "--method" else fault.where
            raise
    from spinefit.job.files import pick_method, read_methods

    with FaultsAt("--method-file"):
        own = read_methods(path)
    with FaultsAt("NAME"):
        return [pick_method(name, own, path) for name in names] or list(own.values())


def _numbers(row: Method) -> dict[str, Sourced | SourcedList | None]:
    """Every number by its key; a drawer of sizes has no steps."""
    if row.stock is not None and row.die is not None:
        row = catalogue.blocked(row, row.stock, row.die)
    found = {name: getattr(row, name[:-3]) for name in NUMBER_KEYS}
    return found if row.sizes is None else found | {"step_pt": None}


def _method_lines(row: Method) -> list[str]:
    lines = [f"{_PLACES[row.place]}; {_LETTERS[row.letters]}"]
    if row.stock is not None:
        lines.append(
            f"foil on {row.stock.replace('-', ' ')} with a {row.die} die, where --stock and --die "
            "say no other"
        )
    for name, number in _numbers(row).items():
        if number is not None:
            values = number.values if isinstance(number, SourcedList) else (number.value,)
            figures = ", ".join(f"{value:.6g}" for value in values)
            said = f"{_NUMBER_NAMES[name]}: {figures} {number.unit}"
            lines.append(f"{said}. {number.source} ({number.status})")
    lines += (f"Mind: {caution}" for caution in row.cautions)
    return [*lines, *(f"Protection: {each} (common practice)" for each in row.protection)]


def _method_dict(row: Method) -> dict[str, Any]:
    about = {"key": row.key, "name": row.name, "place": row.place, "letters": row.letters}
    numbers = {
        name: None if number is None else _number_dict(number)
        for name, number in _numbers(row).items()
    }
    more: dict[str, Any] = {
        "stock": row.stock,
        "die": row.die,
        "work": row.work,
        "material": row.material,
    }
    more["protection"] = row.protection or None
    return {**about, **numbers, "cautions": row.cautions, "caution": row.caution, **more}


def _number_dict(number: Sourced | SourcedList) -> dict[str, Any]:
    value = number.values if isinstance(number, SourcedList) else number.value
    return {
        "value": value, "unit": number.unit, "source": number.source, "status": number.status,
    }  # fmt: skip


def _write_rows(name: str, rows: list[dict[str, Any]], **more: object) -> None:
    """Write rows as JSON, with the schema of their list and what else is to be said."""
    found = {"schema": f"spinefit.{name}/1", name: rows, **more}
    output.write_utf8(to_json(found))


def _write_entries(entries: Iterable[tuple[str, list[str]]]) -> None:
    """Write each heading with its lines indented below it."""
    room = screen().columns
    written: list[str] = []
    for heading, lines in entries:
        written.append(heading)
        for line in lines:
            written += textwrap.wrap(
                line, room, initial_indent=_INDENT, subsequent_indent=_INDENT,
                break_on_hyphens=False,
            )  # fmt: skip
    output.write_text("\n".join(written) + "\n")
