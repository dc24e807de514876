"""How far has a batch come, and can another go on from there?

A `Journal` counts rows as they are read and as they are done, and keeps a digest of the rows
done, so that a later run can see that it has the same rows before it. A `Mark` is what is
saved of that beside a partial result: plain numbers and texts, one JSON object.
"""

from __future__ import annotations

import hashlib
import json
from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from spinefit.batch.alike import Alike, gathered
from spinefit.batch.model import Fault, Settings, Totals
from spinefit.batch.work import Done, Unit
from spinefit.errors import JobError
from spinefit.vocabulary import Verdict

_SCHEMA = "spinefit.partial/1"


class Mark(NamedTuple):
    """A place between two rows.

    Attributes:
        asked: digest of what holds for every row.
        rows: rows done.
        input_digest: digest of those rows.
        written_bytes: of the partial result, up to there.
        counts: rows by verdict, under "" those at fault.
        hazards: lines about what can hurt in making them.
        minded: rows with something to mind.
        kinds: rows at fault by the kind of fault, as `alike` has them.
        failed: rows that fit and yet count as failed by a finding.
        outlines: names of the outlines that stand in them, of a page.
    """

    asked: str
    rows: int
    input_digest: str
    written_bytes: int
    counts: dict[str, int]
    hazards: Sequence[str] = ()
    minded: int = 0
    kinds: Mapping[str, Alike] = {}

    @property
    def totals(self) -> Totals:
        """What the rows done came to."""
        return Totals(self.counts, self.minded, self.hazards, self.failed)

    failed: int = 0
    outlines: Sequence[str] = ()

    def as_json(self) -> str:
        """The mark as it is saved."""
        return json.dumps({"schema": _SCHEMA, **self._asdict()}, indent=1) + "\n"


def fresh_mark(settings: Settings, version: str) -> Mark:
    """The mark before the first row.

    Args:
        settings: what holds for every row.
        version: of the program: another may find other answers.
    """
    asked = repr((version, settings._replace(defaults=dict(sorted(settings.defaults.items())))))
    counts = {str(verdict): 0 for verdict in Verdict} | {"": 0}
    return Mark(
        hashlib.sha256(asked.encode()).hexdigest(), 0, hashlib.sha256().hexdigest(), 0, counts
    )


def read_mark(text: str, fresh: Mark, where: str) -> Mark:
    """The mark saved beside a partial result.

    Args:
        text: as it was saved.
        fresh: what this run would begin with.
        where: its file, for messages.

    Raises:
        JobError: it is no such mark, or of a run that was asked for something else.
    """
    try:
        found = json.loads(text)
        if found.pop("schema") != _SCHEMA:
            raise ValueError
        mark = Mark(**found)
        kinds = {kind: Alike(count, tuple(lines)) for kind, (count, lines) in mark.kinds.items()}
        hazards, outlines = tuple(mark.hazards), tuple(mark.outlines)
        mark = mark._replace(hazards=hazards, kinds=kinds, outlines=outlines)
        whole = [mark.rows, mark.written_bytes, mark.minded, mark.failed, *mark.counts.values()]
        for alike in kinds.values():
            whole += (alike.rows, *alike.lines)
        if not all(type(number) is int and number >= 0 for number in whole):
            raise ValueError
        if mark.counts.keys() != fresh.counts.keys():
            raise ValueError
        if not all(isinstance(line, str) for line in hazards + outlines):
            raise ValueError
    except (ValueError, TypeError, KeyError, AttributeError):
        raise JobError(
            "no record of a partial result", where=where, remedy="begin afresh with --force"
        ) from None
    if mark.asked != fresh.asked:
        raise JobError(
            "the partial result was made with other options or another version", where=where,
            remedy="give the same options, or begin afresh with --force",
        )  # fmt: skip
    return mark


class Journal:
    """Rows on their way, and the mark behind the last one that is done.

    Args:
        mark: where to begin; rows before it are read, compared and passed over.
        where: the table's name, for messages.

    Attributes:
        mark: behind the last row that is done.
    """

    def __init__(self, mark: Mark, where: str) -> None:
        self.mark = mark
        self._begin = mark
        self.where = where
        self._digest = hashlib.sha256()
        self._ahead: deque[tuple[int, str]] = deque()
        self._outlines = dict.fromkeys(mark.outlines)

    def once(self, text: str) -> str:
        """Rows of a page without the outlines that stand in it already."""
        from spinefit.batch.overview import once

        text, new = once(text, self._outlines)
        self._outlines |= new
        return text

    def to_do(self, units: Iterable[Unit]) -> Iterator[Unit]:
        """The units behind the mark.

        Raises:
            JobError: the rows before it are not those that were done.
        """
        rows = 0
        for unit in units:
            for row in unit.rows:
                self._digest.update(repr(tuple(row)).encode("utf-8", "surrogatepass"))
            rows += len(unit.rows)
            if rows <= self._begin.rows:
                if rows == self._begin.rows:
                    self._compare(self._digest.hexdigest())
                continue
            self._compare_passed(rows - len(unit.rows))
            self._ahead.append((rows, self._digest.hexdigest()))
            yield unit
        self._compare_passed(rows)

    def _compare_passed(self, rows: int) -> None:
        if rows < self._begin.rows:
            self._compare("")

    def _compare(self, digest: str) -> None:
        if digest != self._begin.input_digest:
            raise JobError(
                "the table has changed since the partial result was made", where=self.where,
                remedy="begin afresh with --force",
            )  # fmt: skip

    def done(self, done: Done, written_bytes: int) -> list[tuple[int, Fault]]:
        """Move the mark behind rows that are written.

        Args:
            done: the rows.
            written_bytes: how many bytes they took.

        Returns:
            Line and fault of the rows whose fault is to be told at once.
        """
        rows = self.mark.rows + len(done.verdicts)
        digest = self.mark.input_digest
        while self._ahead and self._ahead[0][0] <= rows:
            digest = self._ahead.popleft()[1]
        counts = dict(self.mark.counts)
        for verdict in done.verdicts:
            counts[verdict] += 1
        kinds, told = gathered(self.mark.kinds, done.faults)
        self.mark = self.mark._replace(
            rows=rows,
            input_digest=digest,
            written_bytes=self.mark.written_bytes + written_bytes,
            counts=counts,
            hazards=tuple(dict.fromkeys((*self.mark.hazards, *done.hazards))),
            minded=self.mark.minded + done.minded,
            kinds=kinds,
            failed=self.mark.failed + done.failed,
            outlines=tuple(self._outlines),
        )
        return told
