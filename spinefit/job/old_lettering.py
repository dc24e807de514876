"""What stands on the back already, and where does the new lettering go for it?

In: old lettering as said, the back and the method. Out: the old lettering completed, and the back
with the place of the new: a label goes over the old, in the panel of that; what hides nothing
goes to the nearest panel that is free of it and customary for a title. A place that was typed
stays. Loaded only where there is old lettering; whether a label covers is for the judgement.
"""

from __future__ import annotations

from spinefit.catalogue import Method, Rules
from spinefit.errors import FieldError
from spinefit.job.model import Job
from spinefit.job.resolved import ResolvedOldLettering, ResolvedSpine
from spinefit.job.values import OldLettering
from spinefit.vocabulary import Place, Sourced, Status

_CAUTION_OVER_OLD = (
    "Fill the old impression and take an opaque label, or the old lettering shows through. Do not "
    "take it off: that damages leather."
)
"""What to mind where a label is to cover old lettering (common practice)."""


def old_lettering_of(
    job: Job, spine: ResolvedSpine | None, method: Method, rules: Rules, assumed: list[str]
) -> ResolvedOldLettering | None:
    """The old lettering, with the overlap around it; None where there is none.

    Args:
        job: what was said.
        spine: its resolved back, or None for a label given outright.
        method: a label, which covers it, or one straight on the back.
        rules: for the usual overlap.
        assumed: defaults taken, to be added to.

    Raises:
        FieldError: an overlap over nothing, or lettering that is not on the back.
    """
    old, overlap = job.old_lettering, rules["rework.overlap_mm"]
    if old is None:
        if job.overlap_mm is not None:
            raise FieldError(
                "an overlap over what?", where="--overlap",
                remedy="give --old-lettering WxH, or leave it out",
            )  # fmt: skip
        return None
    cut = spine is None and job.front_board is None
    beside = old.of_another or old.in_view
    covered = not beside and (method.place is Place.LABEL or cut)
    _assume_place(old, spine, assumed)
    if job.overlap_mm is None:
        if covered:
            words = f"overlap: {overlap.value:g} mm beyond the old ink and impression"
            assumed.append(f"{words} ({overlap.status})")
    else:
        overlap = Sourced(job.overlap_mm, "mm", "the overlap, as given", Status.PRACTICE)
    if old.from_head_mm is not None:
        _refuse_beyond(old.from_head_mm, old.height_mm, spine)
    return ResolvedOldLettering(
        old.width_mm,
        old.height_mm,
        old.from_head_mm,
        overlap,
        covered,
        shared_label_mm=old.label_mm,
        of_another=old.of_another,
        in_view=old.in_view,
        at_mm=old.at_mm,
    )


def _assume_place(old: OldLettering, spine: ResolvedSpine | None, assumed: list[str]) -> None:
    if spine is None:
        assumed.append("old lettering: under the middle of the panel")
    elif old.from_head_mm is None:
        assumed.append(
            "old lettering: where the new will stand, in the middle of the width, as its distance "
            "from the head was not given"
        )
    else:
        assumed.append("old lettering: in the middle of the width")


def with_old(
    spines: tuple[ResolvedSpine | None, ResolvedSpine | None],
    method: Method,
    old: ResolvedOldLettering,
    assumed: list[str],
) -> tuple[ResolvedSpine | None, ResolvedSpine | None, Method]:
    """The back, and at its widest, with a label over old lettering or the title beside that.

    What to mind of a label over it is added to the method.
    """
    spine, widest = spines
    if not old.covered:
        return beside_old(spine, old, assumed), beside_old(widest, old, []), method
    return (
        over_old_lettering(spine, old, assumed),
        over_old_lettering(widest, old, []),
        method._replace(cautions=(*method.cautions, _CAUTION_OVER_OLD)),
    )


def over_old_lettering(
    spine: ResolvedSpine | None, old: ResolvedOldLettering, assumed: list[str]
) -> ResolvedSpine | None:
    """The back with its label where the old lettering stands, unless it was put elsewhere."""
    if spine is None:
        return spine
    if old.middle_mm is not None and "title-panel" not in spine.typed:
        number = sum(each < old.middle_mm for each in spine.band_middles_mm) + 1
        spine = _in_panel(spine, number, "with the old lettering", assumed)
    at_mm = old.middle_mm if old.at_mm is None else old.at_mm
    if at_mm is not None and spine.from_head_mm is None and spine.height_mm is not None:
        spine = spine._replace(from_head_mm=at_mm)
    return spine


def beside_old(
    spine: ResolvedSpine | None, old: ResolvedOldLettering, assumed: list[str]
) -> ResolvedSpine | None:
    """The back with its title in a panel free of old lettering, unless it was put in another."""
    if spine is None or "title-panel" in spine.typed or old.of_another:
        return spine
    free = free_panels(spine, old)
    if not free or spine.title_panel in free:
        return spine
    return _in_panel(spine, free[0], "clear of the old lettering", assumed)


def free_panels(spine: ResolvedSpine, old: ResolvedOldLettering) -> tuple[int, ...]:
    """The panels that old lettering and its overlap do not reach into, the first to be taken first.

    The nearest to the title's; no custom puts a title at the head or the tail, so those come last.
    """
    if old.from_head_mm is None or spine.height_mm is None:
        return ()
    half_mm, bands_mm = spine.band_height_mm / 2, spine.band_middles_mm
    begins_mm = old.from_head_mm - old.overlap.value
    ends_mm = begins_mm + old.label_mm[1]
    panels = zip((0.0, *bands_mm), (*bands_mm, spine.height_mm), strict=True)
    free = [
        number
        for number, (upper_mm, lower_mm) in enumerate(panels, 1)
        if ends_mm <= upper_mm + half_mm or begins_mm >= lower_mm - half_mm
    ]
    ends = (1, len(bands_mm) + 1)
    return tuple(sorted(free, key=lambda each: (each in ends, abs(each - spine.title_panel))))


def _in_panel(spine: ResolvedSpine, number: int, why: str, assumed: list[str]) -> ResolvedSpine:
    """The title in another panel; why is assumed."""
    if number == spine.title_panel:
        return spine
    assumed[:] = [each for each in assumed if not each.startswith("title panel: ")]
    assumed.append(f"title panel: number {number} from the head, {why}")
    return spine._replace(title_panel=number)


def _refuse_beyond(from_head_mm: float, ink_mm: float, spine: ResolvedSpine | None) -> None:
    """Refuse old ink that does not lie on the back."""
    if spine is None:
        raise FieldError(
            "a distance from the head, and no back to measure it on",
            value=f"@{from_head_mm:g} mm", where="--old-lettering",
            remedy="leave out the part after @; on a back, give its width and height",
        )  # fmt: skip
    if spine.height_mm is not None and from_head_mm + ink_mm > spine.height_mm:
        raise FieldError(
            "the old lettering would end beyond the tail of the back",
            value=f"{from_head_mm + ink_mm:g} mm from the head", where="--old-lettering",
            remedy=f"the back is {spine.height_mm:g} mm high",
        )  # fmt: skip
