"""Ask pip for a wheel of every library on the machines that spinefit is meant to run on.

    python tests/packaging/wheels.py > tests/packaging/WHEELS.md

Nothing is installed. Of each library that comes along (data/dependencies.toml) pip looks for a
wheel of a version that `pyproject.toml` allows, for each machine and each CPython; what has none
would have to be compiled there. Needs the network, so it is no test.
"""

from __future__ import annotations

import subprocess
import sys
import tomllib
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path

ROOT = Path(__file__).parents[2]
PYTHONS = ("3.11", "3.12", "3.13", "3.14")
MACHINES = {
    "Linux x86-64": [f"manylinux_2_{minor}_x86_64" for minor in range(28, 16, -1)],
    "Linux ARM64": [f"manylinux_2_{minor}_aarch64" for minor in range(28, 16, -1)],
    "Linux musl x86-64": ["musllinux_1_2_x86_64", "musllinux_1_1_x86_64"],
    "macOS ARM64": [f"macosx_{major}_0_arm64" for major in range(14, 10, -1)],
    "macOS x86-64": ["macosx_14_0_x86_64", "macosx_10_15_x86_64", "macosx_10_13_x86_64"],
    "Windows x86-64": ["win_amd64"],
    "Windows ARM64": ["win_arm64"],
}


def libraries() -> list[str]:
    """What pyproject.toml asks for, with its bounds, and what those bring along."""
    with (ROOT / "pyproject.toml").open("rb") as file:
        asked = tomllib.load(file)["project"]["dependencies"]
    with (ROOT / "spinefit/data/dependencies.toml").open("rb") as file:
        rows = tomllib.load(file)
    return [*asked, *(name for name, row in rows.items() if "by" in row)]


def missing(wanted: Sequence[str], python: str, platforms: Sequence[str]) -> Iterator[str]:
    """Those of several libraries without a wheel, by halves until they are alone."""
    if _has_wheels(wanted, python, platforms):
        return
    if len(wanted) == 1:
        yield wanted[0].partition(">=")[0]
        return
    middle = len(wanted) // 2
    yield from missing(wanted[:middle], python, platforms)
    yield from missing(wanted[middle:], python, platforms)


def _has_wheels(wanted: Sequence[str], python: str, platforms: Sequence[str]) -> bool:
    named = [word for platform in platforms for word in ("--platform", platform)]
    done = subprocess.run(
        [sys.executable, "-m", "pip", "install", "--dry-run", "--quiet", "--ignore-installed",
         "--no-deps", "--only-binary", ":all:", "--target", "unused", "--implementation", "cp",
         "--python-version", python, *named, *wanted],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    if done.returncode and "No matching distribution" not in done.stderr:
        raise SystemExit(done.stderr)
    return not done.returncode


def main() -> None:
    """The table, as Markdown."""
    wanted = libraries()
    cases = [(python, machine) for machine in MACHINES for python in PYTHONS]
    with ThreadPoolExecutor(4) as pool:
        found = list(
            pool.map(lambda case: list(missing(wanted, case[0], MACHINES[case[1]])), cases)
        )
    without = dict(zip(cases, found, strict=True))
    lines = [
        "# Where a wheel of every library exists",
        "",
        f"By `python tests/packaging/wheels.py`, {date.today():%d %B %Y}: {len(wanted)} libraries, "
        "those asked for and",
        "those they bring along, each in a version that `pyproject.toml` allows.",
        "A name is a library that would have to be compiled there.",
        "",
        f"| machine | {' | '.join(f'CPython {python}' for python in PYTHONS)} |",
        f"| --- |{' --- |' * len(PYTHONS)}",
    ]
    for machine in MACHINES:
        cells = (", ".join(without[python, machine]) or "all" for python in PYTHONS)
        lines.append(f"| {machine} | {' | '.join(cells)} |")
    print("\n".join(lines))  # noqa: T201


if __name__ == "__main__":
    main()
