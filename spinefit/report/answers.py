"""What is the answer in one sentence, and how is a remedy said?

In: the judgement. Out: text. Figures are the judgement's; nothing is worked out here.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.remedies import Remedy
from spinefit.judgement.sizes import Judged
from spinefit.judgement.verdict import Judgement
from spinefit.report.phrasing import limit_pt, mm, pt, way
from spinefit.vocabulary import LimitedBy, Orientation, SetBy, Verdict

__all__ = ["answer_text", "remedy_text"]

_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def answer_text(job: ResolvedJob, judgement: Judgement) -> str:
    """The whole answer in one sentence."""
    if judgement.recommended is None:
        return _no(job, judgement)
    best = judgement.judged[judgement.recommended]
    start = "It fits" if judgement.verdict is Verdict.FITS else "It fits, but tightly,"
    parts = [f"{start} {_where(job, best)}: {_sizes(best)}"]
    if best.needs_back_mm is not None:
        what = "a panel" if job.spine is not None and job.spine.bands else "a back"
        parts.append(f"for which it needs {what} of at least {mm(best.needs_back_mm)}")
    if judgement.verdict is Verdict.TIGHT:
        parts.append(f"with {mm(best.nearest_edge_mm)} from the ink to the nearest edge")
    text = ", ".join(parts)
    why = _why_not_across(job, judgement, best)
    return f"{text}; {why}." if why else f"{text}."


def _where(job: ResolvedJob, one: Judged) -> str:
    on = _lines(one)
    orientation = one.layout.candidate.orientation
    if orientation is Orientation.PILLAR:
        columns = len(one.layout.group.texts)
        if columns > 1:
            return f"in {_count(columns)} columns of upright letters down the {_thing(job)}"
        return f"as a pillar of upright letters down the {_thing(job)}"
    if orientation is Orientation.LONGITUDINAL:
        return f"along the {_thing(job)} {on}, reading {way(one.layout.candidate.reading.value)}"
    return f"across the {_thing(job)} {on}"


def _thing(job: ResolvedJob) -> str:
    if job.spine is None:
        return "panel"
    if job.spine.bands:
        return f"spine in panel {job.spine.title_panel} of {job.spine.bands + 1}"
    return "spine"


def _count(number: int) -> str:
    return _COUNTS[number] if number < len(_COUNTS) else str(number)


def _sizes(one: Judged) -> str:
    if one.set_by is SetBy.ASKED:
        return f"{pt(one.set_pt)} as asked, {limit_pt(one.largest_pt)} at most"
    return f"{pt(one.set_pt)} is advised, {limit_pt(one.largest_pt)} is the most"


def _why_not_across(job: ResolvedJob, judgement: Judgement, best: Judged) -> str:
    if best.layout.candidate.orientation is not Orientation.LONGITUDINAL:
        return ""
    across = [
        one
        for one in judgement.judged
        if one.layout.candidate.orientation is Orientation.TRANSVERSE
    ]
    if not across:
        return ""
    reason = next((f for f in judgement.findings if f.topic in _REASONS), None)
    refused = None if reason is None else reason.facts.get("refused")
    if reason is None or not isinstance(refused, Judged):
        largest = max(across, key=lambda one: one.largest_pt)
        held = largest.offer.smallest_pt()
        under = f", under the {pt(held)} held" if largest.largest_pt < held else ""
        return f"across it would be {limit_pt(largest.largest_pt)} at most{under}"
    limit = reason.limit if isinstance(reason.limit, int | float) else 0.0
    why = _REASONS[reason.topic].format(mm=mm(limit))
    return f"across it would be {limit_pt(refused.largest_pt)} at most, {why}"


_REASONS = {
    "across-narrow": "and under {mm} it is too narrow for that",
    "across-lines": "in more lines than look well",
    "across-broken": "with a word broken",
    "across-small": "too small beside it",
    "across-unreadable": "too small to be read",
}


def _no(job: ResolvedJob, judgement: Judgement) -> str:
    own = [one for one in judgement.judged if not one.layout.over_bands]
    largest = max(own, key=lambda one: one.largest_pt)
    asked = job.lettering.size_pt
    text = _no_at_size(job, largest, asked) if asked is not None else _no_size(job, largest)
    first = next((each for each in judgement.remedies if each.change != "over-bands"), None)
    if first is None:
        return f"{text}."
    remedy = remedy_text(first).rstrip(".")
    return f"{text}; {remedy[:1].lower()}{remedy[1:]}."


def _no_size(job: ResolvedJob, largest: Judged) -> str:
    if largest.largest_pt <= 0:
        return f"It does not fit: nothing is left for lettering on {_place(job, largest)}"
    return (
        f"It does not fit: {_place(job, largest)} takes {limit_pt(largest.largest_pt)} at most"
        f"{_way_asked(job)}, and a {job.method.name} needs {pt(largest.offer.smallest_pt())}"
    )


def _no_at_size(job: ResolvedJob, largest: Judged, asked: float) -> str:
    offer = largest.offer
    if asked < offer.floor_pt:
        return (
            f"At {pt(asked)} it is smaller than the {pt(offer.floor_pt)} that a "
            f"{job.method.name} holds"
        )
    if asked <= largest.largest_pt and not offer.holds(asked):
        return f"It would fit, but {pt(asked)} is not among the sizes at hand"
    excess = -min(largest.spare_mm.known())
    return (
        f"At {pt(asked)} it does not fit: {limit_pt(largest.largest_pt)} is the most on "
        f"{_place(job, largest)}{_way_asked(job)}, and {mm(excess)} would stand over"
    )


def _way_asked(job: ResolvedJob) -> str:
    """The orientation, where only one was asked for."""
    return {
        Orientation.TRANSVERSE: " across it",
        Orientation.LONGITUDINAL: " along it",
        Orientation.PILLAR: " as a pillar",
    }.get(job.lettering.orientation, "")


def _place(job: ResolvedJob, one: Judged) -> str:
    if job.spine is None:
        assert job.panel is not None  # a resolved job has one of the two
        return f"a panel of {job.panel.width_mm:g} x {job.panel.height_mm:g} mm"
    width = mm(job.spine.width_mm)
    if job.spine.bands:
        return f"panel {job.spine.title_panel} of a back of {width}"
    if one.layout.limit.by is LimitedBy.HEIGHT and job.spine.height_mm is not None:
        return f"a back of {job.spine.width_mm:g} x {job.spine.height_mm:g} mm"
    return f"a back of {width}"


def remedy_text(remedy: Remedy) -> str:
    """What to do, in a sentence, with the size it gives."""
    one = remedy.outcome
    if one is None:
        return "Put the title on the front cover or board, where there is room for it."
    size = f"{pt(one.set_pt)} (up to {limit_pt(one.largest_pt)})"
    return _REMEDIES[remedy.change](remedy, one, size)


def _panel_text(remedy: Remedy, one: Judged, size: str) -> str:
    number = remedy.facts["title_panel"]
    return f"Letter panel {number}, which is longer: {size}, {_set(one, 'panel')}."


def _label_text(remedy: Remedy, one: Judged, size: str) -> str:
    label = f"{remedy.facts['width_mm']:g} x {remedy.facts['height_mm']:g} mm"
    return f"Cut the label to {label} at least: {size}, {_set(one, 'label')}."


def _condensed_text(remedy: Remedy, one: Judged, size: str) -> str:
    what = "its condensed companion" if remedy.facts["own"] else "a narrower letter"
    return f"Take {what}, {remedy.facts['font']}: {size}, {_set(one)}."


def _abbreviated_text(remedy: Remedy, one: Judged, size: str) -> str:
    rows: Any = remedy.facts["rows"]
    sources = dict.fromkeys(f"{row.source}; {row.status}" for row in rows)
    return (
        f"If the title may be abbreviated, letter it \u201c{remedy.facts['title']}\u201d "
        f"({', '.join(sources)}): {size}."
    )


def _set(one: Judged, what: str = "") -> str:
    """Which way and in how many lines."""
    pillar = one.layout.candidate.orientation is Orientation.PILLAR
    return _turned(one) if pillar else f"{_turned(one, what)}, {_lines(one)}"


def _lines(one: Judged) -> str:
    lines = len(one.layout.group.texts)
    return "on one line" if lines == 1 else f"in {_count(lines)} lines"


_REMEDIES: dict[str, Callable[[Remedy, Judged, str], str]] = {
    "smaller": lambda r, one, size: (
        f"Set it smaller: {pt(one.set_pt)}{', still tight' if one.tight else ''}."
    ),
    "split": lambda r, one, size: f"Let it break as {' / '.join(one.layout.group.texts)}: {size}.",
    "tracking": lambda r, one, size: f"{_closer(r)}: {size}, {_set(one)}.",
    "leading": lambda r, one, size: (
        f"Bring the lines closer, {r.facts['leading_em']:g} em from baseline to baseline: "
        f"{size}, {_set(one)}."
    ),
    "font": lambda r, one, size: f"Take a sturdier letter ('{r.facts['font']}'): {size}.",
    "condensed": _condensed_text,
    "turn": lambda r, one, size: f"Letter it {_turned(one)} instead: {size}.",
    "capitals": lambda r, one, size: f"Set it in capitals, {_turned(one)}: {size}.",
    "panel": _panel_text,
    "wider-label": _label_text,
    "abbreviate": _abbreviated_text,
    "break-word": lambda r, one, size: (
        f"If you allow a word to be broken, {' / '.join(one.layout.group.texts)}: {size}."
    ),
    "over-bands": lambda r, one, size: (
        f"Only if forced, along the whole back over its bands: {size}."
    ),
    "cover": lambda r, one, size: f"Put the title on the front cover or board: {size} across it.",
}


def _closer(remedy: Remedy) -> str:
    tracking: Any = remedy.facts["tracking"]
    if not tracking:
        return "Leave out the space added between letters"
    return f"Close the letters up by {-tracking:g} thousandths of the size"


def _turned(one: Judged, what: str = "") -> str:
    what = what or ("panel" if one.layout.panel.back is None else "back")
    orientation = one.layout.candidate.orientation
    if orientation is Orientation.LONGITUDINAL:
        return f"along the {what}, {way(one.layout.candidate.reading.value)}"
    return "as a pillar" if orientation is Orientation.PILLAR else f"across the {what}"
