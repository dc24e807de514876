"""How does a report stand on a page of so many character cells?

The one door to rich. A `Page` collects paragraphs, rows of label and value, tables, and lines
taken as they are, each with a style that says nothing the words do not; out come lines of
text, coloured or plain. Lines are broken by cells, of which East Asian letters take two.
Only tables are laid out by rich: breaking the rest here took 16 ms off a cold check.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from rich.cells import cell_len, chop_cells
from rich.console import Console, RenderableType
from rich.table import Table
from rich.text import Text

__all__ = ["LABEL_WIDTH", "Column", "Page", "Piece", "cells", "wrapped"]

LABEL_WIDTH = 10
_GAP = "  "


class Piece(NamedTuple):
    """Text in one style.

    Attributes:
        text: letter for letter.
        style: as rich names styles; "" for none.
    """

    text: str
    style: str = ""


class Column(NamedTuple):
    """A column of a table.

    Attributes:
        heading: what stands above it.
        wraps: whether its cells may be broken into lines.
        right: whether its cells end at the right, as figures do.
    """

    heading: str
    wraps: bool = False
    right: bool = False


class Page:
    """Lines of styled pieces, none wider than the page.

    Args:
        columns: width in character cells.
    """

    def __init__(self, columns: int) -> None:
        self.columns = columns
        self._lines: list[tuple[Piece, ...]] = []

    def blank(self) -> None:
        """An empty line."""
        self._lines.append(())

    def exact(self, *pieces: Piece) -> None:
        """One line of pieces that are known to fit."""
        self._lines.append(pieces)

    def paragraph(self, text: str, style: str = "") -> None:
        """Text broken into lines of the page's width."""
        for line in wrapped(text, self.columns):
            self.exact(Piece(line, style))

    def heading(self, text: str) -> None:
        """A heading below an empty line."""
        self.blank()
        self.paragraph(text, "bold")

    def row(self, label: str, text: str, *, style: str = "", dim: str = "") -> None:
        """A label in a narrow column, what it labels beside it.

        Args:
            label: a word, shorter than the column.
            text: broken into lines as need be.
            style: of the label.
            dim: more text after it, less prominent.
        """
        self._hanging(f"{label:<{LABEL_WIDTH}}{_GAP}", text, style, dim)

    def bulleted(self, texts: Iterable[str]) -> None:
        """One text a bullet."""
        for text in texts:
            self._hanging("- ", text, "", "")

    def table(self, columns: Sequence[Column], rows: Iterable[Sequence[str]]) -> None:
        """Rows of cells below their headings."""
        table = Table(box=None, padding=(0, 2, 0, 0), header_style="", pad_edge=False)
        for column in columns:
            table.add_column(
                Text(column.heading),
                justify="right" if column.right else "left",
                no_wrap=not column.wraps,
                overflow="fold" if column.wraps else "ellipsis",
            )
        for row in rows:
            table.add_row(*map(Text, row))
        for line in self._printed(table, colour=False):
            self.exact(Piece(line))

    def text(self, *, colour: bool = False) -> str:
        """The whole page, lines ended by newlines, none with spaces at its end.

        Args:
            colour: whether to add the terminal's colours.
        """
        if colour:
            whole = Text("\n").join(Text.assemble(*line) for line in self._lines)
            lines = self._printed(whole, colour=True)
        else:
            lines = ["".join(piece.text for piece in line).rstrip() for line in self._lines]
        return "\n".join(lines).rstrip("\n") + "\n"

    def _printed(self, content: RenderableType, *, colour: bool) -> list[str]:
        """The lines that rich prints, whatever the terminal of the process is like."""
        sink = io.StringIO()
        console = Console(
            file=sink,
            width=self.columns,
            force_terminal=colour,
            color_system="standard" if colour else None,
            no_color=not colour,
            legacy_windows=False,
        )
        console.print(content)
        return [line.rstrip() for line in sink.getvalue().splitlines()]

    def _hanging(self, lead: str, text: str, style: str, dim: str) -> None:
        whole = f"{text} {dim}" if dim else text
        left = len(text)  # what is not dim yet
        for line in wrapped(whole, self.columns - len(lead)):
            plain, rest = line[: max(left, 0)], line[max(left, 0) :]
            self.exact(Piece(lead, style), Piece(plain), Piece(rest, "dim"))
            left -= len(line) + 1
            lead, style = " " * len(lead), ""


def cells(text: str) -> int:
    """How many character cells a text takes."""
    return cell_len(text)


def wrapped(text: str, room: int) -> list[str]:
    """``text`` in lines of at most ``room`` cells, broken at spaces, within a word on need.

    >>> wrapped("The Harbour Light", 11), wrapped("Lighthousekeeping", 10)
    (['The Harbour', 'Light'], ['Lighthouse', 'keeping'])
    """
    lines: list[str] = []
    line, filled = "", -1
    for word in text.split(" "):
        wide = cell_len(word)
        if filled + 1 + wide <= room:
            line = word if filled < 0 else f"{line} {word}"
            filled += 1 + wide
            continue
        if filled >= 0:
            lines.append(line)
        *full, line = chop_cells(word, room) if wide > room else [word]
        lines += full
        filled = cell_len(line)
    return [*lines, line]
