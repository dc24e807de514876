"""What is asked, by a job file and by values typed beside it, and who answers?

In: a title, a job file's name and typed values, which have the last word. Out: a title described,
with the place where each of its values was said; then the answer, or the plan of several texts or
volumes. `pipeline` and `backs` answer; here every fault gets the place where it can be mended.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, NamedTuple

from spinefit.errors import FieldError, SpinefitError
from spinefit.job.fields import FIELDS, assemble, option_place
from spinefit.job.house import NO_HOUSE, House

if TYPE_CHECKING:
    from spinefit.job.model import Job
    from spinefit.job.read import JobTables
    from spinefit.job.values import Part
    from spinefit.pipeline import Answer
    from spinefit.say.plan_model import PlanReport


class Described(NamedTuple):
    """A title with what was said of it, in a job file and options or in a row of a table.

    Attributes:
        title: the words to letter.
        values: field name to what was said of it.
        place: where the value of a field was said.
        row: file and line of a row, for messages; "" where it is none.
        parts: the texts of a label, instead of a title.
        house: the file of a house, for what is said nowhere else.
    """

    title: object
    values: Mapping[str, object]
    place: Callable[[str], str]
    row: str = ""
    parts: tuple[Part, ...] = ()
    house: House = NO_HOUSE

    def job(self, *, method: str | None = None) -> Job:
        """The job, lettered by a method where neither the book nor a house has one of that kind.

        Raises:
            SpinefitError: a value that cannot be.
        """
        values = {**self.values, **self.house.usual(self.values, method)}
        try:
            return assemble(
                self.title, values, place=self.place, parts=self.parts, house=self.house
            )
        except SpinefitError as fault:
            raise self.placed(fault) from None

    def answered(self, job: Job) -> Answer:
        """The answer to its job with what a drawing needs, verified."""
        from spinefit import pipeline

        try:
            return pipeline.answer(job, verify=True)
        except SpinefitError as fault:
            raise self.placed(fault) from None

    def placed(self, fault: SpinefitError) -> SpinefitError:
        """The fault of a later stage, at the place where the value was said."""
        self.house.placed(fault, (*self.values, *("font" for one in self.parts if one.font)))
        if fault.where in _NAME_OF:
            fault.where = self.place(_NAME_OF[fault.where])
        elif fault.where.startswith("text "):
            fault.where = self.place(fault.where)
        if self.row:
            fault.where = f"{self.row}: {fault.where}" if fault.where else self.row
        return fault


_NAME_OF = {option_place(name): name for name in ("title", *(field.name for field in FIELDS))}


class JobRequest(NamedTuple):
    """What is said of a job, before any file is read.

    Attributes:
        title: the words given for it, or None.
        file: a job file's name, or None.
        typed: the options that were typed, by field; they have the last word.
        house: the file of a house, for what is said nowhere else.
    """

    title: str | None
    file: str | None
    typed: Mapping[str, object]
    house: House = NO_HOUSE

    def tables(self) -> JobTables | None:
        """What stands in the job file, several texts or volumes too, where one is named."""
        if self.file is None:
            return None
        from spinefit.job.read import read_job_tables

        return read_job_tables(self.file)

    def one_job(self, tables: JobTables | None = None) -> JobTables | None:
        """What stands in a job file of one title or of one label, where one is named.

        Args:
            tables: what stands in it, where that was read already.
        """
        from spinefit.job.read import one_title_of

        found = self.tables() if tables is None else tables
        if found is None or found.are_of_a_label(self.typed):
            return found
        return one_title_of(found, self.file or "")

    def described(
        self,
        in_file: JobTables | None,
        example: str = "check 'The Harbour Light' --width 13mm",
    ) -> Described:
        """The title or the texts of a label, the values, and where each of them was said.

        Args:
            in_file: what stands in the job file of one title or of one label; None for none.
            example: how a title is given, for the message where there is none.

        Raises:
            FieldError: no title, or one beside the texts of a label.
        """
        file_title = None if in_file is None else in_file.title
        file_values = {} if in_file is None else in_file.values
        parts = self._parts(in_file)
        title = file_title if self.title is None else self.title
        if title is None and not parts:
            raise FieldError(
                "no title given", where=f"{self.file}: title" if self.file else "TITLE",
                remedy=f"such as: spinefit {example}",
            )  # fmt: skip

        def place(name: str) -> str:
            typed = self.title is not None if name == "title" else name in self.typed
            own = name == "title" or name.startswith("text ") or name in file_values
            in_file = self.file is not None and own
            return f"{self.file}: {name}" if in_file and not typed else option_place(name)

        return Described(title, {**file_values, **self.typed}, place, parts=parts, house=self.house)

    def _parts(self, in_file: JobTables | None) -> tuple[Part, ...]:
        """The texts of the label that a job file describes."""
        if in_file is None or not in_file.texts:
            return ()
        from spinefit.job.texts import parts_of

        if self.title is not None:
            raise FieldError(
                "a title beside a job file with several texts", value=self.title, where="TITLE",
                remedy="change it in the file",
            )  # fmt: skip
        return parts_of(in_file.texts, self.file or "")


def answered(described: Described, job: Job, match_file: str | None) -> Answer:
    """The answer to one title, by itself or as the next volume of a pattern.

    Args:
        described: the title, and where its values were said.
        job: its job.
        match_file: the file of a pattern to be matched.
    """
    if match_file is None:
        return described.answered(job)
    from spinefit.backs import plan_back
    from spinefit.pipeline import answer_of
    from spinefit.plan.pattern import read_pattern

    pattern = read_pattern(match_file)
    try:
        text = plan_back(job, pattern=pattern).texts[0]
        return answer_of(text.judged, text.report)
    except SpinefitError as fault:
        raise described.placed(fault) from None


def planned(request: JobRequest, tables: JobTables, match_file: str | None = None) -> PlanReport:
    """The plan of the texts or volumes of a request's job file, its faults named by their place."""
    file = request.file
    assert file is not None  # where there are tables there is their file
    if request.title is not None:
        raise FieldError(
            "a title beside a job file with several texts or volumes", value=request.title,
            where="TITLE", remedy="change it in the file",
        )  # fmt: skip
    try:
        return _planned(file, tables, request, match_file)
    except SpinefitError as fault:
        request.house.placed(fault, {*tables.values, *request.typed, *tables.said_of_parts})
        if fault.where.startswith(("text ", "volume ")):
            fault.where = f"{file}: {fault.where}"
        raise fault.at(file) from None


