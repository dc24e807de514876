"""What does each column of a table mean?

In: the names in a heading. Out: for each column its field, text of the back or other meaning, or
that it is carried along; an unknown name is refused with the nearest, since a slip would be taken
for a remark. What its cells say is for `cells`.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from typing import NamedTuple

from spinefit.batch.model import RESULT_COLUMNS, columns_of_text
from spinefit.errors import FieldError, nearest
from spinefit.job.fields import FIELDS
from spinefit.plan.model import PLANNED

CARRIED = ("id", "isbn", "shelfmark", "barcode", "note")
"""Columns that are carried along to the results without being asked for."""

ROLES = tuple(str(role) for role in PLANNED)
"""Columns that hold a text of the back."""

FIELD_NAMES = frozenset(field.name for field in FIELDS)
"""Columns that are fields of a job."""

KNOWN = (*ROLES, *(field.name for field in FIELDS), "set", "label", "order", "relation", "apart",
         "serial")  # fmt: skip
"""What a column can mean."""

_MEASURED = ("LENGTH", "WxH", "SIZE")
MEASURES = frozenset(field.name for field in FIELDS if field.kind.metavar in _MEASURED)
"""Columns of lengths and sizes, single ones and rectangles."""

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
