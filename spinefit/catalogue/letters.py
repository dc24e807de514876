"""What does Unicode say of single characters that Python and HarfBuzz do not?

Which letters of other scripts look like one of ours (Unicode Technical Standard #39). Loaded
only for titles that are not plain; the data files name where they were taken from.
"""

from __future__ import annotations

from functools import lru_cache

from spinefit.catalogue.tables import DATA, read_lines

__all__ = ["lookalikes"]


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
