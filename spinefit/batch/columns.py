"""What does each column of a table mean, and what does a cell of it say?

In: the names in a heading, and cells: of a CSV, of JSON, or what a dataframe or Parquet hands over.
Out: for each column its field, text of the back or other meaning, or that it is carried along;
an unknown name is refused with the nearest, since a slip would be taken for a remark. For each
cell a text, number or list as the fields of a job are read from; None where nothing is given.
Text of a back stands on one line: line breaks and tabs part its words. A whole number there is
its figures: volume 3. Where semicolons or tabs separate the cells, a comma in a list of figures
may begin decimals as well: such a list is refused. A call number is its text.
"""

from __future__ import annotations

import math
import re
from collections.abc import Container, Iterable, Mapping, Sequence
from decimal import Decimal
from numbers import Integral, Real
from typing import NamedTuple

from spinefit.batch.model import RESULT_COLUMNS, columns_of_text
from spinefit.errors import FieldError, UnitError, nearest
from spinefit.job.bulk import said_otherwise
from spinefit.job.fields import FIELDS, GIVES_A_WIDTH
from spinefit.plan.model import PLANNED

CARRIED = ("id", "isbn", "shelfmark", "barcode", "note")
"""Columns that are carried along to the results without being asked for."""

ROLES = tuple(str(role) for role in PLANNED)
"""Columns that hold a text of the back."""

FIELD_NAMES = frozenset(field.name for field in FIELDS)
"""Columns that are fields of a job."""

KNOWN = (*ROLES, *(field.name for field in FIELDS), "set", "label", "order", "relation", "apart")
"""What a column can mean."""

_MOST = 1000  # columns: more than a spreadsheet of books has

EVERY = "all"
"""Among the names to keep: every column, those that mean something too."""

ON_COMMAND_LINE = "--keep '{}'"
"""How a command carries a further column along."""


class Columns(NamedTuple):
    """The heading of a table, understood.

    Attributes:
        names: what each column means; "" for one that is only carried along or left out.
        kept: places of the columns carried along.
        kept_names: their names as typed.
    """

    names: tuple[str, ...]
    kept: tuple[int, ...]
    kept_names: tuple[str, ...]

    @classmethod
    def of(cls, heading: Sequence[str], *, keep: Iterable[str] | None = (), where: str) -> Columns:
        """The columns of a heading.

        Args:
            heading: names as typed.
            keep: further columns to carry along, ``all`` for every one; None where the command
                carries none.
            where: the file, for messages.

        Raises:
            FieldError: a name twice, unknown, or empty before another; no title; nothing by such
                a name to carry along.

        >>> Columns.of(["Shelfmark", "TITLE", "Band_Height"], where="books.csv").names
        ('', 'title', 'band-height')
        """
        _refuse_twice(heading, where)
        wanted = {plain_name(name): name for name in keep or ()}
        every = EVERY in wanted and EVERY not in map(plain_name, heading)
        if every:
            wanted.pop(EVERY)
        carry = None if keep is None else ON_COMMAND_LINE
        names, kept = [], []
        answers = earlier_answers(heading)
        for at, name in enumerate(heading):
            left_behind = not any(map(plain_name, heading[at:]))  # by a spreadsheet
            if left_behind or (at in answers and plain_name(name) not in wanted):
                names.append("")
                continue
            try:
                goes_along, meaning = use_of(name, wanted, every=every, carry=carry)
            except FieldError as fault:
                raise fault.at(f"{where}: column {at + 1}") from None
            names.append(meaning)
            if goes_along:
                kept.append(at)
                if not (every and meaning):
                    refuse_clash(name, f"{where}: column {at + 1}")
        missing = wanted.keys() - {plain_name(name) for name in heading}
        if missing:
            raise FieldError(
                "no such column to keep", where="--keep",
                value=next(typed for plain, typed in wanted.items() if plain in missing),
                remedy=f"the table has {', '.join(heading[:_FEW])}",
            )  # fmt: skip
        if "title" not in names:
            raise FieldError(
                "no column 'title'", where=where,
                remedy="the first line names the columns, such as: title,width,height",
            )  # fmt: skip
        return cls(tuple(names), tuple(kept), tuple(heading[at] for at in kept))


_FEW = 12


