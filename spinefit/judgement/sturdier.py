"""Which letter at hand would hold in smaller sizes, where the one asked for needs a large one?

In: a job whose floor is set by a thin stroke or a narrow gap. Out: a bundled font in which the
same title holds from a size that is smaller by a tenth at least. Looked for where the advised
setting fits, but larger than looks well; where it does not fit, `remedy_letters` runs the job.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.catalogue import FontRow, Method, font_rows
from spinefit.errors import FontError
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.offer import offer_of
from spinefit.judgement.strength import held_from
from spinefit.shaping.title import shape_title
from spinefit.vocabulary import Letters

__all__ = ["Sturdier", "sturdier_letter"]

_FONTS_TO_TRY = 3  # each may have to be measured
_WORTH_NAMING = 0.9  # as of remedies: a change helps by a tenth or is not named


class Sturdier(NamedTuple):
    """A font that holds smaller: its name, and the smallest size it is offered in, in points."""

    font: str
    from_pt: float


def sturdier_letter(job: ResolvedJob, floor_pt: float) -> Sturdier | None:
    """The bundled font in which a title holds from a smaller size; None where none does.

    Args:
        job: the resolved job.
        floor_pt: the smallest size that holds in its own font, in points.
    """
    if job.method.letters is not Letters.OUTLINES:
        return None
    rows = sorted(font_rows(), key=lambda row: _listed_mm(job.method, row))
    found = [held for row in rows[:_FONTS_TO_TRY] if (held := _held(job, row.name)) is not None]
    best = min(found, key=lambda held: held.from_pt, default=None)
    return best if best is not None and best.from_pt <= _WORTH_NAMING * floor_pt else None


def _held(job: ResolvedJob, font: str) -> Sturdier | None:
    """From which size a title holds in a bundled font; None where that lacks a letter."""
    lettering = job.lettering._replace(font=font, face=None, axes=(), sought=None)
    tried = job._replace(lettering=lettering)
    try:
        title = shape_title(tried)
    except FontError:
        return None
    offer = offer_of(tried, title)
    offer = offer.raised_by(held_from(tried, title, offer.smallest_pt()))
    return Sturdier(font, offer.smallest_pt())


def _listed_mm(method: Method, row: FontRow) -> float:
    """The em at which every letter listed for a font holds, in mm."""
    stroke_mm = method.stroke.value / row.thinnest_stroke_em if method.stroke else 0.0
    gap_mm = method.gap.value / row.narrowest_gap_em if method.gap else 0.0
    return max(stroke_mm, gap_mm)
