"""Which decimal commas does a table mean?

In: a cell of a table whose cells are parted by semicolons or tabs, as spreadsheets write it in
the many countries that write 13,5. Out: the same with points, where the comma can be nothing
else. Before three figures a comma may part thousands, and stays for the field to refuse.
"""

from __future__ import annotations

import re

from spinefit.errors import UnitError
from spinefit.job.fields import FIELDS

__all__ = ["with_points"]

_METAVARS = ("LENGTH", "WxH", "WxH@D", "SIZE", "RATIO", "DEGREES", "EM", "N")
_FIGURES = frozenset(field.name for field in FIELDS if field.kind.metavar in _METAVARS)
_LISTS = frozenset(field.name for field in FIELDS if field.kind.metavar in ("SIZES", "POSITIONS"))
_DECIMAL_COMMA = re.compile(r"(?<![0-9,])([0-9]+),([0-9]{1,2})(?![0-9,])")
_DECIMAL_POINT = re.compile(r"[0-9]\.[0-9]")
_PAIR = re.compile(r"([0-9]+),([0-9]{1,2})(?![0-9]).*", re.ASCII)


def with_points(name: str, cell: str) -> str:
    """A cell with its decimal commas as points; as it is where it has points already.

    In a list a comma parts the figures, unless semicolons do.

    Args:
        name: what its column means.
        cell: as it stands in the table.

    Raises:
        UnitError: two figures, or one with decimals: a list that falls is no list.

    >>> with_points("width", "13,5 mm"), with_points("sizes", "10,5; 12")
    ('13.5 mm', '10.5; 12')
    >>> with_points("sizes", "10,12")
    '10,12'
    """
    if "," not in cell or _DECIMAL_POINT.search(cell):
        return cell
    if name in _FIGURES or (name in _LISTS and ";" in cell):
        return _DECIMAL_COMMA.sub(r"\1.\2", cell)
    if name in _LISTS:
        _refuse_either(cell)
    return cell


def _refuse_either(cell: str) -> None:
    pair = _PAIR.fullmatch(cell.strip())
    if pair and "," not in pair[0][pair.end(2) :] and float(pair[2]) <= float(pair[1]):
        whole, part = pair.groups()
        raise UnitError(
            "a comma that may part two figures or begin decimals", value=cell,
            remedy=f"write {whole}.{part}, or {whole};{part} in quotes",
        )  # fmt: skip
