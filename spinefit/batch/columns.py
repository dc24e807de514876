"""What does each column of the table mean?

In: the names in its heading. Out: for each its field, text of the back or other meaning, or
that it is carried along. Case, spaces and underscores are forgiven; an unknown name is refused
with the nearest known one, since a slip would otherwise be taken for a remark.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from spinefit.batch.model import RESULT_COLUMNS
from spinefit.errors import FieldError, nearest
from spinefit.job.fields import FIELDS
from spinefit.plan.model import Role

__all__ = ["CARRIED", "FIGURES", "ROLES", "Columns", "meaning_of"]

CARRIED = ("id", "isbn", "shelfmark", "barcode", "note")
"""Columns that are carried along to the results without being asked for."""

ROLES = tuple(str(role) for role in Role)
"""Columns that hold a text of the back."""

FIGURES = frozenset(
    field.name
    for field in FIELDS
    if field.metavar in ("LENGTH", "WxH", "WxH@D", "SIZE", "RATIO", "DEGREES", "EM")
)
"""Columns of figures in which a comma parts no list."""

_KNOWN = (*ROLES, *(field.name for field in FIELDS), "set", "label", "order", "relation")
_MOST = 1000
EVERY = "all"  # --keep all


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
            FieldError: a name twice, empty or unknown, no title, or nothing by such a name to
                carry along.

        >>> Columns.of(["Shelfmark", "TITLE", "Band_Height"], where="books.csv").names
        ('', 'title', 'band-height')
        """
        _refuse_twice(heading, where)
        wanted = {_plain(name): name for name in keep or ()}
        every = EVERY in wanted and EVERY not in map(_plain, heading)
        names, kept = [], []
        for at, name in enumerate(heading):
            plain = _plain(name)
            asked = wanted.pop(plain, None) is not None
            if asked or plain in CARRIED:
                kept.append(at)
            try:
                known = "" if plain in CARRIED else meaning_of(name, carries=keep is not None)
            except FieldError as fault:
                known = ""
                if every:
                    kept.append(at)
                elif not asked:
                    raise fault.at(f"{where}: column {at + 1}") from None
            names.append(known)
        if every:
            wanted.pop(EVERY)
        if wanted:
            raise FieldError(
                "no such column to keep", value=next(iter(wanted.values())), where="--keep",
                remedy=f"the table has {', '.join(heading[:_FEW])}",
            )  # fmt: skip
        if "title" not in names:
            raise FieldError(
                "no column 'title'", where=where,
                remedy="the first line names the columns, such as: title,width,height",
            )  # fmt: skip
        found = cls(tuple(names), tuple(kept), tuple(heading[at] for at in kept))
        _refuse_clash(found, where)
        return found


_FEW = 12


def meaning_of(name: str, *, carries: bool = True) -> str:
    """The field, text or other meaning of a column.

    Args:
        name: as typed.
        carries: whether another column could be carried along, for the message.

    Raises:
        FieldError: it has none; the nearest name is offered.

    >>> meaning_of("Method_File")
    'method-file'
    """
    plain = _plain(name)
    if plain in _KNOWN:
        return plain
    if not plain:
        raise FieldError("a column without a name", remedy="name it in the first line")
    like = nearest(plain, _KNOWN)
    if carries:
        offer = f"did you mean '{like}'? otherwise" if like else "to carry it along"
        remedy = f"{offer} give --keep '{name}'"
    else:
        remedy = f"did you mean '{like}'?" if like else "leave it out"
    raise FieldError("no column of that name is known", value=name, remedy=remedy)


def _plain(name: str) -> str:
    return "-".join(name.strip().casefold().replace("_", " ").replace("-", " ").split())


def _refuse_twice(heading: Sequence[str], where: str) -> None:
    if len(heading) > _MOST:
        raise FieldError(f"{len(heading)} columns", where=where, remedy=f"at most {_MOST}")
    seen: dict[str, int] = {}
    for at, name in enumerate(heading, 1):
        plain = _plain(name)
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


def _refuse_clash(found: Columns, where: str) -> None:
    """A column carried along must not bear the name of a result."""
    results = {_plain(name) for name in RESULT_COLUMNS}
    for at, name in zip(found.kept, found.kept_names, strict=True):
        if _plain(name) in results:
            raise FieldError(
                "the results have a column of that name", value=name,
                where=f"{where}: column {at + 1}", remedy="rename it, or do not keep it",
            )  # fmt: skip
