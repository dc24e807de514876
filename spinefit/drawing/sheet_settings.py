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
from spinefit.drawing.sheet_sides import bent_as_cut, label_for, lap_warnings, widest_mm
from spinefit.drawing.sheet_variants import Differs, variants_of
from spinefit.errors import FieldError
from spinefit.geometry.back import BentLabel
from spinefit.job.checks import drawer
from spinefit.job.model import Job
from spinefit.job.sheet import SheetWishes, refuse_no_back, ways_asked
from spinefit.job.values import Panel
from spinefit.judgement import Judged
from spinefit.judgement.labels import bent
from spinefit.judgement.reading import tie_break
from spinefit.pipeline import Answer
from spinefit.say import phrasing as say
from spinefit.say.model import LayoutReport
from spinefit.tolerances import SAME_MM
from spinefit.vocabulary import Lap, Orientation, PanelForm, Reading


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
        bent: how the label bends over a round of known radius, or the joints; None where it
            does not.
        differs: what sets it apart from the others.
        around_mm: how far a trial strip reaches beyond each joint; None for a label.
        warnings: of a label that goes round over the joints, what the back has to say of it.
    """

    answer: Answer
    place: int
    letter: str = ""
    bent: BentLabel | None = None
    differs: Differs = Differs()
    around_mm: float | None = None
    warnings: tuple[str, ...] = ()

    @property
    def lap(self) -> Lap | None:
        """How far it goes round over the joints onto the boards; None for one between them."""
        return None if self.bent is None else self.bent.lap

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
        if self.around_mm is not None:
            assert panel.back is not None and panel.back_height_mm is not None  # of a trial strip
            return Sides(panel.back.developed_width_mm + 2 * self.around_mm, panel.back_height_mm)
        assert panel.height_mm is not None  # a label has both sides
        if self.bent is not None and self.bent.lap is not None:  # the panel is the back's
            return Sides(self.bent.cut_width_mm, panel.height_mm)
        return Sides(panel.width_mm, panel.height_mm)


class LeftOut(NamedTuple):
    """What was to be compared and cannot be set; its fields are the keys of the JSON.

    Attributes:
        title: the title, as lettered.
        label: sides of the label, None where the back itself is too small.
        set_pt: the size, None where no size fits.
        why: what would fit, in a sentence or two.
        differs: what would have set it apart from the others.
    """

    title: str
    label: Sides | None
    set_pt: float | None
    why: str
    differs: Differs = Differs()


class _Search(NamedTuple):
    """How many of what is looked for on each label.

    Attributes:
        splits: of the title at most, for each size.
        sizes: how many were asked for; None where nothing was said.
        usual_sizes: how many then, about the advised one.
        rules: the numbers of the page.
    """

    splits: int
    sizes: int | None
    usual_sizes: int
    rules: Rules
    around_mm: float | None = None


def completed(wishes: SheetWishes, rules: Rules, *, several: bool = False) -> SheetWishes:
    """What is wished for, and how many splits and spares where nothing was said of them.

    Args:
        wishes: what was said.
        rules: the numbers of the page.
        several: whether labels of several titles stand on it.
    """
    alike = several or set(ways_asked(wishes)) - {"labels"}
    usual_splits = 1 if alike else int(rules.value("splits"))
    usual_spares = 0 if wishes.trial else int(rules.value("spares"))
    spares = usual_spares if wishes.spares is None else wishes.spares
    return replace(wishes, splits=wishes.splits or usual_splits, spares=spares)


def settings_of(
    job: Job, wishes: SheetWishes, rules: Rules, *, usual_sizes: int = 1
) -> tuple[tuple[LabelSetting, ...], tuple[LeftOut, ...]]:
    """Every setting to be set, and what is left out.

    Args:
        job: the title, its back or panel, and how it is lettered.
        wishes: what is to be compared; one split where nothing is said of that.
        rules: the numbers of the page.
        usual_sizes: how many sizes are wanted where nothing is said and there is no drawer.

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
    if wishes.labels and job.lap_mm is not None:
        raise FieldError(
            "back, joints and --lap say how wide the label is", where="--labels",
            remedy="leave out one of the two",
        )  # fmt: skip
    around_mm = rules.value("trial_around_mm") if wishes.trial else None
    refuse_no_back(job, wishes)
    search = _Search(wishes.splits or 1, wishes.sizes, usual_sizes, rules, around_mm)
    found = [
        one._replace(differs=variant.differs)
        for variant in variants_of(job, wishes)
        for one in _on_label(variant.job, variant.label, search)
    ]
    kept = tuple(one for one in found if isinstance(one, LabelSetting))
    return kept, tuple(one for one in found if isinstance(one, LeftOut))


