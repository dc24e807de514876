"""What do the columns of one table mean?

In: its heading, and what was said of its columns. Out: the meaning of each, and which are carried
along; or which line below may be the heading instead. What a row of such a table says.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import NamedTuple

from spinefit.batch.cells import cell_value, refuse_either, with_unit
from spinefit.batch.columns import (
    EVERY,
    RESULTS,
    Naming,
    Use,
    earlier_answers,
    on_one_line,
    parted,
    plain_name,
    said_of_columns,
)
from spinefit.batch.foot import is_remark
from spinefit.batch.model import Fault, Row, TableOptions
from spinefit.errors import FieldError, SpinefitError

_MOST = 1000  # columns: more than a spreadsheet of books has
_FEW = 12
_PASSED_OVER = Use("", carried=False)
_EXAMPLE = "the first line names the columns, such as: title,width,height"
HEADINGS_SOUGHT = 20
"""How many lines below the first are looked at for a heading."""


class Columns(NamedTuple):
    """The heading of a table, understood.

    Attributes:
        names: what each column means; "" for one that is only carried along or left out.
        units: what the bare figures of each are in, or "".
        kept: places of the columns carried along.
        typed: the names of all as typed.
        note: a line about names that are not ours; None without any.
    """

    names: tuple[str, ...]
    units: tuple[str, ...]
    kept: tuple[int, ...]
    typed: tuple[str, ...]
    note: str | None = None

    @classmethod
    def of(cls, heading: Sequence[str], options: TableOptions, where: str) -> Columns:
        """The columns of a heading.

        Args:
            heading: names as typed.
            options: how the table is to be read.
            where: the file and line, for messages.

        Raises:
            FieldError: names unknown, or two for one meaning; no title; nothing by such a name to
                carry along or to say a meaning of.

        >>> Columns.of(["Shelfmark", "TITEL", "Band_Height"], TableOptions(), "books.csv:1").names
        ('', 'title', 'band-height')
        """
        _refuse_no_names(heading, where)
        naming = naming_of(options).over(heading)
        _refuse_missing(naming, heading)
        uses: list[Use] = []
        unknown: list[str] = []
        answers = earlier_answers(heading)
        for at, name in enumerate(heading):
            plain = plain_name(name)
            if not plain or (at in answers and plain not in naming.wanted):
                uses.append(_PASSED_OVER)
                continue
            try:
                uses.append(naming.use_of(name))
            except FieldError:
                unknown.append(name)
                uses.append(_PASSED_OVER)
        if unknown:
            place = f": column {heading.index(unknown[0]) + 1}" if len(unknown) == 1 else ""
            raise naming.unknown(unknown).at(f"{where}{place}")
        _refuse_twice(heading, uses, where)
        names = tuple(use.meaning for use in uses)
        if "title" not in names:
            cure = _which_title(heading) if any(names) and naming.say else _EXAMPLE
            raise FieldError("no column 'title'", where=where, remedy=cure)
        return cls(
            names,
            tuple(use.unit for use in uses),
            tuple(at for at, use in enumerate(uses) if use.carried),
            tuple(heading),
            naming.taken(heading),
        )

    @property
    def kept_names(self) -> tuple[str, ...]:
        """The names of those carried along, as typed."""
        return tuple(self.typed[at] for at in self.kept)

    def row(self, line: int, cells: Sequence[object], texts: Sequence[str], *, comma: bool) -> Row:
        """A row of the table.

        Args:
            line: where it begins.
            cells: what stands in each column: a text or a number, None or blank for nothing.
            texts: the same as it is read.
            comma: whether a comma in a list may begin decimals.
        """
        said: dict[str, object] = {}
        wrong = None
        for name, unit, cell in zip(self.names, self.units, cells, strict=True):
            if not name or cell is None or (isinstance(cell, str) and not cell.strip()):
                continue
            try:
                if comma and isinstance(cell, str):
                    refuse_either(name, cell)
                said[name] = with_unit(cell_value(name, cell), unit)
            except SpinefitError as fault:
                wrong = wrong or Fault(name, str(fault))
        kept = tuple(texts[at] for at in self.kept)
        return Row(line, said, kept, wrong, is_remark(texts, self.names))

    def below_no_name(self, texts: Sequence[str]) -> Fault | None:
        """The fault of a row that has a cell in a column without a name."""
        pairs = enumerate(zip(self.typed, texts, strict=True), 1)
        at = next((at for at, (name, text) in pairs if text.strip() and not plain_name(name)), None)
        if at is None:
            return None
        return Fault("", f"a cell below no name, in column {at}; name it in the heading")


def read_pairs(
    pairs: Iterable[tuple[str, object]], naming: Naming
) -> tuple[dict[str, object], dict[str, object], Fault | None]:
    """What is carried along of a row by name, its cells by what they mean, and the first fault.

    Args:
        pairs: names and values.
        naming: what the names mean.
    """
    carried: dict[str, object] = {}
    cells: dict[str, object] = {}
    unknown: list[str] = []
    seen: set[str] = set()
    wrong = None
    for name, value in pairs:
        plain = plain_name(name)
        try:
            use = naming.use_of(name)
        except FieldError:
            unknown.append(name)
            continue
        if plain in seen or use.meaning in cells:
            wrong = wrong or Fault(name, "a column twice; keep one of them")
            continue
        seen.add(plain)
        if use.carried:
            carried[name] = value
        if use.meaning:
            cells[use.meaning] = with_unit(cell_value(use.meaning, value), use.unit)
    if unknown and wrong is None:
        wrong = Fault(unknown[0], str(naming.unknown(unknown)))
    return carried, cells, wrong


def naming_of(options: TableOptions) -> Naming:
    """What was said of the names of a table."""
    wanted = {plain_name(name): name for name in options.keep or ()}
    said = said_of_columns(options.columns)
    if options.keep is None:
        return Naming(wanted, said=said, say="--column '{}=note' to pass it over")
    return Naming(wanted, said=said, carry="--keep '{}'", say="--column '{}=NAME'")


@contextmanager
def heading_sought(
    rows: Iterable[tuple[int, Sequence[str]]], options: TableOptions
) -> Iterator[None]:
    """While it lasts, the fault of a row without a title names the one below that has it.

    Args:
        rows: line and cells of the row, and of those below.
        options: how the table is to be read.
    """
    try:
        yield
    except FieldError as fault:
        known = [(line, _meant(names, options)) for line, names in rows]
        titled = [line for line, meant in known if "title" in meant]
        likely = titled or [line for line, meant in known if len(meant) > 1]
        if likely and likely[0] != known[0][0]:
            fault.remedy = f"line {likely[0]} may be the heading: give --heading-row {likely[0]}"
        raise


def has_title(names: Sequence[str], options: TableOptions) -> bool:
    """Whether the cells of a row name the column of titles, among others."""
    return "title" in _meant(names, options)


def _meant(names: Sequence[str], options: TableOptions) -> set[str]:
    """What the cells of a row mean that name a column."""
    naming = naming_of(options._replace(keep=(EVERY,))).over(names)
    return {naming.use_of(name).meaning for name in names if plain_name(name)} - {""}


def _which_title(names: Iterable[str]) -> str:
    """How to say which of the other columns of a heading has the titles."""
    likely = next((name for name in names if "tit" in name.casefold()), "NAME")
    return f"say which column has them: --column '{on_one_line(likely)}=title'"


def _refuse_no_names(heading: Sequence[str], where: str) -> None:
    if len(heading) > _MOST:
        raise FieldError(f"{len(heading)} columns", where=where, remedy=f"at most {_MOST}")
    for at, name in enumerate(heading, 1):
        if "\0" in name or any("\ud800" <= char <= "\udfff" for char in name):
            raise FieldError(
                "bytes that are no text", value=name, where=f"{where}: column {at}",
                remedy="save the table as UTF-8, or say its --encoding",
            )  # fmt: skip


def _refuse_missing(naming: Naming, heading: Sequence[str]) -> None:
    """Refuse a column to keep, or to say a meaning of, that the table does not have."""
    plain = {plain_name(name) for name in heading}
    bulk = {parted(name)[0] for name in plain}
    for option, asked, there in (
        ("--keep", naming.wanted, plain),
        ("--column", {name: name for name in naming.said}, plain | bulk),
    ):
        missing = next((typed for name, typed in asked.items() if name not in there), None)
        if missing is not None:
            raise FieldError(
                "no such column in the table", value=missing, where=option,
                remedy=f"it has {', '.join(heading[:_FEW])}",
            )  # fmt: skip


def _refuse_twice(heading: Sequence[str], uses: Sequence[Use], where: str) -> None:
    """Refuse two columns of one name, or for one meaning."""
    seen: dict[str, int] = {}
    for at, use in enumerate(uses):
        key = use.meaning or (plain_name(heading[at]) if use.carried else "")
        if key and seen.setdefault(key, at) != at:
            one, other = heading[seen[key]], heading[at]
            same = plain_name(one) == plain_name(other)
            left = one if plain_name(other) in RESULTS else other  # its name may be carried along
            raise FieldError(
                f"a column twice, as number {seen[key] + 1} and {at + 1}", where=where,
                value=other if same else f"{one}, {other}",
                remedy="keep one of them" if same else f"carry one along: --column '{left}=note'",
            )  # fmt: skip
