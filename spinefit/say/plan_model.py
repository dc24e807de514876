"""What is the whole answer for several texts, or for several volumes, as plain records?

Every report of one text is a `spinefit.say.model.Report`; what stands here says how they belong
together. Positions are mm from the head of the back,
heights on the shelf mm from its tail, sizes DTP points.
"""

from __future__ import annotations

from typing import NamedTuple, NoReturn

from spinefit.job.model import Job
from spinefit.judgement.text import JudgedText
from spinefit.plan.model import Zone
from spinefit.plan.pattern import Pattern
from spinefit.plan.result import Alike, Limit, Plan, PlannedLabel, PlannedRole
from spinefit.say.model import FindingReport, LayoutReport, Report
from spinefit.say.presented import Presented
from spinefit.vocabulary import Orientation, Reading, Role, Verdict

BACK_SCHEMA = "spinefit.back/1"
SET_SCHEMA = "spinefit.set/1"
BACKS_SCHEMA = "spinefit.backs/1"


class TextReport(NamedTuple):
    """One text where it stands.

    Attributes:
        role: what it is.
        text: as typed.
        panel: number of its panel between bands, or None.
        label: name of the label that it shares, or None.
        zone: the stretch of back that is its own; no two overlap. On a shared label it is what
            is left for its ink. None for a title alone where no height is known.
        set_pt: the size it is judged at.
        fits: True where it fits its zone at that size.
        report: the answer for it alone in its zone.
        judged: what the answer was made of, with its outlines.
        from_tail_mm: from the tail of the back to its lowest ink; None where no height is known.
    """

    role: Role
    text: str
    panel: int | None
    label: str | None
    zone: Zone | None
    set_pt: float
    fits: bool
    report: Report
    judged: JudgedText
    from_tail_mm: float | None = None

    @property
    def job(self) -> Job:
        """The job that its report is for."""
        return self.judged.asked


class PlanRemedy(NamedTuple):
    """A change after which the whole back fits, as planning it again showed.

    Attributes:
        change: a fixed word: size, label-size, panel, leave-out.
        text: what to do, in a sentence.
        title_pt: the size at which the title then stands.
        cost: 1 (nothing but the setting) to 5.
    """

    change: str
    text: str
    title_pt: float
    cost: int


class _BackReport(NamedTuple):
    """The fields of a `BackReport`."""

    schema: str
    verdict: Verdict
    answer: str
    orientation: Orientation
    texts: tuple[TextReport, ...]
    labels: tuple[PlannedLabel, ...]
    failing: tuple[Role, ...]
    findings: tuple[FindingReport, ...]
    plan: Plan
    assumed: tuple[str, ...]
    cautions: tuple[str, ...]


class BackReport(Presented, _BackReport):
    """The answer for several texts on one back.

    Attributes:
        orientation: of the title.
        texts: from head to tail.
        labels: those that texts share, from head to tail.
        failing: the roles that find no room, in the order in which they matter.
        plan: what the answer was made of; JSON has what would make it fit in its place.
        assumed: every default taken for the back.
        cautions: what to mind in making it, each once.
    """

    __slots__ = ()

    @property
    def fits(self) -> bool:
        """True where every text fits, tight or not."""
        return self.verdict is not Verdict.DOES_NOT_FIT

    @property
    def remedies(self) -> NoReturn:
        """Not here: they are looked for only where somebody wants them."""
        raise AttributeError("a report holds no remedies: spinefit.remedies(report) finds them")

    @property
    def of(self) -> str:
        """What was planned."""
        return "several texts on one back"

    @property
    def is_single(self) -> bool:
        """True for a title alone, whose own report says it all."""
        return self.plan.backs[0].is_single

    @property
    def parts(self) -> tuple[tuple[str, Report], ...]:
        """The role and the report of each text, from head to tail."""
        return tuple((one.role.words.capitalize(), one.report) for one in self.texts)


class ApartReport(NamedTuple):
    """How a volume of a set goes its own way, and why.

    Attributes:
        why: asked, where the person marked it, or gain, where the others are larger without it.
        change: smaller, broken, along, or alone, where none of these fits.
        set_pt: the size of its title.
        text: the same in a few words.
    """

    why: str
    change: str
    set_pt: float
    text: str


