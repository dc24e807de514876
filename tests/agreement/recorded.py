"""Record what random books are answered: `python -m tests.agreement.recorded`.

The record says what is answered, not what is right: that others say. It shows which answers a
change of the code alters, so that each can be looked at, told in CHANGELOG.md and recorded anew.
Books are drawn with a seed and refused ones left out; the words of each stand in the record.
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from tests.agreement.doors import asked_of, seen

__all__ = ["RECORD", "answer_to"]

RECORD = Path(__file__).with_name("recorded.jsonl")
_SEED, _COUNT = 1, 150
_NOT_KEPT = ("title", "recess", "front_board", "label")

_TITLES = (
    "The Harbour Light", "Tides", "Knots and Splices", "Registers of the Parish / Vol. 2",
    "Der Leuchtturm am Hafen", "Λιμάνι και φάρος", "Огни гавани", "Dues 1848–1870",
    "Tide Tables of the North Sea Coast", "Wrack & Ruin: Salvage (1848–1870), #3", "Coriolanus",
    "Letters of J. R. Hale from the Quay", "La gardienne du phare", "Harbourmastership",
    "An Almanack of Fogs, Lamps and Signals for the Northern Roads, with Charts", "La Fée de l’île",
)  # fmt: skip
_PLACES = (
    ("--width", "9mm", "--height", "180mm"), ("--width", "13mm", "--height", "210mm"),
    ("--width", "13..15mm", "--height", "198mm"), ("--width", "22mm", "--height", "210mm"),
    ("--width", "31mm", "--height", "240mm"), ("--width", "45mm", "--height", "297mm"),
    ("--width", "30mm", "--height", "240mm", "--back", "rounded", "--rise", "6mm"),
    ("--width", "38mm", "--height", "240mm", "--bands", "5"),
    ("--width", "52mm", "--height", "320mm", "--bands", "4", "--tail-ratio", "1.2"),
    ("--width", "36mm", "--height", "230mm", "--bands-at", "40,80,120,160mm", "--title-panel", "2"),
    ("--panel", "20x30mm"), ("--panel", "28x45mm"), ("--panel", "45x30mm"), ("--panel", "16x90mm"),
    ("--panel", "30x40mm", "--panel-shape", "oval"),
    ("--panel", "34x40mm", "--panel-shape", "cut", "--corner", "5mm"),
    ("--panel", "40x60mm", "--keep-free", "12x8@0,-18mm"),
    ("--panel", "32x44mm", "--panel-outline", "-15,-20 15,-20 15,20 0,14 -15,20mm"),
    ("--label-size", "28x40mm", "--frame", "double"),
    ("--width", "26mm", "--height", "200mm", "--old-lettering", "15x24mm@60mm"),
    ("--front-board", "135x215mm"), ("--leaves", "130x205mm", "--squares", "3mm"),
)  # fmt: skip
_METHODS = (
    "paper-label", "leather-label", "paperback-cover", "cloth-print", "transfer-vinyl",
    "screen-print", "blocked-case", "foil-blocked-leather", "hand-letters", "type-holder",
)  # fmt: skip
_MORE = (
    ("--small-words", "alone"), ("--break-words", "hyphen"), ("--break-words", "plain"),
    ("--lines", "1"), ("--lines", "3"), ("--orientation", "transverse"), ("--size", "14"),
    ("--orientation", "longitudinal"), ("--orientation", "pillar"), ("--reading", "ascending"),
    ("--sizes", "10,12,14,18"), ("--case", "capitals"), ("--case", "small-capitals"),
    ("--leading", "1.3"), ("--tracking", "50"), ("--market", "DE"), ("--market", "FR"),
    ("--font", "Source Serif 4"), ("--font", "IBM Plex Sans Var"), ("--font", "Libre Baskerville"),
    ("--centre", "ink"), ("--centre", "capitals"), ("--clearance", "2mm"), ("--shape", "lozenge"),
    ("--recess",), ("--axes", "wght=650", "--font", "IBM Plex Sans Var"), ("--edge", "2mm"),
    ("--tools", "shared/tools/reading-room-brass.toml"), ("--from-head", "60mm"),
    ("--role", "call-number", "--from-tail", "20mm"), ("--reading-distance", "900mm"),
    ("--work", "library"), ("--work", "leather"), ("--stock", "rough-cloth"), ("--lap", "10mm"),
)  # fmt: skip


def books() -> Iterator[tuple[str, ...]]:
    """Command lines without end, the same every time."""
    chance = random.Random(_SEED)
    while True:
        words = ["check", chance.choice(_TITLES), *chance.choice(_PLACES)]
        if chance.random() < 0.6:
            words += ["--method", chance.choice(_METHODS)]
        for more in chance.sample(_MORE, chance.choice((0, 0, 1, 1, 2))):
            words += more
        yield tuple(words)


def answer_to(words: Sequence[str]) -> dict[str, Any]:
    """The figures of the setting that is shown, and of every other in short."""
    (report,) = asked_of(words).reports
    others = [
        [each["orientation"], each["lines"], each["set_pt"], each["largest_pt"], each["tight"]]
        for each in report["layouts"]
    ]
    found = {
        name: value
        for name, value in seen(report).items()
        if value is not None and ", limit" not in name and name not in _NOT_KEPT
    }
    # As JSON has it, so that a list read again is the same list.
    return dict(json.loads(json.dumps({**found, "settings": others})))


def _record() -> None:
    lines: list[str] = []
    for words in books():
        try:
            answer = answer_to(words)
        except AssertionError:  # refused
            continue
        lines.append(json.dumps({"words": words, "answer": answer}, ensure_ascii=False))
        if len(lines) == _COUNT:
            break
    RECORD.write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    _record()
