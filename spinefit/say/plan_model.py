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


class BackReport(NamedTuple):
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
        fits: True where it takes the set's size, lines and place.
        largest_pt: the most it would take in the set's orientation and lines.
        alone: the setting that would be advised for it alone, or the nearest to one.
        report: the answer for it at the set's size and place.
        judged: what the answer was made of, with its outlines.
        apart: how it goes its own way; None where it is like the others.
        number: its number, where that stands across the back and the title along it.
    """

    label: str
    fits: bool
    largest_pt: float
    alone: LayoutReport
    report: Report
    judged: JudgedText
    apart: ApartReport | None = None
    number: TextReport | None = None

    @property
    def job(self) -> Job:
        """The job that its report is for."""
        return self.judged.asked


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


class SetReport(NamedTuple):
    """The answer for volumes that stand together.

    Attributes:
        orientation, reading, lines, set_pt: the same for every volume that is not set apart.
        largest_pt: the most that all of them would take so.
        limiting: the label of the volume that sets the limit.
        volumes: in the order given.
        compromises: as of a `Plan`.
        pattern: what the next volume has to match; None where the set does not fit.
        assumed: every default taken, each once.
        cautions: what to mind in making them, each once.
        alike: what all would have if none were set apart, as of a `Plan`.
        plan: what the answer was made of.
    """

    schema: str
    verdict: Verdict
    answer: str
    orientation: Orientation
    reading: Reading
    lines: int
    set_pt: float
    largest_pt: float
    limiting: str
    volumes: tuple[VolumeReport, ...]
    compromises: tuple[CompromiseReport, ...]
    pattern: Pattern | None
    findings: tuple[FindingReport, ...]
    assumed: tuple[str, ...]
    cautions: tuple[str, ...]
    alike: Alike | None
    plan: Plan

    @property
    def of(self) -> str:
        """What was planned."""
        return "a set of volumes"

    @property
    def fits(self) -> bool:
        """True where every volume takes the common setting."""
        return self.verdict is not Verdict.DOES_NOT_FIT

    @property
    def parts(self) -> tuple[tuple[str, Report], ...]:
        """The label and the report of each volume, and of a number beside its title."""
        return tuple(
            part
            for one in self.volumes
            for part in (
                (one.label, one.report),
                *(() if one.number is None else ((f"{one.label}, number", one.number.report),)),
            )
        )


class BackVolumeReport(NamedTuple):
    """One volume of several texts, beside others.

    Attributes:
        label: its name.
        fits: True where every text takes the size, lines and place that all have.
        title_alone_pt: the title's size if the volume were planned by itself.
        failing: the roles that find no room in it.
        texts: from head to tail.
        apart: how it goes its own way; None where it is like the others.
    """

    label: str
    fits: bool
    title_alone_pt: float
    failing: tuple[Role, ...]
    texts: tuple[TextReport, ...]
    apart: ApartReport | None = None


class BacksReport(NamedTuple):
    """The answer for volumes of several texts each that stand together.

    Attributes:
        orientation: of the titles.
        roles: from head to tail, what the volumes have in common that are not set apart.
        limit: what keeps the title from being larger; nothing where something finds no room.
        volumes: in the order given.
        assumed: every default taken, each once.
        compromises, alike: as of a `SetReport`.
        plan: what the answer was made of.
        cautions: what to mind in making them, each once.
    """

    schema: str
    verdict: Verdict
    answer: str
    orientation: Orientation
    roles: tuple[PlannedRole, ...]
    limit: Limit
    volumes: tuple[BackVolumeReport, ...]
    findings: tuple[FindingReport, ...]
    assumed: tuple[str, ...]
    compromises: tuple[CompromiseReport, ...]
    alike: Alike | None
    plan: Plan
    cautions: tuple[str, ...]

    @property
    def of(self) -> str:
        """What was planned."""
        return "a set of volumes"

    @property
    def fits(self) -> bool:
        """True where every text of every volume fits, tight or not."""
        return self.verdict is not Verdict.DOES_NOT_FIT

    @property
    def limiting(self) -> str | None:
        """The label of the volume without which the title could be larger, if there is one."""
        return self.limit.volume

    @property
    def limiting_role(self) -> Role | None:
        """The text without which it could be, the title itself where no other is."""
        return self.limit.role

    @property
    def parts(self) -> tuple[tuple[str, Report], ...]:
        """Label and role, and the report, of each text of each volume."""
        return tuple(
            (f"{volume.label}, {one.role.words}", one.report)
            for volume in self.volumes
            for one in volume.texts
        )


AnyReport = Report | BackReport | BacksReport | SetReport
"""The answer to one job, or a plan."""
PlanReport = BackReport | BacksReport | SetReport
