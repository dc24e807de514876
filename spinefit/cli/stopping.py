"""How does what takes long hear that somebody wants it to end?

In: Ctrl-C, and a request to end. Out: that one was asked for; what is at hand may be finished.
"""

from __future__ import annotations

import signal
from contextlib import suppress
from typing import Any


class Stop:
    """While it lasts, Ctrl-C and a request to end let what is at hand be finished first.

    Attributes:
        asked: whether somebody wants it to end. Who asks twice does not wait.
    """

    def __init__(self) -> None:
        self.asked = False
        self._before: dict[signal.Signals, Any] = {}

    def __enter__(self) -> Stop:
        for number in (signal.SIGINT, signal.SIGTERM):
            with suppress(ValueError):  # not the main thread: its signals are another's
                self._before[number] = signal.signal(number, self._ask)
        return self

    def is_set(self) -> bool:
        """Whether somebody wants it to end, as an event says it."""
        return self.asked

    def _ask(self, number: int, _frame: object) -> None:
        self.asked = True
        signal.signal(number, self._before[signal.Signals(number)])

    def __exit__(self, *_: object) -> None:
        for number, before in self._before.items():
            signal.signal(number, before)
