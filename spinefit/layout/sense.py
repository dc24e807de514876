"""Does a split of the title make sense to a reader, and do its lines make a good shape?

A penalty for each line, added up over a split: a line of catch-words alone (Pleger, p. 250,
against Adam, rule 2), an article stranded at a line's end, a small word or an initial left hanging
there, a word broken (all common practice). Of splits as good as each other, the one whose lines
begin with small words reads better (common practice): of the Northern Roads. The words come from
data/catchwords.toml. Shapes of centred lines: half-diamond, lozenge and squared, De Vinne, Correct
Composition (1901), pp. 189-193; long and short in alternation, MacKellar, The American Printer
(recalled), and Adam (1903), rule 3. Equal lines with nothing but small words between them are
squared (common practice). Leaves widths to others.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import NamedTuple

from spinefit.catalogue import Rules, TitleWords
from spinefit.catalogue.words import folded
from spinefit.vocabulary import GroupShape, SmallWords

_INITIALS = re.compile(r"(?:[^\W\d_]\.-?)+")
"""Initials of a name, as "J.", "J.-P." or "J.R."."""

_NUMERALS = frozenset({"I.", "V.", "X."})
"""What stands at a line's end more often as a number: Book V."""


class Sense(NamedTuple):
    """What decides how a split reads; the weights are relative, no measures.

    Attributes:
        articles, catch_words: small words of the title's language.
        broken_word, line_alone, stranded, hanging: what each fault weighs.
        equal_share: widths within this part of one another look equal.
        halves_share: the same of lines with a line of small words between them.
    """

    articles: frozenset[str]
    catch_words: frozenset[str]
    broken_word: float
    line_alone: float
    stranded: float
    hanging: float
    equal_share: float
    halves_share: float


def sense_of(words: TitleWords, rules: Rules, small_words: SmallWords) -> Sense:
    """The weights of the rules, with what the binder chose of small words.

    Args:
        words: small words of the title's language.
        rules: for ``sense.*`` and ``lines.equal_share``.
        small_words: alone where a line of them is no fault.
    """
    alone = small_words is SmallWords.ALONE
    return Sense(
        words.articles,
        words.catch_words,
        broken_word=rules.value("sense.broken_word"),
        line_alone=0.0 if alone else rules.value("sense.line_alone"),
        stranded=rules.value("sense.stranded"),
        hanging=rules.value("sense.hanging"),
        equal_share=rules.value("lines.equal_share"),
        halves_share=rules.value("lines.halves_share"),
    )


def line_penalty(text: str, *, is_last: bool, in_word: bool, words: Sense) -> float:
    """The penalty of one line.

    Args:
        text: the line.
        is_last: True for the last line of the group.
        in_word: True where the line ends inside a word.
        words: small words of the title's language, and what each fault weighs.
    """
    penalty = words.broken_word if in_word and not is_last else 0.0
    parts = _words(text)
    if parts and words.catch_words.issuperset(parts):
        return penalty + words.line_alone
    if not is_last and not in_word and parts:
        if parts[-1] in words.articles:
            penalty += words.stranded
        elif parts[-1] in words.catch_words or _ends_in_initial(text):
            penalty += words.hanging
    return penalty


def whole_word_penalties(
    pieces: Sequence[str], is_last: Sequence[bool], words: Sense
) -> Callable[[int, int], list[float]] | None:
    """`line_penalty` of the lines of pieces first to each up to last, where none breaks a word.

    None where no line can have a fault.

    Args:
        pieces: what no break parts, each of whole words.
        is_last: for each piece, whether a line that it ends is the last, or ends as asked for.
        words: as of `line_penalty`.
    """
    articles, catch_words, line_alone = words.articles, words.catch_words, words.line_alone
    ends: list[float] = []
    small: list[bool] = []
    for at, piece in enumerate(pieces):
        parts = _words(piece)
        small.append(bool(parts) and catch_words.issuperset(parts))
        if is_last[at] or not parts:
            ends.append(0.0)
        elif parts[-1] in articles:
            ends.append(words.stranded)
        else:
            hangs = parts[-1] in catch_words or _ends_in_initial(piece)
            ends.append(words.hanging if hangs else 0.0)
    if not any(ends) and not (line_alone and any(small)):
        return None
    small.append(False)

    def penalties(first: int, last: int) -> list[float]:
        alone_to = min(small.index(False, first), last + 1)
        return [line_alone] * (alone_to - first) + ends[alone_to : last + 1]

    return penalties


