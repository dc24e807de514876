"""Which settings of a title are worth laying side by side on a sheet?

In: a job and what a person wishes to compare. Out: settings, each of them checked in the very
label it is drawn in, and what was left out with the reason. Where nothing is wished for: the
advised size and a step to either side, the best splits, on the panel asked for or on a label
as wide as the back leaves and as long as the ink needs.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import islice
from typing import NamedTuple

from spinefit import pipeline
from spinefit.catalogue import Rules
from spinefit.drawing.frame import ink_box_mm
from spinefit.errors import FieldError
from spinefit.geometry.back import BentLabel, bent_label, build_back, covered_mm
from spinefit.job.checks import drawer
from spinefit.job.model import Job
from spinefit.job.resolve import resolve
from spinefit.job.values import Panel
from spinefit.judgement import Judged
from spinefit.judgement.choice import tie_break
from spinefit.pipeline import Answer
from spinefit.say import phrasing as say
from spinefit.say.model import LayoutReport
from spinefit.tolerances import SAME_MM, SAME_STEP
from spinefit.vocabulary import Orientation, PanelForm, Reading


class Wishes(NamedTuple):
    """What is to be compared.

    Attributes:
        labels: sides of the labels; none for the panel asked for, or as the ink needs.
        splits: how many splits of the title at most, for each label and size.
        around: whether sizes beside the advised one are wanted too, where none is asked for.
        drawer: whether every size of a drawer is wanted, not the advised one of them alone.
    """

    labels: tuple[Panel, ...] = ()
    splits: int = 1
    around: bool = False
    drawer: bool = True


class Sides(NamedTuple):
    """Of a label."""

    width_mm: float
    height_mm: float


class LabelSetting(NamedTuple):
    """A setting that fits its label.

    Attributes:
        answer: the check of this label, at this size.
        place: which of its layouts this is.
        letter: what it is called on the sheet.
        bent: how the label bends over a round of known radius; None where it does not.
    """

    answer: Answer
    place: int
    letter: str = ""
    bent: BentLabel | None = None

    @property
    def judged(self) -> Judged:
        """The layout at the size judged."""
        return self.answer.judgement.judged[self.place]

    @property
    def layout(self) -> LayoutReport:
        """The same as it is reported."""
        return self.answer.report.layouts[self.place]

    @property
    def sides(self) -> Sides:
        """Of the label, as it is cut."""
        panel = self.answer.panel
        assert panel.height_mm is not None  # a label has both sides
        return Sides(panel.width_mm, panel.height_mm)


class LeftOut(NamedTuple):
    """What was to be compared and cannot be set; its fields are the keys of the JSON.

    Attributes:
        title: the title, as lettered.
        label: sides of the label, None where the back itself is too small.
        set_pt: the size, None where no size fits.
        why: what would fit, in a sentence or two.
    """

    title: str
    label: Sides | None
    set_pt: float | None
    why: str


def settings_of(
    job: Job, wishes: Wishes, rules: Rules
) -> tuple[tuple[LabelSetting, ...], tuple[LeftOut, ...]]:
    """Every setting to be set, and what is left out.

    Args:
        job: the title, its back or panel, and how it is lettered.
        wishes: what is to be compared.
        rules: the numbers of the page.

    Raises:
        SpinefitError: the job cannot be, or its letters are tools.
    """
    if job.lettering.tools is not None:
        raise FieldError(
            "a sheet prints a font's letters, not those of tools", where="--tools",
            remedy="give --font, and --sizes for the sizes to compare",
        )  # fmt: skip
    if wishes.labels and job.shape is not None and job.shape.form is PanelForm.POLYGON:
        raise FieldError(
            "labels beside an outline of their own", where="--labels",
            remedy="leave out one of the two",
        )  # fmt: skip
    found = [
        one
        for label in wishes.labels or (job.panel,)
        for one in _on_label(job, label, wishes, rules)
    ]
    kept = tuple(one for one in found if isinstance(one, LabelSetting))
    return kept, tuple(one for one in found if isinstance(one, LeftOut))


def _on_label(
    job: Job, label: Panel | None, wishes: Wishes, rules: Rules
) -> Iterator[LabelSetting | LeftOut]:
    """Settings on one label, or where it is None on labels cut to the ink."""
    fault = None if label is None or job.spine is None else _too_large(job, label)
    if fault is not None:
        yield fault
        return
    tried = job if label is None or label is job.panel else _labelled(job, label)
    bent = None if label is None or label is job.panel else _bent(job, label.width_mm)
    for size_pt, split in _wanted(tried, wishes, rules):
        lettering = replace(tried.lettering, size_pt=size_pt)
        answer = pipeline.answer(replace(tried, lettering=lettering), verify=label is not None)
        places = _splits(answer, wishes.splits) if split is None else _again(answer, split)
        if not places:
            yield _left_out(answer, label, size_pt, split)
        for place in places:
            if label is None:
                yield _cut_to_ink(job, answer, place, rules)
            else:
                yield LabelSetting(answer, place, bent=bent)


def _wanted(job: Job, wishes: Wishes, rules: Rules) -> Iterator[tuple[float | None, Judged | None]]:
    """Sizes to try, the largest first, with the split each is for; None for any that fits.

    A size of None is for the advised one, which does not fit.
    """
    lettering = job.lettering
    if lettering.size_pt is not None:
        yield lettering.size_pt, None
    elif lettering.sizes_pt is not None and wishes.drawer:
        # Checked as the drawer that it is: each will be asked for as a size of its own.
        sizes_pt = drawer(lettering.sizes_pt, "--sizes")
        yield from ((size_pt, None) for size_pt in reversed(sizes_pt))
    else:
        first = pipeline.answer(job)
        places = _splits(first, wishes.splits)
        if not places:
            yield None, None
        for place in places:
            one = first.judgement.judged[place]
            sizes = _around(one, rules) if wishes.around else (one.set_pt,)
            yield from ((size_pt, one) for size_pt in sizes)


def _around(one: Judged, rules: Rules) -> tuple[float, ...]:
    """The advised size and the ones offered a step above and below it, falling."""
    step_pt, offer = rules.value("size_step_pt"), one.offer
    near = (offer.at_least(one.set_pt + step_pt), one.set_pt, offer.at_most(one.set_pt - step_pt))
    sizes = {round(size, 6) for size in near if offer.holds(size)}
    return tuple(sorted(sizes, reverse=True))


def _again(answer: Answer, split: Judged) -> tuple[int, ...]:
    """The place of a split in another answer, where it fits there too."""
    judged = answer.judgement.judged
    same = (at for at, one in enumerate(judged) if one.fits and _lines_of(one) == _lines_of(split))
    return tuple(islice(same, 1))


def _lines_of(one: Judged) -> tuple[object, ...]:
    """What makes two layouts the same lines, standing the same way."""
    candidate = one.layout.candidate
    return candidate.orientation, candidate.turn, one.layout.group.texts


def _left_out(
    answer: Answer, label: Panel | None, size_pt: float | None, split: Judged | None = None
) -> LeftOut:
    sides = None if label is None else Sides(label.width_mm, label.height_mm)
    why = _what_would_fit(answer)
    if split is not None and size_pt is not None and size_pt > split.largest_pt:
        # other lines may take that size, so that the report's own sentence would mislead
        lines = " / ".join(split.layout.group.texts)
        why = f"In these lines {say.limit_pt(split.largest_pt)} is the most: {lines}."
    return LeftOut(answer.report.title, sides, size_pt, why)


def _too_large(job: Job, label: Panel) -> LeftOut | None:
    """Why a label cannot stand on the back, or None."""
    answer = pipeline.answer(job)
    panel = answer.panel
    widest_mm = _widest_mm(answer)
    wide = label.width_mm > widest_mm + SAME_MM
    high = panel.height_mm is not None and label.height_mm > panel.height_mm + SAME_MM
    if not (wide or high):
        return None
    most = f"{widest_mm:.4g} mm wide"
    if panel.height_mm is not None:
        most += f" and {panel.height_mm:.4g} mm high"
    why = f"The back has no room for it: a label may be {most}."
    return LeftOut(answer.report.title, Sides(label.width_mm, label.height_mm), None, why)


def _widest_mm(answer: Answer) -> float:
    """How wide a label may be cut: over a round it is wider than what it covers."""
    label = answer.report.label
    return answer.panel.width_mm if label is None else label.cut_width_mm


def _bent(job: Job, cut_width_mm: float) -> BentLabel | None:
    """How a label cut so wide bends over the back of a job; None where it does not."""
    if job.spine is None:
        return None
    resolved = resolve(job)
    assert resolved.spine is not None  # a job with a spine
    back = build_back(resolved.spine, resolved.rules)
    thickness_mm = resolved.label_thickness_mm
    if back.radius_mm is None or not back.curve_known or not thickness_mm:
        return None
    covers_mm = covered_mm(back.radius_mm, thickness_mm, cut_width_mm)
    return bent_label(back.radius_mm, thickness_mm, covers_mm)


def _labelled(job: Job, label: Panel) -> Job:
    """The job on a label by itself: where it is to stand was judged on the book."""
    old = job.old_lettering
    return replace(
        job, spine=None, panel=label, front_board=None, recess=None,
        old_lettering=None if old is None or old.in_view else replace(old, from_head_mm=None),
    )  # fmt: skip


def _splits(answer: Answer, most: int) -> tuple[int, ...]:
    """The recommended layout's place, then others that fit the same way, best sense first."""
    judged, first = answer.judgement.judged, answer.judgement.recommended
    if first is None:
        return ()
    candidate = judged[first].layout.candidate
    seen = {judged[first].layout.group.texts}
    chosen = [first]
    by_sense = sorted(
        enumerate(judged), key=lambda each: (each[1].layout.group.penalty, *tie_break(each[1]))
    )
    for at, one in by_sense:
        same = one.layout.candidate._replace(line_counts=candidate.line_counts) == candidate
        if one.fits and same and one.layout.group.texts not in seen:
            seen.add(one.layout.group.texts)
            chosen.append(at)
    return tuple(chosen[:most])


