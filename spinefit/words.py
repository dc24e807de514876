"""When are two words the same, in whatever case and accents they are set?

For looking words up in the lists of data/*.toml: case is folded, the dot that Turkish
capitals leave behind is dropped, and Greek loses its accents, as its capitals do.
"""

from __future__ import annotations

import unicodedata

__all__ = ["folded"]

_DOT_ABOVE = "\u0307"


def folded(word: str) -> str:
    """A word as it is compared.

    >>> folded("ΤΗΣ") == folded("τῆς"), folded("İLE")
    (True, 'ile')
    """
    plain = word.casefold()
    if plain.isascii():
        return plain
    plain = plain.replace("i" + _DOT_ABOVE, "i")
    if not any("\u0370" <= char <= "\u03ff" or "\u1f00" <= char <= "\u1fff" for char in plain):
        return plain
    decomposed = unicodedata.normalize("NFD", plain)
    return "".join(char for char in decomposed if not unicodedata.combining(char))
