"""Which saved pattern does a row of a serial have to match?

In: the name of a serial as it stands in a row, and saved patterns by the names of their files. Out:
the one of that name, case, spaces and punctuation being forgiven, since a file cannot have every
character of a title in its name. A serial without one is a fault: nothing is solved in its place.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from typing import TYPE_CHECKING

from spinefit.batch.model import Row, Saved, Settings
from spinefit.errors import FieldError, nearest

if TYPE_CHECKING:
    from spinefit.plan import Pattern

_FORGIVEN = "PZC"  # categories of Unicode: punctuation, spaces, what is not seen
_FEW = 8


def saved_by_name(found: Iterable[tuple[str, Pattern]]) -> dict[str, Saved]:
    """Patterns by the names of their serials without what is forgiven.

    Raises:
        FieldError: two of one name.
    """
    patterns: dict[str, Saved] = {}
    for name, pattern in found:
        other = patterns.setdefault(_plain(name), Saved(name, pattern))
        if other.name != name:
            raise FieldError(
                f"two patterns of one serial, '{other.name}' and", value=name, where="--patterns",
                remedy="keep the one that its volumes have",
            )  # fmt: skip
    return patterns


def pattern_of_row(row: Row, settings: Settings) -> Pattern | None:
    """The pattern that a row has to match; None where it names no serial.

    Args:
        row: the book.
        settings: what holds for every row, among it the saved patterns.

    Raises:
        FieldError: none is saved for its serial; those at hand are named.
    """
    serial, patterns = row.cells.get("serial"), settings.patterns
    if serial is None:
        return None
    if not patterns:
        raise FieldError(
            "no saved pattern is at hand for the serial", value=serial, where="serial",
            remedy="name the folder of the patterns with --patterns",
        )  # fmt: skip
    saved = patterns.get(_plain(str(serial)))
    if saved is not None:
        return saved.pattern
    names = [one.name for one in patterns.values()]
    like = nearest(str(serial), names)
    more = f" and {len(names) - _FEW} more" if len(names) > _FEW else ""
    raise FieldError(
        "no pattern is saved for the serial", value=serial, where="serial",
        remedy=f"{f'did you mean {like!r}? ' if like else ''}there are {', '.join(names[:_FEW])}"
        f"{more}; 'spinefit check --save-pattern' saves one",
    )  # fmt: skip


def _plain(name: str) -> str:
    """A name without what is forgiven.

    >>> _plain("Proceedings: Tides & Shoals"), _plain("proceedings_tides-shoals")
    ('proceedingstidesshoals', 'proceedingstidesshoals')
    """
    folded = unicodedata.normalize("NFKC", name).casefold()
    return "".join(char for char in folded if unicodedata.category(char)[0] not in _FORGIVEN)
