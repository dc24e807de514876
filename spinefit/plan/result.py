"""What did the plan find?

Records of facts, nothing said yet: every text where it stands, judged by itself, and what the
texts and volumes have in common. Positions are mm from the head of the back, heights over the
shelf mm from its tail, sizes DTP points.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.call_number import from_tail_mm
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.judgement.text import JudgedText
from spinefit.plan.model import BackPlan, Zone
from spinefit.plan.pattern import Pattern
from spinefit.plan.standing import stands_mm
from spinefit.vocabulary import Orientation, Reading, Role, Verdict


class PlannedText(NamedTuple):
    """One text where it stands.

    Attributes:
        role: what it is.
        text: as typed.
        panel: number of its panel between bands, or None.
        zone: the stretch of back that is its own; no two overlap. On a shared label it is what
            is left for its ink. None for a title alone where no height is known.
        judged: the text as a job of its own, in its zone at its size, judged.
        label: name of the label that it shares, or None.
        breaches: where it stands or is set otherwise than the others of its set.
    """

    role: Role
    text: str
    panel: int | None
    zone: Zone | None
    judged: JudgedText
    label: str | None = None
    breaches: tuple[Finding, ...] = ()

    @property
    def shown(self) -> Judged:
        """The setting that is advised, or the nearest to one."""
        return self.judged.shown

    @property
    def stands_mm(self) -> float | None:
        """Its height over the shelf, as of `spinefit.plan.standing.stands_mm`."""
        return stands_mm(self.judged.job, self.shown)

    @property
    def from_tail_mm(self) -> float | None:
        """As of `spinefit.judgement.call_number.from_tail_mm`."""
        return from_tail_mm(self.judged.job, self.shown)

    @property
    def set_pt(self) -> float:
        """The size it is judged at."""
        return self.shown.set_pt

    @property
    def fits(self) -> bool:
        """True where it fits its zone at that size, alike with its set."""
        return self.judged.fits and not self.breaches


class PlannedLabel(NamedTuple):
    """A label that several texts share.

    Attributes:
        name: as typed.
        panel: number of its panel between bands, or None.
        zone: from its upper to its lower edge, in mm from the head of the back.
        width_mm: what it covers across the back, round the arc on a rounded one.
        cut_width_mm: its width before it is bent over a round or joints; None where it is not.
        is_given: True where its size was given, False where it was worked out.
        is_full: True where it was given no size and fills its panel.
        roles: of its texts, from its upper edge down.
        baselines_mm: for each of them its baselines, in mm from the label's upper edge; none
            for lettering along the back.
        fits: True where all of them find room on it.
        over_joints: True where it goes round over the joints onto the boards.
    """

    name: str
    panel: int | None
    zone: Zone
    width_mm: float
    cut_width_mm: float | None
    is_given: bool
    is_full: bool
    roles: tuple[Role, ...]
    baselines_mm: tuple[tuple[float, ...], ...]
    fits: bool
    over_joints: bool = False


class Apart(NamedTuple):
    """Why and how a volume of a set goes its own way.

    Attributes:
        asked: True where the person marked it, False where the others are larger without it.
        change: smaller (in the lines of the others), broken (into other lines) or along; alone,
            as it would be by itself, where none of these fits.
    """

    asked: bool
    change: str


class Alike(NamedTuple):
    """What all volumes would have if none were set apart; as of `PlannedRole`."""

    orientation: Orientation
    reading: Reading
    lines: int
    set_pt: float


class PlannedVolume(NamedTuple):
    """One back with its texts.

    Attributes:
        label: its name in the set; "" where there is one back.
        texts: from head to tail.
        failing: the roles that find no room in it, in the order in which they matter.
        alone: its title as it would be if the volume were planned by itself.
        largest_pt: the most its title would take in the orientation and lines of all; of a
            volume set apart in its own.
        apart: how it goes its own way in a set; None where it is like the others.
    """

    label: str
    texts: tuple[PlannedText, ...]
    failing: tuple[Role, ...]
    alone: PlannedText
    largest_pt: float
    apart: Apart | None = None

    @property
    def title(self) -> PlannedText:
        """Its title; of a call number alone that."""
        return next((one for one in self.texts if one.role is Role.TITLE), self.texts[0])

    @property
    def fits(self) -> bool:
        """True where every text takes the size, lines and place that it is to have."""
        return not self.failing

    @property
    def verdict(self) -> Verdict:
        """Of this volume by itself."""
        return verdict_of(self.texts, fits=self.fits)


def verdict_of(texts: tuple[PlannedText, ...], *, fits: bool) -> Verdict:
    """Tight where one of the texts is."""
    if not fits:
        return Verdict.DOES_NOT_FIT
    tight = any(one.judged.judgement.verdict is Verdict.TIGHT for one in texts)
    return Verdict.TIGHT if tight else Verdict.FITS


class PlannedRole(NamedTuple):
    """What a text of one role is in every volume that has it.

    Attributes:
        panel: number of its panel between bands, or None.
        orientation, reading, lines, set_pt: the same in every volume.
        stands_mm: from the tail to its first baseline across the back, else to its beginning;
            None where that is not known.
    """

    role: Role
    panel: int | None
    orientation: Orientation
    reading: Reading
    lines: int
    set_pt: float
    stands_mm: float | None


class Limit(NamedTuple):
    """What keeps the title from being larger.

    Attributes:
        volume: the label of the volume without which it could be; None where there is no one.
        role: the text without which it could be, the title itself where no other is.
    """

    volume: str | None = None
    role: Role | None = None


class Compromise(NamedTuple):
    """Another way in which a volume set apart fits, and the others as they are.

    Attributes:
        volume: its label.
        change: smaller, broken or along.
        text: its title as it then stands.
        others_pt: the size of all the others.
    """

    volume: str
    change: str
    text: PlannedText
    others_pt: float


class Plan(NamedTuple):
    """The answer for the texts of one back, or for volumes that stand together.

    Attributes:
        backs: what was asked.
        job: the title of the first volume, resolved, for the rules of the trade.
        volumes: in the order given.
        roles: from head to tail, what the volumes have in common that are alike.
        largest_pt: the most that the title would take so in all of them.
        assumed: every default taken, each once.
        turned: True where the lines run otherwise than the title alone would.
        labels: those that texts share, from head to tail.
        limit: what keeps the title from being larger, of several volumes.
        compromises: what else the volumes set apart could do, or where none is, a thin one.
        alike: what all would have if none were set apart; None where that does not fit, where a
            person asked for it, or where none is.
        pattern: what the next volume has to match, or what was to be matched; None where the
            set does not fit, and for one back.
        matched: True where a pattern was to be matched.
    """

    backs: tuple[BackPlan, ...]
    job: ResolvedJob
    volumes: tuple[PlannedVolume, ...]
    roles: tuple[PlannedRole, ...]
    largest_pt: float
    assumed: tuple[str, ...]
    turned: bool = False
    labels: tuple[PlannedLabel, ...] = ()
    limit: Limit = Limit()
    compromises: tuple[Compromise, ...] = ()
    alike: Alike | None = None
    pattern: Pattern | None = None
    matched: bool = False

    @property
    def fits(self) -> bool:
        """True where every text of every volume fits, tight or not."""
        return all(one.fits for one in self.volumes)

    @property
    def verdict(self) -> Verdict:
        """Of the whole."""
        texts = tuple(text for one in self.volumes for text in one.texts)
        return verdict_of(texts, fits=self.fits)
