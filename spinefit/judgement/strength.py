"""Will the method hold the letters of this title, and from which size on?

In: the job's method and the glyphs the title is set with. Out: the size below which a stroke
is thinner, or a gap narrower, than the method holds, and the letter that is the weakest.
Limits are tested first (cheap); only where one fails are the letters measured. Letters that
are tools of their own are not judged by a font's outlines.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.layout.placing import placed_outlines
from spinefit.layout.search import Layout
from spinefit.provenance import Sourced
from spinefit.shaping.outline import Outline
from spinefit.shaping.title import ShapedTitle
from spinefit.units import mm_from_pt, pt_from_mm
from spinefit.vocabulary import Letters

if TYPE_CHECKING:
    from spinefit.geometry.strokes import Thinness

__all__ = ["Close", "Weakest", "closest_letters", "held_from", "letters_hold", "weakest_at"]


_HELD_WITHIN_PT = 0.02  # a fifth of the finest step in which sizes are set
_STEP_UP = 1.01  # letters finer in larger sizes are outgrown, past the largest drawn for at last
_MOST_STEPS = 400


class Weakest(NamedTuple):
    """The letter that needs the largest size.

    Attributes:
        what: stroke or gap.
        letter: the characters it stands for.
        measured_em: its thinnest stroke or narrowest gap in em.
        rule: the limit of the method, in mm.
        needs_pt: the size at which it reaches the limit.
    """

    what: str
    letter: str
    measured_em: float
    rule: Sourced
    needs_pt: float


class Close(NamedTuple):
    """Two letters that stand nearer than the method keeps open: their gap and the limit."""

    gap_mm: float
    rule: Sourced


def weakest_at(
    job: ResolvedJob, title: ShapedTitle, size_pt: float, *, as_advised: bool = False
) -> Weakest | None:
    """The letter that needs the largest size, where one does not hold at ``size_pt``.

    Args:
        job: the resolved job.
        title: its shaped title.
        size_pt: the size to be lettered, in points.
        as_advised: hold the letters against what is advised, not against what just holds.
    """
    stroke, gap = _rules(job, as_advised=as_advised)
    if letters_hold(job, title, size_pt, as_advised=as_advised):
        return None
    found = [
        Weakest(what, text, measured, rule, pt_from_mm(rule.value / measured))
        for text, curves in title.inked_glyphs()
        for what, measured, rule in (
            ("stroke", _thinness(curves).stroke_em, stroke),
            ("gap", _thinness(curves).gap_em, gap),
        )
        if measured is not None and rule is not None
    ]
    return max(found, key=lambda each: each.needs_pt, default=None)


def letters_hold(
    job: ResolvedJob, title: ShapedTitle, size_pt: float, *, as_advised: bool = False
) -> bool:
    """Whether every letter holds at a size, which is said sooner than which is the weakest.

    Args:
        job: as of `weakest_at`.
        title: as of `weakest_at`.
        size_pt: as of `weakest_at`.
        as_advised: as of `weakest_at`.
    """
    stroke, gap = _rules(job, as_advised=as_advised)
    if stroke is None and gap is None:
        return True
    size_mm = mm_from_pt(size_pt)
    stroke_em = stroke.value / size_mm if stroke is not None else 0.0
    gap_em = gap.value / size_mm if gap is not None else 0.0
    known = title.known_thinness
    if known is not None and known[0] >= stroke_em and known[1] >= gap_em:
        return True
    return all(_holds(curves, stroke_em, gap_em) for _text, curves in title.inked_glyphs())


def _rules(job: ResolvedJob, *, as_advised: bool) -> tuple[Sourced | None, Sourced | None]:
    """The thinnest stroke and the narrowest gap of the method, where they count."""
    method = job.method
    if method.letters is Letters.TOOLS:
        return None, None
    if as_advised:
        return method.stroke_advised, method.gap_advised
    return method.stroke, method.gap


def held_from(job: ResolvedJob, title: ShapedTitle, size_pt: float) -> Weakest | None:
    """The letter that sets the least size the method holds, where that is above ``size_pt``.

    Where the font draws its letters for the size, each size is tried in letters of its own:
    larger ones until one holds, then between that and the last that does not.
    """
    weakest = weakest_at(job, title.at_size(size_pt), size_pt)
    if weakest is None or title.optical is None:
        return weakest
    below_pt, above_pt = size_pt, weakest.needs_pt
    for _ in range(_MOST_STEPS):
        finer = weakest_at(job, title.at_size(above_pt), above_pt)
        if finer is None:
            break
        below_pt, weakest = above_pt, finer
        above_pt = max(finer.needs_pt, above_pt * _STEP_UP)
    while above_pt - below_pt > _HELD_WITHIN_PT:
        middle_pt = (below_pt + above_pt) / 2
        if letters_hold(job, title.at_size(middle_pt), middle_pt):
            above_pt = middle_pt
        else:
            below_pt = middle_pt
    weakest = weakest_at(job, title.at_size(below_pt), below_pt) or weakest
    return weakest._replace(needs_pt=above_pt)


@lru_cache(maxsize=4096)
def _thinness(curves: Outline) -> Thinness:
    """A glyph's thinness, measured once."""
    from spinefit.geometry import strokes

    return strokes.thinness(curves)


@lru_cache(maxsize=4096)
def _holds(curves: Outline, stroke_em: float, gap_em: float) -> bool:
    """Whether a glyph holds at these limits, tested once."""
    from spinefit.geometry import strokes

    return strokes.holds(curves, stroke_em=stroke_em, gap_em=gap_em)


def closest_letters(
    job: ResolvedJob, title: ShapedTitle, layout: Layout, size_pt: float
) -> Close | None:
    """Neighbouring letters, of one line or two, nearer than the method keeps open."""
    rule = job.method.gap
    if rule is None or job.method.letters is Letters.TOOLS or layout.group.shape == "pillar":
        return None
    from spinefit.geometry import strokes

    size_mm = mm_from_pt(size_pt)
    placed = placed_outlines(title, layout.group, pillar=False)
    found = strokes.gap_between(placed, at_most_em=rule.value / size_mm)
    return None if found is None else Close(found.gap_em * size_mm, rule)
