"""How do the words of a title look in each typeface?

In: a few words, and fonts by name or file. Out: for each a small drawing of them on one line, all
at one size, from the outlines that they would be lettered with.
"""

from __future__ import annotations

from collections.abc import Mapping

from spinefit import pipeline
from spinefit.drawing.frame import ink_extents_mm, lettering_mm
from spinefit.drawing.scene import Area, Scene, moved
from spinefit.drawing.svg import to_svg
from spinefit.errors import SpinefitError
from spinefit.job.model import Job, Lettering
from spinefit.job.values import Panel

_LONGEST = 24  # letters
_PANEL = Panel(width_mm=400.0, height_mm=40.0)
_SIZE_PT = 16.0
_HIGH_MM = 8.0
_AROUND_MM = 0.5


def samples(words: str, fonts: Mapping[str, str]) -> dict[str, str | None]:
    """A drawing for each font; None where it cannot set the words.

    Args:
        words: of a title.
        fonts: what to open, a bundled font's name or a file, by the name that is shown.
    """
    text = " ".join(words.replace(" / ", " ").split())[:_LONGEST].strip() or "Tide Tables"
    return {name: _sample(text, font) for name, font in fonts.items()}


def _sample(text: str, font: str) -> str | None:
    lettering = Lettering(font=font, size_pt=_SIZE_PT, lines=1)
    try:
        answer = pipeline.answer(Job(title=text, panel=_PANEL, lettering=lettering))
    except SpinefitError:
        return None
    ink = lettering_mm(answer.judgement.shown)
    left, _bottom, right, _top = ink_extents_mm(ink)
    items = moved((Area(ink, 0.0, None),), (_AROUND_MM - left, _HIGH_MM / 2))
    return to_svg(Scene(right - left + 2 * _AROUND_MM, _HIGH_MM, text, text, items), paper=False)
