"""Run many damaged fonts and random jobs, and count what was wrong.

    python tests/fuzz/run.py --fonts 10000 --jobs 10000 --seed 1

``--page 10000`` puts as many questions to the page.

Cases run in a process of their own, many in each; one that hangs or crashes ends it, is counted,
and the next goes on in a fresh one. ``--first N`` begins at case N; ``--findings FILE`` keeps
what was found, a line of JSON each. Ends with 1 where there was a finding.
"""

from __future__ import annotations

import argparse
import json
import math
import queue
import signal
import subprocess
import sys
import threading
import time
from collections import Counter
from pathlib import Path
from typing import Any

WORKER = Path(__file__).with_name("worker.py")
WALL_SECONDS = 60.0  # the worker bounds the time at work; this is for one that waits forever


class Worker:
    """A process that runs cases."""

    def __init__(self, seed: int) -> None:
        self.process = subprocess.Popen(
            [sys.executable, str(WORKER), str(seed)],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        )  # fmt: skip
        self._lines: queue.Queue[str] = queue.Queue()
        self.errors: list[str] = []
        threading.Thread(target=self._read, daemon=True).start()
        threading.Thread(target=self._hear, daemon=True).start()

    def _read(self) -> None:
        assert self.process.stdout
        for line in self.process.stdout:
            self._lines.put(line)
        self._lines.put("")

    def _hear(self) -> None:
        assert self.process.stderr
        for line in self.process.stderr:
            self.errors = [*self.errors[-30:], line]

    def ask(self, kind: str, number: int) -> dict[str, Any]:
        """What became of a case; a death or a wait without end is a finding."""
        assert self.process.stdin
        self.process.stdin.write(f"{kind} {number}\n")
        self.process.stdin.flush()
        try:
            line = self._lines.get(timeout=WALL_SECONDS)
        except queue.Empty:
            self.end()
            return {"number": number, "hang": True, "wrong": ["waits forever"]}
        if line:
            found: dict[str, Any] = json.loads(line)
            return found
        code = self.process.wait()
        if code == -signal.SIGPROF:
            return {"number": number, "hang": True, "wrong": ["more than 5 s of a processor"]}
        said = "".join(self.errors[-12:])
        return {"number": number, "crash": True, "wrong": [f"the process ended by {code}: {said}"]}

    def end(self) -> None:
        self.process.kill()
        self.process.wait()


def run(
    kind: str, numbers: range, seed: int, findings: list[dict[str, Any]], seconds: float
) -> Counter[str]:
    """Counts of how the cases ended, as many as there was time for."""
    until = time.monotonic() + seconds
    counts: Counter[str] = Counter()
    worker: Worker | None = None
    slowest: tuple[float, int] = (0.0, -1)
    for number in numbers:
        if time.monotonic() > until:
            break
        if worker is None or worker.process.poll() is not None or counts["cases"] % 1000 == 0:
            if worker is not None:
                worker.end()
            worker = Worker(seed)
        found = worker.ask(kind, number)
        counts["cases"] += 1
        if found.get("sizes"):
            counts[f"sizes {found['sizes']}"] += 1
        slowest = max(slowest, (found.get("seconds", 0.0), number))
        if found["wrong"]:
            findings.append({"kind": kind, "seed": seed, **found})
            name = "hangs" if "hang" in found else "crashes" if "crash" in found else "wrong"
            counts[name] += 1
        else:
            counts[f"exit code {found['code']}"] += 1
    if worker is not None:
        worker.end()
    counts["slowest in ms"], counts["slowest case"] = round(slowest[0] * 1000), slowest[1]
    return counts


def main(words: list[str] | None = None) -> int:
    """Run what was asked for; 1 where something was found."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--fonts", type=int, default=200)
    parser.add_argument("--jobs", type=int, default=200)
    parser.add_argument("--page", type=int, default=0, help="questions put to the page")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--seconds", type=float, default=math.inf, help="of either kind, at most")
    parser.add_argument("--findings", type=Path)
    asked = parser.parse_args(words)
    findings: list[dict[str, Any]] = []
    for kind, many in (("font", asked.fonts), ("job", asked.jobs), ("page", asked.page)):
        start = time.monotonic()
        numbers = range(asked.first, asked.first + many)
        counts = run(kind, numbers, asked.seed, findings, asked.seconds)
        said = ", ".join(f"{name}: {count}" for name, count in sorted(counts.items()))
        print(f"{kind}s in {time.monotonic() - start:.0f} s: {said}", flush=True)  # noqa: T201
    for found in findings[:40]:
        print(json.dumps(found))  # noqa: T201
    if asked.findings:
        asked.findings.write_text("".join(f"{json.dumps(found)}\n" for found in findings))
    return 1 if findings else 0


if __name__ == "__main__":
    sys.exit(main())
