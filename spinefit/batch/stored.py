"""Which stored values of formulas go back into a workbook that is written?

openpyxl writes formulas without them, and then nothing but a spreadsheet can read the cell. In: the
workbook before and after. Out: the values of formulas that the check reads, stored beside them
again. These alone are known not to hang on what is written here: any other might be stale, and not
every spreadsheet works out anew what it has a value of.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from io import BytesIO
from typing import IO, Any
from xml.sax.saxutils import escape
from zipfile import ZIP_DEFLATED, ZipFile

from openpyxl import load_workbook

# As openpyxl writes it, whichever XML library it has; one that fills several cells is another.
_FORMULA = re.compile(rb'(<c r="([A-Z]+[0-9]+)"[^>]*)>(<f>[^<]*</f>)<v ?/>')


def values_read(
    source: IO[bytes], sheet: Any, top: int, meanings: Sequence[str]
) -> dict[str, object]:
    """The stored values of formulas in the columns that say something to the check, by cell.

    Args:
        source: the bytes of the workbook.
        sheet: its sheet, with formulas.
        top: the row of the heading.
        meanings: what each column means; "" where nothing.
    """
    read = {at for at, meaning in enumerate(meanings, 1) if meaning}
    formulas = {
        one.coordinate
        for (row, at), one in sheet._cells.items()
        if row > top and at in read and one.data_type == "f" and isinstance(one.value, str)
    }
    if not formulas:
        return {}
    source.seek(0)
    book = load_workbook(source, read_only=True, data_only=True, keep_links=False)
    found: dict[str, object] = {}
    for row in book[sheet.title].iter_rows(top + 1, max_col=max(read)):
        for cell in row:
            if cell.data_type in ("n", "s", "b") and cell.value is not None:
                found[cell.coordinate] = cell.value
    return {at: value for at, value in found.items() if at in formulas}


def with_values(made: BytesIO, part: str, values: Mapping[str, object]) -> bytes:
    """A workbook with values stored beside formulas.

    Args:
        made: as openpyxl wrote it.
        part: the name of the part that holds the sheet.
        values: by cell.
    """
    if not values:
        return made.getvalue()

    def with_value(cell: re.Match[bytes]) -> bytes:
        value = values.get(cell[2].decode())
        if value is None:
            return cell[0]
        kind, text = ("b", int(value)) if isinstance(value, bool) else ("n", value)
        kind, text = ("str", escape(value)) if isinstance(value, str) else (kind, text)
        return b'%s t="%s">%s<v>%s</v>' % (cell[1], kind.encode(), cell[3], str(text).encode())

    whole = BytesIO()
    with ZipFile(made) as old, ZipFile(whole, "w", ZIP_DEFLATED) as new:
        for name in old.namelist():
            raw = old.read(name)
            new.writestr(name, _FORMULA.sub(with_value, raw) if name == part else raw)
    return whole.getvalue()
