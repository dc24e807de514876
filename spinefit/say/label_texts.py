"""How are the texts and rules of one label told: in records, in rows and in a sentence?

In: a judged setting of a label with several texts, or the records made of it. Out: records with
places counted from the label's upper edge, the one above the letters, where a binder holds the
rule; the rows that a screen and a checklist have; the sizes in one sentence.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from spinefit.geometry import UsablePanel
from spinefit.geometry.plane import turn_point
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import Judged
from spinefit.judgement.labels import lapping_height_mm
from spinefit.judgement.verdict import Judgement
from spinefit.say.label_model import LabelTextReport, LapReport, RuleReport
from spinefit.say.model import LayoutReport
from spinefit.say.phrasing import bare_mm, limit_pt, line_count, listed, mm, pt
from spinefit.vocabulary import Lap, Role, SetBy, Turn


def texts_of(
    job: ResolvedJob, judgement: Judgement, one: Judged
) -> tuple[tuple[LabelTextReport, ...], tuple[RuleReport, ...]]:
    """The texts and the rules of a setting; nothing of a title alone."""
    group = one.layout.group
    if not one.layout.title.stack:
        return (), ()
    middle_mm = _middle_mm(judgement, one)
    found: list[LabelTextReport] = []
    for text in one.layout.title.texts:
        lines = [line for line in group.set_lines if line.number == text.number]
        found.append(
            LabelTextReport(
                role=job.parts[text.number - 1].role,
                text=text.title.text,
                set_pt=round(text.scale * one.set_pt, 6),
                lines=tuple(line.text for line in lines),
                cap_height_mm=text.title.cap_height_em * text.scale * one.size_mm,
                baselines_mm=tuple(middle_mm - line.baseline_em * one.size_mm for line in lines),
                ink_width_mm=max(line.width_em for line in lines) * one.size_mm,
            )
        )
    rules = []
    for boxes in group.rules:
        left_em, _bottom, right_em, top_em = boxes[0]
        spaces_em = [above[1] - below[3] for above, below in pairwise(boxes)]
        rules.append(
            RuleReport(
                from_head_mm=middle_mm - top_em * one.size_mm,
                thickness_mm=tuple((box[3] - box[1]) * one.size_mm for box in boxes),
                space_mm=sum(spaces_em) * one.size_mm,
                length_mm=(right_em - left_em) * one.size_mm,
            )
        )
    return tuple(found), tuple(rules)


def _middle_mm(judgement: Judgement, one: Judged) -> float:
    """From the label's upper edge to the placing point of its lines."""
    turn, panel = one.layout.candidate.turn, one.layout.panel
    across_mm, along_mm, centre_mm = panel.width_mm, panel.height_mm, one.centre_mm
    if judgement.board_place is not None and one is judgement.shown:
        place = judgement.board_place
        across_mm, along_mm, centre_mm = place.label_width_mm, place.label_height_mm, (0.0, 0.0)
    assert along_mm is not None  # a label has a height
    upper_mm = (along_mm if turn is Turn.NONE else across_mm) / 2
    return upper_mm - turn_point(centre_mm, turn.undone)[1]


def sizes_in_sentence(job: ResolvedJob, one: Judged, asked: str) -> str:
    """The sizes of all texts and the most for the leading one.

    Args:
        job: the job.
        one: a setting of it.
        asked: what is said of a size that was not chosen here.
    """
    leads = _named(job.parts[job.leader].role)
    found: dict[str, str] = {}
    for text in one.layout.title.texts:
        if not text.leads:
            role = _named(job.parts[text.number - 1].role)
            found.setdefault(role, f"the {role} {pt(text.scale * one.set_pt)}")
    own, others = f"the {leads} {pt(one.set_pt)}", [*found.values()]
    most = f"{limit_pt(one.largest_pt)} is the most for the {leads}"
    if one.set_by is SetBy.ASKED:
        return f"{', '.join([f'{own} {asked}', *others])}; {most}"
    return f"{listed([own, *others])} {'are' if others else 'is'} advised; {most}"


def _named(role: Role) -> str:
    return str(role).replace("-", " ")


def rows_of(layout: LayoutReport) -> Iterator[tuple[str, str]]:
    """Each text and rule from the top: what it is, its size, and where it stands."""
    items = [(text.baselines_mm[0], _text(text)) for text in layout.texts]
    items += [(rule.from_head_mm, ("Rule", rule_in_words(rule))) for rule in layout.rules]
    along = layout.turn is not Turn.NONE
    where = " from the edge above the letters" if along else " from the upper edge"
    for _place_mm, (name, words) in sorted(items):
        yield name, f"{words}{where}"
        where = ""


def _text(text: LabelTextReport) -> tuple[str, str]:
    places = ", ".join(map(bare_mm, text.baselines_mm[:-1]))
    places = f"{places} and " if places else ""
    what = "baselines" if places else "baseline"
    lines = f", {line_count(len(text.lines))}" if places else ""
    words = f"{pt(text.set_pt)}{lines}; {what} {places}{mm(text.baselines_mm[-1])}"
    return _named(text.role).capitalize(), words


def rule_in_words(rule: RuleReport) -> str:
    """How thick and how long a rule is, and where it stands."""
    thick = " and ".join(f"{each:.2g}" for each in rule.thickness_mm)
    apart = f", {rule.space_mm:.2g} mm apart" if rule.space_mm else ""
    place = f"upper edge {mm(rule.from_head_mm)}"
    return f"{thick} mm{apart}, {mm(rule.length_mm)} long; {place}"


def lap_of(job: ResolvedJob, lap: Lap, panel: UsablePanel, judgement: Judgement) -> LapReport:
    """How far a label goes round over the joints, and the height it is cut to."""
    shown = judgement.shown
    height_mm = lapping_height_mm(job, panel, shown) if shown.fits else None
    return LapReport(lap.joint_mm, lap.board_mm, height_mm)
