"""How far do the lines of a title open up where their panel has room?

In: a judged title, and the panel it stands in. Out: the baseline distance, in em, at which a
finisher would rule its lines: opened from the usual toward the even filling of the panel, as much
space between two lines as above and below them, and never by more than rules.toml lines.most_open.
No size changes by it, advised or largest: that is of lines
at their usual distance. On a back without bands a group hangs from the head
whatever is left below it, so nothing opens there.
Source: Cockerell, Bookbinding and the Care of Books, ch. XV: lettering should comfortably fill
the panel; how far is our own choice.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from spinefit.geometry.usable import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import Judged
from spinefit.vocabulary import Orientation

_LEAST = 1.02  # less than that nobody sees


def opened_leading_em(job: ResolvedJob, panel: UsablePanel, best: Judged) -> float | None:
    """The baseline distance in em to which its lines open; None where they stay as they are.

    Args:
        job: the resolved job.
        panel: what it stands in.
        best: its advised layout.
    """
    usual_em = best.leading_em
    cut = job.label is not None or (job.spine is None and job.front_board is None)
    in_panel = panel.number is not None or cut
    across = best.orientation is Orientation.TRANSVERSE
    if not (in_panel and across and panel.is_plain) or usual_em is None or best.over_bands:
        return None
    if job.lettering.leading_em is not None or panel.height_mm is None:
        return None
    if job.recess is not None or job.old_lettering is not None:  # their labels are as they are
        return None
    gaps = best.layout.group.seams
    room_mm = panel.height_mm - 2 * job.lettering.clearance_mm
    between_em = best.layout.group.gap_em or usual_em - best.cap_height_mm / best.size_mm
    free_em = (room_mm - best.ink_height_mm) / best.size_mm
    even_em = (free_em - 2 * between_em) / (gaps + 2)
    most_em = (job.rules.value("lines.most_open") - 1) * usual_em
    found_em = usual_em + min(even_em, most_em)
    return found_em if found_em >= _LEAST * usual_em else None


def opened(
    job: ResolvedJob,
    panel: UsablePanel,
    best: Judged,
    judge_again: Callable[[ResolvedJob], Sequence[Judged]],
) -> Judged:
    """The advised layout with its lines opened, or as it was.

    Args:
        job: the resolved job.
        panel: what it stands in.
        best: its advised layout.
        judge_again: gives every layout of a changed job, judged.
    """
    leading_em = opened_leading_em(job, panel, best)
    if leading_em is None:
        return best
    lettering = job.lettering._replace(
        leading_em=leading_em, lines=len(best.lines), orientation=best.orientation
    )
    for one in judge_again(job._replace(lettering=lettering)):
        if one.lines == best.lines and one.largest_pt >= best.set_pt:
            found = best.opened(one)
            if found.fits and (best.tight or not found.tight):
                return found
    return best
