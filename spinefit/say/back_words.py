"""How is the plan of a back said to a binder?

All wording of `plan.back`: the answer in a sentence, and what a binder should know beside it,
with who says so. In: the texts as checked. Out: plain text; nothing is worked out here.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.job.resolved import ResolvedJob
from spinefit.plan.model import BackPlan, Relation, Role
from spinefit.plan.remedies import Change
from spinefit.plan.result import PlannedLabel
from spinefit.provenance import Status
from spinefit.say.model import FindingReport, LayoutReport, Report
from spinefit.say.phrasing import bare_mm, mm, shown_layout
from spinefit.say.plan_model import TextReport
from spinefit.vocabulary import Level, Orientation, Reading, Verdict

__all__ = [
    "answer",
    "change_in_words",
    "findings",
    "label_in_words",
    "listed",
    "shown",
    "way_in_words",
]

_ISO = 'ISO 6357:1985, via the German encyclopaedia article "ISO 6357"'
_WAYS = {
    Reading.ACROSS: "across the back",
    Reading.DESCENDING: "along the back, from head to tail",
    Reading.ASCENDING: "along the back, from tail to head",
    Reading.STACKED: "as pillars of upright letters",
    Reading.UPRIGHT: "as pillars of upright letters",
}


def shown(report: Report) -> LayoutReport:
    """The setting a report advises, or the nearest to one."""
    layout = shown_layout(report)
    assert layout is not None  # every text has a setting in an orientation it was asked for
    return layout


def way_in_words(reading: Reading) -> str:
    """Which way lines run on the back."""
    return _WAYS[reading]


def listed(parts: Sequence[str]) -> str:
    """Parts in a sentence.

    >>> listed(["the title", "the date", "the imprint"])
    'the title, the date and the imprint'
    """
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"


def answer(
    texts: Sequence[TextReport],
    failing: Sequence[Role],
    verdict: Verdict,
) -> str:
    """The whole answer in one sentence."""
    if failing:
        names = listed([f"the {role}" for role in failing])
        finds = "finds" if len(failing) == 1 else "find"
        text = f"It does not fit: {names} {finds} no room at a size that can be set"
        if any(one.report.layouts and _is_asked(one) for one in texts if one.role in failing):
            text = f"It does not fit: {names} {finds} no room at the size asked"
        return f"{text}."
    start = "It fits" if verdict is Verdict.FITS else "It fits, but tightly"
    title = next(one for one in texts if one.role is Role.TITLE)
    sizes = listed([f"{one.role} {one.set_pt:g} pt{_in_panel(one)}" for one in texts])
    return f"{start}, {_WAYS[shown(title.report).reading]}: {sizes}."


def change_in_words(one: Change) -> str:
    """What to do so that all texts of a back fit, and the title's size then."""
    if one.change == "label-size":
        said = " and ".join(f"'{name}'" for name in one.names)
        what = f"Leave the size of the label {said} open"
    elif one.change == "size":
        what = f"Leave the size of the {' and '.join(one.names)} open"
    elif one.change == "panel":
        what = f"Put the {one.names[0]} into panel {one.panel}"
    else:
        what = f"Leave out {' and '.join(f'the {name}' for name in one.names)}"
    return f"{what}: then the title stands at {one.title_pt:g} pt."


def label_in_words(one: PlannedLabel) -> str:
    """A shared label: its size, where it stands, and where its baselines are from its top."""
    size = f"{bare_mm(one.width_mm)} x {mm(one.zone.length_mm)}"
    how = "as given" if one.is_given else "all of its panel" if one.is_full else "worked out"
    parts = [f"{size} ({how}), its upper edge {mm(one.zone.begins_mm)} from the head"]
    if one.cut_width_mm is not None:
        parts.append(f"cut {one.cut_width_mm:.2f} mm wide, since it bends over the round")
    for role, baselines in zip(one.roles, one.baselines_mm, strict=True):
        if baselines:
            lines = "baseline" if len(baselines) == 1 else "baselines"
            parts.append(f"{role} {lines} {listed([mm(each) for each in baselines])} from its top")
    if not one.fits:
        parts.append("not all of its texts find room on it")
    return f"{'; '.join(parts)}."


def _is_asked(one: TextReport) -> bool:
    """True where the size of a text was asked for and is what does not fit."""
    return any(finding.topic == "too-large" for finding in shown(one.report).findings)


def _in_panel(one: TextReport) -> str:
    return "" if one.panel is None else f" in panel {one.panel}"


def findings(
    plan: BackPlan,
    job: ResolvedJob,
    texts: Sequence[TextReport],
    failing: Sequence[Role],
    *,
    switched: bool,
) -> tuple[FindingReport, ...]:
    """What a binder should know of the back as a whole, the gravest first."""
    found = [_no_room(one) for one in texts if one.role in failing]
    if switched:
        found.append(
            _note(
                "plan-turned",
                "The title alone would run the other way, but then the texts do not all fit.",
                "computed",
                Status.COMPUTED,
            )
        )
    found += _order(job, texts)
    found += _relation(plan, job, texts)
    found += _library_foot(job, texts)
    return tuple(found)


