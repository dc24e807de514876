"""What is the answer in one sentence?

In: the judgement. Out: text. Figures are the judgement's; nothing is worked out here.
"""

from __future__ import annotations

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import Judged
from spinefit.judgement.offer import whose_floor
from spinefit.judgement.settings import largest_in
from spinefit.judgement.verdict import Judgement
from spinefit.say.filling import said
from spinefit.say.phrasing import count_in_words, limit_pt, mm, on_lines, pt, visible, way
from spinefit.vocabulary import Level, LimitedBy, Orientation, PanelForm, SetBy, Verdict

AS_ASKED = "as asked"
"""Of the size of a job that says one."""


def answer_text(job: ResolvedJob, judgement: Judgement, asked: str = AS_ASKED) -> str:
    """The whole answer in one sentence.

    Args:
        job: the job.
        judgement: of it.
        asked: what is said of a size that was not chosen here.
    """
    best = judgement.best
    if best is None:
        return _why_old_shows(judgement) or _why_not_cut(judgement) or _no(job, judgement)
    start = "It fits" if judgement.verdict is Verdict.FITS else "It fits, but tightly,"
    text = f"{start} {_where(job, best)}{_over_old(best)}: {_sizes(job, best, asked)}"
    after = _too_small(job, best) or _why_not_across(job, judgement, best)
    return f"{text}; {after}." if after else f"{text}."


def _why_old_shows(judgement: Judgement) -> str:
    """The answer where old lettering is what decides; "" where there is none, or it is hidden."""
    if judgement.shown.over_old is None:
        return ""
    from spinefit.say.old_lettering import why_old_shows  # for few books

    return why_old_shows(judgement)


def _why_not_cut(judgement: Judgement) -> str:
    """The answer where only the recess for the label decides; "" where it does not."""
    if not judgement.shown.fits_uncut:
        return ""
    found = next(f for f in judgement.findings if f.topic in _NOT_CUT and f.level is Level.FAILURE)
    why = _NOT_CUT[found.topic]
    if found.topic == "recess-edge" and isinstance(found.value, float) and found.value <= 0:
        why = "the opening cut for its label would run {value:mm beyond} over the edge"
    said_why = said(why, value=found.value, limit=found.limit, **found.facts)
    return f"It does not fit: {said_why}."


_NOT_CUT = {
    "recess-edge": (
        "beside the recess for its label only {value:mm against limit} of card would be left, and "
        "less than {limit:mm} tears"
    ),
    "recess-shallow": "its recess of {value:.4g} mm is shallower than the label of {limit:.4g} mm",
    "recess-covered": (
        "what bears old lettering is covered already, and no recess is cut under a covering"
    ),
    "recess-round": "a rounded back has no board to cut a recess in",
}
"""Why a recess would spoil the work."""


def _over_old(one: Judged) -> str:
    if one.over_old is None:
        return ""
    from spinefit.say.old_lettering import over_old_in_words

    return over_old_in_words(one.over_old, one.layout.panel)


def _where(job: ResolvedJob, one: Judged) -> str:
    on = on_lines(len(one.layout.group.texts))
    orientation = one.layout.candidate.orientation
    if orientation is Orientation.PILLAR:
        columns = len(one.layout.group.texts)
        if columns > 1:
            return f"in {count_in_words(columns)} columns of upright letters down the {_thing(job)}"
        return f"in upright letters one under another down the {_thing(job)}"
    if orientation is Orientation.LONGITUDINAL:
        return f"along the {_thing(job)} {on}, reading {way(one.layout.candidate.reading.value)}"
    return f"across the {_thing(job)} {on}"


def _thing(job: ResolvedJob) -> str:
    if job.front_board is not None:
        return "label on the front board" if job.front_board.label_given else "front board"
    if job.spine is None:
        return "label" if job.parts else "panel"
    if job.spine.bands:
        return f"spine in panel {job.spine.title_panel} of {job.spine.bands + 1}"
    return "spine"


