"""How does a process of its own answer, so that the page never waits for what is not wanted?

In: questions, one at a time. Out: what a `Child` says. It can be ended at any moment, as when its
time is up or the question has been put anew, and another is started for the next; it has a bound
of memory where the system knows one. Nothing of it outlives the server.
"""

from __future__ import annotations

import asyncio
import multiprocessing
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from time import monotonic
from typing import Any

from spinefit.job.house import House
from spinefit.page.child import serve

_PATIENCE_S = 1.0  # how long an answer nobody waits for any more may go on
_CONTEXT = multiprocessing.get_context("spawn")  # the server has threads: never forked


class NotAnsweredError(Exception):
    """There is no answer, and why, in a sentence.

    Attributes:
        overtaken: True where a newer question of the same tab has taken its place.
    """

    def __init__(self, text: str, *, overtaken: bool = False) -> None:
        self.overtaken = overtaken
        super().__init__(text)


class Child:
    """A process that answers one question after another.

    Args:
        folder: where the files of the page lie.
        house: the file of a house.
        most_seconds: how long an answer may take.
    """

    def __init__(self, folder: str, house: House, most_seconds: float) -> None:
        self._serves, self._most_s = (folder, house), most_seconds
        self._one_at_a_time = asyncio.Lock()
        self._threads = ThreadPoolExecutor(1, "child")
        self._process: BaseProcess | None = None
        self._pipe: Connection | None = None
        self._newest: dict[str, int] = {}  # turn by tab
        self._busy_with = ""
        self._since = 0.0

    async def ask(
        self, question: str, asked: Mapping[str, Any], tab: str = "", turn: int = 0
    ) -> Any:
        """What it answers.

        Args:
            question: a name in `spinefit.page.questions`.
            asked: what it is asked about.
            tab: whose question; a newer one of the same tab takes its place. "" for one that
                waits its turn.
            turn: of the tab, counted up.

        Raises:
            NotAnsweredError: overtaken, too long, or the process ended.
        """
        if tab:
            self._newest[tab] = max(turn, self._newest.get(tab, 0))
            self._hurry(tab)
        async with self._one_at_a_time:
            self._refuse_overtaken(tab, turn)
            self._busy_with, self._since = tab, monotonic()
            try:
                return await self._answered(question, asked)
            except NotAnsweredError:
                self._refuse_overtaken(tab, turn)
                raise
            finally:
                self._busy_with = ""

    def _refuse_overtaken(self, tab: str, turn: int) -> None:
        if tab and turn < self._newest[tab]:
            raise NotAnsweredError("asked anew", overtaken=True)

    def _hurry(self, tab: str) -> None:
        """End what an older question of the tab still takes after some patience."""
        if self._busy_with != tab:
            return
        since = self._since

        def end_if_still_busy() -> None:
            if self._busy_with == tab and self._since == since:
                self.end()

        left = max(0.0, since + _PATIENCE_S - monotonic())
        asyncio.get_running_loop().call_later(left, end_if_still_busy)

    async def _answered(self, question: str, asked: Mapping[str, Any]) -> Any:
        loop = asyncio.get_running_loop()
        waiting = loop.run_in_executor(self._threads, self._exchange, question, asked)
        try:
            return await asyncio.wait_for(asyncio.shield(waiting), self._most_s)
        except TimeoutError:
            self.end()
            await asyncio.wait([waiting])
            text = f"no answer in {self._most_s:g} seconds; make the job smaller"
            raise NotAnsweredError(text) from None
        except (EOFError, OSError):
            self.end()
            text = "the process that checks this ended; change the job, and it is asked again"
            raise NotAnsweredError(text) from None

    def _exchange(self, question: str, asked: Mapping[str, Any]) -> Any:
        if self._process is None or not self._process.is_alive():
            self._start()
        assert self._pipe is not None
        try:
            self._pipe.send((question, asked))
            return self._pipe.recv()
        except (EOFError, OSError):
            self._pipe.close()  # here, where nobody reads it at the same time
            self._pipe = None
            raise

    def _start(self) -> None:
        self.end()
        if self._pipe is not None:
            self._pipe.close()
        ours, theirs = _CONTEXT.Pipe()
        process = _CONTEXT.Process(target=serve, args=(theirs, *self._serves), daemon=True)
        process.start()
        theirs.close()
        self._process, self._pipe = process, ours

    def end(self) -> None:
        """End the process; the next question starts another."""
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.join()

    def warm(self) -> None:
        """Start it before anything is asked."""
        self._threads.submit(self._start)