def _no_room(one: TextReport) -> FindingReport:
    layout = shown(one.report)
    assert one.zone is not None  # several texts share a back of known height
    along = layout.orientation is Orientation.LONGITUDINAL
    needs_mm = layout.ink_width_mm if along else layout.ink_height_mm
    return FindingReport(
        topic="text-without-room",
        level=Level.FAILURE,
        text=(
            f"The {one.role} finds no room: at {one.set_pt:g} pt its lettering takes "
            f"{mm(needs_mm)} along the back by "
            f"{mm(layout.ink_height_mm if along else layout.ink_width_mm)} across it; "
            f"{mm(one.zone.length_mm)} along the back are left for it."
        ),
        value=needs_mm,
        limit=one.zone.length_mm,
        unit="mm",
        source="computed from the outlines and the back",
        status=Status.COMPUTED,
    )


def _note(topic: str, text: str, source: str, status: Status) -> FindingReport:
    return FindingReport(topic, Level.NOTE, text, None, None, "", source, status)


def _order(job: ResolvedJob, texts: Sequence[TextReport]) -> list[FindingReport]:
    roles = {one.role for one in texts}
    if any(one.panel is not None for one in texts):
        title = job.rules["bands.title_panel"]
        author = job.rules["plan.author_panel"]
        text = (
            f"By custom the title stands in panel {title.value:g} and the author in panel "
            f"{author.value:g} or the next; libraries put the author first. Authorities "
            "disagree: any text may be given its panel."
        )
        against = "against it Bailey, Library Bookbinding (1916), and Spofford (1900): author first"
        return [_note("plan-panels", text, f"{title.source}; {against}", title.status)]
    if Role.AUTHOR not in roles:
        return []
    text = (
        "The author stands before the title, as NBR 12225 and libraries have it; publishers "
        "put the title first. Authorities disagree: the order may be as typed."
    )
    source = (
        "Brazilian guides to NBR 12225; Bailey, Library Bookbinding (1916), who names the "
        f"publishers' habit; {_ISO}: the title, the author if possible, the publisher only if "
        "room is left"
    )
    return [_note("plan-order", text, source, Status.PUBLISHED)]


def _relation(plan: BackPlan, job: ResolvedJob, texts: Sequence[TextReport]) -> list[FindingReport]:
    if len(texts) < 2:
        return []
    graded = plan.relation is Relation.GRADED
    author = job.rules["plan.author_ratio"]
    text = (
        "The title is the largest, the other texts smaller in a fixed relation"
        if graded
        else "All texts are set in one size"
    )
    sides = (
        "graded: Zaehnsdorf, The Art of Bookbinding, and Adam, Practical Bookbinding (1903), "
        "rules 1, 4 and 5; one size: Cockerell, Bookbinding and the Care of Books, ch. XV"
    )
    found = [
        _note(
            "plan-relation",
            f"{text}. Authorities disagree on one size or several: either may be asked for.",
            sides,
            Status.PUBLISHED,
        )
    ]
    title_pt = next(one.set_pt for one in texts if one.role is Role.TITLE)
    asked = {one.role for one in plan.texts if one.size_pt is not None}
    equal = [
        str(one.role)
        for one in texts
        if graded and one.role not in (Role.TITLE, *asked) and one.set_pt >= title_pt
    ]
    if equal:
        found.append(
            FindingReport(
                "plan-relation-lost",
                Level.NOTE,
                f"No smaller size can be set, so the {listed(equal)} stands as large as the title.",
                title_pt,
                author.value * title_pt,
                "pt",
                job.method.smallest.source,
                job.method.smallest.status,
            )
        )
    return found


def _library_foot(job: ResolvedJob, texts: Sequence[TextReport]) -> list[FindingReport]:
    """Lettering that reaches into the space libraries letter or label."""
    rule = job.rules["ends.library_foot_mm"]
    spine = job.spine
    if spine is None or spine.height_mm is None or spine.bands or "foot" in spine.typed:
        return []
    lowest_mm = min(_from_tail_mm(one, spine.height_mm) for one in texts)
    if lowest_mm >= rule.value:
        return []
    text = (
        f"The lowest lettering ends {mm(max(0.0, lowest_mm))} from the tail; the lowest "
        f"{rule.value:g} mm are best left to a library's mark."
    )
    return [
        FindingReport(
            "library-foot", Level.NOTE, text, lowest_mm, rule.value, "mm", rule.source, rule.status
        )
    ]


def _from_tail_mm(one: TextReport, height_mm: float) -> float:
    """From the tail of the back to the lowest ink of a text, in mm."""
    tail_mm = shown(one.report).spare_mm.tail or 0.0
    assert one.zone is not None  # several texts share a back of known height
    return height_mm - one.zone.ends_mm + tail_mm
