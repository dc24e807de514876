"""What does each column of the table mean?

In: the names in its heading. Out: for each its field, text of the back or other meaning, or
that it is carried along. Case, spaces and underscores are forgiven; an unknown name is refused
with the nearest known one, since a slip would otherwise be taken for a remark.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from typing import NamedTuple

from spinefit.batch.model import RESULT_COLUMNS
from spinefit.errors import FieldError, nearest
from spinefit.job.fields import FIELDS
from spinefit.plan.model import Role

__all__ = [
    "CARRIED", "EVERY", "KNOWN", "ON_COMMAND_LINE", "ROLES", "Columns", "meaning_of",
    "plain_name", "refuse_clash", "use_of",
]  # fmt: skip

CARRIED = ("id", "isbn", "shelfmark", "barcode", "note")
"""Columns that are carried along to the results without being asked for."""

ROLES = tuple(str(role) for role in Role)
"""Columns that hold a text of the back."""

KNOWN = (*ROLES, *(field.name for field in FIELDS), "set", "label", "order", "relation")
"""What a column can mean."""
_MOST = 1000
EVERY = "all"
"""Among the names to keep: every unknown one."""

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
            keep: further columns to carry along, ``all`` for every unknown one; None where
                the command carries none.
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
        for at, name in enumerate(heading):
            if not any(map(plain_name, heading[at:])):  # as spreadsheets leave them behind
                names.append("")
                continue
            try:
                goes_along, meaning = use_of(name, wanted, every=every, carry=carry)
            except FieldError as fault:
                raise fault.at(f"{where}: column {at + 1}") from None
            names.append(meaning)
            if goes_along:
                kept.append(at)
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
        every: whether unknown columns are carried along too.
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
    asked = plain in wanted
    try:
        return asked, meaning_of(name, carry=carry)
    except FieldError:
        if asked or every:
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


def _refuse_twice(heading: Sequence[str], where: str) -> None:
    if len(heading) > _MOST:
        raise FieldError(f"{len(heading)} columns", where=where, remedy=f"at most {_MOST}")
    seen: dict[str, int] = {}
    for at, name in enumerate(heading, 1):
        plain = plain_name(name)
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