def _sizes(job: ResolvedJob, one: Judged, asked: str) -> str:
    needs = ""
    if one.needs_back_mm is not None:
        what = "a panel" if job.spine is not None and job.spine.bands else "a back"
        needs = f", for {what} of at least {mm(one.needs_back_mm)} from head to tail,"
    if job.parts:
        from spinefit.say.label_texts import sizes_in_sentence  # for labels with several texts

        return sizes_in_sentence(job, one, asked)
    if one.set_by is SetBy.ASKED:
        return f"{pt(one.set_pt)} {asked}{needs or ','} {limit_pt(one.largest_pt)} at most"
    return f"{pt(one.set_pt)} is advised{needs or ','} {limit_pt(one.largest_pt)} is the most"


def _too_small(job: ResolvedJob, best: Judged) -> str:
    """That it cannot be read from the shelf, which matters more than what else could be set."""
    if best.arcminutes >= job.rules.value("legibility.failing_arcmin"):
        return ""
    return "too small to be read from the shelf"


def _needs(job: ResolvedJob, one: Judged) -> str:
    """The smallest size that the method holds, and what asks for it."""
    offer, beyond = one.offer, ""
    if not offer.holds(offer.smallest_pt()):
        offer = offer._replace(sizes_pt=None)  # none of the sizes at hand holds
        beyond = ", more than any size at hand"
    text = f"a {whose_floor(job, offer)} needs {pt(offer.smallest_pt())}"
    if offer.weakest is not None:
        what = _KEPT.get(offer.weakest.what, "to hold the thin strokes of {}")
        letter = what.format(visible(offer.weakest.letter))
        return f"{text} {letter} in {visible(one.layout.title.font.name)}{beyond}"
    if offer.floor is job.method.smallest_cap:
        return f"{text}, capitals {mm(offer.floor.value)} high{beyond}"
    return f"{text}{beyond}"


_KEPT = {"counter": "to keep the counter of {} open"}
"""What a letter asks of the size, where it is not its strokes."""


def _why_not_across(job: ResolvedJob, judgement: Judgement, best: Judged) -> str:
    if best.layout.candidate.orientation is not Orientation.LONGITUDINAL:
        return ""
    if job.old_lettering is not None and _all_on_old(judgement):
        return "across it would stand on the old lettering"
    reason = next((f for f in judgement.why if f.topic in _REASONS), None)
    refused = None if reason is None else reason.facts.get("refused")
    if reason is None or not isinstance(refused, Judged):
        largest = largest_in(judgement.settings, Orientation.TRANSVERSE)
        if largest is None:
            return ""
        short = largest.largest_pt < largest.offer.smallest_pt()
        needs = f", and {_needs(job, largest)}" if short else ""
        return f"across it would be {limit_pt(largest.largest_pt)} at most{needs}"
    facts = {**reason.facts, "limit": reason.limit}
    why = said(_REASONS[reason.topic], **facts)
    return f"across it would be {limit_pt(refused.largest_pt)} at most, {why}"


def _all_on_old(judgement: Judgement) -> bool:
    """Whether every setting across would stand on old lettering, or not cover it."""
    across = [one for one in judgement.settings if one.orientation is Orientation.TRANSVERSE]
    met = [one.over_old is not None and one.over_old.misfit is not None for one in across]
    return bool(met) and all(met)


_REASONS = {
    "across-narrow": (
        "and by custom a {work} under {limit:mm} is lettered along"
        "{reads:, though ISO 6357 would have it across|}"
    ),
    "across-least": (
        "and custom asks {limit:pt} with room to spare"
        "{reads:, though ISO 6357 would have it across|}"
    ),
    "across-lines": "in more lines than look well",
    "across-broken": "with a word broken",
    "across-small": "too small beside it",
    "across-unreadable": "too small to be read",
}


