"""What stands in a ``[[text]]`` table, and what are the texts of one label?

In: tables as a job file has them. Out: for each what it says, read; and, where the texts stand on
one label and not on a back, its `Part`s in the order in which they stand. Every fault names the
number of the text, from 1. `spinefit.plan.model` reads those of a back from the same tables.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from spinefit.errors import FaultsAt, FieldError, did_you_mean
from spinefit.job import kinds as kind
from spinefit.job import values as read
from spinefit.job.kinds import fields_of
from spinefit.job.places import CallNumber
from spinefit.job.values import Part
from spinefit.vocabulary import Case, Measure, Role, Ruling

_READERS: dict[str, Callable[[object], Any]] = {
    "role": read.choice(Role),
    "text": read.title,
    "panel": read.count,
    "weight": read.number(),
    "size": read.size_pt,
    "case": read.choice(Case),
    "font": read.text,
    "label": read.text,
    "label-size": read.panel,
    "ratio": read.number(),
    "rule": read.choice(Ruling),
    "measure": read.choice(Measure),
    "lines-up": kind.LIFTS.read,
    "lines-tracking": kind.TRACKINGS.read,
}
_ATTRIBUTES = {
    "size": "size_pt", "label-size": "label_size_mm", "lines-up": "lines_up_mm",
    "lines-tracking": "lines_tracking",
}  # fmt: skip
"""Where it is not the key."""
_OF_A_RULE, _OF_A_LABEL = ("rule", "measure"), ("ratio", "rule", "measure")
_OF_A_BACK = ("panel", "weight", "label", "label-size")
_OF_CALL_NUMBERS = frozenset(field.name for field in fields_of(CallNumber, "call_number"))
_EXAMPLES = {"role": 'role = "title"', "text": 'text = "Tide Tables"'}


def text_of_back(table: Mapping[str, object], here: str) -> dict[str, Any]:
    """What a table says of a text on a back, by attribute.

    Args:
        table: as the file has it.
        here: the file and the number of the text.

    Raises:
        FieldError: an unknown key, one that only a label knows, or a value that cannot be read.
    """
    _refuse(table, _OF_A_LABEL, here, "belongs to the texts of one label", "give the label itself")
    return _said(table, here, needs=("role", "text"))


def parts_of(tables: Sequence[Mapping[str, object]], file: str) -> tuple[Part, ...]:
    """The texts and rules of one label.

    Args:
        tables: in the order in which they stand.
        file: its name, for messages.

    Raises:
        FieldError: as of `text_of_back`, or a key that only a text on a back or a rule knows.
    """
    return tuple(_part(table, f"{file}: text {at}") for at, table in enumerate(tables, 1))


def _part(table: Mapping[str, object], here: str) -> Part:
    _refuse(
        table, _OF_A_BACK, here, "belongs to the texts of a back",
        "on one label they stand in their order: leave it out",
    )  # fmt: skip
    if table.get("role") == Role.RULE:
        others = tuple(key for key in table if key not in ("role", *_OF_A_RULE))
        _refuse(table, others, here, "belongs to a text, not to a rule", "leave it out")
        return Part(**_said(table, here, needs=("role",)))
    _refuse(table, _OF_A_RULE, here, "belongs to a rule", 'leave it out, or give role = "rule"')
    return Part(**_said(table, here, needs=("role", "text")))


def _refuse(
    table: Mapping[str, object], keys: Sequence[str], here: str, fault: str, remedy: str
) -> None:
    for key in keys:
        if key in table and key in _READERS:
            raise FieldError(f"'{key}' {fault}", value=table[key], where=here, remedy=remedy)


def _said(table: Mapping[str, object], here: str, *, needs: Sequence[str]) -> dict[str, Any]:
    """The values of a table by attribute, each read by its key's reader."""
    for key in table:
        if key not in _READERS:
            if key in _OF_CALL_NUMBERS:
                raise FieldError(
                    "no such key of a text", value=key, where=here,
                    remedy="it holds for call numbers: put it at the top of the job",
                )  # fmt: skip
            hint = did_you_mean(key, _READERS, otherwise=f"a text has {', '.join(_READERS)}")
            raise FieldError("no such key of a text", value=key, where=here, remedy=hint)
    for key in needs:
        if key not in table:
            raise FieldError(f"no {key} given", where=here, remedy=f"such as {_EXAMPLES[key]}")
    said = {}
    for key, value in table.items():
        with FaultsAt(f"{here}: {key}"):
            said[_ATTRIBUTES.get(key, key)] = _READERS[key](value)
    return said