def _cut_to_ink(job: Job, answer: Answer, place: int, rules: Rules) -> LabelSetting | LeftOut:
    """The same setting on a label of its own: as wide as the back leaves, as long as it needs.

    On a front board as large as it needs; over old lettering long enough to cover it.
    """
    one = answer.judgement.judged[place]
    label = _label_for(answer, one, rules)
    again = pipeline.answer(_labelled(_fixed_as(job, one), label), verify=True)
    for at in _again(again, one):
        return LabelSetting(again, at, bent=_bent(job, label.width_mm))
    return _left_out(again, label, one.set_pt)


def _label_for(answer: Answer, one: Judged, rules: Rules) -> Panel:
    """Sides of a label for a setting on a back."""
    job, panel = answer.job, answer.panel
    board = job.front_board
    if board is not None and board.label_given:
        assert job.panel is not None  # the label is the panel
        return Panel(width_mm=job.panel.width_mm, height_mm=job.panel.height_mm)
    width_mm = math.floor(_widest_mm(answer) * 10 + SAME_STEP) / 10
    if panel.height_mm is not None and not panel.is_plain:
        return Panel(width_mm=panel.width_mm, height_mm=panel.height_mm)
    left, bottom, right, top = ink_box_mm(one)
    # Between the ink and the label's ends: the clearance, or where there is none, the habit.
    around_mm = 2 * (job.lettering.clearance_mm or rules.value("ink_margin_mm"))
    height_mm = float(math.ceil(top - bottom + around_mm - SAME_MM))
    if board is not None:  # no joints say how wide it is
        width_mm = min(width_mm, math.ceil(right - left + around_mm - SAME_MM))
    if one.over_old is not None and one.over_old.label_mm is not None:
        height_mm = one.over_old.label_mm[3] - one.over_old.label_mm[1]
    if panel.height_mm is not None:
        height_mm = min(height_mm, panel.height_mm)
    return Panel(width_mm=width_mm, height_mm=height_mm)


def _fixed_as(job: Job, one: Judged) -> Job:
    """The job with size, orientation, reading and number of lines fixed as in a setting."""
    candidate, lettering = one.layout.candidate, job.lettering
    along = candidate.orientation is Orientation.LONGITUDINAL
    pillar = candidate.orientation is Orientation.PILLAR
    return replace(
        job,
        lettering=replace(
            lettering,
            size_pt=one.set_pt,
            orientation=candidate.orientation,
            reading=Reading(candidate.reading) if along else lettering.reading,
            lines=None if pillar else len(one.layout.group.texts),
        ),
    )


def _what_would_fit(answer: Answer) -> str:
    """The report's own sentence, and the cheapest changes that make it fit."""
    from spinefit.say.remedies import remedies  # for the few titles that do not fit

    found = remedies(answer.report)[:2]
    changes = [remedy.text for remedy in found if remedy.largest_pt is not None]
    return " ".join((answer.report.answer, *changes))
