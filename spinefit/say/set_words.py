"""How is the plan of a set said to a binder?

In: the volumes as reported, and their plan. Out: plain text and findings; nothing is worked out
here.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.plan.result import Plan, PlannedRole
from spinefit.provenance import Status
from spinefit.say.answers import AS_ASKED
from spinefit.say.back_words import listed, shown
from spinefit.say.model import FindingReport, LayoutReport, Report
from spinefit.say.phrasing import joined, limit_pt, mm
from spinefit.say.plan_model import BacksReport, CompromiseReport, SetReport, VolumeReport
from spinefit.vocabulary import Level, Orientation, Reading, Verdict

__all__ = [
    "answer",
    "as_the_set_has_it",
    "beside_failing",
    "compromise_text",
    "findings",
    "match_answer",
    "match_findings",
]

_COCKERELL = "Cockerell, Bookbinding and the Care of Books, ch. XV, fig. 115"
_WAYS = {
    Orientation.TRANSVERSE: "across the back",
    Orientation.LONGITUDINAL: "along the back",
    Orientation.PILLAR: "as a pillar",
}


def answer(
    volumes: Sequence[VolumeReport],
    plan: Plan,
    limiting: str,
    verdict: Verdict,
    compromises: Sequence[CompromiseReport],
) -> str:
    """The whole answer in one sentence."""
    common = plan.roles[0]
    if verdict is Verdict.DOES_NOT_FIT:
        failing = listed([one.label for one in volumes if not one.fits])
        text = (
            f"The set does not fit at {common.set_pt:g} pt {_WAYS[common.orientation]} in "
            f"{_lines(common.lines)}: {failing} cannot take it"
        )
    else:
        start = "The set fits" if verdict is Verdict.FITS else "The set fits, but tightly"
        text = (
            f"{start} {_WAYS[common.orientation]} in {_lines(common.lines)}, {common.set_pt:g} pt "
            f"for every volume and {limit_pt(plan.largest_pt)} at most; {limiting} sets "
            "the limit"
        )
    if compromises:
        first = compromises[0]
        text += f"; were it let go its own way, the others could have {first.others_pt:g} pt"
    return f"{text}."


def _lines(count: int) -> str:
    return "one line" if count == 1 else f"{count} lines"


def compromise_text(label: str, change: str, layout: LayoutReport, others_pt: float) -> str:
    """What the thin volume does, in a sentence."""
    does = {
        "smaller": f"set {label} smaller, at {layout.set_pt:g} pt",
        "broken": f"break {label} as {joined(layout)}, at {layout.set_pt:g} pt",
        "along": f"letter {label} along the back, at {layout.set_pt:g} pt",
    }[change]
    return f"{does[:1].upper()}{does[1:]}, and all the others at {others_pt:g} pt."


def findings(
    volumes: Sequence[VolumeReport], plan: Plan, limiting: str, *, labels: bool
) -> tuple[FindingReport, ...]:
    """What a binder should know of the set as a whole, the gravest first."""
    common = plan.roles[0]
    found = [_failing(one, common) for one in volumes if not one.fits]
    alone = listed([f"{one.label} {limit_pt(one.largest_pt)}" for one in volumes])
    found.append(
        FindingReport(
            "set-limit",
            Level.NOTE,
            f"{_WAYS[common.orientation].capitalize()} in {_lines(common.lines)} each would take "
            f"at most: {alone}. {limiting} sets the limit.",
            common.set_pt,
            plan.largest_pt,
            "pt",
            f"the worst is the rule for all, or one thin volume goes its own way: {_COCKERELL}",
            Status.PUBLISHED,
        )
    )
    found.append(_height(volumes, common, labels=labels))
    return tuple(found)


def _failing(one: VolumeReport, common: PlannedRole) -> FindingReport:
    layout = shown(one.report)
    return FindingReport(
        "volume-does-not-fit",
        Level.FAILURE,
        f"{one.label} cannot take {common.set_pt:g} pt in {_lines(common.lines)}: "
        f"{one.report.answer}",
        common.set_pt,
        layout.largest_pt,
        "pt",
        "computed from the outlines and the back",
        Status.COMPUTED,
    )


def _height(volumes: Sequence[VolumeReport], common: PlannedRole, *, labels: bool) -> FindingReport:
    if common.stands_mm is None:
        text = (
            "Labels: paste them so that their first baselines stand at one height."
            if labels
            else "Without the heights of all volumes no common height over the shelf is known."
        )
        level = Level.NOTE
    else:
        layout = shown(volumes[0].report)
        what = "The first baseline" if layout.reading is Reading.ACROSS else "The lettering begins"
        stands = "stands" if layout.reading is Reading.ACROSS else ""
        text = f"{what} {stands} {mm(common.stands_mm)} from the tail in every volume."
        text, level = text.replace("  ", " "), Level.GOOD
    return FindingReport(
        "set-height",
        level,
        text,
        common.stands_mm,
        None,
        "mm",
        "common practice: volumes of a set are lettered at one height",
        Status.PRACTICE,
    )


def as_the_set_has_it(report: Report) -> Report:
    """The report of a volume whose size nobody asked for: the set has it."""
    return report._replace(answer=report.answer.replace(AS_ASKED, "as the set has it"))


def beside_failing(answer_of_volume: str, report: SetReport | BacksReport) -> str:
    """The answer for a volume that fits, where another of its set may not."""
    failing = listed([one.label for one in report.volumes if not one.fits])
    if not failing:
        return answer_of_volume
    return (
        f"{answer_of_volume.removesuffix('.')}; but the set does not fit so: {failing} cannot "
        "take it."
    )


def match_answer(volumes: Sequence[VolumeReport], size_pt: float) -> str:
    """Whether every volume matches a pattern, in one sentence."""
    failing = [one.label for one in volumes if not one.fits]
    if failing:
        verb = "does not" if len(failing) == 1 else "do not"
        return f"{listed(failing)} {verb} match the pattern at {size_pt:g} pt."
    names = listed([one.label for one in volumes])
    return f"{names} {'matches' if len(volumes) == 1 else 'match'} the pattern at {size_pt:g} pt."


def match_findings(volumes: Sequence[VolumeReport], size_pt: float) -> tuple[FindingReport, ...]:
    """Every breach of a pattern with the volume that makes it, and what does not fit it."""
    found: list[FindingReport] = []
    for one in volumes:
        breaches = [
            finding._replace(text=f"{one.label}: {finding.text}")
            for finding in one.report.findings
            if finding.topic.startswith("pattern-") and finding.level is Level.FAILURE
        ]
        if not one.fits and not breaches:
            breaches = [_no_match(one, size_pt)]
        found += breaches
    return tuple(found)


def _no_match(one: VolumeReport, size_pt: float) -> FindingReport:
    return FindingReport(
        "volume-does-not-fit",
        Level.FAILURE,
        f"{one.label}: {one.report.answer}",
        size_pt,
        one.largest_pt,
        "pt",
        "computed from the outlines and the back",
        Status.COMPUTED,
    )
