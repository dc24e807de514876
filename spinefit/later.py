"""What need not be worked out before somebody reads it?

A title has a dozen settings, and most readers look at one: what is said of each of the others
is made when it is read. `Later` stands for a tuple and equals, hashes, prints and pickles as
the tuple that it stands for.
"""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar, overload

__all__ = ["Later", "LaterEach"]

Each_co = TypeVar("Each_co", covariant=True)


class _Stands(Sequence[Each_co]):
    """What stands for a tuple."""

    __slots__ = ()

    @abstractmethod
    def _all(self) -> tuple[Each_co, ...]:
        """The tuple."""

    def __iter__(self) -> Iterator[Each_co]:
        return iter(self._all())

    def __eq__(self, other: object) -> bool:
        return self._all() == (other._all() if isinstance(other, _Stands) else other)

    def __hash__(self) -> int:
        return hash(self._all())

    def __repr__(self) -> str:
        return repr(self._all())

    def __reduce__(self) -> tuple[type[tuple[Each_co, ...]], tuple[tuple[Each_co, ...]]]:
        return tuple, (self._all(),)


class Later(_Stands[Each_co]):
    """A tuple that is made when it is first read, and kept.

    Args:
        make: gives what is in it; asked once.

    >>> Later(lambda: "ab") == ("a", "b")
    True
    """

    __slots__ = ("_made", "_make")

    def __init__(self, make: Callable[[], Iterable[Each_co]]) -> None:
        self._make: Callable[[], Iterable[Each_co]] | None = make
        self._made: tuple[Each_co, ...] = ()

    def _all(self) -> tuple[Each_co, ...]:
        make = self._make
        if make is not None:
            self._made = tuple(make())
            self._make = None
        return self._made

    @overload
    def __getitem__(self, at: int) -> Each_co: ...

    @overload
    def __getitem__(self, at: slice) -> tuple[Each_co, ...]: ...

    def __getitem__(self, at: int | slice) -> Each_co | tuple[Each_co, ...]:
        return self._all()[at]

    def __len__(self) -> int:
        return len(self._all())


class LaterEach(_Stands[Each_co]):
    """A tuple of known length, each of its items made when that one is first read, and kept.

    Args:
        count: how many there are.
        make: gives the one at a place; asked once for each.

    >>> LaterEach(3, lambda at: at * 10)[1]
    10
    """

    __slots__ = ("_made", "_make")

    def __init__(self, count: int, make: Callable[[int], Each_co]) -> None:
        self._make = make
        self._made: list[Each_co | _Unmade] = [_UNMADE] * count

    def _at(self, place: int) -> Each_co:
        found = self._made[place]
        if isinstance(found, _Unmade):
            found = self._made[place] = self._make(place)
        return found

    def _all(self) -> tuple[Each_co, ...]:
        return tuple([self._at(place) for place in range(len(self._made))])

    @overload
    def __getitem__(self, at: int) -> Each_co: ...

    @overload
    def __getitem__(self, at: slice) -> tuple[Each_co, ...]: ...

    def __getitem__(self, at: int | slice) -> Each_co | tuple[Each_co, ...]:
        if isinstance(at, slice):
            return self._all()[at]
        return self._at(range(len(self._made))[at])

    def __len__(self) -> int:
        return len(self._made)


class _Unmade:
    """What stands for an item that is not made yet."""


_UNMADE = _Unmade()
