"""What is the answer for one row, or for the rows of one set?

In: cells by the meaning of their columns. Out: a `Result` and the report it was read from: that
of `pipeline.check` for one text, of `backs.plan_back` for several, of `backs.plan_set` for the
volumes of a set; a serial's volume is held against its saved pattern. A fault names its column.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, NamedTuple

from spinefit.batch.cells import cell_value, label_texts, values_of
from spinefit.batch.columns import (
    FIELD_NAMES,
    RESULTS,
    ROLES,
    Naming,
    further_texts,
    plain_name,
)
from spinefit.batch.heading import read_pairs
from spinefit.batch.model import Fault, Result, Row, Settings
from spinefit.batch.results import figures_of, of_label, result_of
from spinefit.batch.serials import pattern_of_row
from spinefit.errors import FaultsAt, SpinefitError
from spinefit.job.fields import FIELDS, GIVES_A_WIDTH, assemble, option_place
from spinefit.job.model import Job
from spinefit.job.texts import parts_of
from spinefit.job.values import yes_or_no
from spinefit.judgement.call_number import noughts_finding
from spinefit.say.model import FindingReport, Report
from spinefit.say.plan_model import BackReport, TextReport
from spinefit.say.sentences import reported
from spinefit.vocabulary import Role, Verdict

if TYPE_CHECKING:
    from spinefit.pipeline import Answer
    from spinefit.plan import Pattern
    from spinefit.plan.model import BackPlan

_BY_PLACE = {option_place(name): name for name in ("title", *(field.name for field in FIELDS))}
_OTHER_TEXTS = tuple(role for role in ROLES if role != "title")


class Answered(NamedTuple):
    """A row with its answer.

    Attributes:
        row: as it was read.
        result: what is written for it.
        report: what it was read from; None where the row is at fault.
        answers: of each of its texts, from head to tail, with their outlines; only where
            pictures are made of them.
        number: the report of its number, where that stands across and its title along.
    """

    row: Row
    result: Result
    report: Report | BackReport | None = None
    answers: tuple[Answer, ...] = ()
    number: Report | None = None

    @property
    def reports(self) -> tuple[Report, ...]:
        """That of each of its texts; none where the row is at fault."""
        if isinstance(self.report, BackReport):
            return tuple(report for _, report in self.report.parts)
        return tuple(one for one in (self.report, self.number) if one is not None)


def check_row(
    row: Mapping[str, object],
    *,
    defaults: Mapping[str, object] | None = None,
    keep: Iterable[str] = (),
    slash_breaks: bool = False,
    patterns: Mapping[str, Pattern] = {},
) -> dict[str, Any]:
    """The answer for one book as a flat row, for engines that map a function over rows.

    Pure but for reading font files, and picklable: ``dask.bag.from_sequence(rows).map(check_row)``
    works, as does ``ray.data.from_items(rows).map(check_row)``. A row at fault is a row too: its
    verdict is empty and ``error`` says why.

    Args:
        row: column to text or number; names as of a table for ``spinefit batch``, but ``set``
            and ``label``, which one row cannot fulfil, say nothing. The columns id, isbn,
            shelfmark, barcode and note are handed through. None and "not a number" say
            nothing, so that a column may have gaps.
        defaults: values of fields for rows that do not say them.
        keep: further columns to hand through; "all" for every one, but those that the answer
            has of the same name.
        slash_breaks: True where a slash between spaces forces a line break.
        patterns: by the name of its serial, what a row with a ``serial`` has to match.

    Returns:
        The results of a table by the names of its columns, after what is handed through; those
        of a further text, such as ``author_pt``, where the row has its key. Sizes in DTP points.

    >>> found = check_row({"id": 7, "title": "Tide Tables", "width": "12mm", "height": 200})
    >>> found["id"], found["verdict"], found["error"]
    (7, 'fits', '')
    """
    given = {name: cell_value(name, value) for name, value in (defaults or {}).items()}
    general = {name: value for name, value in given.items() if value is not None}
    settings = Settings(defaults=general, slash_breaks=slash_breaks, patterns=patterns)
    carried, said, fault = _handed_over(row, (keep,) if isinstance(keep, str) else keep)
    cells = {name: value for name, value in said.items() if value not in (None, "", [])}
    result = answer_book(Row(0, cells, fault=fault), settings).result
    found = result.values(further_texts(said))
    del found["line"]
    return {**carried, **found}


def _handed_over(
    row: Mapping[str, object], keep: Iterable[str]
) -> tuple[dict[str, object], dict[str, object], Fault | None]:
    """What is handed through, the cells by what they mean, empty ones too, and the first fault."""
    named = [(str(key), value) for key, value in row.items()]
    wanted = {plain_name(name): name for name in keep}
    naming = Naming(wanted, carry="keep=['{}']").over([name for name, _ in named])
    carried, cells, wrong = read_pairs(named, naming)
    for name in carried:
        plain = plain_name(name)
        if plain in RESULTS and (not naming.every or plain in naming.wanted):
            wrong = wrong or Fault(name, _CLASH)
    return carried, cells, wrong


_CLASH = "the results have a column of that name; rename it, or do not keep it"


def answer_book(row: Row, settings: Settings) -> Answered:
    """The answer for a book that is no volume of a set.

    Args:
        row: the book.
        settings: what holds for every row.
    """
    if row.fault is not None:
        return at_fault(row, row.fault)
    try:
        several = any(role in row.cells for role in _OTHER_TEXTS)
        if several and not _on_a_label(row, settings):
            return _back(row, settings)
        answer = _answer(row, settings)
        report = answer.report._replace(as_shown=None)  # shapes are chosen by eye, book by book
        said, mind = (report.answer, str(report.verdict)), [one.text for one in noughts(row)]
        result = result_of(row, said, answer, [("", report)], mind)
        if answer.job.parts:
            result = of_label(result, report)
        return Answered(row, result, report, (answer,) if settings.pictured else ())
    except SpinefitError as fault:
        fault.where = _column_of_text(fault.where, label_texts(row.cells))
        return at_fault(row, _fault(fault, row.cells, settings))


def _answer(row: Row, settings: Settings) -> Answer:
    """The answer to the one text of a row, as the next volume of its serial where it names one."""
    from spinefit import pipeline

    pattern, job = pattern_of_row(row, settings), _job(row, settings)
    if pattern is None:
        return pipeline.answer(job, verify=settings.verify)
    from spinefit.backs import plan_back

    text = plan_back(job, pattern=pattern).texts[0]
    return pipeline.answer_of(text.judged, text.report)


def at_fault(row: Row, fault: Fault) -> Answered:
    """A row that cannot be answered."""
    return Answered(row, Result(row.line, row.title, fault=fault))


def answer_set(rows: Sequence[Row], settings: Settings) -> list[Answered]:
    """The answers for the volumes of one set, in their order.

    Where one row has several texts all volumes are planned with theirs. Where one row is at
    fault there is no set: the others name its line. With a pattern to match each stands alone.

    Args:
        rows: consecutive rows with the same cell in the column ``set``.
        settings: what holds for every row.
    """
    if any("serial" in row.cells for row in rows):
        for row in rows:
            if row.fault is None and "serial" not in row.cells:
                return _failed(rows, row, _NO_SERIAL)
        return [answer_book(row, settings) for row in rows]
    several = any(role in row.cells for row in rows for role in _OTHER_TEXTS)
    volumes: list[tuple[str, BackPlan]] = []
    for row in rows:
        try:
            if row.fault is None:
                volumes.append((_label(row), _volume(row, settings, several=several)))
                continue
            fault = row.fault
        except SpinefitError as found:
            fault = _fault(found, row.cells, settings)
        return _failed(rows, row, fault)
    try:
        return (_set_of_backs if several else _set_of_titles)(rows, volumes, settings)
    except SpinefitError as found:
        at = _number_of(found.where, len(rows))
        found.where = found.where or "set"  # a fault of the whole names no volume
        return _failed(rows, rows[at], _fault(found, rows[at].cells, settings))


_NO_SERIAL = Fault("serial", "none given, as others of this set have; give all one, or none")


def _volume(row: Row, settings: Settings, *, several: bool) -> BackPlan:
    """A row as a volume of a set, which may be marked to stand apart."""
    from spinefit.plan.model import plan_of

    plan = _plan(row, settings) if several else plan_of(_job(row, settings))
    with FaultsAt("apart"):
        apart = yes_or_no(row.cells["apart"]) if "apart" in row.cells else None
    return replace(plan, apart=apart)


def _set_of_titles(
    rows: Sequence[Row], volumes: Sequence[tuple[str, BackPlan]], settings: Settings
) -> list[Answered]:
    from spinefit.backs import plan_set
    from spinefit.say.plan_words import beside_failing

    found = plan_set(volumes)
    answered = []
    for row, one in zip(rows, found.volumes, strict=True):
        report = one.report
        answer, verdict = report.answer, str(Verdict.DOES_NOT_FIT)
        if one.fits:
            answer, verdict = beside_failing(answer, found), str(report.verdict)
        result = result_of(row, (answer, verdict), one.title.judged, [("", report)])
        number = one.number and one.number.report
        if one.number is not None:
            result = result._replace(texts={str(Role.VOLUME): figures_of(one.number.judged.shown)})
        answered.append(Answered(row, result, report, _pictured(one.texts, settings), number))
    return answered


def _set_of_backs(
    rows: Sequence[Row], volumes: Sequence[tuple[str, BackPlan]], settings: Settings
) -> list[Answered]:
    from spinefit.backs import plan_set
    from spinefit.say.plan_build import volume_backs

    backs = volume_backs(plan_set(volumes, of_texts=True))
    return [_answered(row, back, settings) for row, back in zip(rows, backs, strict=True)]


def _failed(rows: Sequence[Row], bad: Row, fault: Fault) -> list[Answered]:
    others = Fault("set", f"line {bad.line} of this set is at fault; mend that row")
    return [at_fault(row, fault if row is bad else others) for row in rows]


def _number_of(where: str, count: int) -> int:
    """Which volume a fault of the plan speaks of, from 0; the first where it speaks of all."""
    word, _, rest = where.partition(" ")
    number = rest.partition(":")[0]
    if word == "volume" and number.isdecimal() and 1 <= int(number) <= count:
        return int(number) - 1
    return 0


def _label(row: Row) -> str:
    return str(row.cells.get("label") or f"line {row.line}")


def _typed_title(row: Row) -> object:
    if "title" not in row.cells:
        raise SpinefitError("no title given", where="title", remedy="give the words to letter")
    return row.cells["title"]


def _on_a_label(row: Row, settings: Settings) -> bool:
    """Whether the texts of a row stand on one label, and not on a back."""
    given = values_of(row.cells, settings.defaults).keys()
    of_plan = {"order", "relation"} & row.cells.keys()
    return bool({"panel", "label-size"} & given) and not (GIVES_A_WIDTH & given or of_plan)


def _job(row: Row, settings: Settings) -> Job:
    title, values = _typed_title(row), values_of(row.cells, settings.defaults)
    texts = label_texts(row.cells) if _on_a_label(row, settings) else []
    if len(texts) > 1:
        job = assemble(None, values, parts=parts_of(texts, ""), house=settings.house)
    else:
        job = assemble(title, values, house=settings.house)
    return replace(job, slash_breaks=settings.slash_breaks)


def _pictured(texts: Iterable[TextReport], settings: Settings) -> tuple[Answer, ...]:
    """The answers of a plan's texts with their outlines."""
    if not settings.pictured:
        return ()
    from spinefit.pipeline import answer_of

    return tuple(answer_of(one.judged, one.report) for one in texts)


