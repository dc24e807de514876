"""Which random question is put to the page, and what was wrong with its answer?

A question, a job file of `job_cases`, damaged now and then, and files beside it. It is asked as a
child of the page asks, and its answer goes through what the server sends it in.
"""

from __future__ import annotations

import json
import random
from functools import cache, partial
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from starlette.responses import JSONResponse

from spinefit.page.child import bounded_answer
from spinefit.page.questions import answer
from spinefit.page.store import Store
from tests.fuzz.job_cases import SHARED, hostile_title, job_text

__all__ = ["page_case"]

_QUESTIONS = ("answer",) * 6 + ("settings", "improve", "tasks", "open", "samples", "nothing")
_LONGEST = 1500  # letters of a fault
_LARGEST = 20 * 1024 * 1024  # bytes of an answer
_NAMES = (
    "own.ttf",
    "job.toml",
    "../x",
    "/etc/passwd",
    "",
    "a\0b",
    "tools.toml",
    "x" * 5000,
    "灯" * 150,
    "\ud800",
)


def page_case(seed: int, number: int, folder: Path) -> tuple[dict[str, Any], list[str]]:
    """What was asked, and what was wrong with the answer."""
    chance = random.Random(f"{seed} page {number}")
    store = Store(str(folder))
    digests = [store.keep(data) for data in _own_files()]
    asked: dict[str, Any] = {
        "job": job_text(chance),
        "fonts": ["EB Garamond", chance.choice(_NAMES)],
    }
    asked["words"] = hostile_title(chance)
    if chance.random() < 0.3:
        asked["files"] = {chance.choice(_NAMES): chance.choice(digests) for _ in range(2)}
    if chance.random() < 0.05:
        asked[chance.choice(("job", "files", "fonts"))] = chance.choice((None, 7, [], {}, "x"))
    asked = json.loads(json.dumps(asked))  # as it comes over the wire
    question = chance.choice(_QUESTIONS)
    told = bounded_answer(partial(answer, question, asked, str(folder)))
    return {"question": question, **asked}, _faults(told, folder)


@cache
def _own_files() -> tuple[bytes, ...]:
    fonts = (SHARED.parent / "fonts_open" / "cinzel").glob("*.ttf")
    return tuple(one.read_bytes() for one in (*fonts, *(SHARED / "tools").glob("*.toml")))


def _faults(told: Any, folder: Path) -> list[str]:
    try:
        sent = JSONResponse(told).body
    except Exception as fault:  # the server would say 500
        return [f"cannot be sent: {type(fault).__name__}: {fault}"]
    found = []
    if len(sent) > _LARGEST:
        found.append(f"an answer of {len(sent)} bytes")
    for bad in ("internal fault", "not enough memory", "Traceback", str(folder)):
        if bad.encode() in sent:
            found.append(f"{bad!r} is told: {told.get('fault')}")
    fault = told.get("fault")
    if fault and not (0 < len(fault["text"]) < _LONGEST and isinstance(fault["where"], str)):
        found.append(f"a fault of {len(fault['text'])} letters at {fault['where']!r}")
    for drawing in told.get("drawings", ()):
        for element in ElementTree.fromstring(drawing).iter():
            if element.tag.rpartition("}")[2] in ("script", "foreignObject"):
                found.append(f"a drawing with {element.tag}")
    return found
