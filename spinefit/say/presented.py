"""What does a report give of itself at a prompt, in a notebook, to a program?

In: a report of any kind. Out: dictionaries, JSON, one line, a page. The rooms that make these stand
further on, so they are asked by way of the package's front door, which loads them then: this module
alone asks it, and imports nothing.
"""

from __future__ import annotations

TYPE_CHECKING = False  # as in typing, which is not loaded for it
if TYPE_CHECKING:
    from typing import Any


class Presented:
    """A report as a person or a program meets it."""

    __slots__ = ()

    def to_dict(self) -> dict[str, Any]:
        """The report as dictionaries, lists, texts and numbers, as ``--format json`` has it."""
        found: dict[str, Any] = _front_door()._to_dict(self)
        return found

    def to_json(self) -> str:
        """The report as JSON text, byte for byte what ``--format json`` writes."""
        return str(_front_door()._to_json(self))

    def __repr__(self) -> str:
        return str(_front_door()._in_short(self))

    def _repr_html_(self) -> str:
        """The drawing, the answer and what to mind, as a notebook shows them."""
        return str(_front_door()._notebook_html(self))


def _front_door() -> Any:
    import spinefit

    return spinefit
