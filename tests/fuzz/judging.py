"""What did a command line do that it must not?

``outcome`` runs one in this process; ``faults`` holds it against the rules of the house: the
exit codes 0, 1 and 2, one line for bad input and nothing on standard output beside it, no
traceback, no file half written, JSON that a strict reader takes, drawings without a script.
"""

from __future__ import annotations

import io
import json
import re
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple
from xml.etree import ElementTree

from spinefit.cli.main import status

__all__ = ["Outcome", "faults", "of_sizes", "outcome"]

_RIGHT_WITHIN = 0.005  # of a size: less than anybody sees
_ALLOWED = ("not enough memory",)
_HANDLER = re.compile(r"\bon[a-z]+\s*=", re.IGNORECASE)


class Outcome(NamedTuple):
    """What a command line gave."""

    code: int
    out: str
    err: str


def outcome(words: Sequence[str], given: bytes = b"") -> Outcome:
    """Run a command line in this process."""
    kept = sys.stdin, sys.stdout, sys.stderr
    out, err = (io.TextIOWrapper(io.BytesIO(), encoding="utf-8", newline="") for _ in range(2))
    sys.stdin = io.TextIOWrapper(io.BytesIO(given), encoding="utf-8")
    sys.stdout, sys.stderr = out, err
    try:
        code = status(list(words))
        out.flush()
        err.flush()
        said = [stream.buffer.getvalue().decode("utf-8", "replace") for stream in (out, err)]
    finally:
        sys.stdin, sys.stdout, sys.stderr = kept
    return Outcome(code, *said)


def faults(  # noqa: PLR0912 (a branch a rule)
    words: Sequence[str], done: Outcome, folder: Path | None = None
) -> list[str]:
    """What was wrong with it; empty where all is as it should be."""
    found = []
    if done.code not in (0, 1, 2):
        found.append(f"exit code {done.code}")
    for bad in ("internal fault", "Traceback", "Warning", "disagree", *_ALLOWED):
        if bad in done.err or (bad == "Traceback" and bad in done.out):
            found.append(f"{bad!r} is said: {done.err[-300:]}")
    lines = done.err.splitlines()
    batch = "batch" in words or "--job-files" in words
    if done.code == 2 and not batch:
        told_so = '"schema": "spinefit.error/1"' in done.out or 'type="bad input"' in done.out
        if done.out and not told_so:
            found.append(f"bad input and yet an answer: {done.out[:80]!r}")
        if len(lines) != 1:
            found.append(f"{len(lines)} lines on standard error: {done.err[:300]!r}")
    told = "worksheet" in words or "--save-pattern" in words  # they say what they did
    told = told or ("--picture" in words and done.err.startswith("spinefit: no picture: "))
    if done.code != 2 and not batch and not told and done.err:
        found.append(f"an answer, and on standard error {done.err[:200]!r}")
    for line in lines:
        if not line.startswith("spinefit: "):
            found.append(f"a line not ours: {line[:200]!r}")
        if not line.isprintable():
            found.append(f"a line that may hide something: {line[:200]!r}")
        if len(line) > 1500:
            found.append(f"a line of {len(line)} characters")
    if done.out.startswith("{"):
        found += _json_faults(done.out)
    if folder is not None:
        found += _file_faults(folder, bad_input=done.code == 2 and not batch)
    return found


def of_sizes(words: Sequence[str], damaged: str, sound: str) -> str:
    """What became of the sizes of a damaged font, held against those of the sound one.

    Args:
        words: the command line, ``FONT`` standing for the file.
        damaged: the file of the damaged font.
        sound: that of the sound one.

    Returns:
        "right" or "wrong", and whether the font's damage was warned of; "unknown" where one of
        the two is not answered.
    """
    words = [*_without_files(words), "--format", "json"]
    answers = []
    for path in (damaged, sound):
        done = outcome([path if word == "FONT" else word for word in words])
        if done.code == 2:
            return "unknown"
        answers.append(json.loads(done.out))
    found, wanted = map(_largest, answers)
    both = found.keys() & wanted.keys()
    right = both and all(
        abs(found[key] - wanted[key]) <= _RIGHT_WITHIN * wanted[key] for key in both
    )
    warned = any(
        (one["topic"], one["level"]) == ("font-checksum", "warning")
        for one in answers[0]["findings"]
    )
    return f"{'right' if right else 'wrong'}, {'warned of' if warned else 'not warned of'}"


def _largest(report: dict[str, Any]) -> dict[tuple[str, int], float]:
    """The largest size in every way and number of lines."""
    found: dict[tuple[str, int], float] = {}
    for one in report["layouts"]:
        key = one["orientation"], len(one["lines"])
        found[key] = max(found.get(key, 0.0), one["largest_pt"])
    return found


def _without_files(words: Sequence[str]) -> list[str]:
    found = list(words)
    for option in ("--drawing", "--format"):
        while option in found:
            at = found.index(option)
            del found[at : at + 2]
    return found


def _json_faults(text: str) -> list[str]:
    def refuse(name: str) -> Any:
        raise ValueError(f"{name} in JSON")

    try:
        for line in [text] if not text.count("\n{") else text.splitlines():
            json.loads(line, parse_constant=refuse)
    except ValueError as fault:
        return [f"no JSON: {fault}"]
    return []


def _file_faults(folder: Path, *, bad_input: bool) -> list[str]:
    """What is wrong with the files that it wrote: those named OUT or DRAWING."""
    found = []
    for path in folder.iterdir():
        if ".part" in path.name:
            found.append(f"a file half written: {path.name}")
        if not path.name.startswith(("OUT", "DRAWING")) or path.is_dir():
            continue
        if bad_input:
            found.append(f"bad input and yet a file: {path.name}")
        text = path.read_bytes().decode("utf-8", "replace")
        if path.suffix == ".svg" and path.name.startswith("DRAWING"):
            found += _svg_faults(text)
        if (
            path.suffix == ".html"
            and path.name.startswith("DRAWING")
            and "Content-Security-Policy" not in text
        ):
            found.append("an HTML page without a content security policy")
    return found


def _svg_faults(text: str) -> list[str]:
    try:
        tree = ElementTree.fromstring(text)
    except ElementTree.ParseError as fault:
        return [f"the drawing is no XML: {fault}"]
    found = []
    for node in tree.iter():
        if node.tag.rpartition("}")[2].lower() in ("script", "foreignobject", "image", "a"):
            found.append(f"the drawing has a {node.tag}")
        if any(_HANDLER.match(f"{name}=") for name in node.attrib):
            found.append(f"the drawing has a handler: {node.attrib}")
    if re.search(r"\b(nan|inf)\b", text) and 'd="' in text and re.search(r'="[^"]*\bnan\b', text):
        found.append("the drawing has a number that is none")
    return found
