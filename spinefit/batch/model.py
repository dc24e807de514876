"""What goes in for a book, and what comes out?

A `Row` is a line of the table as it stands, or the fault that kept it from being read; a
`Result` is what is written for it. Both are plain texts and numbers, so that they travel
between processes. Sizes in DTP points, spares in mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from spinefit.batch.text_stream import LONGEST_RECORD
from spinefit.errors import one_line
from spinefit.job.house import NO_HOUSE, House
from spinefit.say.screen import PLAIN, Screen
from spinefit.vocabulary import Level

if TYPE_CHECKING:
    from spinefit.plan import Pattern


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
        is_remark: whether its cells are those of a total or a remark, below the last book.
        heads: whether it is one cell merged across all columns, as headings of a part are.
    """

    line: int
    cells: Mapping[str, object]
    kept: tuple[str, ...] = ()
    fault: Fault | None = None
    is_remark: bool = False
    heads: bool = False

    @property
    def title(self) -> str:
        """Its title as it stands there; "" where there is none."""
        return str(self.cells.get("title", ""))


class TableOptions(NamedTuple):
    """How a table is to be read.

    Attributes:
        keep: columns to carry along, besides those always carried; ``all`` for every one, None
            where none can be.
        columns: what its columns mean, where that is said, such as ``Breite=width``.
        encoding: of its text; None to be seen from its bytes.
        heading_row: the line that names its columns, from 1; None for the first that is not blank.
        sheet: name of the sheet of a workbook; None for the first with a heading.
    """

    keep: tuple[str, ...] | None = ()
    columns: tuple[str, ...] = ()
    encoding: str | None = None
    heading_row: int | None = None
    sheet: str | None = None


class TableStyle(NamedTuple):
    """In which form a table came, so that its results can go back in the same.

    Attributes:
        kind: csv, jsonl or xlsx.
        delimiter: what parts the cells of a CSV.
        decimal_comma: True where its figures have decimal commas.
        quoted: True where every text of it stands in quotes; else only those that need them.
        figures_quoted: True where its figures do.
        above: what stands above its heading, where all of it is to go back.
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
    figures_quoted: bool = False
    above: str = ""
    newline: str = "\n"
    encoding: str = "utf-8"
    marked: bool = False
    sheet: str = ""
    heading_row: int = 1
    heading: tuple[str, ...] = ()


class Settings(NamedTuple):
    """What holds for every row.

    Attributes:
        form: csv, jsonl, text, html, xlsx or junit.
        kept: names of the columns that are carried along.
        titled: True where the titles are carried along.
        texts: the further texts of a back that the table has columns for, by their roles.
        measures: names of those carried along that hold measures.
        style: the form in which CSV is written.
        sort: the columns that the results are sorted by; one with a minus in front falls.
        defaults: values of fields for rows that do not say them.
        slash_breaks: True where a slash between spaces forces a line break.
        verify: True where the geometry engine is to confirm every largest size.
        screen: what a text table is written for.
        artwork: True where each row that fits has its lettering as a page to be placed.
        spot: name of the ink of those; None for black.
        patterns: what the volumes of a serial have to match, by its name.
        fail_on: the level of findings from which on a row counts as failed; None for none.
        house: the file of a house, for what neither row nor defaults say.
        table: the table's name, where the form of the results says it.
    """

    form: str = "jsonl"
    kept: tuple[str, ...] = ()
    titled: bool = False
    texts: tuple[str, ...] = ()
    measures: tuple[str, ...] = ()
    style: TableStyle = TableStyle()
    sort: tuple[str, ...] = ()
    defaults: Mapping[str, object] = {}
    slash_breaks: bool = False
    verify: bool = False
    screen: Screen = PLAIN
    artwork: bool = False
    spot: str | None = None
    patterns: Mapping[str, Pattern] = {}
    fail_on: Level | None = None
    house: House = NO_HOUSE
    table: str = ""

    @property
    def held(self) -> bool:
        """Whether the rows are held until the last one is there."""
        return bool(self.sort) or self.form in ("xlsx", "junit")

    @property
    def of_house(self) -> str:
        """What the file of a house says where neither row nor defaults do, in a line."""
        return "; ".join(self.house.in_words(self.defaults))

    @property
    def pictured(self) -> bool:
        """Whether the lettering of the results is drawn."""
        return self.form == "html" or self.artwork


class TextFigures(NamedTuple):
    """How one text of a back or a label stands, at the size judged.

    Attributes:
        pt: its size.
        spare_mm: the least spare around it in its own stretch of back; None on a label that
            several texts share as one group, whose least spare is that of the row.
        lines: its lines, with `` / `` between them.
        baseline_mm: of lines across, from the head (of a label of several texts its upper edge)
            to the first baseline; None along the back, or without a height.
        from_head_mm: of lines along, from the head to the end of the ink that is nearer to it.
    """

    pt: float
    spare_mm: float | None
    lines: str
    baseline_mm: float | None
    from_head_mm: float | None


class Totals(NamedTuple):
    """What all rows together came to.

    Attributes:
        counts: rows by verdict, under "" those at fault.
        minded: rows with something to mind.
        hazards: lines about what can hurt in making them.
        failed: rows that fit and yet count as failed by a finding.
    """

    counts: Mapping[str, int]
    minded: int = 0
    hazards: Sequence[str] = ()
    failed: int = 0


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
        method: how it is lettered.
        width_mm, height_mm: of the back, or else of the panel, as judged.
        first_baseline_mm, from_head_mm: of the title, as of `TextFigures`.
        warnings: the findings that are warnings or failures.
        texts: of every further text, by its role.
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
    method: str = ""
    width_mm: float | None = None
    height_mm: float | None = None
    first_baseline_mm: float | None = None
    from_head_mm: float | None = None
    warnings: str = ""
    texts: Mapping[str, TextFigures] = {}

    def values(self, texts: Iterable[str]) -> dict[str, str | float | None]:
        """What stands in each column of a table whose rows have these further texts."""
        found = self._asdict() | {"error": "" if self.fault is None else self.fault.line}
        own = {name: found[name] for name in RESULT_COLUMNS}
        for role in texts:
            figures = self.texts.get(role, (None,) * len(TextFigures._fields))
            own.update(zip(columns_of_text(role), figures, strict=True))
        return own


RESULT_COLUMNS = (
    "line", "title", "verdict", "largest_pt", "set_pt", "lines", "orientation", "reading",
    "spare_mm", "answer", "mind", "error", "method", "width_mm", "height_mm", "first_baseline_mm",
    "from_head_mm", "warnings",
)  # fmt: skip
"""Columns of the results, in their order; kept columns stand after the line."""


def columns_of_text(role: str) -> list[str]:
    """The columns of a further text.

    >>> columns_of_text("call-number")[:2]
    ['call_number_pt', 'call_number_spare_mm']
    """
    return [f"{role.replace('-', '_')}_{name}" for name in TextFigures._fields]
