"""What does Unicode say of single characters that Python and HarfBuzz do not?

Which letters of other scripts look like one of ours (Unicode Technical Standard #39), and how
a character stands in a column (Unicode Standard Annex #50). Loaded only for titles that are
not plain; the data files name where they were taken from.
"""

from __future__ import annotations

from bisect import bisect_right
from functools import lru_cache

from spinefit.catalogue.tables import DATA, read_lines

__all__ = ["lookalikes", "vertical_orientation"]


@lru_cache(maxsize=1)
def lookalikes() -> dict[str, frozenset[str]]:
    """For each letter, the letters of other scripts that are drawn like it.

    >>> sorted(lookalikes()["P"])
    ['Ρ', 'Р']
    """
    alike: dict[str, set[str]] = {}
    for line in read_lines(DATA / "lookalikes.txt"):
        letters = line.split()
        for letter in letters:
            alike.setdefault(letter, set()).update(set(letters) - {letter})
    return {letter: frozenset(others) for letter, others in alike.items()}


def vertical_orientation(char: str) -> str:
    """Vertical_Orientation of a character: U, R, Tu or Tr.

    >>> [vertical_orientation(char) for char in "港H、ー"]
    ['U', 'R', 'Tu', 'Tr']
    """
    starts, rows = _orientations()
    at = bisect_right(starts, ord(char)) - 1
    if at < 0:
        return "R"
    end, way = rows[at]
    return way if ord(char) <= end else "R"


@lru_cache(maxsize=1)
def _orientations() -> tuple[list[int], list[tuple[int, str]]]:
    """First code point of each range, and its last with its orientation."""
    rows = [line.split() for line in read_lines(DATA / "vertical_orientation.txt")]
    return (
        [int(start, 16) for start, _end, _way in rows],
        [(int(end, 16), way) for _start, end, way in rows],
    )
