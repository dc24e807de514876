"""Which method do words mean? Asked where no method has them as its key.

In: what was typed, and the name of each method by its key, a binder's own ones too. Out: a key.
Case, hyphens and articles are forgiven; words that mean several methods are never guessed at, nor
is a word alone: the methods that have it are named.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from spinefit.errors import FieldError, nearest


def method_meant(wanted: str, names: Mapping[str, str]) -> str:
    """The key of the method that words mean: its key, its name, or two words or more of one.

    Args:
        wanted: what was typed.
        names: by key the name of each method that may be meant.

    Raises:
        FieldError: none, the nearest is offered; or more than one, they are named.

    >>> method_meant("Blocked leather", {"leather-label": "foil-blocked leather label"})
    'leather-label'
    """
    words = _words(wanted)
    ways = {key: (_words(key), _words(name)) for key, name in names.items()}
    found = [key for key, (own, _name) in ways.items() if words == own]
    found = found or [key for key, (_own, name) in ways.items() if words == name]
    if not found and len(words) > 1:
        found = [key for key, both in ways.items() if any({*words} <= {*way} for way in both)]
    if len(found) == 1:
        return found[0]
    if not found and len(words) == 1:
        found = [
            key for key, (own, name) in ways.items()
            if any(word.startswith(words[0]) for word in (*own, *name))
        ]  # fmt: skip
    if len(found) > 1:
        choices = ", ".join(f"{key} ({names[key]})" for key in found)
        raise FieldError("more than one such method", value=wanted, remedy=f"name one: {choices}")
    like = found[0] if found else nearest(wanted, names) or nearest(wanted, names.values())
    hint = f"did you mean '{like}'?" if like else f"known methods: {', '.join(names)}"
    raise FieldError("no such method", value=wanted, remedy=hint)


def _words(text: str) -> list[str]:
    return [word for word in re.split(r"[\W_]+", text.casefold()) if word not in ("", "a", "an")]
