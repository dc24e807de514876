"""What does each way of lettering hold? The command ``spinefit methods``.

In: methods of the catalogue, and of a binder's own file. Out: every number with its source and
status, as text of 80 columns or as JSON, whose keys are those of a method's table.
"""

from __future__ import annotations

from typing import Any

import click

from spinefit import catalogue
from spinefit.catalogue.method_table import NUMBER_KEYS, Method
from spinefit.cli.lists import write_entries, write_rows
from spinefit.cli.options import chosen_format, format_option
from spinefit.errors import SpinefitError
from spinefit.provenance import Sourced, SourcedList
from spinefit.vocabulary import Letters, Place

__all__ = ["methods"]

_FORMATS = ("text", "json")
_PLACES = {
    Place.BACK: "lettered straight on the back",
    Place.LABEL: "a label pasted on the back",
    Place.CASE: "lettered flat, before casing in",
}
_LETTERS = {
    Letters.OUTLINES: "letters of a font",
    Letters.TOOLS: "letters of the binder's own tools",
}
_SAID = {
    "smallest_pt": "smallest size",
    "smallest_cap_mm": "smallest capital",
    "sizes_pt": "sizes",
    "step_pt": "sizes by steps of",
    "stroke_mm": "thinnest stroke held",
    "stroke_advised_mm": "thinnest stroke advised",
    "gap_mm": "narrowest gap held",
    "gap_advised_mm": "narrowest gap advised",
    "placing_mm": "may be out of place by",
    "label_edge_mm": "joint to label",
    "inner_margin_mm": "label's edge to ink",
    "frame_mm": "frame line",
    "cut_outside_mm": "cut outside the frame line",
    "thickness_mm": "thickness of the label",
}


@click.command()
@click.argument("names", metavar="[NAME]...", nargs=-1)
@click.option("--method-file", metavar="FILE", help="A TOML file with methods of your own.")
@format_option(*_FORMATS)
def methods(names: tuple[str, ...], method_file: str | None, format_name: str) -> int:
    """List what each way of lettering holds, with sources.

    NAME is a method such as leather-label; without one every method is listed, or with a file
    those of the file.
    """
    form = chosen_format(format_name, _FORMATS)
    rows = _rows(names, method_file)
    if form == "json":
        write_rows("methods", [_method_dict(row) for row in rows])
    else:
        write_entries((f"{row.key}  {row.name}", _method_lines(row)) for row in rows)
    return 0


def _rows(names: tuple[str, ...], path: str | None) -> list[Method]:
    """The methods asked for, a binder's own first."""
    if path is None:
        try:
            return [catalogue.method(name) for name in names] or list(catalogue.methods().values())
        except SpinefitError as fault:
            fault.where = "NAME" if fault.where == "--method" else fault.where
            raise
    from spinefit.job.method_file import pick_method, read_methods

    try:
        own = read_methods(path)
    except SpinefitError as fault:
        raise fault.at("--method-file") from None
    try:
        return [pick_method(name, own, path) for name in names] or list(own.values())
    except SpinefitError as fault:
        raise fault.at("NAME") from None


def _numbers(row: Method) -> dict[str, Sourced | SourcedList | None]:
    """Every number by its key; a drawer of sizes has no steps."""
    found = {name: getattr(row, name[:-3]) for name in NUMBER_KEYS}
    return found if row.sizes is None else found | {"step_pt": None}


def _method_lines(row: Method) -> list[str]:
    lines = [f"{_PLACES[row.place]}; {_LETTERS[row.letters]}"]
    for name, number in _numbers(row).items():
        if number is not None:
            values = number.values if isinstance(number, SourcedList) else (number.value,)
            figures = ", ".join(f"{value:.6g}" for value in values)
            said = f"{_SAID[name]}: {figures} {number.unit}"
            lines.append(f"{said}. {number.source} ({number.status})")
    return [*lines, *(f"Mind: {caution}" for caution in row.cautions)]


def _method_dict(row: Method) -> dict[str, Any]:
    numbers = {
        name: None if number is None else _number_dict(number)
        for name, number in _numbers(row).items()
    }
    return {
        "key": row.key,
        "name": row.name,
        "place": str(row.place),
        "letters": str(row.letters),
        **numbers,
        "cautions": list(row.cautions),
    }


def _number_dict(number: Sourced | SourcedList) -> dict[str, Any]:
    value = list(number.values) if isinstance(number, SourcedList) else number.value
    return {
        "value": value,
        "unit": number.unit,
        "source": number.source,
        "status": str(number.status),
    }
