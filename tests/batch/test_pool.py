"""Order, bounded reading, and the death of a process at work."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator

import pytest

from spinefit.batch import pool
from spinefit.batch.model import Row, Settings
from spinefit.batch.work import Done, Unit

# The processes import what they are to do by name, so it lies in a module of its own.
DOING = '''
"""What the tests have processes do."""

import os
import signal
import time

from spinefit.batch.work import Done

def echo(settings, units):
    """The title of each row; the earlier ones take longer."""
    rows = [row for unit in units for row in unit.rows]
    time.sleep(max(0.0, 0.05 - rows[0].line / 1000))
    return said(rows)

def deadly(settings, units):
    """As `echo`, but 'kill' ends the process as a fault in a library does."""
    rows = [row for unit in units for row in unit.rows]
    for row in rows:
        if row.cells["title"] == "kill":
            os.kill(os.getpid(), signal.SIGSEGV)
    return said(rows)

def masked(settings, units):
    """Whether Ctrl-C is heard."""
    heard = signal.getsignal(signal.SIGINT) is not signal.SIG_IGN
    return Done("heard" if heard else "deaf", ("fits",), ())

def said(rows):
    return Done("".join(f"{row.cells['title']}\\n" for row in rows), ("fits",) * len(rows), ())
'''


@pytest.fixture
def doing(tmp_path, monkeypatch):
    name = "what_batch_tests_do"
    (tmp_path / f"{name}.py").write_text(DOING, encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    monkeypatch.delitem(sys.modules, name, raising=False)
    import importlib

    yield importlib.import_module(name)
    sys.modules.pop(name, None)


def chunks(titles: list[str], size: int = 4) -> Iterator[list[Unit]]:
    found = [Unit((Row(line, {"title": title}),)) for line, title in enumerate(titles)]
    for at in range(0, len(found), size):
        yield found[at : at + size]


def text(done: Iterator[Done]) -> list[str]:
    return "".join(one.text for one in done).splitlines()


@pytest.mark.parametrize("jobs", [1, 2, 5])
def test_results_come_in_order_each_once(doing, jobs) -> None:
    """Whatever the number of processes, though the first chunks take longest."""
    titles = [f"Book {number}" for number in range(61)]
    assert text(pool.run(chunks(titles), Settings(), jobs=jobs, do=doing.echo)) == titles


def test_nothing_to_do_starts_nothing(doing) -> None:
    assert not list(pool.run([], Settings(), jobs=2, do=doing.echo))


@pytest.mark.skipif(os.name == "nt", reason="signals of Unix")
@pytest.mark.parametrize("jobs", [1, 2])
@pytest.mark.parametrize("deaths", [{0}, {17}, {5, 6, 7}, {59}, {3, 30, 31, 58}])
def test_a_row_that_kills_its_process_fails_alone(doing, jobs, deaths) -> None:
    """First, last, several in a chunk: every other row has its answer, in its place."""
    titles = ["kill" if at in deaths else f"Book {at}" for at in range(60)]
    settings = Settings(form="csv")
    found = list(pool.run(chunks(titles), settings, jobs=jobs, do=doing.deadly))
    lines = "".join(one.text for one in found).splitlines()
    assert len(lines) == 60
    assert {
        at for at, line in enumerate(lines) if "process that checked this row" in line
    } == deaths
    assert [line for at, line in enumerate(lines) if at not in deaths] == [
        title for at, title in enumerate(titles) if at not in deaths
    ]
    assert {line for one in found for line, _fault in one.faults} == deaths


def test_no_more_is_read_than_can_be_worked_on(doing) -> None:
    """However long the stream: so memory stays as it is."""
    read = 0

    def endless() -> Iterator[list[Unit]]:
        nonlocal read
        while True:
            read += 1
            yield [Unit((Row(read, {"title": str(read)}),))]

    working = pool.run(endless(), Settings(), jobs=2, do=doing.echo)
    for _ in range(20):
        next(working)
    assert read <= 20 + 2 * 3
    working.close()


def test_processes_are_deaf_to_ctrl_c(doing) -> None:
    """It is the parent's to answer."""
    assert text(pool.run(chunks(["a"]), Settings(), jobs=1, do=doing.masked)) == ["deaf"]


@pytest.mark.skipif(os.name == "nt", reason="signals of Unix")
def test_the_parent_still_hears_ctrl_c(doing) -> None:
    working = pool.run(chunks(["a"] * 20), Settings(), jobs=2, do=doing.echo)
    next(working)
    assert signal.SIGINT not in signal.pthread_sigmask(signal.SIG_BLOCK, set())
    working.close()
