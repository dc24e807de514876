"""What is said of lettering that stands on the back already, and of the label over it?

In: findings of old lettering, or the setting shown. Out: text: the sentence of each finding, the
part of the answer that names the old lettering, and the record of it.
"""

from __future__ import annotations

from collections.abc import Mapping

from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.covering import OverOld
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.judgement.verdict import Judgement
from spinefit.say.filling import said
from spinefit.say.label_model import OldLetteringReport, SpareReport
from spinefit.say.model import Report
from spinefit.say.phrasing import bare_mm, mm
from spinefit.vocabulary import Level, Orientation

_INSTEAD = "and leave the old in view, or ask a conservator; taking it off damages leather."
_TOPIC = "old-lettering-"
_BEYOND = "{old.overlap.value:mm} or more beyond its ink and impression on every side"


def covered(f: Finding) -> str:
    """That the label covers, how large it is and where it stands."""
    if f.facts["cut"]:
        return f"The label covers the old lettering, {_BEYOND}."
    where = "" if f.facts["begins_mm"] is None else "; its upper edge {begins_mm:mm} from the head"
    size = "A label of {value:bare mm} x {height_mm:mm}"
    return f"{size} covers the old lettering, {_BEYOND}{where}."


def shows(f: Finding) -> str:
    """Why the old lettering would show, and what a conservator would do."""
    here = "another place" if f.facts["cut"] else "clear of it"
    other = here if f.facts["number"] is None else "another panel"
    return f"{_why(f).capitalize()}. Letter {other} {_INSTEAD}"


def _why(f: Finding) -> str:
    """Why it would show, as a clause."""
    label, cut = "a label over the old lettering", f.facts["cut"]
    number = f.facts["number"]
    room = "this one" if cut else "its room" if number is None else "panel {number}"
    match f.topic.removeprefix(_TOPIC):
        case "width" | "height" as side:
            way = "wide" if side == "width" else "high"
            if cut:
                return f"{label} has to be {{value:mm}} {way}, and this one is {{limit:mm}}"
            room = "between the joints" if side == "width" else _in_panel(f)
            return f"{label} has to be {{value:mm}} {way}, and {room} there are {{limit:mm}}"
        case "outside":
            return (
                f"{label} has to reach from {{begins_mm:bare mm}} to {{ends_mm:mm}} from the head, "
                + f"and {room} reaches from {{first_mm:bare mm}} to {{last_mm:mm}}"
            )
        case "shape":
            return "the label's corners would leave part of the old lettering in view"
        case _:
            if f.facts["place"]:
                return "a {method} over the old lettering cannot hide it"
            return (
                "the old lettering may lie under the new, and a {method} cannot hide it; its "
                "distance from the head, as in 20x30@60mm, would tell"
            )


def _in_panel(f: Finding) -> str:
    return "along the back" if f.facts["number"] is None else "in panel {number}"


def why_old_shows(judgement: Judgement) -> str:
    """The answer where old lettering is why nothing can be advised; "" where it is not."""
    why = _reason(judgement)
    return f"It does not fit: {why}." if why else ""


def _reason(judgement: Judgement) -> str:
    """Why the old lettering would show, in a clause; "" where it would not."""
    for found in judgement.findings:
        if found.topic.startswith(_TOPIC) and found.level is Level.FAILURE:
            return said(_why(found), value=found.value, limit=found.limit, **found.facts)
    return ""


def old_in_set(titles: Mapping[str, Judged]) -> str:
    """How the answer for a set that fits names old lettering; "" where there is none.

    Args:
        titles: the setting of each volume by its label.
    """
    hidden = {one.over_old.label_mm is not None for one in titles.values() if one.over_old}
    if not hidden:
        return ""
    return "; labels over the old lettering" if all(hidden) else "; old lettering stays in view"


