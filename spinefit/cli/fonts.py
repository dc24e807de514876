"""Which fonts are there? The command ``spinefit fonts``.

In: what the fonts have to meet. Out: the bundled ones, and on demand those installed on this
machine, as text of 80 columns or as JSON. Only where a font has to be opened is the engine
loaded that opens it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from spinefit import catalogue
from spinefit.catalogue import FontRow
from spinefit.cli import output
from spinefit.cli.lists import write_entries, write_rows
from spinefit.cli.options import chosen_format, format_option
from spinefit.errors import FieldError

if TYPE_CHECKING:
    from spinefit.shaping.choosing import FontFilter
    from spinefit.shaping.faces import Installed

__all__ = ["fonts"]

_FORMATS = ("text", "json")


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
    format_name: str,
) -> int:
    """List the fonts that come with spinefit, the usual one first.

    NAME is a part of a font's name, or a pattern with * and ? for all of it. A variable font
    is listed for every weight and width on its axes.
    """
    form = chosen_format(format_name, _FORMATS)
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
        write_rows("fonts", [_font_dict(row) for row in rows], **(more if installed else {}))
        return 0
    entries = [(row.name, _font_lines(row)) for row in rows] + [
        (one.face.name, _installed_lines(one)) for one in found
    ]
    if entries:
        write_entries(entries)
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
    try:
        if weight is not None:
            found = found._replace(weight=weight_range(weight))
    except FieldError as fault:
        raise fault.at("--weight") from None
    try:
        if width is not None:
            found = found._replace(width_percent=width_range(width))
    except FieldError as fault:
        raise fault.at("--width") from None
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
    return {
        "name": row.name,
        "file": row.file,
        "kind": row.kind,
        "scripts": list(row.scripts),
        "small_capitals": row.small_capitals,
        "use": row.use,
        "licence": row.licence,
        "copyright": row.copyright,
        "version": row.version,
        "origin": row.origin,
        "axes": dict(row.axes),
    }


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
