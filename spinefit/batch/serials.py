"""Which saved pattern does a row of a serial have to match?

In: the name of a serial as it stands in a row, and saved patterns by the names of their files. Out:
the one of that name, case, spaces and punctuation being forgiven, since a file cannot have every
character of a title in its name. A serial without one is a fault: nothing is solved in its place.
"""

from __future__ import annotations

import unicodedata
from functools import cache
from itertools import islice
from typing import TYPE_CHECKING

from spinefit.batch.model import Row, Settings
from spinefit.errors import FieldError, nearest

if TYPE_CHECKING:
    from spinefit.plan import Pattern

_FORGIVEN = "PZC"  # categories of Unicode: punctuation, spaces, what is not seen
_FEW = 8


def pattern_of_row(row: Row, settings: Settings) -> Pattern | None:
    """The pattern that a row has to match; None where it names no serial.

    Args:
        row: the book.
        settings: what holds for every row, among it the saved patterns.

    Raises:
        FieldError: none is saved for its serial, those at hand being named; or two are.
    """
    serial, patterns = row.cells.get("serial"), settings.patterns
    if serial is None:
        return None
    if not patterns:
        raise FieldError(
            "no saved pattern is at hand for the serial", value=serial, where="serial",
            remedy="name the folder of the patterns with --patterns",
        )  # fmt: skip
    found = [name for name in patterns if _plain(name) == _plain(str(serial))]
    if len(found) == 1:
        return patterns[found[0]]
    if found:
        raise FieldError(
            f"{len(found)} patterns are saved for the serial", value=serial, where="serial",
            remedy=f"keep one of {', '.join(found)}",
        )  # fmt: skip
    like = nearest(str(serial), patterns)
    more = f" and {len(patterns) - _FEW} more" if len(patterns) > _FEW else ""
    raise FieldError(
        "no pattern is saved for the serial", value=serial, where="serial",
        remedy=f"{f'did you mean {like!r}? ' if like else ''}there are "
        f"{', '.join(islice(patterns, _FEW))}{more}; 'spinefit check --save-pattern' saves one",
    )  # fmt: skip


@cache
def _plain(name: str) -> str:
    """A name without what is forgiven.

    >>> _plain("Proceedings: Tides & Shoals"), _plain("proceedings_tides-shoals")
    ('proceedingstidesshoals', 'proceedingstidesshoals')
    """
    folded = unicodedata.normalize("NFKC", name).casefold()
    return "".join(char for char in folded if unicodedata.category(char)[0] not in _FORGIVEN)