def _on_label(job: Job, label: Panel | None, search: _Search) -> Iterator[LabelSetting | LeftOut]:
    """Settings on one label, or where it is None on labels cut to the ink."""
    fault = None if label is None or job.spine is None else _too_large(job, label)
    if fault is not None:
        yield fault
        return
    tried = job if label is None or label is job.panel else _labelled(job, label)
    bent = None if label is None or label is job.panel else bent_as_cut(job, label.width_mm)
    for wanted in _wanted(tried, label, search):
        if isinstance(wanted, LeftOut):
            yield wanted
            continue
        size_pt, split = wanted
        lettering = replace(tried.lettering, size_pt=size_pt)
        answer = pipeline.answer(replace(tried, lettering=lettering), verify=label is not None)
        places = _splits(answer, search.splits) if split is None else _again(answer, split)
        if not places and split is not None and (size_pt or 0.0) <= split.largest_pt:
            # at a fixed size other lines may be listed: ask for these
            fixed = _fixed_as(tried, split)
            lettering = replace(fixed.lettering, size_pt=size_pt)
            answer = pipeline.answer(replace(fixed, lettering=lettering), verify=label is not None)
            places = _again(answer, split)
        if not places:
            yield _left_out(answer, label, size_pt, split)
        for place in places:
            if label is None and search.around_mm is None:
                yield _cut_to_ink(job, answer, place, search.rules)
            else:
                yield LabelSetting(answer, place, bent=bent, around_mm=search.around_mm)


def _wanted(
    job: Job, label: Panel | None, search: _Search
) -> Iterator[tuple[float | None, Judged | None] | LeftOut]:
    """Sizes to try, the largest first, with the split each is for; None for any that fits.

    A size of None is for the advised one, which does not fit.
    """
    lettering = job.lettering
    if lettering.size_pt is not None and search.sizes in (None, 1):
        yield lettering.size_pt, None
    elif lettering.sizes_pt is not None and search.sizes is None:
        # Checked as the drawer that it is: each will be asked for as a size of its own.
        sizes_pt = drawer(lettering.sizes_pt, "--sizes")
        yield from ((size_pt, None) for size_pt in reversed(sizes_pt))
    else:
        first = pipeline.answer(job)
        places = _splits(first, search.splits)
        if not places:
            yield lettering.size_pt, None
        for place in places:
            one = first.judgement.judged[place]
            sizes = _around(one, search)
            yield from ((size_pt, one) for size_pt in sizes)
            if search.sizes is not None and len(sizes) < search.sizes:
                yield _too_few(first, label, one, len(sizes), search.sizes)


