"""In which order are the letters of a text seen, where scripts of both directions meet?

The Unicode Bidirectional Algorithm (Unicode Standard Annex #9, rules P2 to L2) in its own
steps: levels of a whole paragraph once, then the order of any line cut out of it. Classes of
characters come from Python's `unicodedata`. Loaded only for texts with a right-to-left letter.
Leaves mirrored forms (L4) to HarfBuzz.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from typing import NamedTuple

from spinefit.shaping.bidi_rules import resolve_sequence

__all__ = ["base_level", "classes_of", "levels_of", "line_levels", "seen_order"]

_DEEPEST = 125  # BD2
_REMOVED = frozenset(("LRE", "RLE", "LRO", "RLO", "PDF", "BN"))  # X9
_INITIATORS = frozenset(("LRI", "RLI", "FSI"))
_OVERRIDES = {"LRO": "L", "RLO": "R"}
_WHITE = frozenset(("WS", "FSI", "LRI", "RLI", "PDI")) | _REMOVED  # L1


class _Status(NamedTuple):
    """An entry of the directional status stack."""

    level: int
    override: str
    isolate: bool


def classes_of(text: str) -> list[str]:
    """Bidi_Class of each character; what Unicode has not assigned counts as left to right."""
    return [unicodedata.bidirectional(char) or "L" for char in text]


def base_level(classes: Sequence[str], default: int = 0) -> int:
    """P2 and P3: 1 where the first strong character outside isolates is right-to-left.

    Args:
        classes: Bidi_Class of each character.
        default: the level where there is no strong character.
    """
    depth = 0
    for kind in classes:
        if kind in _INITIATORS:
            depth += 1
        elif kind == "PDI":
            depth = max(0, depth - 1)
        elif kind == "B":
            break
        elif not depth and kind in ("L", "R", "AL"):
            return int(kind != "L")
    return default


def levels_of(text: str, base: int, classes: Sequence[str] | None = None) -> list[int]:
    """The resolved level of each character of a paragraph; odd reads from right to left.

    Characters that X9 removes have the level of what stands before them.

    Args:
        text: one paragraph.
        base: 0 for a paragraph that reads from left to right, 1 for right to left.
        classes: Bidi_Class of each character, where they are not those of Unicode.

    >>> levels_of("a אב 12", 0)
    [0, 0, 1, 1, 1, 2, 2]
    """
    original = list(classes or classes_of(text))
    matching = _matching_isolates(original)
    kinds, levels = _explicit(original, base, matching)
    resolved = list(levels)
    for sequence in _isolating_runs(original, levels, matching):
        sos, eos = _edges(sequence, levels, original, base)
        found = resolve_sequence(
            [text[at] for at in sequence],
            [kinds[at] for at in sequence],
            [original[at] for at in sequence],
            level=levels[sequence[0]],
            sos=sos,
            eos=eos,
        )
        for at, level in zip(sequence, found, strict=True):
            resolved[at] = level
    before = base
    for at, kind in enumerate(original):
        if kind in _REMOVED:
            resolved[at] = before
        before = resolved[at]
    return resolved


def line_levels(
    levels: Sequence[int], classes: Sequence[str], base: int, start: int, end: int
) -> list[int]:
    """L1: the levels of a line cut out of a paragraph; spaces at its end go with the base."""
    found = list(levels[start:end])
    trailing = True
    for at in range(end - 1, start - 1, -1):
        kind = classes[at]
        if kind in ("B", "S"):
            trailing = True
            found[at - start] = base
        elif kind in _WHITE:
            if trailing:
                found[at - start] = base
        else:
            trailing = False
    return found


def seen_order(levels: Sequence[int]) -> list[int]:
    """L2: indexes of the characters of a line, or of its runs, from left to right as seen.

    >>> seen_order([0, 1, 1, 2, 2])
    [0, 3, 4, 2, 1]
    """
    order = list(range(len(levels)))
    odd = [level for level in levels if level % 2]
    if not odd:
        return order
    for level in range(max(levels), min(odd) - 1, -1):
        at = 0
        while at < len(order):
            end = at
            while end < len(order) and levels[order[end]] >= level:
                end += 1
            order[at:end] = order[at:end][::-1]
            at = max(end, at + 1)
    return order


def _matching_isolates(classes: Sequence[str]) -> dict[int, int]:
    """BD9: for each isolate initiator its matching PDI, where it has one."""
    found: dict[int, int] = {}
    waiting: list[int] = []
    for at, kind in enumerate(classes):
        if kind in _INITIATORS:
            waiting.append(at)
        elif kind == "PDI" and waiting:
            found[waiting.pop()] = at
    return found


def _explicit(  # noqa: PLR0912 - a branch for each of the standard's rules
    classes: Sequence[str], base: int, matching: dict[int, int]
) -> tuple[list[str], list[int]]:
    """X1 to X8: classes after overrides, and explicit levels."""
    kinds, levels = list(classes), [base] * len(classes)
    stack = [_Status(base, "", False)]
    too_deep_isolates = too_deep_embeddings = valid_isolates = 0
    for at, kind in enumerate(classes):
        top = stack[-1]
        levels[at] = top.level
        if kind in ("RLE", "LRE", "RLO", "LRO"):
            level = _next_level(top.level, rtl=kind[0] == "R")
            if level <= _DEEPEST and not too_deep_isolates and not too_deep_embeddings:
                stack.append(_Status(level, _OVERRIDES.get(kind, ""), False))
            elif not too_deep_isolates:
                too_deep_embeddings += 1
        elif kind in _INITIATORS:
            kinds[at] = top.override or kind
            inside = classes[at + 1 : matching.get(at, len(classes))]
            rtl = kind == "RLI" or (kind == "FSI" and base_level(inside) == 1)
            level = _next_level(top.level, rtl=rtl)
            if level <= _DEEPEST and not too_deep_isolates and not too_deep_embeddings:
                valid_isolates += 1
                stack.append(_Status(level, "", True))
            else:
                too_deep_isolates += 1
        elif kind == "PDI":
            if too_deep_isolates:
                too_deep_isolates -= 1
            elif valid_isolates:
                too_deep_embeddings = 0
                while not stack[-1].isolate:
                    stack.pop()
                stack.pop()
                valid_isolates -= 1
            levels[at] = stack[-1].level
            kinds[at] = stack[-1].override or kind
        elif kind == "PDF":
            if not too_deep_isolates and too_deep_embeddings:
                too_deep_embeddings -= 1
            elif not too_deep_isolates and not top.isolate and len(stack) > 1:
                stack.pop()
        elif kind == "B":
            levels[at] = base
        elif kind != "BN":
            kinds[at] = top.override or kind
    return kinds, levels


def _next_level(level: int, *, rtl: bool) -> int:
    """The least level of that direction above another."""
    return level + 1 + ((level + 1) % 2 != rtl)


def _isolating_runs(
    classes: Sequence[str], levels: Sequence[int], matching: dict[int, int]
) -> list[list[int]]:
    """X10, BD13: level runs, those of a text joined across the isolates inside it."""
    runs: list[list[int]] = []
    for at, kind in enumerate(classes):
        if kind in _REMOVED:
            continue
        if runs and levels[runs[-1][-1]] == levels[at]:
            runs[-1].append(at)
        else:
            runs.append([at])
    run_from = {run[0]: run for run in runs}
    closing = set(matching.values())
    sequences = []
    for run in runs:
        if run[0] in closing:
            continue  # it goes on from where its isolate began
        sequence = list(run)
        while sequence[-1] in matching:
            sequence.extend(run_from[matching[sequence[-1]]])
        sequences.append(sequence)
    return sequences


def _edges(
    sequence: Sequence[int], levels: Sequence[int], classes: Sequence[str], base: int
) -> tuple[str, str]:
    """X10: sos and eos, by the higher of the levels on either side of each end."""
    own = levels[sequence[0]]
    before = _kept_level(range(sequence[0] - 1, -1, -1), levels, classes, base)
    last = sequence[-1]
    after = (
        base  # an isolate without its end reaches to that of the paragraph
        if classes[last] in _INITIATORS
        else _kept_level(range(last + 1, len(levels)), levels, classes, base)
    )
    return "LR"[max(before, own) % 2], "LR"[max(after, own) % 2]


def _kept_level(places: range, levels: Sequence[int], classes: Sequence[str], base: int) -> int:
    """Level of the first character there that X9 does not remove; the base where there is none."""
    return next((levels[at] for at in places if classes[at] not in _REMOVED), base)
