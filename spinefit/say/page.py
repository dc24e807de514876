"""How does a report stand on a page of so many character cells?

The one door to rich. A `Page` collects paragraphs, rows of label and value, tables, and lines
taken as they are, each with a style that says nothing the words do not; out come lines of
text, coloured or plain. Only a real table is a table of rich's, which measures every cell
several times.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from time import monotonic
from typing import IO, NamedTuple

from rich.cells import cell_len
from rich.console import Console, ConsoleOptions, Group, RenderableType, RenderResult
from rich.table import Table
from rich.text import Text

from spinefit.say.screen import Screen

LABEL_WIDTH = 10
_GAP = 2
_WORD = 12  # a longer one is broken where a table is narrow


class StyledText(NamedTuple):
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


class _Hanging(NamedTuple):
    """Text whose lines all begin where the first one's lead ends."""

    lead: Text
    text: Text

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        lead, room = self.lead, options.max_width - self.lead.cell_len
        for line in self.text.wrap(console, room, overflow="fold"):
            line.rstrip()
            yield Text.assemble(lead, line, no_wrap=True, overflow="ignore")
            lead = Text(" " * self.lead.cell_len)


class Page:
    """Lines of styled text, none wider than the screen.

    Args:
        screen: what it is written for.
    """

    def __init__(self, screen: Screen) -> None:
        self.screen = screen
        self._parts: list[RenderableType] = []

    def blank(self) -> None:
        """An empty line."""
        self._parts.append(Text())

    def exact(self, *texts: StyledText) -> None:
        """One line of texts that are known to fit beside one another."""
        line = Text(no_wrap=True, overflow="ignore")
        for each in texts:
            line.append(each.text, each.style or None)
        self._parts.append(line)

    def paragraph(self, text: str, style: str = "") -> None:
        """Text broken into lines of the page's width."""
        self._parts.append(Text(text, style))

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
        value = Text(text)
        if dim:
            value.append(f" {dim}", "dim")
        lead = Text.assemble((f"{label:<{LABEL_WIDTH}}", style), " " * _GAP)
        self._parts.append(_Hanging(lead, value))

    def bulleted(self, texts: Iterable[str]) -> None:
        """One text a bullet."""
        for text in texts:
            self._parts.append(_Hanging(Text("- "), Text(text)))

    def table(self, columns: Sequence[Column], rows: Iterable[Sequence[str]]) -> None:
        """Rows of cells below their headings.

        On a narrow screen headings are broken at their spaces, and columns stand closer.

        Args:
            columns: exactly one of them wraps.
            rows: a cell for each column; a newline in a cell breaks its line.
        """
        rows = list(rows)
        is_narrow = _least_width(columns, rows) > self.screen.columns
        gap = 1 if is_narrow else _GAP
        table = Table(box=None, pad_edge=False, padding=(0, gap, 0, 0), header_style="")
        for column in columns:
            heading = column.heading.replace(" ", "\n") if is_narrow else column.heading
            table.add_column(
                Text(heading),
                justify="right" if column.right else "left",
                no_wrap=not column.wraps,
                overflow="fold",
            )
        for row in rows:
            table.add_row(*map(Text, row))
        self._parts.append(table)

    def text(self) -> str:
        """The whole page, lines ended by newlines, none with spaces at its end."""
        sink, colour = io.StringIO(), self.screen.has_colour
        console = Console(
            file=sink,
            width=self.screen.columns,
            force_terminal=colour,
            color_system="standard" if colour else None,
            no_color=not colour,
            markup=False,
            emoji=False,
            highlight=False,
            legacy_windows=False,
        )
        console.print(Group(*self._parts))
        return "".join(f"{line.rstrip()}\n" for line in sink.getvalue().splitlines())


def wrapped(text: str, screen: Screen) -> str:
    """One text broken into lines of the screen's width, and nothing else."""
    page = Page(screen)
    page.paragraph(text)
    return page.text()


class Bar:
    """A line on a terminal that says how far a long work has come, how fast, how long yet.

    Args:
        total: what the whole work amounts to, in any unit; None where that is not known.
        stream: the terminal. Lines that others write to it stand above the bar meanwhile.
    """

    def __init__(self, total: int | None, stream: IO[str]) -> None:
        from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

        self._progress = Progress(
            TextColumn("{task.fields[rows]} rows"),
            BarColumn(),
            TextColumn("{task.fields[rate]:.0f} a second"),
            TimeRemainingColumn(),
            # soft: a fault written meanwhile is one line, whatever the terminal's width
            console=Console(file=stream, markup=False, highlight=False, soft_wrap=True),
            transient=True,
            redirect_stdout=False,
        )
        self._begun = monotonic()
        self._task = self._progress.add_task("", total=total, rows=0, rate=0.0)

    def __enter__(self) -> Bar:
        self._progress.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._progress.stop()

    def show(self, rows: int, reached: int) -> None:
        """Bring the bar up to date.

        Args:
            rows: done since the work was begun.
            reached: how far of the total.
        """
        rate = rows / max(monotonic() - self._begun, 1e-3)
        self._progress.update(self._task, completed=reached, rows=rows, rate=rate)


def _least_width(columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> int:
    """Of a table with its headings whole; what wraps is as narrow as its longest word, if short."""
    widths = []
    for column, *texts in zip(columns, *rows, strict=True):
        parts = [column.heading, *texts]
        if column.wraps:
            parts = " ".join(parts).split()
        widest = max(map(cells, parts), default=0)
        widths.append(min(widest, _WORD) if column.wraps else widest)
    return sum(widths) + _GAP * (len(columns) - 1)


def cells(text: str) -> int:
    """How many character cells a text takes."""
    return cell_len(text)
