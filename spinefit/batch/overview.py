"""How do many books stand on one page of HTML?

In: answered rows. Out: a self-contained page in three parts, head, rows and foot, so that rows
can be written as they come: a table that can be searched, sorted and narrowed, also while it is
still incomplete, and read where no script runs. It asks nothing of a network; its policy (W3C,
Content Security Policy Level 3) lets its own style and script run, known by their digests, and
nothing else. Before each row stand the outlines of its letters; a page needs each but once
(`once`), and draws a picture when its row is seen.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from spinefit.batch.books import Answered
from spinefit.batch.columns import ROLES
from spinefit.batch.model import Settings, Totals
from spinefit.batch.text_table import figure, summary
from spinefit.batch.thumbnails import thumbnail
from spinefit.drawing.html import digest, filled, plain
from spinefit.errors import one_line
from spinefit.vocabulary import Role

_PACKAGE = "spinefit.batch"
_OUTLINES = re.compile("<template>([^<]*)</template>\n")
_TABLE_REM, _KEPT_REM = 71.0, 3.3  # the least that a table takes, and a column carried along


class _Column(NamedTuple):
    """A column of the table.

    Attributes:
        name: its heading.
        kind: figure, text, title, drawn, verdict or answer.
        room: of its width, as a grid has it.
    """

    name: str
    kind: str = "text"
    room: str = "4em"


_FIRST = _Column("Line", "figure", "3em")
_OTHERS = (
    _Column("Lettering", "drawn", "var(--drawn)"),
    _Column("Title", "title", "minmax(14em,1fr)"),
    _Column("Verdict", "verdict", "6.5em"),
    _Column("Size", "figure", "3.6em"),
    _Column("Largest", "figure", "4.4em"),
    _Column("Spare", "figure", "3.8em"),
    _Column("Way", room="6em"),
    _Column("Width", "figure", "4em"),
    _Column("Height", "figure", "4.2em"),
    _Column("Market", room="4.4em"),
    _Column("Method", room="8em"),
    _Column("Answer, and what to mind", "answer", ""),  # below all these
)


def head(settings: Settings, totals: Totals) -> str:
    """The page as far as its first row."""
    kept = settings.kept
    columns = (
        _FIRST,
        *(_Column(one_line(name), room="minmax(3.5em,7em)") for name in kept),
        *_OTHERS,
    )
    style = "\n" + filled(
        _PACKAGE,
        "overview.css",
        rooms=" ".join(column.room for column in columns),
        narrow=f"{_TABLE_REM + _KEPT_REM * len(kept):g}rem",
        labels=[(at, _quoted(one.name), one.kind) for at, one in enumerate(columns, 1)],
        drawn_at=len(kept) + 2,
    )
    script = plain(_PACKAGE, "overview.js")
    return filled(
        _PACKAGE,
        "head.html",
        policy=f"default-src 'none'; style-src {digest(style)}; script-src {digest(script)}; "
        "base-uri 'none'; form-action 'none'",
        style=style,
        script=script,
        columns=columns,
        sorted=bool(settings.sort),
        of_house=settings.of_house,
    )


def rows(answered: Iterable[Answered], settings: Settings) -> str:
    """The rows of the table."""
    return filled(_PACKAGE, "rows.html", rows=map(_shown, answered))


def foot(totals: Totals, settings: Settings) -> str:
    """The page from its last row on."""
    return filled(_PACKAGE, "foot.html", summary=summary(totals), hazards=totals.hazards)


def once(text: str, known: Mapping[str, None]) -> tuple[str, dict[str, None]]:
    r"""Rows without the outlines that stand in the page already, and the names of the new ones.

    Args:
        text: rows as `rows` gives them.
        known: names of the outlines that stand before them.

    >>> said = "<template>a h2z,b v2z</template>\n<tr><td>2\n"
    >>> once(said, {"a": None})
    ('<template>b v2z</template>\n<tr><td>2\n', {'b': None})
    >>> once(said * 2, {"a": None, "b": None})
    ('<tr><td>2\n<tr><td>2\n', {})
    """
    new: dict[str, None] = {}

    def needed(found: re.Match[str]) -> str:
        kept = []
        for outline in found[1].split(","):
            name = outline.partition(" ")[0]
            if name not in known and name not in new:
                new[name] = None
                kept.append(outline)
        return f"<template>{','.join(kept)}</template>\n" if kept else ""

    return _OUTLINES.sub(needed, text), new


def _quoted(text: str) -> str:
    """A text as a style has it, every sign of it but letters and digits by its number."""
    said = (char if char.isalnum() else f"\\{ord(char):x} " for char in text)
    return f'"{"".join(said)}"'


def _shown(one: Answered) -> dict[str, object]:
    found, cells = one.result, one.row.cells
    drawn = thumbnail(one.answers) if one.answers else None
    reports = one.reports
    return {
        "line": found.line,
        "kept": [one_line(cell) for cell in one.row.kept],
        "title": one_line(found.title),
        "texts": _belonging(cells),
        "set": one_line(str(cells.get("set", "")).strip()),
        "figures": drawn.figures if drawn else "",
        "outlines": drawn.outlines if drawn else {},
        "verdict": found.verdict or "at fault",
        "said": found.answer if found.fault is None else one_line(found.fault.line),
        "mind": filter(None, (found.mind, found.warnings)),
        "cells": (
            figure(found.set_pt),
            figure(found.largest_pt),
            figure(found.spare_mm),
            found.reading,
            _typed(one, "width") if found.width_mm is None else f"{found.width_mm:.4g}",
            _typed(one, "height") if found.height_mm is None else f"{found.height_mm:.4g}",
            (reports[0].convention.market or "") if reports else _typed(one, "market"),
            reports[0].method.name if reports else _typed(one, "method"),
        ),
    }


def _belonging(cells: Mapping[str, object]) -> str:
    """What else stands on the back or label, each with what it is, and the set of the book."""
    others = {Role(role).words: cells[role] for role in ROLES if role in cells}
    others["set"] = cells.get("set", "")
    return "; ".join(
        f"{name}: {one_line(str(text).strip())}"
        for name, text in others.items()
        if text != "" and name != Role.TITLE.words
    )


def _typed(one: Answered, column: str) -> str:
    """What a row at fault says, as it stands there."""
    return one_line(str(one.row.cells.get(column, "")))
