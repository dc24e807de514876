"""How does a report stand on a page of so many character cells?

The one door to rich, which knows how many cells a letter takes and how a style is coloured. A
`Page` collects paragraphs, rows of label and value, tables, and lines taken as they are, each
with a style that says nothing the words do not; out come lines of text, coloured or plain.
What is plain is set here, without rich's console: loading and running that for a page of text
and one small table took 40 ms of a cold check's 217.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import zip_longest
from typing import NamedTuple

from rich.cells import cell_len, chop_cells

__all__ = ["LABEL_WIDTH", "Column", "Page", "Piece", "cells", "wrapped"]

LABEL_WIDTH = 10
_GAP = "  "
_LEAST_WRAPPED = 12  # a table's broken column any narrower is no reading matter


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
        """Rows of cells below their headings; where they are too wide, one after another.

        Args:
            columns: exactly one of them wraps.
            rows: a cell for each column; a newline in a cell breaks its line.
        """
        headings = [column.heading for column in columns]
        body = [[cell.split("\n") for cell in row] for row in (headings, *rows)]
        widths = [
            max(cells(part) for row in body for part in row[at]) for at in range(len(columns))
        ]
        broken = next(at for at, column in enumerate(columns) if column.wraps)
        over = max(sum(widths) + len(_GAP) * (len(columns) - 1) - self.columns, 0)
        widths[broken] -= over
        if over and widths[broken] < _LEAST_WRAPPED:
            self.bulleted(_one_after_another(headings, row) for row in body[1:])
            return
        for row in body:
            row[broken] = [line for part in row[broken] for line in wrapped(part, widths[broken])]
            for parts in zip_longest(*row, fillvalue=""):
                line = _GAP.join(map(_filled, parts, widths, (column.right for column in columns)))
                self.exact(Piece(line))

    def text(self, *, colour: bool = False) -> str:
        """The whole page, lines ended by newlines, none with spaces at its end.

        Args:
            colour: whether to add the terminal's colours.
        """
        lines = ("".join(piece.text for piece in line).rstrip() for line in self._lines)
        return self._coloured() if colour else "\n".join(lines) + "\n"

    def _coloured(self) -> str:
        """The page as rich colours it, whatever the terminal of the process is like."""
        import io

        from rich.console import Console
        from rich.text import Text

        sink = io.StringIO()
        console = Console(
            file=sink,
            width=self.columns,
            force_terminal=True,
            color_system="standard",
            no_color=False,
            legacy_windows=False,
        )
        for line in self._lines:
            whole = Text.assemble(*line)
            whole.rstrip()
            console.print(whole, soft_wrap=True)
        return sink.getvalue()

    def _hanging(self, lead: str, text: str, style: str, dim: str) -> None:
        whole = f"{text} {dim}" if dim else text
        left = len(text)  # what is not dim yet
        for line in wrapped(whole, self.columns - len(lead)):
            plain, rest = line[: max(left, 0)], line[max(left, 0) :]
            self.exact(Piece(lead, style), Piece(plain), Piece(rest, "dim"))
            left -= len(line) + 1
            lead, style = " " * len(lead), ""


def _one_after_another(headings: Iterable[str], row: Iterable[Iterable[str]]) -> str:
    """A row of a table where there is no room for columns."""
    pairs = zip(headings, map(" ".join, row), strict=True)
    return ", ".join(f"{heading} {cell}".strip() for heading, cell in pairs).strip(", ")


def _filled(text: str, room: int, right: bool) -> str:
    """``text`` with spaces to ``room`` cells; before it where it ends at the right."""
    spaces = " " * (room - cells(text))
    return f"{spaces}{text}" if right else f"{text}{spaces}"


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
