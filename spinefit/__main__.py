"""Where does a process of spinefit begin and end? At ``run``, for ``python -m spinefit`` too.

Nothing that takes time is imported here before Ctrl-C is provided for: however early it comes,
it ends the process with one line and code 2. Two savings for a process that lives a fifth of a
second: the collector of garbage stays out of its start and end, and the linear algebra that
comes with numpy, which nothing here uses, starts no threads of its own.
"""

from __future__ import annotations

import gc
import os
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from types import FrameType
    from typing import NoReturn

_ALLOCATIONS_BETWEEN_COLLECTIONS = 50_000  # more than a check makes; a long batch is collected
_STOPPED = 2


def run() -> NoReturn:
    """Run spinefit with the words of the process's command line, and end the process."""
    try:
        import signal

        signal.signal(signal.SIGINT, _stop)
        signal.signal(signal.SIGTERM, _stop)  # files that were begun are swept away then too
    except KeyboardInterrupt:
        _stop()
    gc.set_threshold(_ALLOCATIONS_BETWEEN_COLLECTIONS)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from spinefit.cli.main import status

    code = status(sys.argv[1:])
    for asked in (signal.SIGINT, signal.SIGTERM):
        signal.signal(asked, signal.SIG_IGN)  # the answer stands
    gc.freeze()
    sys.exit(code)


def _stop(_number: int = 0, _frame: FrameType | None = None) -> NoReturn:
    """End at once: an exception could be swallowed by a library that is just being loaded."""
    try:
        os.write(2, b"spinefit: stopped before there was an answer\n")
        # Files that were begun are taken away; the module may be half loaded.
        getattr(sys.modules.get("spinefit.cli.files"), "sweep", _nothing)()
    finally:
        os._exit(_STOPPED)


def _nothing() -> None:
    """Nothing was begun."""


if __name__ == "__main__":
    run()
