"""How does the time grow: with the words of a title, with the rows of a table, with processes?

Memory is the sum, over a batch and all its processes, of the most each has ever held
(``VmHWM`` of /proc), so that it errs on the high side: what they share is counted each time.
"""

from __future__ import annotations

import csv
import os
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from beside import job_of, least
from titles import Book, books, long_title

from spinefit import check
from spinefit.batch import pool
from spinefit.batch.model import Row, Settings
from spinefit.batch.work import Unit, chunks

__all__ = ["Rows", "by_processes", "by_rows", "by_words"]

WORDS = (3, 6, 12, 24, 40, 60)
_SAMPLE_SECONDS = 0.1


class Rows(NamedTuple):
    """A batch of so many rows."""

    rows: int
    seconds: float
    megabytes: float


def by_words(rounds: int) -> dict[int, float]:
    """Seconds of a full check by the number of words."""
    jobs = {
        count: [job_of(Book(long_title(count, seed), 30.0, 240.0)) for seed in range(8)]
        for count in WORDS
    }
    ways = [lambda own=own: [check(job) for job in own] for own in jobs.values()]
    found = least(rounds, *ways)
    return {count: time / 8 for count, time in zip(jobs, found, strict=True)}


def by_rows(count: int) -> Rows:
    """A whole batch in a process of its own, from a file to a file."""
    with tempfile.TemporaryDirectory() as folder:
        table = Path(folder) / "books.csv"
        _write(table, count)
        words = ["batch", str(table), "--output", str(Path(folder) / "found.csv")]
        start = time.perf_counter()
        with subprocess.Popen(
            [sys.executable, "-m", "spinefit", *words], start_new_session=True
        ) as process:
            peaks: dict[str, int] = {}
            ended = threading.Event()
            watch = threading.Thread(target=_watch, args=(process.pid, peaks, ended))
            watch.start()
            code = process.wait()
            seconds = time.perf_counter() - start
            ended.set()
            watch.join()
        if code not in (0, 1):
            raise RuntimeError(f"the batch ended with {code}")
        return Rows(count, seconds, sum(peaks.values()) / 1024)


def _write(table: Path, count: int) -> None:
    some = books(min(count, 20_000))  # repeated beyond, so that making them takes no time
    with table.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["id", "title", "width", "height"])
        for at in range(count):
            book = some[at % len(some)]
            writer.writerow([at, book.title, book.width_mm, book.height_mm])


def _watch(session: int, peaks: dict[str, int], ended: threading.Event) -> None:
    while not ended.wait(_SAMPLE_SECONDS):
        for status in Path("/proc").glob("[0-9]*/status"):
            try:
                if os.getsid(int(status.parent.name)) == session:
                    text = status.read_text(encoding="ascii", errors="replace")
                    peaks[status.parent.name] = int(text.split("VmHWM:")[1].split()[0])
            except (OSError, IndexError):
                continue  # it has just ended


def by_processes(rows: int, jobs: int) -> float:
    """Rows a second by so many processes, counted once each of them is at work."""
    some = books(rows + 640)
    made = (
        Unit((Row(at, {"title": b.title, "width": b.width_mm, "height": b.height_mm}),))
        for at, b in enumerate(some, 2)
    )
    working: Iterator = pool.run(chunks(made), Settings(form="csv"), jobs=jobs)
    warm = sum(len(next(working).verdicts) for _ in range(3 * jobs))
    start, done = time.perf_counter(), 0
    for one in working:
        done += len(one.verdicts)
    assert warm + done == len(some)
    return done / (time.perf_counter() - start)
