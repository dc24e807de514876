"""What is known, and who says so? The command ``spinefit markets``, and how a list is written.

In: rows of the catalogue. Out: the same rows as text of 80 columns or as JSON. Nothing is
shaped or measured, so no engine is needed.
"""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterable
from typing import Any

import click

from spinefit import catalogue
from spinefit.catalogue import Market
from spinefit.cli import output
from spinefit.cli.options import chosen_format, format_option
from spinefit.say.screen import screen

__all__ = ["markets", "write_entries", "write_rows"]

_FORMATS = ("text", "json")
_INDENT = " " * 4
_NO_ROW = "no row of its own: the international standard is followed"


@click.command()
@click.argument("codes", metavar="[CODE]...", nargs=-1)
@format_option(*_FORMATS)
def markets(codes: tuple[str, ...], format_name: str) -> int:
    """List which way lettering runs along the back, by market.

    CODE is an ISO 3166 country code such as GB; without one every market is listed.
    """
    form = chosen_format(format_name, _FORMATS)
    rows = [_market(code) for code in codes] or [
        (row.code, row.name, row) for row in catalogue.markets().values()
    ]
    if form == "json":
        write_rows("markets", [_market_dict(*row) for row in rows])
    else:
        write_entries(
            (f"{code}  {name}".strip(), _market_lines(row, code)) for code, name, row in rows
        )
    return 0


def _market(code: str) -> tuple[str, str, Market]:
    """A country's code and name, and the row that serves it."""
    row, own = catalogue.market(code)
    plain = code.strip().upper()
    return plain, row.name if own else catalogue.iso_3166_codes()[plain], row


def _market_lines(row: Market, code: str) -> list[str]:
    lines = [
        f"{row.reading}, {row.firmness}; spine at the {row.binding_side}, front cover up",
        f"{row.source} ({row.status})",
    ]
    if row.note:
        lines.append(row.note)
    return lines if row.code == code else [_NO_ROW, *lines]


def _market_dict(code: str, name: str, row: Market) -> dict[str, Any]:
    return {
        "code": code or None,
        "name": name,
        "own_row": row.code == code,
        "languages": list(row.languages),
        "reading": str(row.reading),
        "firmness": str(row.firmness),
        "binding_side": str(row.binding_side),
        "source": row.source,
        "status": str(row.status),
        "note": row.note,
    }


def write_rows(name: str, rows: list[dict[str, Any]], **more: object) -> None:
    """Write rows as JSON, with the schema of their list and what else is to be said."""
    found = {"schema": f"spinefit.{name}/1", name: rows, **more}
    output.write_utf8(json.dumps(found, ensure_ascii=False, indent=2, allow_nan=False))


def write_entries(entries: Iterable[tuple[str, list[str]]]) -> None:
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