def _back(row: Row, settings: Settings) -> Answered:
    from spinefit.backs import plan_back

    plan = _plan(row, settings)
    try:
        report = plan_back(plan, pattern=pattern_of_row(row, settings))
    except SpinefitError as fault:
        fault.where = _column_of_text(fault.where, [{"role": one.role} for one in plan.texts])
        raise
    return _answered(row, report, settings)


def _plan(row: Row, settings: Settings) -> BackPlan:
    """The texts of a row on their back."""
    from spinefit.plan.model import back_plan

    _typed_title(row)  # a back without one is refused
    texts = [{"role": role, "text": _words(row, role)} for role in ROLES if role in row.cells]
    extra = {name: row.cells[name] for name in ("order", "relation") if name in row.cells}
    try:
        said = {**values_of(row.cells, settings.defaults), **extra}
        plan = back_plan(said, texts, file="", place=option_place, house=settings.house)
    except SpinefitError as fault:
        fault.where = _column_of_text(fault.where, texts)
        raise
    return replace(plan, slash_breaks=settings.slash_breaks)


def _words(row: Row, role: str) -> object:
    """The words of a text; of a call number that is a number of JSON as that is written."""
    cell = row.cells[role]
    return f"{cell}" if role == Role.CALL_NUMBER and isinstance(cell, int | float) else cell


