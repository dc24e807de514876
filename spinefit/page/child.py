"""What runs in a process of the page?

In: questions by name, with what they are asked about, from a pipe. Out: an answer for each, a fault
of the input being one too; what cannot be foreseen is said in a sentence and goes no further. It
ends with the server, however that ends.
"""

from __future__ import annotations

import signal
from collections.abc import Callable
from functools import partial
from multiprocessing.connection import Connection
from typing import Any

from spinefit.job.house import House

_WARMING = 'title = "Tide / Tables"\npanel = "30x40mm"\n'
_MOST_BYTES = 4 * 1024**3  # of memory, where the system keeps to it


def serve(pipe: Connection, folder: str, house: House) -> None:
    """Answer until the other end of the pipe is gone.

    Args:
        pipe: where questions come from.
        folder: where the files of the page lie.
        house: the file of a house.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the server, which ends this
    bound_memory()
    from spinefit.page.questions import answer

    answer("answer", {"job": _WARMING}, folder)  # what it loads for that, nobody waits for later
    while True:
        try:
            question, asked = pipe.recv()
        except (EOFError, OSError):
            return
        pipe.send(bounded_answer(partial(answer, question, asked, folder, house)))


def bounded_answer(answer: Callable[[], Any]) -> Any:
    """What is answered, whatever goes wrong.

    Args:
        answer: what works it out.
    """
    from spinefit.page.questions import fault_reply

    try:
        return answer()
    except MemoryError:
        return fault_reply("not enough memory for this job; make it smaller")
    except RecursionError:
        return fault_reply("nested too deeply; make the job smaller")
    except Exception as fault:  # a fault of ours: the page goes on
        return fault_reply(f"internal fault: {type(fault).__name__}: {fault}; please report it")


def bound_memory() -> None:
    """Bound what this process may take, where the system keeps to it."""
    try:
        import resource
    except ImportError:  # a system that has no such bound
        return
    _, most = resource.getrlimit(resource.RLIMIT_AS)
    bound = _MOST_BYTES if most == resource.RLIM_INFINITY else min(most, _MOST_BYTES)
    resource.setrlimit(resource.RLIMIT_AS, (bound, most))
