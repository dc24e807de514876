"""What can be made from a job, and which command makes it?

In: a name of what is wanted, and the text of a job file with the files beside it. Out: the files
that the command line writes for that, byte for byte, what it said, and its exit code. Each runs in
a process of its own, ended when its time is up or nobody waits for it any more.
"""

from __future__ import annotations

import asyncio
import os
import re
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from spinefit.job.files import read_toml
from spinefit.job.house import NO_HOUSE, House
from spinefit.page.drafts import refuse_paths
from spinefit.page.store import JOB, laid_out, lay_job

_MOST_S = 120.0
_UNFIT, _FAULT = 1, 2
_FORCE = "--force"
_SAFE = re.compile(r"[^\w.,-]+")


class Made(NamedTuple):
    """What a command made.

    Attributes:
        files: names and bytes.
        said: on the screen, then on standard error.
        code: 0, 1 or 2, as of the command line.
        withheld: True where there are files to cut by, given only to who wants them all the same.
    """

    files: tuple[tuple[str, bytes], ...]
    said: str
    code: int
    withheld: bool = False


class _Way(NamedTuple):
    """How something is made: the command, the files it writes, and whether they are cut by."""

    words: tuple[str, ...]
    writes: tuple[str, ...] = ()
    cuts: bool = False


WAYS: Mapping[str, _Way] = {
    "trial": _Way(("sheet", "--trial", "--output", "trial.pdf"), ("trial.pdf",)),
    "sheet": _Way(("sheet", "--output", "labels.pdf"), ("labels.pdf",), cuts=True),
    "plot": _Way(("sheet", "--single", "--output", "label.dxf"), ("label.dxf",), cuts=True),
    "worksheet": _Way(("worksheet", "--output", "pattern.pdf"), ("pattern.pdf",), cuts=True),
    "recess": _Way(("recess", "--output", "recess.pdf"), ("recess.pdf",), cuts=True),
    "drawing": _Way(("check", "--drawing", "drawing.pdf"), ("drawing.pdf",)),
    "artwork": _Way(
        ("check", "--artwork", "artwork.pdf"), ("artwork.pdf", "artwork-placing.pdf"), cuts=True
    ),
    "checklist": _Way(("check", "--format", "checklist"), ("checklist.md",)),
    "page": _Way(("check", "--drawing", "answer.html"), ("answer.html",)),
    "json": _Way(("check", "--format", "json"), ("report.json",)),
}
"""What can be made, by name."""


async def made(what: str, asked: Mapping[str, Any], folder: str, house: House = NO_HOUSE) -> Made:
    """What a command makes of a job.

    Args:
        what: a name in `WAYS`.
        asked: ``job``, the text of a job file, ``files``, names with digests, and ``force`` where
            what should not be cut so is wanted all the same.
        folder: of the store.
        house: the file of a house.

    Raises:
        SpinefitError: the job names a file of the machine, or is no job.
        TimeoutError: it took too long.
    """
    way = WAYS[what]
    files = asked.get("files")
    named = {str(k): str(v) for k, v in files.items()} if isinstance(files, dict) else {}
    with laid_out(folder, named) as own:
        job = lay_job(own, asked.get("job"))
        refuse_paths(read_toml(job, "job file", "write one field a line"), named)
        command, *rest = way.words
        forced = [_FORCE] if asked.get("force") is True and command == "recess" else []
        by = ["--house", os.path.abspath(house.file)] if house.file else ["--no-house"]
        code, said = await _run([command, "--job", JOB, *rest, *forced, *by], own)
        if "--format" in rest and code < _FAULT:  # the answer itself is the file
            (own / way.writes[0]).write_text(said[0], encoding="utf-8", newline="")
        found = tuple(
            (name, (own / name).read_bytes()) for name in way.writes if (own / name).is_file()
        )
        if way.cuts and code == _UNFIT and asked.get("force") is not True:
            lines = "".join(said).splitlines()
            kept = [line for line in lines if _FORCE not in line]  # the page asks by itself
            return Made((), "\n".join(kept), code, bool(found) or len(kept) < len(lines))
        if code == _FAULT:  # one line; of the file that the page has written it need not tell
            text = said[1].strip().removeprefix("spinefit: ").removeprefix(f"{JOB}: ")
            return Made((), text, code)
        return Made(found, said[1] if "--format" in rest else "".join(said), code)


async def _run(words: list[str], own: Path) -> tuple[int, tuple[str, str]]:
    process = await asyncio.create_subprocess_exec(
        sys.executable, "-P", "-m", "spinefit.cli.bounded", *words, cwd=own,  # -P: opened
        # files lie there, and none of them is to be taken for a module
        stdin=asyncio.subprocess.DEVNULL, stdout=asyncio.subprocess.PIPE,
        stderr=asyncio.subprocess.PIPE,
    )  # fmt: skip
    try:
        out, err = await asyncio.wait_for(process.communicate(), _MOST_S)
    except BaseException:
        process.kill()
        await process.wait()
        raise
    assert process.returncode is not None
    return process.returncode, (out.decode("utf-8", "replace"), err.decode("utf-8", "replace"))


def file_name(title: str, name: str) -> str:
    """What a file is called that a title gives its name.

    >>> file_name("The Harbour Light", "labels.pdf")
    'The-Harbour-Light-labels.pdf'
    """
    stem = _SAFE.sub("-", title).strip("-.")[:60]
    return f"{stem}-{name}" if stem else name
