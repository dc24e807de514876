"""How does a check answer again whenever its job file changes, or a file that this names?

In: a job file and what is wanted of it. Out: answer after answer, until Ctrl-C; a fault is one
line, and waiting goes on. Folders are watched, not files, since many editors put a new file in the
place of the old one; what has changed is found by comparing the files themselves, also once a
second where nobody told of a change. So none is lost while an answer is worked out, nor in a folder
that comes and goes.
"""

from __future__ import annotations

import os
import select
import sys
import time
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from typing import Any

import click

from spinefit.asked import JobRequest
from spinefit.cli import output
from spinefit.cli.options import Wanted, wanted_of
from spinefit.cli.stopping import Stop
from spinefit.errors import FieldError, SpinefitError
from spinefit.say.screen import on_terminal

_LOOK_MS = 1000  # between two looks where nobody tells of a change
_SETTLED_MS, _MOST_MS = 50, 400  # an editor writes in several steps
Answer = Callable[[JobRequest, Wanted], int]
Stamps = dict[str, tuple[int, int, int] | None]


def watched(request: JobRequest, options: Mapping[str, Any], answer: Answer) -> int:
    """Answer, and again after every change, until it is to end; exit code 0 then.

    Args:
        request: the job, described in a file.
        options: how it is to be answered, as typed.
        answer: answers, and says the exit code.

    Raises:
        FieldError: no job file, or a form of which there can be only one.
        SpinefitError: what no change of the file could mend.
    """
    if request.file is None:
        raise FieldError("no file to watch", where="--watch", remedy="give --job FILE")
    wanted = wanted_of(options)
    if wanted.form == "junit":
        raise FieldError(
            "only one document of it can be written", value=wanted.form, where="--watch",
            remedy="take text, checklist or json, which gives an object a line",
        )  # fmt: skip
    if wanted.form == "json":
        wanted = wanted._replace(form="jsonl")
    is_read, number = _reader(), 0
    with Stop() as stop:
        while not stop.asked and is_read():
            # Both are read now, and may be saved meanwhile.
            before = _stamps(filter(None, (request.file, request.house.file)))
            stamps = _stamps(_files(request, wanted)) | before
            number += 1
            wanted = _answered(request, wanted, answer, first=number == 1)
            at = time.strftime("%H:%M:%S")
            output.complain(
                f"answer {number}, at {at}; waiting for a change of {request.file}; Ctrl-C ends"
            )
            _wait(stamps, stop, is_read)
    return 0


def _reader() -> Callable[[], bool]:
    """What says whether standard output is still read: a pipe may lose its other end."""
    if sys.stdout is None or not hasattr(select, "poll"):
        return lambda: True
    begun, ends = os.fstat(1), select.poll()
    ends.register(1, 0)  # that nobody reads is told unasked
    return lambda: os.path.samestat(begun, os.fstat(1)) and not ends.poll(0)


def _answered(request: JobRequest, wanted: Wanted, answer: Answer, *, first: bool) -> Wanted:
    """One answer or fault, and how the next is wanted: what was written may be replaced then.

    Raises:
        SpinefitError: of the first answer what no change of the file could mend.
    """
    if on_terminal() and wanted.form != "jsonl":
        click.clear()
    elif not first and wanted.form != "jsonl":
        output.write_text("\n")
    try:
        answer(_renewed(request), wanted)
    except SpinefitError as fault:
        if first and (fault.where.startswith("-") or not os.path.isfile(str(request.file))):
            raise
        output.complain(str(fault))
        if wanted.form == "jsonl":
            from spinefit.cli.faults import write

            write(fault, wanted.form)
        return wanted
    return wanted._replace(force=True)


def _renewed(request: JobRequest) -> JobRequest:
    """The request with what its house says now."""
    if not request.house.file:
        return request
    from spinefit.job.read import read_house

    return request._replace(house=read_house(request.house.file))


def _files(request: JobRequest, wanted: Wanted) -> set[str]:
    """The files whose change changes the answer; of a job file that is broken those typed."""
    from spinefit.job.read import files_named

    found = files_named([request.typed]) | set(filter(None, [wanted.match_file]))
    with suppress(SpinefitError):
        found |= files_named([_renewed(request).house.values])
        tables = request.tables()
        assert tables is not None  # there is a file
        found |= files_named([tables.values, *tables.texts, *tables.volumes])
    return found


def _stamps(paths: Iterable[str]) -> Stamps:
    """What tells a file from what stands in its place later; None where there is none."""
    found: Stamps = dict.fromkeys(paths)
    for path in found:
        with suppress(OSError, ValueError):
            stat = os.stat(path)
            found[path] = (stat.st_mtime_ns, stat.st_size, stat.st_ino)
    return found


def _wait(stamps: Stamps, stop: Stop, is_read: Callable[[], bool]) -> None:
    """Wait until a file changes, or nobody wants an answer any more."""
    from watchfiles import watch

    looks = watch(
        *sorted({_folder(path) for path in stamps}), watch_filter=None, recursive=False,
        step=_SETTLED_MS, debounce=_MOST_MS, rust_timeout=_LOOK_MS, yield_on_timeout=True,
        stop_event=stop, ignore_permission_denied=True,
    )  # fmt: skip
    for _ in looks:
        if _stamps(stamps) != stamps or not is_read():
            return


def _folder(path: str) -> str:
    """The nearest folder of a file that is there."""
    folder = os.path.dirname(os.path.abspath(path))
    while not os.path.isdir(folder):
        folder = os.path.dirname(folder)
    return folder
