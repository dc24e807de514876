"""Which bundled font would hold a title's strokes and counters better, and how large?

In: a judged job whose letters are finer than its method asks for. Out: a font with the size that
it takes in the same job, which was run; none where none gains enough.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.catalogue import sturdiest_fonts
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import Judged
from spinefit.judgement.offer import finer_letters
from spinefit.judgement.text import Trials
from spinefit.vocabulary import Letters

_WORTH_NAMING = 1.1  # as of remedies: a change helps by a tenth or is not named


class Sturdier(NamedTuple):
    """A bundled font whose strokes and counters hold better, and its size here in points.

    Attributes:
        font: its name.
        size_pt: the size that it takes in the same job.
        is_good: whether all its letters are then as is asked for.
    """

    font: str
    size_pt: float
    is_good: bool


def sturdier_letter(job: ResolvedJob, one: Judged) -> Sturdier | None:
    """The bundled font in which a title's strokes and counters come nearer to what is asked.

    Sturdier is not bolder: both are measured, at the size that each font takes in this job. The
    best of those with serifs is tried, and the best of all.

    Args:
        job: the resolved job.
        one: its advised setting.

    Returns:
        The first that is good, else the better one where it gains a tenth; None where none does.
    """
    if job.method.letters is not Letters.OUTLINES:
        return None
    trial, found = Trials(), []
    for row in sturdiest_fonts(job.method):
        if row.name == job.lettering.font:
            continue
        lettering = job.lettering._replace(font=row.name, face=None, axes=(), sought=None)
        changed = job._replace(lettering=lettering)
        best, _all = trial(changed)
        if best is not None:
            share = _share_asked(changed, best)
            found.append((share, Sturdier(row.name, best.set_pt, share >= 1)))
    good = [each for share, each in found if share >= 1]
    if good:
        return good[0]
    share, best_one = max(found, key=lambda each: each[0], default=(0.0, None))
    return best_one if share >= _WORTH_NAMING * _share_asked(job, one) else None


def _share_asked(job: ResolvedJob, one: Judged) -> float:
    """The size judged over that at which every letter is as asked for; 1 where that is smaller."""
    fine = finer_letters(job, one.layout.title, one.set_pt, as_advised=True)
    return one.set_pt / fine[0].needs_pt if fine else 1.0
