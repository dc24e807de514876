"""How is the answer of a plan said, and what could be done instead?

In: the texts or volumes of a plan, as reported. Out: one sentence each. Findings are worded in
`templates` with all others; nothing is worked out here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from spinefit.judgement.setting_findings import OF_LETTERS
from spinefit.plan.remedies import Change
from spinefit.plan.result import (
    Alike,
    Compromise,
    Limit,
    Plan,
    PlannedLabel,
    PlannedText,
    PlannedVolume,
)
from spinefit.say.old_lettering import old_beside, old_in_set, old_shows, why_set_shows_old
from spinefit.say.phrasing import (
    bare_mm,
    count_in_words,
    limit_pt,
    listed,
    mm,
    on_lines,
    pt,
    shown,
    visible,
)
from spinefit.say.plan_model import SetReport, TextReport, VolumeReport
from spinefit.say.thickness import estimate_of
from spinefit.vocabulary import Orientation, Reading, Role, Verdict

AS_THE_SET = "as the set has it"
"""Of the size of a volume for which nobody asked one."""

APART = "apart from its set"
"""Of the size of a volume that goes its own way."""

_NUMBER = 6  # letters of the longest word that may be one, as in VIII/IX

_STANDS = {
    Orientation.TRANSVERSE: "across the back",
    Orientation.LONGITUDINAL: "along the back",
    Orientation.PILLAR: "in upright letters one under another",
}
_WAYS = {
    Reading.ACROSS: "across the back",
    Reading.DESCENDING: "along the back, from head to tail",
    Reading.ASCENDING: "along the back, from tail to head",
    Reading.STACKED: "in upright letters one under another",
    Reading.UPRIGHT: "in upright letters one under another",
}


def along_or_across(orientation: Orientation) -> str:
    """Which way the lettering of a set stands."""
    return _STANDS[orientation]


def in_runs(names: Sequence[str], order: Mapping[str, int] | None = None) -> str:
    """Names in a row, three or more that follow one another as the first and the last.

    Args:
        names: that differ, if anywhere, in their last word.
        order: the place of each; None for the figure that is its last word.

    >>> in_runs(["volume 1", "volume 2", "volume 3", "volume 5"]), in_runs(["I", "II", "IV"])
    ('volume 1-3, 5', 'I, II, IV')
    """
    if len(names) < 2 or not differ_in_a_word(names):
        return ", ".join(names)
    runs: list[list[str]] = []
    last = None
    for name in names:
        word = name.rpartition(" ")[2]
        place = order[name] if order else int(word) if word.isdecimal() else None
        if last is not None and place == last + 1 and "-" not in word:
            runs[-1].append(word)
        else:
            runs.append([word])
        last = place
    start = names[0].removesuffix(names[0].rpartition(" ")[2])
    told = (f"{run[0]}-{run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)
    return start + ", ".join(told)


def differ_in_a_word(names: Sequence[str]) -> bool:
    """Whether names differ in nothing but their last word, such as a number."""
    starts = {name.rpartition(" ")[0] for name in names}
    return len(starts) == 1 and all(len(name.rpartition(" ")[2]) <= _NUMBER for name in names)


def back_answer(texts: Sequence[TextReport], failing: Sequence[Role], verdict: Verdict) -> str:
    """Of several texts on one back."""
    if failing:
        for one in texts:
            if old_shows(one.report) or one.judged.shown.fits_uncut:
                return one.report.answer
        names = listed([f"the {role.words}" for role in failing])
        finds = "finds" if len(failing) == 1 else "find"
        size = _size_lacking([one for one in texts if one.role in failing])
        return f"It does not fit: {names} {finds} no room at {size}."
    title = next(one for one in texts if one.role is Role.TITLE)
    sizes = listed([f"{one.role.words} {pt(one.set_pt)}{_in_panel(one)}" for one in texts])
    way = _WAYS[shown(title.report).reading]
    return f"It fits{_tightly(verdict)}, {way}: {sizes}{old_beside(title.report)}."


def _size_lacking(texts: Sequence[TextReport]) -> str:
    """The size for which texts find no room: first one that letters ask for, then one asked for."""
    topics = {finding.topic for one in texts for finding in shown(one.report).findings}
    if topics & set(OF_LETTERS.values()):
        return "a size at which all letters hold"
    return "the size asked" if "too-large" in topics else "a size that can be set"


def _in_panel(one: TextReport) -> str:
    return "" if one.panel is None else f" in panel {one.panel}"


def _tightly(verdict: Verdict) -> str:
    return ", but tightly" if verdict is Verdict.TIGHT else ""


def backs_answer(plan: Plan, volumes: Sequence[VolumeReport], limit: Limit) -> str:
    """Of volumes of several texts each."""
    if plan.matched:
        return match_answer(plan)
    apart = apart_of(plan)
    if not all(one.fits for one in plan.volumes if one.apart is None):
        failing = [
            f"{listed([f'the {role.words}' for role in one.failing])} of {one.label}"
            for one in volumes
            if one.failing
        ]
        return f"The volumes do not fit alike: no room is found for {listed(failing)}."
    title = next(one for one in plan.roles if one.role is Role.TITLE)
    sizes = listed([f"{one.role.words} {pt(one.set_pt)}" for one in plan.roles])
    if apart:
        fits = f"fit{_tightly(plan.verdict)}" if plan.fits else "do not fit"
        way = f"{_the_others(plan)}, the title {_WAYS[title.reading]}: {sizes}"
        return f"The volumes {fits}: {way}; {'; '.join(apart)}."
    text = f"the title {_WAYS[title.reading]}: {sizes} in every volume"
    if limit.role is not None:
        where = "in every volume" if limit.volume is None else f"in {limit.volume}"
        text += f"; the {limit.role} sets the limit {where}"
    return f"The volumes fit alike{_tightly(plan.verdict)}, {text}."


def set_answer(plan: Plan, limit: Limit) -> str:
    """Of volumes with a title each."""
    common = plan.roles[0]
    way = f"{along_or_across(common.orientation)} {on_lines(common.lines)}"
    apart = apart_of(plan)
    shows = why_set_shows_old({one.label: one.title.judged.judgement for one in plan.volumes})
    if shows and not plan.fits:
        text = shows
    elif apart and all(one.fits for one in plan.volumes if one.apart is None):
        fits = f"fits{_tightly(plan.verdict)}" if plan.fits else "does not fit"
        others = f"{_the_others(plan)} {way} at {pt(common.set_pt)}"
        text = f"The set {fits}: {others}; {'; '.join(apart)}"
    elif plan.fits:
        text = (
            f"The set fits{_tightly(plan.verdict)} {way}, {pt(common.set_pt)} for every volume and "
            f"{limit_pt(plan.largest_pt)} at most; {limit.volume} sets the limit"
        )
        text += old_in_set({one.label: one.title.shown for one in plan.volumes})
    else:
        failing = listed([one.label for one in plan.volumes if not one.fits])
        text = f"The set does not fit at {pt(common.set_pt)} {way}: {failing} cannot take it"
    if plan.compromises and not apart:
        others = pt(plan.compromises[0].others_pt)
        who = listed(list(dict.fromkeys(one.volume for one in plan.compromises)))
        text += f"; were {who} let go its own way, the others could have {others}"
    return f"{text}."


def _the_others(plan: Plan) -> str:
    """The volumes that are not set apart: how many, or which one."""
    rest = [one.label for one in plan.volumes if one.apart is None]
    return rest[0] if len(rest) == 1 else count_in_words(len(rest))


def apart_of(plan: Plan) -> list[str]:
    """The volumes of a set that go their own way, each in a few words."""
    return [apart_in_words(one) for one in plan.volumes if one.apart is not None]


def apart_in_words(one: PlannedVolume) -> str:
    """What a volume does that is set apart."""
    assert one.apart is not None  # it is
    if not one.fits:
        roles = listed([f"the {role.words}" for role in one.failing])
        return f"no room is found for {roles} of {one.label}, even apart"
    layout = one.title.shown
    way = {
        "smaller": f"on the lines of the others at {pt(one.title.set_pt)}",
        "broken": f"{on_lines(len(layout.lines))} at {pt(one.title.set_pt)}",
    }.get(one.apart.change, f"{along_or_across(layout.orientation)} at {pt(one.title.set_pt)}")
    aside = any(
        text.role is Role.VOLUME and text.shown.orientation is Orientation.TRANSVERSE
        for text in one.texts
    )
    along = layout.orientation is Orientation.LONGITUDINAL
    return f"{one.label} apart, {way}" + (", its number across" if aside and along else "")


def match_answer(plan: Plan) -> str:
    """Of volumes that are to match a pattern."""
    assert plan.pattern is not None  # it was to be matched
    failing = [one.label for one in plan.volumes if not one.fits]
    names = failing or [one.label for one in plan.volumes]
    verb = "matches" if len(names) == 1 else "match"
    if failing:
        verb = "does not match" if len(names) == 1 else "do not match"
    return f"{listed(names)} {verb} the pattern at {pt(plan.pattern.size_pt)}."


def beside_failing(answer_of_volume: str, report: SetReport) -> str:
    """The answer for a volume that fits, where another of its set may not."""
    failing = listed([one.label for one in report.volumes if not one.fits])
    if not failing:
        return answer_of_volume
    return (
        f"{answer_of_volume.removesuffix('.')}; but the set does not fit so: {failing} cannot "
        "take it."
    )


def beside_estimates(answer: str, volumes: Sequence[PlannedVolume]) -> str:
    """The answer of a set with the volumes whose backs were estimated, and not measured."""
    labels = [one.label for one in volumes if estimate_of(one.title.judged.job)]
    if not labels:
        return answer
    alone = len(labels) == 1
    what = "width of the back of {} is an estimate" if alone else "backs of {} are estimated"
    return f"{answer} The {what.format(in_runs(labels))}: measure before cutting."


def beside_number(answer: str, number: PlannedText) -> str:
    """The answer for a title along the back whose number stands across it."""
    words = visible(number.text)
    return f"{answer.removesuffix('.')}; its number, {words}, across at {pt(number.set_pt)}."


def back_matched(plan: Plan, texts: Sequence[TextReport], answer: str) -> str:
    """The answer for several texts whose title has a pattern to match."""
    if plan.volumes[0].title.breaches:
        return next(one.report.answer for one in texts if one.role is Role.TITLE)
    return matched(plan.fits, answer)


def matched(fits: bool, answer: str) -> str:
    """The answer beside a pattern that is not breached."""
    if fits:
        return f"It matches the pattern: {answer[:1].lower()}{answer[1:]}"
    why = answer.removeprefix("It does not fit: ")
    return f"It does not match the pattern{'.' if why == answer else ':'} {why}"


def told_once(told: Iterable[tuple[str, str]]) -> list[str]:
    """Sentences behind the names of the texts that they are of, each once.

    >>> told_once([("Title", "Too small."), ("Author", "Too small."), ("", "Mind.")])
    ['Title, Author: Too small.', 'Mind.']
    """
    whose: dict[str, list[str]] = {}
    for name, sentence in told:
        whose.setdefault(sentence, []).append(name)
    names = {one: ", ".join(filter(None, own)) for one, own in whose.items()}
    return [f"{names[one]}: {one}" if names[one] else one for one in whose]


def compromise_in_words(one: Compromise) -> str:
    """What the thin volume does, in a sentence."""
    lines = " / ".join(visible(line) for line in one.text.shown.lines)
    does = {
        "smaller": f"Set {one.volume} smaller",
        "broken": f"Break {one.volume} as {lines}",
        "along": f"Letter {one.volume} along the back",
    }[one.change]
    return f"{does}, at {pt(one.text.set_pt)}, and all the others at {pt(one.others_pt)}."


def alike_in_words(one: Alike) -> str:
    """What all volumes would have if none were set apart, in a sentence."""
    way = f"{along_or_across(one.orientation)} {on_lines(one.lines)}"
    return f"Letter all alike, {way}, at {pt(one.set_pt)}."


def change_in_words(one: Change) -> str:
    """What to do so that all texts of a back fit, and the title's size then."""
    names, quoted = " and ".join(one.names), " and ".join(f"'{name}'" for name in one.names)
    what = {
        "label-size": f"Leave the size of the label {quoted} open",
        "size": f"Leave the size of the {names} open",
        "panel": f"Put the {names} into panel {one.panel}",
        "leave-out": f"Leave out the {' and the '.join(one.names)}",
    }[one.change]
    return f"{what}: then the title stands at {pt(one.title_pt)}."


def label_in_words(one: PlannedLabel) -> str:
    """A shared label: its size, where it stands, and where its baselines are from its top."""
    size = f"{bare_mm(one.width_mm)} x {mm(one.zone.length_mm)}"
    how = "as given" if one.is_given else "all of its panel" if one.is_full else "worked out"
    parts = [f"{size} ({how}), its upper edge {mm(one.zone.begins_mm)} from the head"]
    if one.cut_width_mm is not None:
        over = "goes round over the joints" if one.over_joints else "bends over the round"
        parts.append(f"cut {one.cut_width_mm:.2f} mm wide, since it {over}")
    for role, baselines in zip(one.roles, one.baselines_mm, strict=True):
        if baselines:
            lines = "baseline" if len(baselines) == 1 else "baselines"
            parts.append(f"{role} {lines} {listed([mm(each) for each in baselines])} from its top")
    if not one.fits:
        parts.append("not all of its texts find room on it")
    return f"{'; '.join(parts)}."
