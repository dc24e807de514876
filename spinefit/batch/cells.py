"""What does a cell say, wherever it came from, beside what holds for every row?

In: a cell of a CSV, a value of JSON, or what a dataframe or a column of Parquet hands over. Out:
text, number or list as the fields of a job are read from; None where nothing is given. Text of a
back stands on one line: line breaks and tabs part its words, since a cell is broken to make it
narrow, not to set lines. A whole number there is its figures: volume 3. Where semicolons or tabs
separate the cells, a decimal comma becomes a point if it can be nothing else; before three
figures it may separate thousands, and stays for the field to refuse.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from decimal import Decimal
from numbers import Integral, Real

from spinefit.batch.columns import ROLES
from spinefit.errors import UnitError
from spinefit.job.fields import FIELDS

__all__ = ["FIELD_NAMES", "cell_value", "values_of", "with_points"]


_IN_A_CELL = re.compile("[\t\n\v\f\r\x85\u2028\u2029]+")
# A program that keeps whole numbers in floats writes 3.0 for 3; nobody letters a date so.
_WHOLE_IN_FLOATS = re.compile(r"\s*([0-9]+)\.0+\s*", re.ASCII)
_COUNTS = (field.name for field in FIELDS if field.kind.whole)
_WHOLE_NUMBERS = frozenset(("volume", "date", *_COUNTS))
_FLAGS = frozenset(field.name for field in FIELDS if field.kind.flag)
_FLAG = {"true": "yes", "false": "no", "1": "yes", "0": "no", "1.0": "yes", "0.0": "no"}
_NOTHING = ("NAType", "NaTType")  # what dataframes hold where nothing is

_WHOLE = 2.0**53  # up to here a float holds every whole number
_FIGURES = frozenset(field.name for field in FIELDS if field.kind.comma == "decimal")
_LISTS = frozenset(field.name for field in FIELDS if field.kind.comma == "between")
_DECIMAL_COMMA = re.compile(r"(?<![0-9,])([0-9]+),([0-9]{1,2})(?![0-9,])")
_DECIMAL_POINT = re.compile(r"[0-9]\.[0-9]")
_PAIR = re.compile(r"([0-9]+),([0-9]{1,2})(?![0-9]).*", re.ASCII)
FIELD_NAMES = frozenset(field.name for field in FIELDS)
"""Columns that are fields of a job."""
_OF_BACK = frozenset(field.name for field in FIELDS if field.part == "spine")
_ROUNDS = frozenset(("rise", "radius", "arc"))


def cell_value(name: str, value: object) -> object:
    r"""The value of a cell.

    Numbers of other libraries become Python's; one without fractions becomes whole, as a
    column of whole numbers with gaps is kept in floats.

    Args:
        name: what its column means.
        value: as it was handed over.

    Returns:
        A text, a number or whatever else it was; None where nothing is given.

    >>> cell_value("title", "The Harbour\nLight"), cell_value("volume", 3.0)
    ('The Harbour Light', '3')
    >>> cell_value("lines", 2.0), cell_value("height", float("nan"))
    (2, None)
    >>> cell_value("date", "1907.0"), cell_value("recess", "TRUE")
    ('1907', 'yes')
    """
    if name in _FLAGS and (flag := _FLAG.get(str(value).strip().casefold())) is not None:
        return flag
    if isinstance(value, str):
        text = str(value)
        if name in _WHOLE_NUMBERS and (whole := _WHOLE_IN_FLOATS.fullmatch(text)):
            return whole[1]
        return _IN_A_CELL.sub(" ", text) if name in ROLES else text
    if isinstance(value, Decimal):
        return None if value.is_nan() else str(value)
    if isinstance(value, bool) or not isinstance(value, Real):
        return None if type(value).__name__ in _NOTHING else _listed(value)
    number = _plain(value)
    return str(number) if name in ROLES and isinstance(number, int) else number


def _listed(value: object) -> object:
    """An array of another library as the list it holds."""
    as_list = getattr(value, "tolist", None)
    return as_list() if callable(as_list) else value


def _plain(value: Real) -> int | float | None:
    if isinstance(value, Integral):
        return int(value)
    number = _shortest(value)
    if math.isnan(number):  # where nothing is given
        return None
    return int(number) if number.is_integer() and abs(number) < _WHOLE else number


def _shortest(value: Real) -> float:
    """As it is written, since one of fewer bits is 9.2 and not 9.19999980926514."""
    try:
        return float(str(value))
    except ValueError:
        return float(value)


def with_points(name: str, cell: str) -> str:
    """A cell with its decimal commas as points; as it is where it has points already.

    In a list a comma separates the figures, unless semicolons do.

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


def values_of(cells: Mapping[str, object], defaults: Mapping[str, object]) -> dict[str, object]:
    """Fields by name: what the row gives, and the defaults that it does not put aside.

    Args:
        cells: what the row gives, by the meaning of its columns; those that are no fields are
            left out.
        defaults: values of fields for rows that do not say them.

    >>> values_of({"title": "Tides", "panel": "20x30"}, {"width": "9mm", "market": "GB"})
    {'market': 'GB', 'panel': '20x30'}
    """
    given = {name: value for name, value in cells.items() if name in FIELD_NAMES}
    aside: set[str] = set()
    if "panel" in given:
        aside |= _OF_BACK
    elif "width" in given:
        aside |= {"panel"}
    if _ROUNDS & given.keys():
        aside |= _ROUNDS
    kept = {name: value for name, value in defaults.items() if name not in aside}
    return {**kept, **given}
