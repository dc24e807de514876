"""Which installed font serves a title whose script no font at hand has?

In: a resolved job whose font nobody named. Out: the job in each installed font that has every
letter of the title, the likeliest first: of the title's own East Asian hand, since Han characters
look otherwise in each; upright, of normal weight and width, with serifs. Which
one it is depends on the title and on the machine alone; it is named as assumed.
"""

from __future__ import annotations

from collections.abc import Set

from spinefit import catalogue
from spinefit.errors import FontNotFoundError
from spinefit.job.resolved import ResolvedJob
from spinefit.shaping.choosing import FontFilter, installed_with
from spinefit.shaping.faces import Installed, serves_page
from spinefit.shaping.harfbuzz import script_and_direction
from spinefit.shaping.scripts import capitals

_MOST_TRIED = 3
_USUAL_WEIGHT, _USUAL_WIDTH_PERCENT = 400.0, 100.0
_OTHER_STYLES = ("italic", "oblique", "slanted")
_OTHER_KINDS = ("mono", "sans", "gothic", "unifont")
# The bit of each code page in a font's OS/2 table. Source: OpenType specification.
_PAGES = {
    "Hira": 17, "Kana": 17, "Hang": 19, "Bopo": 20,
    "ja": 17, "ko": 19, "zh-hant": 20, "zh-tw": 20, "zh-hk": 20, "zh": 18,
    "JP": 17, "CN": 18, "SG": 18, "KR": 19, "TW": 20, "HK": 20,
}  # fmt: skip


def in_installed_fonts(job: ResolvedJob) -> tuple[ResolvedJob, ...]:
    """The job in installed fonts that have the title's letters; none for a script at hand.

    Args:
        job: resolved, in a font that lacks some; one that was named stays.
    """
    text = " ".join((*job.title_lines, *(line for part in job.parts for line in part.lines)))
    scripts = {script_and_direction(char)[0] for char in text if char.isalpha()} - {None}
    at_hand = {script for row in catalogue.font_rows() for script in row.scripts}
    named = not any(words.startswith("font:") for words in job.assumed)
    if scripts <= at_hand or named or job.lettering.tools is not None:
        return ()
    try:
        found, _broken = installed_with(FontFilter(covers=text + capitals(text, job.language)))
    except FontNotFoundError:
        return ()
    page = _page_of(job, scripts)
    likely = sorted(found, key=lambda one: (not serves_page(one, page), *_how_unlike(one)))
    return tuple(_in(job, one) for one in likely[:_MOST_TRIED])


def _page_of(job: ResolvedJob, scripts: Set[str | None]) -> int | None:
    """The East Asian code page of a title: by its letters, its language, or its market."""
    if not scripts & {"Hani", "Hira", "Kana", "Hang", "Bopo"}:
        return None
    language = (job.language or "").casefold()
    spoken = (tag for tag in _PAGES if tag.islower() and language.startswith(tag))
    hints = (*sorted(filter(None, scripts)), *spoken, job.market_code)
    return next((_PAGES[hint] for hint in hints if hint in _PAGES), None)


def _in(job: ResolvedJob, one: Installed) -> ResolvedJob:
    lettering = job.lettering._replace(font=one.path, face=str(one.face.number))
    kept = (words for words in job.assumed if not words.startswith("font:"))
    told = f"font: {one.face.name}, installed, as {job.lettering.font} lacks the title's script"
    return job._replace(lettering=lettering, assumed=(*kept, told))


def _how_unlike(one: Installed) -> tuple[object, ...]:
    """How far a font is from a plain one with serifs."""
    name = one.face.name.casefold()
    return (
        any(style in name for style in _OTHER_STYLES),
        abs(one.face.weight - _USUAL_WEIGHT),
        abs(one.face.width_percent - _USUAL_WIDTH_PERCENT),
        any(kind in name for kind in _OTHER_KINDS),
        name,
        one.path,
    )