class VolumeReport(NamedTuple):
    """One volume of a set.

    Attributes:
        label: its name in the set.
        fits: True where every text takes the size, lines and place that all have.
        largest_pt: the most its title would take in the set's orientation and lines.
        title_alone_pt: the title's size if the volume were planned by itself.
        alone: the setting it would then have; None where it has several texts.
        failing: the roles that find no room in it.
        texts: from head to tail, each with the answer for it at the set's size and place.
        apart: how it goes its own way; None where it is like the others.
    """

    label: str
    fits: bool
    largest_pt: float
    title_alone_pt: float
    alone: LayoutReport | None
    failing: tuple[Role, ...]
    texts: tuple[TextReport, ...]
    apart: ApartReport | None = None

    @property
    def title(self) -> TextReport:
        """Its title; of a call number alone that."""
        return next((one for one in self.texts if one.role is Role.TITLE), self.texts[0])

    @property
    def report(self) -> Report:
        """That of its title."""
        return self.title.report

    @property
    def number(self) -> TextReport | None:
        """Its number; beside a title asked for alone it stands across the back."""
        return next((one for one in self.texts if one.role is Role.VOLUME), None)


class CompromiseReport(NamedTuple):
    """Another way in which a volume set apart fits, the others as they are.

    Attributes:
        volume: its label.
        change: smaller, broken or along.
        text: what to do, in a sentence.
        set_pt: its own size.
        others_pt: the size of all the others.
        report: the answer for it at that size.
    """

    volume: str
    change: str
    text: str
    set_pt: float
    others_pt: float
    report: Report


class _SetReport(NamedTuple):
    """The fields of a `SetReport`."""

    schema: str
    verdict: Verdict
    answer: str
    orientation: Orientation
    reading: Reading
    lines: int
    set_pt: float
    largest_pt: float
    roles: tuple[PlannedRole, ...]
    limit: Limit
    volumes: tuple[VolumeReport, ...]
    compromises: tuple[CompromiseReport, ...]
    pattern: Pattern | None
    findings: tuple[FindingReport, ...]
    assumed: tuple[str, ...]
    cautions: tuple[str, ...]
    alike: Alike | None
    plan: Plan


class SetReport(Presented, _SetReport):
    """The answer for volumes that stand together, with a title each or several texts.

    Attributes:
        orientation, reading, lines, set_pt: of the title, in every volume not set apart.
        largest_pt: the most that all of them would take so.
        roles: from head to tail, what the volumes have in common that are not set apart.
        limit: what keeps the title from being larger; of several texts nothing where one finds
            no room.
        volumes: in the order given.
        compromises, alike: as of a `Plan`.
        pattern: what the next volume has to match; None where the set does not fit.
        assumed: every default taken, each once.
        cautions: what to mind in making them, each once.
        plan: what the answer was made of.
    """

    __slots__ = ()

    @property
    def of(self) -> str:
        """What was planned."""
        return "a set of volumes"

    @property
    def of_texts(self) -> bool:
        """True where each text of a volume is told of by itself, False of titles alone."""
        return self.schema == BACKS_SCHEMA

    @property
    def fits(self) -> bool:
        """True where every text of every volume fits, tight or not."""
        return self.verdict is not Verdict.DOES_NOT_FIT

    @property
    def limiting(self) -> str | None:
        """The label of the volume that sets the limit, if there is one."""
        return self.limit.volume

    @property
    def parts(self) -> tuple[tuple[str, Report], ...]:
        """The report of each text, by its volume and what it is."""
        return tuple(
            (f"{volume.label}, {name}" if name else volume.label, report)
            for volume in self.volumes
            for name, report in self.named(volume)
        )

    def named(self, volume: VolumeReport) -> list[tuple[str, Report]]:
        """The report of each text of a volume, by what it is; "" is a title beside no others."""
        if self.of_texts:
            return [(one.role.words, one.report) for one in volume.texts]
        number = [] if volume.number is None else [("number", volume.number.report)]
        return [("", volume.report), *number]


AnyReport = Report | BackReport | SetReport
"""The answer to one job, or a plan."""
PlanReport = BackReport | SetReport
