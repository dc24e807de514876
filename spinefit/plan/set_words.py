"""How is the plan of a set said to a binder?

All wording of `plan.sets` and `plan.compromise`. In: the volumes as checked. Out: plain text
and findings; nothing is worked out here.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.errors import JobError
from spinefit.plan.back_words import listed, shown
from spinefit.plan.reports import BacksReport, CompromiseReport, SetReport, VolumeReport
from spinefit.plan.set_solve import Common
from spinefit.provenance import Status
from spinefit.say.answers import AS_ASKED
from spinefit.say.model import FindingReport, LayoutReport, Report
from spinefit.say.phrasing import joined, limit_pt, mm
from spinefit.vocabulary import Level, Orientation, Reading, Verdict

__all__ = [
    "answer",
    "as_the_set_has_it",
    "beside_failing",
    "compromise_text",
    "findings",
    "match_answer",
    "match_findings",
    "no_common_lines",
    "out_of_line",
]

_COCKERELL = "Cockerell, Bookbinding and the Care of Books, ch. XV, fig. 115"
_WAYS = {
    Orientation.TRANSVERSE: "across the back",
    Orientation.LONGITUDINAL: "along the back",
    Orientation.PILLAR: "as a pillar",
}


def answer(
    volumes: Sequence[VolumeReport],
    common: Common,
    limiting: str,
    verdict: Verdict,
    compromises: Sequence[CompromiseReport],
) -> str:
    """The whole answer in one sentence."""
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
            f"for every volume and {limit_pt(common.largest_pt)} at most; {limiting} sets "
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
    volumes: Sequence[VolumeReport], common: Common, limiting: str, *, labels: bool
) -> tuple[FindingReport, ...]:
    """What a binder should know of the set as a whole, the gravest first."""
    found = [_failing(one, common) for one in volumes if not one.fits]
    alone = listed([f"{one.label} {limit_pt(one.largest_pt)}" for one in volumes])
    found.append(
        FindingReport(
            "set-limit",
            Level.NOTE,
            f"{_WAYS[common.orientation].capitalize()} in {_lines(common.lines)} each would take "
            f"at most: {alone}. {limiting} sets the limit.",
            common.set_pt,
            common.largest_pt,
            "pt",
            f"the worst is the rule for all, or one thin volume goes its own way: {_COCKERELL}",
            Status.PUBLISHED,
        )
    )
    found.append(_height(volumes, common, labels=labels))
    return tuple(found)


def _failing(one: VolumeReport, common: Common) -> FindingReport:
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


def _height(volumes: Sequence[VolumeReport], common: Common, *, labels: bool) -> FindingReport:
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


def out_of_line(report: Report, stands_mm: float | None, wanted_mm: float | None) -> Report:
    """The report of a volume that cannot be brought to the common height."""
    assert wanted_mm is not None  # asked only where there is a common height
    where = "at no known height" if stands_mm is None else f"{mm(stands_mm)} from the tail"
    text = (
        f"It fits, but {where} instead of {mm(wanted_mm)}, where the others of the set have "
        "their lettering."
    )
    finding = FindingReport(
        "pattern-height",
        Level.FAILURE,
        text,
        stands_mm,
        wanted_mm,
        "mm",
        "common practice: volumes of a set are lettered at one height",
        Status.PRACTICE,
    )
    return report._replace(
        verdict=Verdict.DOES_NOT_FIT,
        answer=f"It does not match: {text[:1].lower()}{text[1:]}",
        recommended=None,
        layouts=tuple(one._replace(fits=False) for one in report.layouts),
        findings=(finding, *report.findings),
    )


def no_common_lines() -> JobError:
    """The fault of volumes whose titles have no number of lines in common."""
    return JobError(
        "no number of lines is open to every volume",
        remedy="force the same number of breaks with ' / ' in every title",
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
