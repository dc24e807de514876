"""Does a split of the title make sense to a reader?

A penalty for each line, added up over a split: a line of catch-words alone (Pleger, p. 250,
against Adam, rule 2), an article stranded at a line's end, a small word left hanging there,
a word broken (both common practice). The words come from data/catchwords.toml. Leaves widths
and shapes to others.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from spinefit.catalogue import TitleWords
from spinefit.words import folded

__all__ = [
    "BROKEN_WORD",
    "LINE_ALONE",
    "STRANDED",
    "LinePenalty",
    "line_faults",
    "line_penalty",
    "whole_word_penalty",
]

# Relative weights, not measures: a broken word is worse than any two of the others, and a
# hanging preposition only decides where nothing else does.
BROKEN_WORD = 7.0
LINE_ALONE = 3.0
STRANDED = 3.0
_HANGING = 1.0

LinePenalty = Callable[[int, int], float]
"""Penalty of the line of pieces first to last."""


def line_penalty(text: str, *, is_last: bool, in_word: bool, words: TitleWords) -> float:
    """The penalty of one line.

    Args:
        text: the line.
        is_last: True for the last line of the group.
        in_word: True where the line ends inside a word.
        words: small words of the title's language.
    """
    penalty = BROKEN_WORD if in_word and not is_last else 0.0
    parts = _words(text)
    if parts and all(part in words.catch_words for part in parts):
        return penalty + LINE_ALONE
    if not is_last and not in_word and parts:
        if parts[-1] in words.articles:
            penalty += STRANDED
        elif parts[-1] in words.catch_words:
            penalty += _HANGING
    return penalty


def whole_word_penalty(
    pieces: Sequence[str], is_last: Sequence[bool], words: TitleWords
) -> LinePenalty | None:
    """`line_penalty` of any line, where no piece of the title ends inside a word.

    None where no line can have a fault.

    Args:
        pieces: what no break parts, each of whole words.
        is_last: for each piece, whether a line that it ends is the last, or ends as asked for.
        words: small words of the title's language.
    """
    ends: list[float] = []
    alone_from: list[int] = []  # for each piece, the first from which on all are catch-words
    start = 0
    for at, piece in enumerate(pieces):
        parts = _words(piece)
        if not parts or not all(part in words.catch_words for part in parts):
            start = at + 1
        alone_from.append(start)
        if is_last[at] or not parts:
            ends.append(0.0)
        elif parts[-1] in words.articles:
            ends.append(STRANDED)
        else:
            ends.append(_HANGING if parts[-1] in words.catch_words else 0.0)

    if not any(ends) and all(at < start for at, start in enumerate(alone_from)):
        return None

    def penalty(first: int, last: int) -> float:
        return LINE_ALONE if first >= alone_from[last] else ends[last]

    return penalty


def line_faults(
    lines: tuple[str, ...], words: TitleWords, *, broken: tuple[bool, ...]
) -> tuple[str, ...]:
    """What is wrong with a split: "alone: OF THE", "stranded: THE", "broken: CORIO"."""
    found: list[str] = []
    for at, line in enumerate(lines):
        parts = _words(line)
        if broken[at]:
            found.append(f"broken: {line}")
        elif len(lines) > 1 and parts and all(part in words.catch_words for part in parts):
            found.append(f"alone: {line}")
        elif at + 1 < len(lines) and parts and parts[-1] in words.articles:
            found.append(f"stranded: {line.split()[-1]}")
    return tuple(found)


def _words(text: str) -> list[str]:
    return [word.strip(".,;:!?") for word in folded(text).split()]
