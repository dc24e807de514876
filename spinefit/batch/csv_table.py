"""How do results stand in a CSV?

In: answered rows, and the style of the table that they came from. Out: CSV (RFC 4180) in that
style: what parts the cells, decimal commas, quotes, line ends. A text that a spreadsheet would run
as a formula is guarded, while numbers stay numbers.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from spinefit.batch.books import Answered
from spinefit.batch.guarding import safe_cell
from spinefit.batch.model import Settings, TableStyle, Totals
from spinefit.batch.results import headings, line_heading, value_in
from spinefit.say.screen import encoded

# Whatever parts cells in some program: nothing of it may begin a cell of its own there.
_PARTS_CELLS = re.compile('[,;\t|"\r\n]')


def head(settings: Settings, totals: Totals) -> str:
    """The byte order mark, where there is to be one, what stood above the heading, and that."""
    mark = "\ufeff" if settings.style.marked else ""
    names = (line_heading(settings), *settings.kept, *headings(settings).values())
    heading = _row((_text(name, settings.style) for name in names), settings.style)
    return mark + settings.style.above + heading


def rows(answered: Iterable[Answered], settings: Settings) -> str:
    """The rows."""
    columns = [*headings(settings)]
    return "".join(_row(_cells(one, columns, settings), settings.style) for one in answered)


def foot(totals: Totals, settings: Settings) -> str:
    """Nothing: a CSV is its rows."""
    return ""


def _cells(one: Answered, columns: Sequence[str], settings: Settings) -> Iterator[str]:
    style, found = settings.style, one.result.values(settings.texts)
    yield _figure(f"{one.result.line}", style)
    for text in one.row.kept:
        is_text = isinstance(value_in(text, comma=style.decimal_comma), str)
        yield _text(text, style) if is_text else _figure(text, style)
    for value in map(found.__getitem__, columns):
        if isinstance(value, str):
            yield _text(value, style)
        else:
            figure = "" if value is None else f"{value}"
            yield _figure(figure.replace(".", ",") if style.decimal_comma else figure, style)


def _row(cells: Iterable[str], style: TableStyle) -> str:
    return style.delimiter.join(cells) + style.newline


def _figure(figure: str, style: TableStyle) -> str:
    quoted = style.delimiter in figure or (style.figures_quoted and figure)
    return f'"{figure}"' if quoted else figure


def _text(text: str, style: TableStyle) -> str:
    """A text, in quotes where its table has them or something in it could part cells.

    What its encoding lacks is made plainer first: a curly quote becomes one that has to be doubled.
    """
    safe = encoded(safe_cell(text), style.encoding).decode(style.encoding)
    if style.quoted or _PARTS_CELLS.search(safe):
        return '"' + safe.replace('"', '""') + '"'
    return safe
