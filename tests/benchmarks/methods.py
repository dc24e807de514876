"""How fast is a batch where the method asks for strokes, counters and gaps?

    python tests/benchmarks/methods.py [--count N]

Every method, on titles of `titles`, on backs as wide as books of that kind have. Each in a fresh
process that has loaded what a worker of a batch has, but no font: "first" are its first books,
whose glyphs nobody has measured yet; "others" are other titles afterwards, "again" the first once
more. Written as CSV, which asks for the verdict and the sentence, and as JSON, which reads all
that is found of every setting. Milliseconds a book, the least of several rounds; the ratio is
over the printed paperback cover's in the same run, which comes in turn with the rest.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import time
from collections.abc import Sequence

from titles import Book, books

from spinefit import catalogue
from spinefit.batch.model import Row, Settings
from spinefit.batch.work import Unit, chunks, work

__all__ = ["by_methods", "table_of_methods"]

PAPERBACK = "paperback-cover"
_WIDER = {  # than a paperback's back, in mm: bound books, folios for letters cut of film
    "paper-label": 8.0,
    "cloth-print": 12.0,
    "leather-label": 12.0,
    "blocked-case": 6.0,
    "hand-letters": 10.0,
    "type-holder": 10.0,
    "transfer-vinyl": 22.0,
    "screen-print": 6.0,
}


FORMS = {"csv": "CSV", "jsonl": "JSON"}
TIMES = ("first", "others", "again")
Speeds = dict[str, float]
"""Seconds a book, by form and time."""


def by_methods(count: int, rounds: int) -> dict[str, Speeds]:
    """How long a book takes by each method: the least of several rounds, taken in turn."""
    names = [PAPERBACK, *(name for name in catalogue.methods() if name != PAPERBACK)]
    found: dict[str, Speeds] = {name: {} for name in names}
    for _ in range(rounds):
        for form, written in FORMS.items():
            for name in names:
                words = [sys.executable, __file__, "--one", name, form, "--count", str(count)]
                done = subprocess.run(words, check=True, capture_output=True, text=True)
                for at, seconds in zip(TIMES, json.loads(done.stdout), strict=True):
                    what = f"{written}, {at}"
                    found[name][what] = min(seconds, found[name].get(what, seconds))
    return found


def table_of_methods(found: dict[str, Speeds]) -> list[str]:
    """The figures as lines of Markdown."""
    plain = found[PAPERBACK]
    lines = [f"| method | {' | '.join(plain)} |", f"| --- |{' ---: |' * len(plain)}"]
    for name, own in found.items():
        figures = [f"{own[what] * 1e3:.2f} ms, {own[what] / plain[what]:.2f}" for what in plain]
        lines.append(f"| {name} | {' | '.join(figures)} |")
    return lines


def _one(method: str, form: str, count: int) -> list[float]:
    """That of one method, in this process."""
    settings = Settings(form=form, defaults={"method": method})
    first, others = books(count, seed=1), books(count, seed=2)
    return [_seconds(some, method, settings) / count for some in (first, others, first)]


def _seconds(some: Sequence[Book], method: str, settings: Settings) -> float:
    wider_mm = _WIDER.get(method, 0.0)
    made = [
        Unit((Row(at, {"title": b.title, "width": b.width_mm + wider_mm, "height": b.height_mm}),))
        for at, b in enumerate(some, 2)
    ]
    start = time.perf_counter()
    for chunk in chunks(made):
        work(settings, chunk)
    return time.perf_counter() - start


def main() -> None:
    """Measure and print."""
    reader = argparse.ArgumentParser(description="How fast is each method?")
    reader.add_argument("--count", type=int, default=200)
    reader.add_argument("--one", nargs=2, help=argparse.SUPPRESS)
    asked = reader.parse_args()
    if asked.one:
        sys.stdout.write(json.dumps(_one(*asked.one, asked.count)))
    else:
        sys.stdout.write("\n".join(table_of_methods(by_methods(asked.count, 2))) + "\n")


if __name__ == "__main__":
    main()