def noughts(row: Row) -> tuple[FindingReport, ...]:
    """What is asked of a call number that may have lost noughts, as 823.10 becomes 823.1."""
    cell = row.cells.get(str(Role.CALL_NUMBER))
    if row.cells.get("role") == Role.CALL_NUMBER:  # it stands alone, in the place of a title
        cell = row.cells.get("title")
    found = noughts_finding(cell) if isinstance(cell, int | float | str) else None
    return () if found is None else (reported(found),)


def _answered(row: Row, report: BackReport, settings: Settings) -> Answered:
    """A row of several texts with its answer."""
    from spinefit.say.plan_build import day_numbers

    asked = noughts(row)
    report = report._replace(findings=(*asked, *report.findings))
    title = next(one.judged for one in report.texts if one.role is Role.TITLE)
    mind = [*day_numbers(report.texts), *(one.text for one in asked)]
    answer = report.answer, str(report.verdict)
    result = result_of(row, answer, title, report.parts, mind, report.findings)
    others = [one for one in report.texts if one.role is not Role.TITLE]
    result = result._replace(texts={str(one.role): figures_of(one.judged.shown) for one in others})
    return Answered(row, result, report, _pictured(report.texts, settings))


def _column_of_text(where: str, texts: Sequence[Mapping[str, object]]) -> str:
    """The column that a fault of a text speaks of."""
    place = where.removeprefix(": ")
    word, _, rest = place.partition(" ")
    number, _, key = rest.partition(": ")
    if word != "text" or not number.isdecimal():
        return place
    return key if key in FIELD_NAMES else str(texts[int(number) - 1]["role"])


def _fault(fault: SpinefitError, cells: Mapping[str, object], settings: Settings) -> Fault:
    """A fault with the column it speaks of; else the option or the house that said the value."""
    fault = settings.house.placed(fault, (*cells, *settings.defaults))
    where = fault.where
    if where.startswith("volume "):
        where = where.partition(": ")[2]
    name = _BY_PLACE.get(where, where)
    if name in cells or name in ("title", *ROLES):
        fault.where = ""
        return Fault(name, str(fault))
    fault.where = where
    return Fault("", str(fault))
