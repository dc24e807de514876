"""How do weak and neutral characters take their direction from their neighbours?

Rules W1 to I2 of the Unicode Bidirectional Algorithm (Unicode Standard Annex #9) for one
isolating run sequence at a time, with its brackets (BD16, N0). In: characters and classes.
Out: levels. A part of `bidi`, which says what a sequence is.
"""

from __future__ import annotations

from collections.abc import Sequence

__all__ = ["resolve_sequence"]

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


def resolve_sequence(
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