def _around(one: Judged, search: _Search) -> tuple[float, ...]:
    """The advised size and the nearest offered, a step apart, falling.

    Where a number was asked for all of them fit, and one side makes up for the other; else a
    size to either side is tried, so that the limit is seen.
    """
    step_pt, offer = search.rules.value("size_step_pt"), one.offer
    rest = (search.sizes or search.usual_sizes) - 1
    above, below = [one.set_pt], [one.set_pt]
    for _ in range(rest):
        above.append(offer.at_least(above[-1] + step_pt))
        below.append(offer.at_most(below[-1] - step_pt))
    most_pt = math.inf if search.sizes is None else one.largest_pt
    larger = _offered([size_pt for size_pt in above if size_pt <= most_pt], one)
    smaller = _offered(below, one)
    if search.sizes is None:
        larger, smaller = larger[: rest // 2], smaller[: rest // 2]
    larger = larger[: max((rest + 1) // 2, rest - len(smaller))]
    return (*reversed(larger), round(one.set_pt, 6), *smaller[: rest - len(larger)])


def _offered(sizes_pt: list[float], one: Judged) -> list[float]:
    """Sizes to either side of the advised one that can be set, each once."""
    sizes = dict.fromkeys(round(size_pt, 6) for size_pt in sizes_pt if one.offer.holds(size_pt))
    return [size_pt for size_pt in sizes if size_pt != round(one.set_pt, 6)]


def _too_few(answer: Answer, label: Panel | None, one: Judged, found: int, asked: int) -> LeftOut:
    """That fewer sizes fit than were asked for."""
    least, most = say.pt(one.offer.smallest_pt()), say.limit_pt(one.largest_pt)
    why = (
        f"In these lines {found} of {asked} sizes can be set, from {least} up to {most}: "
        f"{' / '.join(one.layout.group.texts)}."
    )
    return LeftOut(answer.report.title, _sides_of(label), None, why)


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
    why = _what_would_fit(answer)
    if split is not None and size_pt is not None and size_pt > split.largest_pt:
        # other lines may take that size, so that the report's own sentence would mislead
        lines = " / ".join(split.layout.group.texts)
        why = f"In these lines {say.limit_pt(split.largest_pt)} is the most: {lines}."
    return LeftOut(answer.report.title, _sides_of(label), size_pt, why)


def _sides_of(label: Panel | None) -> Sides | None:
    return None if label is None else Sides(label.width_mm, label.height_mm)


def _too_large(job: Job, label: Panel) -> LeftOut | None:
    """Why a label cannot stand on the back, or None."""
    answer = pipeline.answer(job)
    panel = answer.panel
    most_wide_mm = widest_mm(answer)
    wide = label.width_mm > most_wide_mm + SAME_MM
    high = panel.height_mm is not None and label.height_mm > panel.height_mm + SAME_MM
    if not (wide or high):
        return None
    most = f"{most_wide_mm:.4g} mm wide"
    if panel.height_mm is not None:
        most += f" and {panel.height_mm:.4g} mm high"
    why = f"The back has no room for it: a label may be {most}."
    return LeftOut(answer.report.title, _sides_of(label), None, why)


def _labelled(job: Job, label: Panel) -> Job:
    """The job on a label by itself: where it is to stand was judged on the book."""
    old = job.old_lettering
    return replace(
        job, spine=None, panel=label, label_size=None, front_board=None, recess=None, lap_mm=None,
        old_lettering=None if old is None or old.in_view else replace(old, from_head_mm=None),
    )  # fmt: skip


def _splits(answer: Answer, most: int) -> tuple[int, ...]:
    """The recommended layout's place, then others that fit the same way, best sense first."""
    judged, first = answer.judgement.judged, answer.judgement.recommended
    if first is None:
        return ()
    candidate = judged[first].layout.candidate
    joins = not judged[first].layout.group.lines.strands_small_words
    seen = {judged[first].layout.group.texts}
    chosen = [first]
    by_sense = sorted(
        enumerate(judged), key=lambda each: (each[1].layout.group.penalty, *tie_break(each[1]))
    )
    for at, one in by_sense:
        same = one.layout.candidate._replace(line_counts=candidate.line_counts) == candidate
        stranded = joins and one.layout.group.lines.strands_small_words
        if one.fits and same and not stranded and one.layout.group.texts not in seen:
            seen.add(one.layout.group.texts)
            chosen.append(at)
    return tuple(chosen[:most])


def _cut_to_ink(job: Job, answer: Answer, place: int, rules: Rules) -> LabelSetting | LeftOut:
    """The same setting on a label of its own: as wide as the back leaves, as long as it needs.

    On a front board as large as it needs; over old lettering long enough to cover it.
    """
    one = answer.judgement.judged[place]
    label, fixed = label_for(answer, one, rules), _fixed_as(job, one)
    if answer.job.lap is not None:  # alone it would keep room for a frame line at its sides
        clearance_mm = answer.job.lettering.clearance_mm
        fixed = replace(fixed, lettering=replace(fixed.lettering, clearance_mm=clearance_mm))
    again = pipeline.answer(_labelled(fixed, label), verify=True)
    for at in _again(again, one):
        if answer.job.lap is None:
            return LabelSetting(again, at, bent=bent_as_cut(job, label.width_mm))
        found = LabelSetting(again, at, warnings=lap_warnings(answer))
        return found._replace(bent=bent(answer.job, answer.panel, answer.panel.width_mm))
    return _left_out(again, label, one.set_pt)


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
