"""Which rows are worked on together, and what does a worker do with them?

In: rows as they come. Out: `Unit`s (a book, or the consecutive rows of one set), chunks of them,
and for a chunk a `Done`: finished text and what to count, so that nothing large travels back
between processes. Rows of a set have to be consecutive, so that no more than one set is ever
held; a set that comes again is refused where it does.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from spinefit.batch.books import Answered, answer_book, answer_set, at_fault
from spinefit.batch.counted import failing
from spinefit.batch.model import Fault, Row, Settings
from spinefit.batch.writing import rows_of
from spinefit.plan.model import LARGEST_SET
from spinefit.say.model import doubts_of, hazards_of
from spinefit.vocabulary import Verdict

_CHUNK_ROWS = 32  # a tenth of a second's work: little to lose, little to pass round
_SETS_REMEMBERED = 100_000  # names of past sets, some megabytes


def units(rows: Iterable[Row]) -> Iterator[Unit]:
    """Books and sets in the order of their rows."""
    past: dict[str, None] = {}
    held: list[Row] = []
    unread: list[Row] = []  # rows behind those held of which nobody can say whose they are
    name = ""
    for row in rows:
        own = str(row.cells.get("set", "")).strip()
        unknown = row.fault is not None and not row.cells  # whose it is
        if held and unknown and len(held) + len(unread) < LARGEST_SET:
            unread.append(row)
            continue
        if held and own == name:
            held += [*unread, row]
        else:
            yield from _left(held, unread, name, past)
            held, name = ([row], own) if own else ([], "")
            if not own:
                yield Unit((row,))
        unread = []
        if len(held) > LARGEST_SET:
            held[-1] = _at_fault(held[-1], f"a set of more than {LARGEST_SET} volumes")
            yield _unit(held, name, past)
            held = []
    yield from _left(held, unread, name, past)


def _left(held: list[Row], unread: list[Row], name: str, past: dict[str, None]) -> Iterator[Unit]:
    """A set that is complete, and the rows behind it that could not be read."""
    if held:
        yield _unit(held, name, past)
    for row in unread:
        yield Unit((row,))


def _unit(rows: list[Row], name: str, past: dict[str, None]) -> Unit:
    if name in past:
        rows = [
            _at_fault(row, "this set was begun and left farther up; put its rows together")
            for row in rows
        ]
        return Unit(tuple(rows))
    past[name] = None
    if len(past) > _SETS_REMEMBERED:
        del past[next(iter(past))]
    return Unit(tuple(rows), name)


def _at_fault(row: Row, text: str) -> Row:
    return row if row.fault is not None else row._replace(fault=Fault("set", text))


def chunks(found: Iterable[Unit]) -> Iterator[list[Unit]]:
    """Units in chunks of some rows; a set stays whole."""
    chunk: list[Unit] = []
    rows = 0
    for unit in found:
        chunk.append(unit)
        rows += len(unit.rows)
        if rows >= _CHUNK_ROWS:
            yield chunk
            chunk, rows = [], 0
    if chunk:
        yield chunk


class Unit(NamedTuple):
    """What is answered together.

    Attributes:
        rows: one book, or the volumes of a set in their order.
        set_name: the set's name, or "".
    """

    rows: tuple[Row, ...]
    set_name: str = ""


class Done(NamedTuple):
    """A chunk that is done.

    Attributes:
        text: its rows as they are written.
        verdicts: the verdict of each row, "" where it is at fault.
        faults: line and fault of the rows at fault.
        hazards: lines about what can hurt in making them, and fonts that are damaged, each once.
        minded: how many rows have something to mind.
        artwork: names and data of the files of artwork of its rows; none unless asked for.
        failed: how many rows fit and yet count as failed by a finding.
        failing: line and reason of all rows that count as failed, where a level was chosen.
    """

    text: str
    verdicts: tuple[str, ...]
    faults: tuple[tuple[int, Fault], ...]
    hazards: tuple[str, ...] = ()
    minded: int = 0
    artwork: tuple[tuple[str, str | bytes], ...] = ()
    failed: int = 0
    failing: tuple[tuple[int, str], ...] = ()


def work(settings: Settings, units: Sequence[Unit]) -> Done:
    """The answers for some books.

    Args:
        settings: what holds for every row.
        units: the books.
    """
    answered: list[Answered] = []
    for unit in units:
        answered += _answers(unit, settings)
    if not settings.artwork:
        return _done(answered, settings)
    from spinefit.batch.artwork import with_artwork

    answered, files = with_artwork(answered, settings)
    return _done(answered, settings)._replace(artwork=files)


def failed(settings: Settings, unit: Unit, text: str) -> Done:
    """What is written for a book that could not be worked on at all.

    Args:
        settings: what holds for every row.
        unit: the book or set.
        text: why.
    """
    return _done([at_fault(row, Fault("", text)) for row in unit.rows], settings)


def _answers(unit: Unit, settings: Settings) -> list[Answered]:
    try:
        if unit.set_name:
            return answer_set(unit.rows, settings)
        return [answer_book(row, settings) for row in unit.rows]
    except Exception as fault:  # a fault of ours in one book must not cost the others
        found = Fault("", f"internal fault: {type(fault).__name__}: {fault}; please report it")
        return [at_fault(row, found) for row in unit.rows]


def _done(answered: Sequence[Answered], settings: Settings) -> Done:
    results = [one.result for one in answered]
    reports = [report for one in answered for report in one.reports]
    found = []
    if settings.fail_on is not None:
        found = [(one.result.line, *failing(one, settings.fail_on)) for one in answered]
    return Done(
        rows_of(answered, settings),
        tuple(found.verdict for found in results),
        tuple((found.line, found.fault) for found in results if found.fault is not None),
        (*doubts_of(reports, fonts_alone=True), *hazards_of(reports)),
        sum(bool(found.mind) for found in results),
        failed=sum(kind not in ("", Verdict.DOES_NOT_FIT) for _line, kind, _why in found),
        failing=tuple((line, why) for line, kind, why in found if kind),
    )
