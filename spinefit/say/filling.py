"""How does a template say its facts?

A template is a sentence with places for facts, each with how it is said: ``{value:mm} wide``,
``{size_pt:pt}``, ``reads {value:way}``, ``its {along:height|width}``, and with a dot for what a
record holds: ``{label.covers_mm:mm}``. In: a template and named facts. Out: text. Roundings are
those of `phrasing`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from spinefit.say.phrasing import against, bare_mm, limit_pt, mm, mm_against, pt, way
from spinefit.tolerances import SAME_STEP


def said(template: str, /, **facts: object) -> str:
    """The template with its facts.

    Args:
        template: text with places as `str.format` has them.
        facts: by name; where one is ``limit``, ``{value:against limit}`` and
            ``{value:mm against limit}`` never round the value to it.

    >>> said("{value:mm against limit} of {limit:mm}", value=1.58, limit=1.6)
    '1.58 mm of 1.6 mm'
    """
    limit = facts.get("limit")
    return template.format_map({name: _worded(fact, limit) for name, fact in facts.items()})


def _worded(fact: object, limit: object = None) -> Any:
    """A fact that knows the formats of a template."""
    if fact is None:
        return None
    if isinstance(fact, bool):
        return _Choice(fact)
    if isinstance(fact, int | float):
        return _Figure(fact, limit)
    return _Word(fact) if isinstance(fact, str) else _Record(fact)


class _Figure(float):
    """A number; without a format as short as it is exact enough."""

    limit: Any

    def __new__(cls, value: float, limit: object) -> _Figure:
        figure = super().__new__(cls, value)
        figure.limit = limit
        return figure

    def __format__(self, how: str) -> str:
        say = _FIGURES.get(how)
        return super().__format__(how or "g") if say is None else say(self)


class _Word(str):
    """A word or a name, as it is or said otherwise."""

    def __format__(self, how: str) -> str:
        say = _WORDS.get(how)
        return super().__format__(how) if say is None else say(self)


class _Choice:
    """A fact that is so or not: ``{along:height|width}``."""

    def __init__(self, is_so: bool) -> None:
        self._is_so = is_so

    def __format__(self, how: str) -> str:
        so, _bar, otherwise = how.partition("|")
        return so if self._is_so else otherwise


class _Record:
    """A record whose fields are facts."""

    def __init__(self, record: object) -> None:
        self._record = record

    def __getattr__(self, name: str) -> Any:
        return _worded(getattr(self._record, name))


def _tenth_up(figure: float) -> float:
    """What is needed, rounded up, so that it is enough."""
    return math.ceil(figure * 10 - SAME_STEP) / 10


def _tenth_down(figure: float) -> float:
    """The most there may be, rounded down, so that it is not too much."""
    return math.floor(figure * 10 + SAME_STEP) / 10


def _quoted(text: str) -> str:
    return f"“{text.strip()}”" if text.strip() else ""


def _next_sentence(text: str) -> str:
    """A sentence that follows another, of words that begin small; nothing where there are none."""
    return f" {text[:1].upper()}{text[1:]}." if text else ""


_FIGURES: dict[str, Callable[[_Figure], str]] = {
    "mm": mm,
    "given mm": lambda figure: f"{round(figure, 2):g} mm",  # beside what a house has written down
    "bare mm": bare_mm,
    "mm at least": lambda figure: mm(_tenth_up(figure)),
    "bare mm at least": lambda figure: bare_mm(_tenth_up(figure)),
    "mm at most": lambda figure: mm(_tenth_down(figure)),
    "mm beyond": lambda figure: mm(-figure),
    "mm against limit": lambda figure: mm_against(figure, figure.limit),
    "against limit": lambda figure: against(figure, figure.limit),
    "pt": pt,
    "pt at most": limit_pt,
    "pt at least": lambda figure: pt(_tenth_up(figure)),
    "stretch": lambda figure: f"{figure - 1:.2%}",
}
_WORDS: dict[str, Callable[[str], str]] = {
    "way": way,
    "plainly": lambda text: text.replace("-", " "),
    "start": lambda text: f"{text[:1].upper()}{text[1:]}",
    "next sentence": _next_sentence,
    "its subtitle": lambda text: f"; “{text}” is its subtitle" if text else "",
    "its author": lambda text: f"; “{text}” is its author" if text else "",
    "left out": lambda text: f"; “{text}” is left to the title page" if text else "",
    "quoted or beginning": lambda text: _quoted(text) or "the beginning",
    "quoted or end": lambda text: _quoted(text) or "the end",
}
FORMATS = frozenset({*_FIGURES, *_WORDS})
"""The formats that have names, beside those of Python's own."""
