"""Which fields of a record is anybody going to read?

A record whose fields are worked out when they are first read: most readers of a title's report read
its verdict and its answer. It equals, hashes and pickles by all of its fields, and stays as it is.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Self


class OnNeed:
    """A record of fields that are worked out when they are first read."""

    _fields = tuple[str, ...]()

    def __init__(self, read: Callable[[str], object] | None, **fields: object) -> None:
        """Fields that are known, and ``read``, which gives others by their names; None for all."""
        self.__dict__.update(fields, _read=read)

    if not TYPE_CHECKING:  # a field that is not declared is still an error to a type checker

        def __getattr__(self, name: str) -> object:
            # Asked only for what is not there yet.
            read = self.__dict__.get("_read")
            if read is None or name not in self._fields:
                remedy = ": spinefit.remedies(report) finds them" if name == "remedies" else ""
                raise AttributeError(f"a report holds no {name}{remedy}")
            found = self.__dict__[name] = read(name)
            return found

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError("a report stays as it is: its _replace gives another")

    def _replace(self, **fields: object) -> Self:
        """The same with other fields."""
        found = type(self)(None)
        found.__dict__.update({**self.__dict__, **fields})
        return found

    def _values(self) -> tuple[object, ...]:
        return tuple([getattr(self, name) for name in self._fields])

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and self._values() == other._values()

    def __hash__(self) -> int:
        return hash(self._values())

    def __getstate__(self) -> dict[str, object]:
        return {"_read": None, **dict(zip(self._fields, self._values(), strict=True))}