def use_of(
    name: str, wanted: Container[str], *, every: bool, carry: str | None
) -> tuple[bool, str]:
    """Whether a column is carried along, and what it means; "" for nothing to the check.

    Args:
        name: as typed.
        wanted: plain names of columns to carry along.
        every: whether all columns are carried along.
        carry: how another column could be carried along, for the message; see `meaning_of`.

    Raises:
        FieldError: nothing is known by that name.

    >>> use_of("ISBN", (), every=False, carry=None)
    (True, '')
    >>> use_of("Width", ["width"], every=False, carry=None)
    (True, 'width')
    """
    plain = plain_name(name)
    if plain in CARRIED:
        return True, ""
    asked = every or plain in wanted
    try:
        return asked, meaning_of(name, carry=carry)
    except FieldError:
        if asked:
            return True, ""
        raise


def meaning_of(name: str, *, carry: str | None = None) -> str:
    """The field, text or other meaning of a column.

    Args:
        name: as typed.
        carry: how another column could be carried along, with {} for its name, for the
            message; None where it cannot.

    Raises:
        FieldError: it has none; the nearest name is offered.

    >>> meaning_of("Method_File")
    'method-file'
    """
    plain = plain_name(name)
    if plain in KNOWN:
        return plain
    if not plain:
        raise FieldError("a column without a name", remedy="name it in the first line")
    like = nearest(plain, KNOWN)
    if carry is None:
        remedy = f"did you mean '{like}'?" if like else "leave it out"
    else:
        offer = f"did you mean '{like}'? otherwise" if like else "to carry it along"
        remedy = f"{offer} give {carry.format(name)}"
    raise FieldError("no column of that name is known", value=name, remedy=remedy)


def plain_name(name: str) -> str:
    """A column's name without what is forgiven.

    >>> plain_name(" Band_Height "), plain_name("ISBN")
    ('band-height', 'isbn')
    """
    return "-".join(name.strip().casefold().replace("_", " ").replace("-", " ").split())


def further_texts(meanings: Iterable[str]) -> tuple[str, ...]:
    """Which texts beside the title stand in columns that mean this.

    >>> further_texts(["date", "width", "title", "author"])
    ('author', 'date')
    """
    found = set(meanings)
    return tuple(role for role in ROLES if role in found and role != "title")


def refuse_clash(name: str, where: str = "") -> None:
    """Refuse to carry along a column of the name of a result.

    Raises:
        FieldError: the results have one of that name.
    """
    if plain_name(name) in _RESULTS:
        raise FieldError(
            "the results have a column of that name", value=name, where=where,
            remedy="rename it, or do not keep it",
        )  # fmt: skip


_RESULTS = frozenset(map(plain_name, RESULT_COLUMNS))
_ANSWERED = ("verdict", "largest-pt")  # no list of books has these of its own


def earlier_answers(heading: Sequence[str]) -> frozenset[int]:
    """Places of the columns that an earlier run has written beside its rows, from 0.

    Such a column says nothing of the book, though `lines` or `reading` are names of fields too:
    it is passed over, and written anew.

    >>> sorted(earlier_answers(["line", "title", "lines", "verdict", "largest_pt", "lines"]))
    [0, 3, 4, 5]
    """
    plain = [plain_name(name) for name in heading]
    if not all(name in plain for name in _ANSWERED):
        return frozenset()
    begin = plain.index(_ANSWERED[0])
    ours = _RESULTS.union(*(map(plain_name, columns_of_text(role)) for role in ROLES))
    places = (at for at, name in enumerate(plain) if name in ours and at > begin)
    return frozenset((begin, *places, *(at for at in range(begin) if plain[at] == "line")))


def _refuse_twice(heading: Sequence[str], where: str) -> None:
    if len(heading) > _MOST:
        raise FieldError(f"{len(heading)} columns", where=where, remedy=f"at most {_MOST}")
    seen: dict[str, int] = {}
    answers = earlier_answers(heading)
    for at, name in enumerate(heading, 1):
        plain = "" if at - 1 in answers else plain_name(name)
        if "\0" in name or any("\ud800" <= char <= "\udfff" for char in name):
            raise FieldError(
                "bytes that are no text", value=name, where=f"{where}: column {at}",
                remedy="save the table as UTF-8, or as UTF-16 with its byte order mark",
            )  # fmt: skip
        if plain in seen and plain:
            raise FieldError(
                f"a column twice, as number {seen[plain]} and {at}", value=name, where=where,
                remedy="keep one of them",
            )  # fmt: skip
        seen[plain] = at


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
_MEASURED = ("LENGTH", "WxH", "SIZE")
MEASURES = frozenset(field.name for field in FIELDS if field.kind.metavar in _MEASURED)
"""Columns of lengths and sizes, single ones and rectangles."""

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
    number = _plain(value)
    return str(number) if name in ROLES and isinstance(number, int) else number


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
