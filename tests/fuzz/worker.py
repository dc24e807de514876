"""Run numbered cases, one a line of standard input, and say what was wrong with each.

Started by ``run.py``, within a bound of memory; a case that takes more than five seconds of a
processor ends the process by a signal, wherever it is, so that a hang in a library is seen.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import resource
import shutil
import signal
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
os.environ["OPENBLAS_NUM_THREADS"] = "1"  # as the command does; threads that wait cost time too

from tests.fuzz.font_cases import font_case
from tests.fuzz.job_cases import job_case
from tests.fuzz.judging import faults, of_sizes, outcome
from tests.fuzz.page_cases import page_case

SECONDS = 5.0
MEMORY = 3 * 1024**3  # address space, most of it libraries mapped and never touched


def one_case(kind: str, seed: int, number: int, folder: Path) -> dict[str, object]:
    """What was asked, how it ended and what was wrong."""
    if kind == "page":
        start = time.process_time()
        asked, wrong = page_case(seed, number, folder)
        seconds = round(time.process_time() - start, 3)
        return {"number": number, "what": asked, "code": 0, "seconds": seconds, "wrong": wrong}
    if kind == "font":
        case = font_case(seed, number)
        done = case.done
        path = str(folder / "font.ttf")
        Path(path).write_bytes(case.data)
        words = [path if word == "FONT" else word for word in case.words]
        words = [str(folder / word) if word.startswith("DRAWING") else word for word in words]
        given = b""
    else:
        done, words, given = job_case(seed, number, folder)
    before = _inputs(folder)
    start = time.process_time()
    ended = outcome(words, given)
    seconds = time.process_time() - start
    wrong = faults(words, ended, folder)
    if _inputs(folder) != before:
        wrong.append("an input was changed")
    sizes = ""
    if kind == "font" and ended.code != 2 and not wrong:
        signal.setitimer(signal.ITIMER_PROF, 2 * SECONDS)  # two more answers
        sizes = of_sizes(case.words, path, _sound(case.sound, folder.parent))
        if not case.mended and sizes == "wrong, not warned of":
            wrong.append("sizes wrong, without a word")
        sizes += ", mended" * case.mended
    return {
        "number": number, "what": done, "words": words, "code": ended.code, "sizes": sizes,
        "seconds": round(seconds, 3), "wrong": wrong, "said": ended.err[:200],
    }  # fmt: skip


def _sound(data: bytes, base: Path) -> str:
    """A file of a sound font, the same for all cases that it is damaged in."""
    path = base / f"sound-{hashlib.sha256(data).hexdigest()[:16]}.ttf"
    if not path.exists():
        path.write_bytes(data)
    return str(path)


def _inputs(folder: Path) -> dict[str, bytes]:
    return {
        path.name: path.read_bytes()
        for path in folder.iterdir()
        if path.is_file() and not path.name.startswith(("OUT", "DRAWING", "."))
    }


def main() -> None:
    seed = int(sys.argv[1])
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    signal.signal(signal.SIGPROF, signal.SIG_DFL)
    answers = os.fdopen(os.dup(1), "w")
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    base = Path(tempfile.mkdtemp(prefix="spinefit-fuzz-"))
    os.chdir(base)
    try:
        for line in sys.stdin:
            kind, number = line.split()
            folder = base / f"{kind}{number}"
            folder.mkdir()
            signal.setitimer(signal.ITIMER_PROF, SECONDS)
            found = one_case(kind, seed, int(number), folder)
            signal.setitimer(signal.ITIMER_PROF, 0)
            with contextlib.suppress(OSError):
                shutil.rmtree(folder)
            answers.write(json.dumps(found) + "\n")
            answers.flush()
    finally:
        shutil.rmtree(base, ignore_errors=True)


if __name__ == "__main__":
    main()
