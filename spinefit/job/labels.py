"""How thick is the label, and which old lettering is it to cover?

In: what was said of a label. Out: its thickness where it bends over a round, and the old
lettering with the overlap that a label needs around it; mm. Loaded only where one of the two
counts. Whether a back can take such a label is for the judgement.
"""

from __future__ import annotations

from spinefit.catalogue import Method, Rules
from spinefit.errors import FieldError
from spinefit.job.checks import length_mm
from spinefit.job.model import Job
from spinefit.job.resolved import ResolvedOldLettering, ResolvedSpine
from spinefit.provenance import Sourced, Status
from spinefit.vocabulary import Place

__all__ = ["old_lettering_of", "thickness_mm_of"]

_THICKEST_MM = 10.0  # a board, not a label


def thickness_mm_of(job: Job, method: Method, assumed: list[str], *, bent: bool) -> float | None:
    """Thickness of the label in mm where it bends over a round; None where none does.

    Args:
        job: what was said.
        method: the job's method, whose thickness is taken where nothing was said.
        assumed: defaults taken, to be added to.
        bent: whether it is a label on a rounded back.

    Raises:
        FieldError: a thickness without a label, or one that no label has.
    """
    said = job.label_thickness_mm
    if said is not None:
        if method.place is not Place.LABEL:
            raise FieldError(
                f"a {method.name} is no label",
                value=f"{said:g} mm" if isinstance(said, int | float) else said,
                where="--label-thickness",
                remedy="give --method paper-label or another label, or leave it out",
            )
        if length_mm(said, "--label-thickness") > _THICKEST_MM:
            raise FieldError(
                f"{said:g} mm is no label",
                where="--label-thickness",
                remedy=f"give at most {_THICKEST_MM:g} mm",
            )
    if not bent:
        return None
    if said is not None:
        return float(said)
    row = method.thickness
    if row is None:
        assumed.append("label thickness: none, so that its width is that of the back it covers")
        return 0.0
    assumed.append(f"label thickness: {row.value:g} mm ({row.source}; {row.status})")
    return row.value


def old_lettering_of(
    job: Job, spine: ResolvedSpine | None, rules: Rules, assumed: list[str]
) -> ResolvedOldLettering | None:
    """The old lettering to be covered, with the overlap around it; None where there is none.

    Args:
        job: what was said.
        spine: its resolved back, or None for a label given outright.
        rules: for the usual overlap.
        assumed: defaults taken, to be added to.

    Raises:
        FieldError: an overlap over nothing, or lettering that is not on the back.
    """
    said = job.old_lettering
    if said is None:
        if job.overlap_mm is not None:
            raise FieldError(
                "an overlap over what?",
                where="--overlap",
                remedy="give --old-lettering WxH, or leave it out",
            )
        return None
    where = "--old-lettering"
    overlap = rules["rework.overlap_mm"]
    if job.overlap_mm is not None:
        given_mm = length_mm(job.overlap_mm, "--overlap", zero=True)
        overlap = Sourced(given_mm, "mm", "the overlap, as given", Status.PRACTICE)
    else:
        assumed.append(f"overlap: {overlap.value:g} mm beyond the old ink ({overlap.status})")
    width_mm, height_mm = length_mm(said.width_mm, where), length_mm(said.height_mm, where)
    return ResolvedOldLettering(
        width_mm, height_mm, _from_head_mm(said.from_head_mm, height_mm, spine), overlap
    )


def _from_head_mm(said: float | None, ink_mm: float, spine: ResolvedSpine | None) -> float | None:
    if said is None:
        return None
    from_head_mm = length_mm(said, "--old-lettering", zero=True)
    if spine is None:
        raise FieldError(
            "a distance from the head, and no back to measure it on",
            value=f"@{from_head_mm:g} mm",
            where="--old-lettering",
            remedy="leave out the part after @, or give the back instead of --panel",
        )
    if spine.height_mm is not None and from_head_mm + ink_mm > spine.height_mm:
        raise FieldError(
            "the old lettering would end beyond the tail of the back",
            value=f"{from_head_mm + ink_mm:g} mm from the head",
            where="--old-lettering",
            remedy=f"the back is {spine.height_mm:g} mm high",
        )
    return from_head_mm
