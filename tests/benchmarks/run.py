"""How fast is spinefit, beside other ways and as its work grows?

    python tests/benchmarks/run.py [--json] [--quick] [--long]

One run measures both sides of each ratio, in turn, on the same titles (`titles`: seeded, in
seven languages, as long as a catalogue's and with its marks). It needs the test extra, a Chromium
and Linux.

    --json    the figures as one JSON object, to be kept and compared
    --quick   fewer titles and rounds, 500 and 2000 rows: to see that it runs
    --long    a million rows too: some ten minutes more

How to read it: a ratio is ours over theirs, so below 1 ours is the quicker. Seconds are of this
machine at this hour and mean nothing elsewhere; a busy machine lengthens both sides, and the ratio
less. What is told of a setting is worked out when it is read: the first row reads the verdict and
the answer, as those beside a browser do, the second the advised setting with its findings too, the
third every setting, the fourth nothing. A browser's block answers one size, as its own line breaks
give it, the check every way up in 1 to 6 lines, judged: "bisected" is a block across to a
hundredth of a point, "both ways" the same across and along, "shrunk" a block across that shrinks
from 72 pt by half points until it fits. Growth with words is beside a title of six words, that
with rows is per row beside the least number of rows. Titles full of marks have one at every other
word, and are as long as the plain ones. Two processes over one is 2 at best, and 1 on a machine
whose cores are taken.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import mean, median
from typing import Any

import cold_start
from beside import (
    beside_browser,
    beside_harfbuzz,
    beside_pillow,
    beside_plain,
    everything,
    the_advised,
    the_verdict,
)
from growth import by_processes, by_rows, by_words
from methods import by_methods, table_of_methods
from titles import books, plain_books


def main() -> None:
    """Measure and print."""
    reader = argparse.ArgumentParser(description="How fast is spinefit?")
    for name in ("json", "quick", "long"):
        reader.add_argument(f"--{name}", action="store_true")
    asked = reader.parse_args()
    found = measured(quick=asked.quick, long=asked.long)
    text = json.dumps(found, indent=2) if asked.json else table(found)
    sys.stdout.write(f"{text}\n")


def measured(*, quick: bool, long: bool) -> dict[str, Any]:
    """Every figure, in seconds, megabytes and ratios."""
    some = books(60 if quick else 500)
    rounds = 3 if quick else 7
    found: dict[str, Any] = {"machine": machine(), "titles": about(some)}
    sides = {
        "check, the verdict read / HarfBuzz alone": lambda: beside_harfbuzz(
            some, rounds, read=the_verdict
        ),
        "check, the advised setting read / HarfBuzz alone": lambda: beside_harfbuzz(
            some, rounds, read=the_advised
        ),
        "check, every setting read / HarfBuzz alone": lambda: beside_harfbuzz(
            some, rounds, read=everything
        ),
        "check, not read / HarfBuzz alone": lambda: beside_harfbuzz(some, rounds, read=id),
        "check, titles full of marks / plain ones": lambda: beside_plain(
            plain_books(len(some)), rounds
        ),
        "largest on one line / Pillow with Raqm": lambda: beside_pillow(some, rounds),
        "cold start / its libraries": lambda: cold(5 if quick else 25),
    }
    for name, way in sides.items():
        say(name)
        found[name] = pair(*way())
    say("browser")
    browser = beside_browser(some, rounds)
    for name, theirs in browser._asdict().items():
        if name != "check":
            found[f"check in a panel / browser's block, {name.replace('_', ' ')}"] = pair(
                browser.check, theirs
            )
    say("methods")
    found["methods"] = by_methods(40 if quick else 200, 1 if quick else 2)
    say("words")
    words = by_words(rounds)
    found["words"] = {
        count: {"seconds": time, "ratio": time / words[6]} for count, time in words.items()
    }
    counts = [1_000, 10_000, 100_000, *([1_000_000] if long else [])]
    rows = []
    for count in [500, 2_000] if quick else counts:
        say(f"{count} rows")
        rows.append(by_rows(count))
    found["rows"] = {
        one.rows: {
            "seconds": one.seconds,
            "ratio": one.seconds / one.rows / (rows[0].seconds / rows[0].rows),
            "megabytes": one.megabytes,
        }
        for one in rows
    }
    say("processes")
    at_work = {jobs: by_processes(500 if quick else 4_000, jobs) for jobs in (1, 2)}
    found["two processes / one"] = {"rows a second": at_work, "ratio": at_work[2] / at_work[1]}
    return found


def say(what: str) -> None:
    """Tell who waits what is being measured."""
    sys.stderr.write(f"{what}\n")


def machine() -> dict[str, Any]:
    """What kind of machine it is."""
    return {
        "cores": os.cpu_count(),
        "load": round(os.getloadavg()[0], 1),
        "python": platform.python_version(),
        "system": f"{platform.system()} {platform.machine()}",
    }


def about(some: list[Any]) -> dict[str, Any]:
    """How long the titles are."""
    titles = [book.title for book in some]
    return {
        "count": len(titles),
        "mean letters": round(mean(map(len, titles)), 1),
        "mean words": round(mean(len(title.split()) for title in titles), 1),
        "most letters": max(map(len, titles)),
        "most words": max(len(title.split()) for title in titles),
    }


def pair(ours: float, theirs: float) -> dict[str, float]:
    """Both sides and their ratio."""
    return {"ours": ours, "theirs": theirs, "ratio": ours / theirs}


def cold(runs: int) -> tuple[float, float]:
    """Median seconds of a check and of its libraries, each in a fresh process, installed."""
    env = {name: value for name, value in os.environ.items() if name not in cold_start.NOT_A_USERS}
    with tempfile.TemporaryDirectory() as folder:
        programs = cold_start.installed(Path(folder), env)
        check = [str(programs / "spinefit"), *cold_start.CHECK]
        libraries = [str(programs / "python"), "-c", cold_start.LIBRARIES]
        taken: tuple[list[float], list[float]] = ([], [])
        for at in range(runs + 1):
            for times, command in zip(taken, (check, libraries), strict=True):
                seconds = cold_start.seconds(command, folder, env)
                if at:  # the first warms the disk's cache
                    times.append(seconds)
    return median(taken[0]), median(taken[1])


def table(found: dict[str, Any]) -> str:
    """The figures as a table in Markdown."""
    kind, titles = found["machine"], found["titles"]
    lines = [
        f"{kind['cores']} cores ({kind['load']} of them busy), {kind['system']}, "
        f"Python {kind['python']}; {titles['count']} titles, "
        f"{titles['mean letters']} letters and {titles['mean words']} words in the mean, "
        f"{titles['most letters']} and {titles['most words']} at most.",
        "",
        "| ours / theirs | ours | theirs | ratio |",
        "| --- | ---: | ---: | ---: |",
    ]
    for name, one in found.items():
        if isinstance(one, dict) and "theirs" in one:
            ours, theirs = one["ours"] * 1e3, one["theirs"] * 1e3
            lines.append(f"| {name} | {ours:.3f} ms | {theirs:.3f} ms | {one['ratio']:.2f} |")
    lines += ["", *table_of_methods(found["methods"])]
    lines += ["", "| words | a check | ratio |", "| ---: | ---: | ---: |"]
    for count, one in found["words"].items():
        lines.append(f"| {count} | {one['seconds'] * 1e3:.2f} ms | {one['ratio']:.2f} |")
    lines += [
        "",
        "| rows | whole | a row | ratio | memory |",
        "| ---: | ---: | ---: | ---: | ---: |",
    ]
    for count, one in found["rows"].items():
        each = one["seconds"] / count * 1e3
        lines.append(
            f"| {count} | {one['seconds']:.1f} s | {each:.2f} ms | {one['ratio']:.2f} "
            f"| {one['megabytes']:.0f} MB |"
        )
    two = found["two processes / one"]
    one_rate, two_rate = two["rows a second"].values()
    lines += ["", f"Rows a second: {one_rate:.0f} by one process, {two_rate:.0f} by two; "]
    lines[-1] += f"ratio {two['ratio']:.2f}."
    return "\n".join(lines)


if __name__ == "__main__":
    try:
        main()
    except subprocess.CalledProcessError as fault:
        sys.exit(f"{fault}")
