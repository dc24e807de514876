"""What goes in for a book, and what comes out?

A `Row` is a line of the table as it stands, or the fault that kept it from being read; a
`Result` is what is written for it. Both are plain texts and numbers, so that they travel
between processes. Sizes in DTP points, spares in mm.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from spinefit.batch.text_stream import LONGEST_RECORD
from spinefit.errors import one_line
from spinefit.say.screen import PLAIN, Screen


class Fault(NamedTuple):
    """Why a row could not be answered.

    Attributes:
        column: the column at fault; "" where it is the whole row or its place is not known.
        text: what was wrong, with which value, what to do.
    """

    column: str
    text: str

    @property
    def line(self) -> str:
        """The fault in one line."""
        return one_line(f"column '{self.column}': {self.text}" if self.column else self.text)


TOO_LONG = Fault("", f"more than {LONGEST_RECORD} characters in one row; is a quote left open?")
"""Of a row past any book."""


class Row(NamedTuple):
    """One book as it stands in the table.

    Attributes:
        line: the line of the file it begins on, from 1.
        cells: what was given, by column; empty cells are left out.
        kept: the cells carried along, one for each kept column.
        fault: why it cannot be read, or None.
    """

    line: int
    cells: Mapping[str, object]
    kept: tuple[str, ...] = ()
    fault: Fault | None = None

    @property
    def title(self) -> str:
        """Its title as it stands there; "" where there is none."""
        return str(self.cells.get("title", ""))


class TableStyle(NamedTuple):
    """In which form a table came, so that its results can go back in the same.

    Attributes:
        kind: csv, jsonl or xlsx.
        delimiter: what parts the cells of a CSV.
        decimal_comma: True where its figures have decimal commas.
        quoted: True where every text of it stands in quotes; else only those that need them.
        newline: what ends its lines.
        encoding: of its text, as Python names it.
        marked: True where it begins with a byte order mark.
        sheet: name of the sheet of a workbook.
        heading_row: the line that names its columns, from 1.
        heading: the names of all its columns as typed.
    """

    kind: str = "csv"
    delimiter: str = ","
    decimal_comma: bool = False
    quoted: bool = False
    newline: str = "\n"
    encoding: str = "utf-8"
    marked: bool = False
    sheet: str = ""
    heading_row: int = 1
    heading: tuple[str, ...] = ()


class Settings(NamedTuple):
    """What holds for every row.

    Attributes:
        form: csv, jsonl, text or html.
        kept: names of the columns that are carried along.
        defaults: values of fields for rows that do not say them.
        slash_breaks: True where a slash between spaces forces a line break.
        verify: True where the geometry engine is to confirm every largest size.
        screen: what a text table is written for.
        artwork: True where each row that fits has its lettering as a page to be placed.
        spot: name of the ink of those; None for black.
    """

    form: str = "jsonl"
    kept: tuple[str, ...] = ()
    defaults: Mapping[str, object] = {}
    slash_breaks: bool = False
    verify: bool = False
    screen: Screen = PLAIN
    artwork: bool = False
    spot: str | None = None

    @property
    def pictured(self) -> bool:
        """Whether the lettering of the results is drawn."""
        return self.form == "html" or self.artwork


class Result(NamedTuple):
    """What is found for one book.

    Attributes:
        line: where its row begins, from 1.
        title: as it stands in the row.
        verdict: fits, tight or does not fit; "" where the row is at fault.
        largest_pt: the exact limit of the setting advised, or of the nearest to one.
        set_pt: the size judged.
        lines: its lines, with `` / `` between them.
        orientation, reading: which way it runs.
        spare_mm: the least spare on any side; negative is excess.
        answer: one sentence.
        mind: what to mind of the words themselves: day numbers, the marks of a catalogue.
        fault: what is wrong with the row, or None.
    """

    line: int
    title: str = ""
    verdict: str = ""
    largest_pt: float | None = None
    set_pt: float | None = None
    lines: str = ""
    orientation: str = ""
    reading: str = ""
    spare_mm: float | None = None
    answer: str = ""
    mind: str = ""
    fault: Fault | None = None


RESULT_COLUMNS = (
    "line", "title", "verdict", "largest_pt", "set_pt", "lines", "orientation", "reading",
    "spare_mm", "answer", "mind", "error",
)  # fmt: skip
"""Columns of the results, in their order; kept columns stand after the line."""
