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

_DEEPEST = 125  # BD2
_REMOVED = frozenset(("LRE", "RLE", "LRO", "RLO", "PDF", "BN"))  # X9
_INITIATORS = frozenset(("LRI", "RLI", "FSI"))
_OVERRIDES = {"LRO": "L", "RLO": "R"}
_WHITE = frozenset(("WS", "FSI", "LRI", "RLI", "PDI")) | _REMOVED  # L1
_MOST_OPEN = 63  # BD16
_NEUTRAL = frozenset(("B", "S", "WS", "ON", "FSI", "LRI", "RLI", "PDI"))
_STRONG = {"L": "L", "R": "R", "EN": "R", "AN": "R"}  # N0, N1: figures count as R
# BidiBrackets.txt of Unicode 15.0: opening and closing in turn.
_PAIRS = (
    "()[]{}༺༻༼༽᚛᚜⁅⁆⁽⁾₍₎⌈⌉⌊⌋❨❩❪❫❬❭❮❯❰❱❲❳❴❵⟅⟆⟦⟧⟨⟩⟪⟫⟬⟭⟮⟯⦃⦄⦅⦆⦇⦈⦉⦊⦋⦌⦍⦐⦏⦎"
    "⦑⦒⦓⦔⦕⦖⦗⦘⧘⧙⧚⧛⧼⧽⸢⸣⸤⸥⸦⸧⸨⸩⹕⹖⹗⹘⹙⹚⹛⹜〈〉《》「」『』【】〔〕〖〗〘〙〚〛﹙﹚﹛﹜﹝﹞（）［］｛｝｟｠｢｣"
)
_CLOSING = dict(zip(_PAIRS[::2], _PAIRS[1::2], strict=True))
_OPENERS = {closing: opening for opening, closing in _CLOSING.items()}
_SAME = {"\u2329": "\u3008", "\u232a": "\u3009"}  # canonical equivalents


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
        found = _resolve_sequence(
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


def _resolve_sequence(
    chars: Sequence[str],
    kinds: Sequence[str],
    original: Sequence[str],
    *,
    level: int,
    sos: str,
    eos: str,
) -> list[int]:
    """The resolved level of each character of one isolating run sequence.

    Args:
        chars: the characters.
        kinds: their classes after explicit overrides.
        original: the classes of the characters themselves.
        level: the sequence's explicit level.
        sos: the direction at its start, L or R.
        eos: the direction at its end.
    """
    run = list(kinds)
    _weak(run, sos)
    embedding = "R" if level % 2 else "L"
    _brackets(chars, run, original, sos, embedding)
    _neutral(run, sos, eos, embedding)
    if level % 2:  # I2
        return [level + (kind != "R") for kind in run]
    return [level + {"L": 0, "R": 1}.get(kind, 2) for kind in run]  # I1


def _weak(run: list[str], sos: str) -> None:
    """W1 to W7."""
    before, strong = sos, sos
    for at, kind in enumerate(run):
        if kind == "NSM":  # W1
            run[at] = "ON" if before in ("LRI", "RLI", "FSI", "PDI") else before
        before = run[at]
    for at, kind in enumerate(run):
        if kind in ("L", "R", "AL"):
            strong = kind
        elif kind == "EN" and strong == "AL":  # W2
            run[at] = "AN"
    run[:] = ["R" if kind == "AL" else kind for kind in run]  # W3
    for at in range(1, len(run) - 1):  # W4
        around = run[at - 1]
        parted = run[at] == "CS" or (run[at] == "ES" and around == "EN")
        if parted and around in ("EN", "AN") and around == run[at + 1]:
            run[at] = around
    _terminators(run)
    strong = sos
    for at, kind in enumerate(run):  # W7
        if kind in ("L", "R"):
            strong = kind
        elif kind == "EN" and strong == "L":
            run[at] = "L"


def _terminators(run: list[str]) -> None:
    """W5 and W6: what stands beside a figure goes with it, and is neutral otherwise."""
    at = 0
    while at < len(run):
        end = at
        while end < len(run) and run[end] == "ET":
            end += 1
        beside = (at > 0 and run[at - 1] == "EN") or (end < len(run) and run[end] == "EN")
        run[at:end] = ["EN" if beside else "ON"] * (end - at)
        at = max(end, at + 1)
    run[:] = ["ON" if kind in ("ES", "CS") else kind for kind in run]


def _brackets(
    chars: Sequence[str], run: list[str], original: Sequence[str], sos: str, embedding: str
) -> None:
    """N0: brackets in pairs take one direction."""
    for opening, closing in _bracket_pairs(chars, run):
        inside = {_STRONG.get(kind) for kind in run[opening + 1 : closing]}
        if embedding in inside:
            found = embedding
        elif inside & {"L", "R"}:
            before = next(
                (_STRONG[kind] for kind in reversed(run[:opening]) if kind in _STRONG), sos
            )
            found = before if before != embedding else embedding
        else:
            continue
        for place in (opening, closing):
            run[place] = found
            at = place + 1
            while at < len(run) and original[at] == "NSM":
                run[at] = found
                at += 1


def _bracket_pairs(chars: Sequence[str], run: Sequence[str]) -> list[tuple[int, int]]:
    """BD16: pairs of brackets by the place of the opening one."""
    pairs: list[tuple[int, int]] = []
    waiting: list[tuple[str, int]] = []
    for at, (typed, kind) in enumerate(zip(chars, run, strict=True)):
        if kind != "ON":
            continue
        char = _SAME.get(typed, typed)
        if char in _CLOSING:
            if len(waiting) == _MOST_OPEN:
                return []
            waiting.append((char, at))
        elif char in _OPENERS:
            for depth in range(len(waiting) - 1, -1, -1):
                if waiting[depth][0] == _OPENERS[char]:
                    pairs.append((waiting[depth][1], at))
                    del waiting[depth:]
                    break
    return sorted(pairs)


def _neutral(run: list[str], sos: str, eos: str, embedding: str) -> None:
    """N1 and N2: neutrals between two of a direction take it, others that of the text."""
    at = 0
    while at < len(run):
        end = at
        while end < len(run) and run[end] in _NEUTRAL:
            end += 1
        if end > at:
            before = _STRONG[run[at - 1]] if at else sos
            after = _STRONG[run[end]] if end < len(run) else eos
            run[at:end] = [before if before == after else embedding] * (end - at)
        at = max(end, at + 1)
