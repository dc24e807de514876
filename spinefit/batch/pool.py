"""How is a stream of chunks shared out to processes, and given back in its order?

In: chunks, and the function that does one. Out: what it returns, in the order of the chunks,
few of them in flight, so that memory stays as it is however long the stream. Processes are
forked from a server that has loaded the stages once, or started afresh where there is none
such; a single one is a child too, never this process. Where one of them dies, as by a fault in a
native library, the chunks that were lost are done again in a process of their own, in the end
row by row: the row that kills it fails alone.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from itertools import chain, islice
from multiprocessing import resource_tracker
from threading import Thread
from typing import Any

from spinefit.batch.model import Settings
from spinefit.batch.work import Done, Unit, failed, work

Work = Callable[[Settings, list[Unit]], Done]
_IN_FLIGHT_EACH = 3  # chunks a process: one at work, one waiting, one for the first's slowness
_DIED = "the process that checked this row ended, as by a fault in a library; the others went on"


def run(
    chunks: Iterable[list[Unit]], settings: Settings, *, jobs: int, do: Work = work
) -> Generator[Done]:
    """What ``do`` makes of every chunk, in order.

    Args:
        chunks: read as they are needed.
        settings: what holds for every row.
        jobs: how many processes, 1 or more; no more are started than there are chunks.
        do: the function that does a chunk; it and its arguments are pickled.
    """
    source = iter(chunks)
    ahead = list(islice(source, jobs))
    if not ahead:
        return
    pool = _Pool(len(ahead), settings, do)
    waiting: deque[tuple[list[Unit], Future[Done]]] = deque()
    try:
        for chunk in chain(ahead, source):
            waiting.append((chunk, pool.submit(chunk)))
            if len(waiting) >= jobs * _IN_FLIGHT_EACH:
                yield from _first(waiting, pool)
        while waiting:
            yield from _first(waiting, pool)
    finally:
        pool.close()


def _first(waiting: deque[tuple[list[Unit], Future[Done]]], pool: _Pool) -> Iterator[Done]:
    """The result of the chunk that has waited longest, or of all that a death has lost."""
    future = waiting[0][1]
    try:
        done = future.result()
    except BrokenProcessPool:
        lost = [one for one, _ in waiting]
        finished = [_kept(one) for _, one in waiting]
        waiting.clear()
        pool.renew()
        for one, found in zip(lost, finished, strict=True):
            if found is None:
                yield from pool.alone(one)
            else:
                yield found
        return
    waiting.popleft()
    yield done


def _kept(future: Future[Done]) -> Done | None:
    """What a future had before its process died."""
    if future.done() and not future.cancelled() and future.exception() is None:
        return future.result()
    return None


class _Pool:
    """Processes that do chunks, and are replaced when they die."""

    def __init__(self, jobs: int, settings: Settings, do: Work) -> None:
        self._jobs, self._settings, self._do = jobs, settings, do
        self._context = _context()
        self._executor = self._started(jobs)

    def _started(self, jobs: int) -> ProcessPoolExecutor:
        return ProcessPoolExecutor(
            jobs, self._context, initializer=_begin, initargs=(self._settings, self._do)
        )

    def submit(self, chunk: list[Unit]) -> Future[Done]:
        """Let a chunk be done."""
        with _undisturbed():
            try:
                return self._executor.submit(_do, chunk)
            except BrokenProcessPool as fault:  # found out on the way in: lost like the others
                lost: Future[Done] = Future()
                lost.set_exception(fault)
                return lost

    def renew(self) -> None:
        """Replace processes of which one has died."""
        self._executor.shutdown(wait=False, cancel_futures=True)
        self._executor = self._started(self._jobs)

    def alone(self, chunk: list[Unit]) -> Iterator[Done]:
        """A chunk that was lost, done in a process of its own, row by row where that dies too."""
        whole = self._attempt([chunk])
        if whole[0] is not None:
            yield whole[0]
            return
        left = chunk
        while left:
            found = self._attempt([[unit] for unit in left])
            for unit, done in zip(left, found, strict=False):
                yield failed(self._settings, unit, _DIED) if done is None else done
            left = left[len(found) :]

    def _attempt(self, parts: list[list[Unit]]) -> list[Done | None]:
        """Results of the parts in turn, as far as the process lives; None for its death."""
        found: list[Done | None] = []
        with _undisturbed():
            executor = self._started(1)
            try:
                for part in parts:
                    found.append(executor.submit(_do, part).result())
            except BrokenProcessPool:
                found.append(None)
            finally:
                executor.shutdown(wait=True, cancel_futures=True)
        return found

    def close(self) -> None:
        """End the processes once what they are doing is done."""
        self._executor.shutdown(wait=True, cancel_futures=True)


def _context() -> Any:
    """Fork from a clean server where there is one: quick, and safe beside threads."""
    if "forkserver" in multiprocessing.get_all_start_methods():
        context = multiprocessing.get_context("forkserver")
        context.set_forkserver_preload(["spinefit.batch.preload"])
        # Started by the library, the tracker would undo `_undisturbed`.
        resource_tracker.ensure_running()
        return context
    return multiprocessing.get_context("spawn")


@contextmanager
def _undisturbed() -> Iterator[None]:
    """Processes started inside never hear Ctrl-C, which is their parent's to answer.

    Nor, while they start, a request to end: see `preload`.
    """
    try:
        before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT, signal.SIGTERM})
    except AttributeError:  # a system without masks; `_begin` sees to it there
        yield
        return
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


_here: list[Any] = []  # of a process at work: what holds for every row, and what to do


def _begin(settings: Settings, do: Work) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_parent, daemon=True).start()
    _here[:] = [settings, do]


def _end_with_parent() -> None:
    """Wait for nobody: a parent that was killed sends no more work."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(0)


def _do(chunk: list[Unit]) -> Done:
    settings, do = _here
    done: Done = do(settings, chunk)
    return done
