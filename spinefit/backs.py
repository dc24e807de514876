"""From texts and volumes to their report, in one call.

In: the texts of a back, the volumes of a set, or a pattern that they are to match. Out: a report.
Planned by `plan`, said by `say`; nothing is worked out here. Pure but for reading font files.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager, nullcontext

from spinefit.errors import JobError, SpinefitError
from spinefit.job.model import Job
from spinefit.judgement.text import judge_text
from spinefit.plan import BackPlan, Pattern, Plan, match, plan, plan_of
from spinefit.plan.checks import check_labels
from spinefit.plan.pattern import pattern_of_judged
from spinefit.plan.standing import stands_mm
from spinefit.say.model import Report
from spinefit.say.plan_build import back_report, set_report
from spinefit.say.plan_model import BackReport, SetReport


def plan_back(back: Job, *, pattern: Pattern | None = None) -> BackReport:
    """Do these texts fit this back together, where does each stand, and how large?

    Args:
        back: a `BackPlan`: the back, its texts, and how they are to be lettered, mm and points; or
            the job of a title alone.
        pattern: what its title has to match, where others stand on the shelf already.

    Returns:
        The report; texts that do not fit are a result, not an error.

    Raises:
        SpinefitError: what was asked cannot be.

    >>> from spinefit.job import Spine
    >>> from spinefit.plan import BackText
    >>> from spinefit.vocabulary import Role
    >>> texts = (BackText(role=Role.TITLE, text="Tide Tables"),
    ...          BackText(role=Role.DATE, text="1931"))
    >>> plan_back(BackPlan(spine=Spine(width_mm=30, height_mm=210), texts=texts)).fits
    True
    """
    if isinstance(back, BackPlan):
        return back_report(_planned([("", back)], pattern))
    if back.parts:
        raise JobError("the texts of one label are no back", remedy="plan or match a title alone")
    with _faults_of_titles():
        return back_report(_planned([("", plan_of(back))], pattern))


def plan_set(
    volumes: Sequence[tuple[str, Job]],
    *,
    pattern: Pattern | None = None,
    of_texts: bool | None = None,
) -> SetReport:
    """Can these volumes be lettered alike, how large, and what is the limit? Or do they match?

    Args:
        volumes: label and job of each, two or more, or a `BackPlan` of several texts, which can
            say too whether it stands apart; they share letters, bands and seats.
        pattern: what their titles have to match; then each is planned by itself, and one will do.
        of_texts: True to be told of each text by itself; None where a volume has several.

    Returns:
        The report; a set that does not fit, or match, is a result, not an error.

    Raises:
        SpinefitError: what was asked cannot be, or volumes that contradict each other; its place
            names the volume by number.

    >>> from spinefit.job import Spine
    >>> pair = [(n, Job(title=f"Tide Tables / {n}", spine=Spine(width_mm=w, height_mm=210)))
    ...         for n, w in (("1", 20), ("2", 25))]
    >>> plan_set(pair).limiting
    '1'
    """
    check_labels([label for label, _job in volumes], least=2 if pattern is None else 1)
    backs = [(label, own if isinstance(own, BackPlan) else plan_of(own)) for label, own in volumes]
    if of_texts is None:
        of_texts = any(len(own.texts) > 1 for _label, own in backs)
    with nullcontext() if of_texts else _faults_of_titles():
        return set_report(_planned(backs, pattern), of_texts=of_texts)


def _planned(backs: Sequence[tuple[str, BackPlan]], pattern: Pattern | None) -> Plan:
    return plan(backs) if pattern is None else match(backs, pattern)


def match_pattern(job: Job, pattern: Pattern) -> Report:
    """Does this volume match those on the shelf?

    Args:
        job: the next volume. What it leaves open is the pattern's; what it says otherwise is
            judged as the pattern has it, and reported.
        pattern: what the others have in common.

    Returns:
        The report at the pattern's size and place; what breaches the pattern is a failure
        finding, and then it does not fit.

    Raises:
        SpinefitError: a job that cannot be, or lines that the title cannot be broken into.
    """
    return plan_back(job, pattern=pattern).texts[0].report


def pattern_of(found: SetReport | BackReport | Report, job: Job | None = None) -> Pattern:
    """What the next volume has to match.

    Args:
        found: the report of a set or of a back, whose titles have it, or of one job.
        job: that job; a set or a back needs none.

    Raises:
        JobError: what does not fit is no pattern.
    """
    if not found.fits:
        raise JobError("what does not fit is no pattern", remedy="make it fit first")
    if not isinstance(found, Report):
        title = found.plan.volumes[0].title
        return found.plan.pattern or pattern_of_judged(title.judged, title.stands_mm)
    if job is None:
        raise JobError("a report alone does not say how it was lettered", remedy="give its job")
    judged = judge_text(job)
    return pattern_of_judged(judged, stands_mm(judged.job, judged.shown))


_OPTIONS = {"text": "TITLE", "font": "--font", "case": "--case", "size": "--size",
            "panel": "--title-panel"}  # fmt: skip


@contextmanager
def _faults_of_titles() -> Iterator[None]:
    """Faults raised inside name a job's own options, where it has but a title."""
    try:
        yield
    except SpinefitError as fault:
        volume, _between, name = fault.where.rpartition("text 1: ")
        if _between:
            own = _OPTIONS.get(name, name)
            plain = "title" if own == "TITLE" else own.removeprefix("--")
            fault.where = f"{volume}{plain}" if volume else own
        raise