def _no(job: ResolvedJob, judgement: Judgement) -> str:
    """Why it does not fit: first what no other size would mend, and of that the letters."""
    own = [one for one in judgement.judged if not one.layout.over_bands]
    largest = max(own, key=lambda one: one.largest_pt)
    asked = job.lettering.size_pt
    if largest.offer.touching:
        letters = " and ".join(map(visible, largest.offer.touching))
        return (
            f"It does not fit: with so much tracking taken off, {letters} touch and run together."
        )
    if largest.offer.unheld is not None:
        text = largest.offer.unheld
        return f"It does not fit: the {text.role} cannot be had at {pt(text.size_pt)} as asked."
    if largest.largest_pt <= 0:
        return f"It does not fit: nothing is left for lettering on {_place(job, largest)}."
    if judgement.shown.meeting is not None and judgement.shown.set_pt <= largest.largest_pt:
        upper, lower = judgement.shown.meeting
        return (
            f"It does not fit: as the lines are moved by hand, “{visible(lower)}” runs into "
            f"“{visible(upper)}” at {pt(judgement.shown.set_pt)}."
        )
    if asked is not None and largest.offer.reaches(largest.largest_pt):
        return _no_at_size(job, largest, asked)
    room = f"{_place(job, largest)} takes {limit_pt(largest.largest_pt)} at most{_way_asked(job)}"
    needs = _needs(job, largest)
    first, second = (room, needs) if largest.offer.weakest is None else (needs, room)
    start = "It does not fit" if asked is None else f"It does not fit at {pt(asked)} or any size"
    return f"{start}: {first}, and {second}."


def _no_at_size(job: ResolvedJob, largest: Judged, asked: float) -> str:
    offer = largest.offer
    if asked < offer.floor_pt:
        return f"At {pt(asked)} it does not fit: {_needs(job, largest)}."
    if asked <= largest.largest_pt and offer.sizes_pt is not None and not offer.holds(asked):
        held = [size for size in offer.sizes_pt if offer.floor_pt <= size <= largest.largest_pt]
        nearest = min(held, key=lambda size_pt: abs(size_pt - asked))
        return (
            f"It would fit, but {pt(asked)} is not among the sizes at hand; the nearest is "
            f"{pt(nearest)}."
        )
    excess = -min(largest.spare_mm.known())
    return (
        f"At {pt(asked)} it does not fit: {limit_pt(largest.largest_pt)} is the most on "
        f"{_place(job, largest)}{_way_asked(job)}, and {mm(excess)} would stand over."
    )


def _way_asked(job: ResolvedJob) -> str:
    """The orientation and the number of lines, where only one was asked for."""
    way = {
        Orientation.TRANSVERSE: " across it",
        Orientation.LONGITUDINAL: " along it",
        Orientation.PILLAR: " in upright letters one under another",
    }.get(job.lettering.orientation, "")
    return way if job.lettering.lines is None else f"{way} {on_lines(job.lettering.lines)}"


def _place(job: ResolvedJob, one: Judged) -> str:
    if job.spine is None:
        assert job.panel is not None  # a resolved job has one of the two
        size = f"{job.panel.width_mm:g} x {job.panel.height_mm:g} mm"
        if job.front_board is not None:
            what = "a label" if job.front_board.label_given else "a free part"
            return f"{what} of {size} on the front board"
        form = None if job.shape is None else job.shape.form
        shaped = "" if form in (None, PanelForm.RECTANGLE) else f"{form} "
        return f"{'an' if shaped[:1] == 'o' else 'a'} {shaped}panel of {size}"
    width = mm(job.spine.width_mm)
    if one.layout.limit.by is LimitedBy.ANGLE:
        return f"the part of a rounded back of {width} that is seen"
    if job.spine.bands:
        return f"panel {job.spine.title_panel} of a back of {width}"
    if one.layout.limit.by is LimitedBy.HEIGHT and job.spine.height_mm is not None:
        return f"a back of {job.spine.width_mm:g} x {job.spine.height_mm:g} mm"
    return f"a back of {width}"