def why_set_shows_old(titles: Mapping[str, Judgement]) -> str:
    """The answer for a set where old lettering is why a volume does not fit; "" where not.

    Args:
        titles: what was judged of each volume by its label.
    """
    reasons = ((label, _reason(one)) for label, one in titles.items())
    return next((f"The set does not fit: on {one}, {why}" for one, why in reasons if why), "")


def old_shows(report: Report) -> bool:
    """Whether old lettering is why a text does not fit."""
    return any(
        one.topic.startswith(_TOPIC) and one.level is Level.FAILURE for one in report.findings
    )


def old_beside(report: Report) -> str:
    """How the answer for several texts names old lettering; "" where there is none."""
    old = report.old_lettering
    if old is None:
        return ""
    return (
        "; the title's label is over the old lettering"
        if old.hidden
        else ("; the old lettering stays in view")
    )


def over_old_in_words(over: OverOld, panel: UsablePanel) -> str:
    """How the answer names the old lettering."""
    if over.label_mm is None:
        return ", clear of the old lettering, which stays in view"
    if panel.back is None:
        return ", over the old lettering"
    left, bottom, right, top = over.label_mm
    return f", on a label of {bare_mm(right - left)} x {mm(top - bottom)} over the old lettering"


def old_lettering_report(
    job: ResolvedJob, panel: UsablePanel, one: Judged
) -> OldLetteringReport | None:
    """The old lettering and the label over it, under the setting that is shown."""
    old, over = job.old_lettering, one.over_old
    if old is None or over is None or old.of_another:
        return None
    hidden = old.covered and over.misfit is None
    place = ", its distance from the head not given" if panel.back is not None else ""
    if old.from_head_mm is not None:
        place = f", {_from_head(old.from_head_mm, old.height_mm)}"
    text = f"{bare_mm(old.width_mm)} x {mm(old.height_mm)}{place}"
    width_mm = height_mm = begins_mm = None
    if over.label_mm is not None:
        left, bottom, right, top = over.label_mm
        width_mm, height_mm = right - left, top - bottom
        if panel.middle_from_head_mm is not None:
            begins_mm = panel.middle_from_head_mm - top
    if hidden and width_mm is not None and height_mm is not None:
        text += f"; label over it {bare_mm(width_mm)} x {mm(height_mm)}"
        if begins_mm is not None:
            text += f", {_from_head(begins_mm, height_mm)}"
        text += "; opaque, the old impression filled"
    elif width_mm is not None:
        text += "; the label over it does not fit"
    else:
        text += "; it stays in view"
    return OldLetteringReport(
        width_mm=old.width_mm,
        height_mm=old.height_mm,
        from_head_mm=old.from_head_mm,
        overlap_mm=old.overlap.value,
        hidden=hidden,
        label_width_mm=width_mm,
        label_height_mm=height_mm,
        label_from_head_mm=begins_mm,
        text=text,
        label_spare_mm=_label_spare_mm(job, panel, one),
    )


def _label_spare_mm(job: ResolvedJob, panel: UsablePanel, one: Judged) -> SpareReport | None:
    """What is spare on a label that is cut for the setting, in whose middle that stands."""
    old, over = job.old_lettering, one.over_old
    if old is None or over is None or over.label_mm is None:
        return None
    if panel.back is None or not panel.is_plain or old.shared_label_mm is not None:
        return None
    left_mm, bottom_mm, right_mm, top_mm = over.label_mm
    sideways_mm = (right_mm - left_mm - panel.width_mm) / 2
    along = one.orientation is Orientation.LONGITUDINAL
    ink_mm = one.ink_width_mm if along else one.ink_height_mm
    ends_mm = (top_mm - bottom_mm - ink_mm) / 2 - job.lettering.clearance_mm
    spare = one.spare_mm
    return SpareReport(spare.left + sideways_mm, spare.right + sideways_mm, ends_mm, ends_mm)


def _from_head(begins_mm: float, height_mm: float) -> str:
    return f"{bare_mm(begins_mm)} to {mm(begins_mm + height_mm)} from the head"
