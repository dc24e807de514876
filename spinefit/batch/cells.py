"""What does a cell of a table say, and what does its row say over the defaults?

In: cells by the meaning of their columns: of a CSV, of JSON, or what a dataframe or Parquet hands
over. Out: for each a text, number or list as the fields of a job are read from; None where nothing
is given. Text of a back stands on one line: line breaks and tabs part its words. A whole number
there is its figures: volume 3. Where semicolons or tabs separate the cells, a comma in a list of
figures may begin decimals as well: such a list is refused. A call number is its text.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from decimal import Decimal
from numbers import Integral, Real

from spinefit.batch.columns import FIELD_NAMES, ROLES
from spinefit.errors import UnitError
from spinefit.job.bulk import said_otherwise
from spinefit.job.fields import FIELDS, GIVES_A_WIDTH
from spinefit.vocabulary import Role

_IN_A_CELL = re.compile("[\t\n\v\f\r\x85\u2028\u2029]+")
# A program that keeps whole numbers in floats writes 3.0 for 3; nobody letters a date so.
_WHOLE_IN_FLOATS = re.compile(r"\s*([0-9]+)(?:\.0+|,0{1,2})\s*", re.ASCII)
_COUNTS = (field.name for field in FIELDS if field.kind.whole)
_WHOLE_NUMBERS = frozenset(("volume", "date", *_COUNTS))
_FLAGS = frozenset((*(field.name for field in FIELDS if field.kind.flag), "apart"))
_FLAG = {"true": "yes", "false": "no", "1": "yes", "0": "no", "1.0": "yes", "0.0": "no"}
_NOTHING = ("NAType", "NaTType")  # what dataframes hold where nothing is

_WHOLE = 2.0**53  # up to here a float holds every whole number
_LISTS = frozenset(field.name for field in FIELDS if field.kind.listed)
_PAIR = re.compile(r"([0-9]+),([0-9]{1,2})(?![0-9]).*", re.ASCII)
_OF_BACK = frozenset(field.name for field in FIELDS if field.part == "spine")
_OF_CALL_NUMBER = frozenset(field.name for field in FIELDS if field.part == "call_number")
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
    return _of_role(name, _plain(value)) if name in ROLES else _plain(value)


def _of_role(role: str, number: float | None) -> str | float | None:
    """A whole number as its figures, but for one of which it is asked whether it was 020."""
    if number is None or not isinstance(number, int):
        return number
    return number if role == Role.CALL_NUMBER and number < _LEAST_CLASS else str(number)


_LEAST_CLASS = 100  # a Dewey class has three figures


def with_unit(value: object, unit: str) -> object:
    """A value whose column says a unit: bare figures in that, others as they are.

    >>> with_unit("0,9", "cm"), with_unit(20, "in"), with_unit("9mm", "cm"), with_unit("2x3", "cm")
    ('0,9cm', '20in', '9mm', '2x3cm')
    """
    if not unit or isinstance(value, bool) or not isinstance(value, str | int | float):
        return value
    text = str(value).strip()
    own = any((char.isalpha() and char not in "xX") or char in _INCHES for char in text)
    return value if own else f"{text}{unit}"


_INCHES = "\"″”'′"


def _listed(value: object) -> object:
    """An array of another library as the list it holds."""
    as_list = getattr(value, "tolist", None)
    return as_list() if callable(as_list) else value


def _plain(value: Real) -> int | float | None:
    if isinstance(value, Integral):
        return int(value)
    try:  # as it is written, since one of fewer bits is 9.2 and not 9.19999980926514
        number = float(str(value))
    except ValueError:
        number = float(value)
    if math.isnan(number):  # where nothing is given
        return None
    return int(number) if number.is_integer() and abs(number) < _WHOLE else number


def refuse_either(name: str, cell: str) -> None:
    """Refuse a list of figures of which a comma may part two or begin the decimals of one.

    Args:
        name: what its column means.
        cell: as it stands in a table whose cells no comma parts.

    Raises:
        UnitError: two figures, or one with decimals: a list that falls is no list.

    >>> refuse_either("sizes", "10,12")
    """
    pair = _PAIR.fullmatch(cell.strip()) if name in _LISTS and ";" not in cell else None
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
    elif GIVES_A_WIDTH & given.keys():
        aside |= {"panel"}
    aside |= said_otherwise(given)
    if "call-number" not in cells and given.get("role", defaults.get("role")) != "call-number":
        aside |= _OF_CALL_NUMBER  # of rows that have one
    if _ROUNDS & given.keys():
        aside |= _ROUNDS
    kept = {name: value for name, value in defaults.items() if name not in aside}
    return {**kept, **given}


def label_texts(
    cells: Mapping[str, object], pattern: Iterable[Mapping[str, object]] = ()
) -> list[dict[str, object]]:
    """The ``[[text]]`` tables of one label that holds the texts of a row.

    Args:
        cells: what the row gives, by the meaning of its columns.
        pattern: the tables of a job file, whose order, sizes and rules hold for every row; a
            text that the row does not give is left out, with a rule that would then part nothing.

    >>> pattern = [{"role": "author"}, {"role": "rule"}, {"role": "title"}, {"role": "date"}]
    >>> row = {"date": "1889", "title": "Tides", "volume": "2"}
    >>> [table["text"] for table in label_texts(row, pattern)]
    ['Tides', '2', '1889']
    """
    left = {role: cells[role] for role in ROLES if role in cells}
    found: list[dict[str, object]] = []
    for table in pattern:
        role = str(table.get("role"))
        if role in left:
            found.append({**table, "text": left.pop(role)})
        elif role == "rule" and found and found[-1]["role"] != "rule":
            found.append(dict(table))
    for role, text in left.items():  # in the order of custom, before what comes after it
        later = ROLES[ROLES.index(role) + 1 :]
        places = (at for at, table in enumerate(found) if table["role"] in later)
        found.insert(next(places, len(found)), {"role": role, "text": text})
    while found and found[-1]["role"] == "rule":
        found.pop()
    return found