def _planned(
    file: str, tables: JobTables, request: JobRequest, match_file: str | None
) -> PlanReport:
    """The plan of the back or the set that a job file describes.

    Args:
        file: the job file's name.
        tables: what stands in it.
        request: what else was said.
        match_file: the file of a pattern to be matched.
    """
    from spinefit.backs import plan_back, plan_set
    from spinefit.plan.model import back_plan, volumes_of
    from spinefit.plan.pattern import read_pattern

    pattern = None if match_file is None else read_pattern(match_file)
    typed, house = request.typed, request.house
    if tables.title is not None and (tables.texts or tables.are_backs):
        raise FieldError(
            "a title beside several texts", value=tables.title, where=f"{file}: title",
            remedy='give it as a text of its own, with role = "title"',
        )  # fmt: skip
    if tables.volumes:
        volumes = volumes_of(tables, file=file, typed=typed, house=house)
        return plan_set(volumes, pattern=pattern, of_texts=tables.are_backs)

    def place(name: str) -> str:
        in_file = name in tables.values and name not in typed
        return f"{file}: {name}" if in_file else option_place(name)

    said = {**tables.values, **typed}
    plan = back_plan(said, tables.texts, file=file, place=place, house=house)
    try:
        return plan_back(plan, pattern=pattern)
    except SpinefitError as fault:
        if fault.where.startswith("--"):
            fault.where = place(fault.where.removeprefix("--"))
        raise
