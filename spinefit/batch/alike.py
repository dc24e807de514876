"""Which rows have the same fault, and what is said of them in the end?

In: faults as they come. Out: those to be told at once, the first few of a kind; and a line for
each kind of which more came. A kind is a column and what was wrong there: the value, what to do and
every figure are left out, so that a unit mistyped in 2,000 rows is one kind however they differ.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from spinefit.batch.model import Fault

_TOLD = 3  # of a kind: what is wrong is seen by then
_LINES_NAMED = 8
_MOST_KINDS = 50  # told apart, so that neither memory nor a screen fills up
_OTHERS = "other faults"
_FIGURE = re.compile(r"[-+]?[0-9]+(?:[.,][0-9]+)*")


class Alike(NamedTuple):
    """Rows with faults of one kind.

    Attributes:
        rows: how many.
        lines: where the first of them begin.
    """

    rows: int
    lines: tuple[int, ...]


def kind_of(fault: Fault) -> str:
    """What was wrong and in which column, whatever the value.

    >>> kind_of(Fault("width", "no unit 'mn' here: '9mn'; did you mean 'mm'? use mm, cm, in or pt"))
    "column 'width': no unit 'mn' here"
    >>> kind_of(Fault("", "3 cells where the heading has 4; end every cell, an empty one too"))
    '… cells where the heading has …'
    """
    what = re.split(": '|;", fault.text, maxsplit=1)[0]
    return fault._replace(text=_FIGURE.sub("…", what)).line


def gathered(
    kinds: Mapping[str, Alike], faults: Iterable[tuple[int, Fault]]
) -> tuple[dict[str, Alike], list[tuple[int, Fault]]]:
    """The kinds with more faults counted, and those of them that are told at once.

    Args:
        kinds: what came before.
        faults: line and fault.
    """
    found, told = dict(kinds), []
    for line, fault in faults:
        kind = kind_of(fault)
        if kind not in found and len(found) >= _MOST_KINDS:
            kind = _OTHERS
        count, lines = found.get(kind, Alike(0, ()))
        if count < _TOLD:
            told.append((line, fault))
        found[kind] = Alike(count + 1, (*lines, line)[:_LINES_NAMED])
    return found, told


def untold(kinds: Mapping[str, Alike]) -> Iterator[str]:
    """A line for each kind of which not every fault was told.

    >>> list(untold({"no number": Alike(2000, (2, 3, 4, 7)), "no title": Alike(1, (9,))}))
    ['no number: 2000 rows, lines 2, 3, 4, 7 and 1996 more']
    """
    for kind, (count, lines) in kinds.items():
        if count > _TOLD:
            more = f" and {count - len(lines)} more" if count > len(lines) else ""
            yield f"{kind}: {count} rows, lines {', '.join(map(str, lines))}{more}"
