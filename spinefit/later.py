"""What need not be worked out before somebody reads it?

A title has a dozen settings, and most readers look at one: what is said of each of the others
is made when it is read. `Later` stands for a tuple and equals, hashes, prints and pickles as
the tuple that it stands for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar, overload

__all__ = ["Later"]

Each_co = TypeVar("Each_co", covariant=True)


class Later(Sequence[Each_co]):
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
        if self._make is not None:
            self._made = tuple(self._make())
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

    def __iter__(self) -> Iterator[Each_co]:
        return iter(self._all())

    def __eq__(self, other: object) -> bool:
        return self._all() == (other._all() if isinstance(other, Later) else other)

    def __hash__(self) -> int:
        return hash(self._all())

    def __repr__(self) -> str:
        return repr(self._all())

    def __reduce__(self) -> tuple[type[tuple[Each_co, ...]], tuple[tuple[Each_co, ...]]]:
        return tuple, (self._all(),)