def begin_phrases(pieces: Sequence[str], words: Sense) -> tuple[bool, ...]:
    """For each piece whether it begins with a small word, as phrases do; empty where none does.

    Args:
        pieces: what no break parts.
        words: small words of the title's language.
    """
    found = tuple([not words.catch_words.isdisjoint(_words(piece)[:1]) for piece in pieces])
    return found if any(found) else ()


def line_faults(
    lines: tuple[str, ...], words: TitleWords, *, broken: tuple[bool, ...], small_words: SmallWords
) -> tuple[str, ...]:
    """What is wrong with a split: "alone: OF THE", "stranded: THE", "broken: CORIO".

    Where small words may stand alone, such a line is named "chosen: OF THE".
    """
    found: list[str] = []
    for at, line in enumerate(lines):
        parts = _words(line)
        if broken[at]:
            found.append(f"broken: {line}")
        elif len(lines) > 1 and is_small(line, words):
            kind = "chosen" if small_words is SmallWords.ALONE else "alone"
            found.append(f"{kind}: {line}")
        elif at + 1 < len(lines) and parts and parts[-1] in words.articles:
            found.append(f"stranded: {line.split()[-1]}")
    return tuple(found)


@lru_cache(maxsize=4096)
def _words(text: str) -> tuple[str, ...]:
    """The words of a line or a piece; kept, since small words come in every title."""
    return tuple([word.strip(".,;:!?") for word in folded(text).split()])


def _ends_in_initial(line: str) -> bool:
    """Whether it ends on the initial of a name, which had better stay with the next word."""
    if not line.rstrip().endswith("."):
        return False
    typed = line.rsplit(maxsplit=1)[-1]
    return typed == typed.upper() and typed not in _NUMERALS and bool(_INITIALS.fullmatch(typed))


def is_small(text: str, words: Sense | TitleWords) -> bool:
    """Whether a line holds small words and nothing else."""
    parts = _words(text)
    return bool(parts) and words.catch_words.issuperset(parts)


def shape_of(widths: Sequence[float], texts: Callable[[], Sequence[str]], words: Sense) -> str:
    """The shape of lines, those with nothing but small words between two equal ones passed over.

    Args:
        widths: as of `shape_name`.
        texts: gives the lines, from the top; asked for only where they can decide.
        words: small words of the title's language, and which widths look equal.
    """
    sides = widths[::2]
    if len(widths) % 2 and len(sides) > 1:
        equal = shape_name(sides, words.halves_share) is GroupShape.SQUARED
        if equal and all([is_small(text, words) for text in texts()[1::2]]):
            return GroupShape.SQUARED
    return shape_name(widths, words.equal_share)


def shape_name(widths: Sequence[float], equal_share: float) -> str:
    """The shape of lines of these widths, from the top.

    Args:
        widths: their ink, any unit.
        equal_share: widths within this part of one another look equal (lines.equal_share).

    >>> [str(shape_name(widths, 0.04)) for widths in ([9, 6, 3], [4, 9, 4], [5, 5, 5])]
    ['half-diamond', 'lozenge', 'squared']
    """
    if len(widths) == 1:
        return "one line"
    steps = [
        0
        if abs(upper - lower) <= equal_share * (lower if lower > upper else upper)
        else (1 if lower > upper else -1)
        for upper, lower in itertools.pairwise(widths)
    ]
    if not any(steps):
        return GroupShape.SQUARED
    if all(step < 0 for step in steps):
        return GroupShape.HALF_DIAMOND
    if len(steps) == 1 or all(a * b < 0 for a, b in itertools.pairwise(steps)):
        return GroupShape.LOZENGE if steps == [1, -1] else GroupShape.LONG_AND_SHORT
    slopes = [step for step in steps if step]
    if (steps[0], steps[-1]) == (1, -1) and slopes == sorted(slopes, reverse=True):
        return GroupShape.LOZENGE
    return "irregular"


def is_good_shape(name: str) -> bool:
    """True for the shapes that the handbooks recommend."""
    return name != "irregular"
