"""Kill every writer at random moments: what it writes is whole, as it was before, or absent.

    python tests/fuzz/killed.py --kills 200 --seed 1

Each kill is asked of a writer in its turn, every other time over a file that stands there already.
The whole process group is killed, workers of a batch among it; then the same is asked again, and
has to be answered as if nothing had happened. Ends with 1 where there was a finding; Ctrl-C ends it
early, with what was found so far.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import zipfile
from collections import Counter
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[2]
OLD = b"what stood there before\n"
BOOK = ("The Harbour Light", "--width", "32", "--height", "210")
TABLE = "title,width,height\n" + "".join(
    f"Tide Tables of the North Sea Coast {number},{9 + number % 30},210\n" for number in range(120)
)


class Writer(NamedTuple):
    """A command and the file that it writes.

    Attributes:
        words: the command line; the name of the file behind it.
        name: of the file.
    """

    words: tuple[str, ...]
    name: str


WRITERS = (
    *(Writer(("check", *BOOK, "--drawing"), f"back.{kind}") for kind in ("svg", "pdf", "html")),
    *(Writer(("check", *BOOK, "--artwork"), f"artwork.{kind}") for kind in ("svg", "pdf")),
    Writer(("check", *BOOK, "--save-pattern"), "set.json"),
    Writer(("sheet", BOOK[0], "--panel", "40x30", "--output"), "labels.pdf"),
    Writer(("sheet", BOOK[0], "--panel", "40x30", "--single", "--output"), "label.dxf"),
    Writer(("worksheet", *BOOK, "--method", "hand-letters", "--output"), "worksheet.pdf"),
    Writer(("recess", *BOOK, "--method", "paper-label", "--output"), "recess.svg"),
    *(
        Writer(("batch", "books.csv", "--jobs", "2", "--output"), f"found.{kind}")
        for kind in ("csv", "jsonl", "html", "xlsx", "xml")
    ),
)


def command(writer: Writer, *more: str) -> list[str]:
    """Its command line."""
    return [sys.executable, "-m", "spinefit", *writer.words, writer.name, *more]


def content(path: Path) -> object:
    """What a file holds; of a workbook all but when it was made. None for no file."""
    if not path.exists():
        return None
    if path.suffix != ".xlsx" or not zipfile.is_zipfile(path):
        return path.read_bytes()
    with zipfile.ZipFile(path) as packed:
        return {name: packed.read(name) for name in packed.namelist() if "docProps" not in name}


def whole(writer: Writer, folder: Path) -> tuple[object, float]:
    """What it writes where nobody disturbs it, and how long it takes in seconds."""
    (folder / "books.csv").write_text(TABLE)
    start = time.monotonic()
    done = subprocess.run(
        command(writer, "--force"), cwd=folder, env=surroundings(), capture_output=True, check=False
    )
    took = time.monotonic() - start
    if done.returncode == 2:
        raise SystemExit(f"{' '.join(writer.words)} {writer.name}: {done.stderr.decode()}")
    return content(folder / writer.name), took


def surroundings() -> dict[str, str]:
    """As usual, at one fixed time for the files that say when they were made."""
    return {**os.environ, "PYTHONPATH": str(ROOT), "SOURCE_DATE_EPOCH": "1800000000"}


def kill_once(
    writer: Writer, wanted: object, after: float, folder: Path, *, over: bool
) -> tuple[str, str]:
    """How it ended, and what was wrong; "" for nothing.

    Args:
        writer: what is killed.
        wanted: the whole file.
        after: the moment, in seconds from its start.
        folder: where it works, empty.
        over: whether a file stands there already.
    """
    (folder / "books.csv").write_text(TABLE)
    out = folder / writer.name
    if over:
        out.write_bytes(OLD)
    process = subprocess.Popen(
        command(writer, "--force"), cwd=folder, env=surroundings(), start_new_session=True,
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    time.sleep(after)
    with contextlib.suppress(ProcessLookupError):
        os.killpg(process.pid, signal.SIGKILL)
    process.wait()
    found = content(out)
    before = OLD if over else None
    if found not in (before, wanted):
        return "broken", "neither whole nor what stood there"
    ended = "whole" if found == wanted else "as before" if over else "absent"
    again = subprocess.run(
        command(writer, "--force"), cwd=folder, env=surroundings(), capture_output=True, check=False
    )
    if again.returncode == 2 or content(out) != wanted:
        return ended, f"asked again it ended with {again.returncode}: {again.stderr.decode()!r}"
    kept = {"books.csv", writer.name}
    left = sorted(path.name for path in folder.iterdir() if path.name not in kept)
    return ended, f"left behind: {', '.join(left)}" if left else ""


def main(words: list[str] | None = None) -> int:
    """Kill as often as was asked for; 1 where something was found."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args(words)
    dice = random.Random(asked.seed)
    base = Path(tempfile.mkdtemp(prefix="spinefit-killed-"))
    counts: Counter[str] = Counter()
    findings = []
    try:
        answers = []
        for number, writer in enumerate(WRITERS):
            (base / f"whole{number}").mkdir()
            answers.append(whole(writer, base / f"whole{number}"))
        for number in range(asked.kills):
            writer, (wanted, took) = (some[number % len(WRITERS)] for some in (WRITERS, answers))
            folder = base / f"killed{number}"
            folder.mkdir()
            over = number // len(WRITERS) % 2 == 1
            after = dice.uniform(0.3, 1.15) * took  # before that Python itself starts
            ended, wrong = kill_once(writer, wanted, after, folder, over=over)
            counts[ended] += 1
            if wrong:
                findings.append(f"{number}: {writer.name} after {after:.2f} s: {wrong}")
            shutil.rmtree(folder)
    except KeyboardInterrupt:
        pass
    finally:
        shutil.rmtree(base)
    said = ", ".join(f"{name}: {count}" for name, count in sorted(counts.items()))
    print(f"{counts.total()} kills, seed {asked.seed}: {said}; {len(findings)} findings")  # noqa: T201
    for finding in findings:
        print(finding)  # noqa: T201
    return 1 if findings else 0


if __name__ == "__main__":
    sys.exit(main())
