"""What did the person say of a back with several texts, or of a set, and how does a file say it?

A `BackPlan` holds what was said and nothing else, as `spinefit.job.model` does for one text:
None was not said. Lengths are millimetres, sizes DTP points. `spinefit.plan.checks` checks it.
Read from the tables of `spinefit.job.read.read_job_tables` it is a plan, or the volumes of a set;
every fault names the file and the number of the table, from 1.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from enum import StrEnum
from typing import TYPE_CHECKING, Any, NamedTuple

from spinefit.errors import FaultsAt, FieldError, JobError
from spinefit.job import values as read
from spinefit.job.fields import assemble
from spinefit.job.house import NO_HOUSE, House
from spinefit.job.model import Job
from spinefit.job.texts import text_of_back
from spinefit.job.values import Panel
from spinefit.vocabulary import Case, Role

if TYPE_CHECKING:
    from spinefit.job.read import JobTables

LARGEST_SET = 500
"""Volumes; they are planned together, so held together."""


class Zone(NamedTuple):
    """A stretch of the back, in mm from its head."""

    begins_mm: float
    ends_mm: float

    @property
    def length_mm(self) -> float:
        """From its beginning to its end in mm."""
        return self.ends_mm - self.begins_mm

    @property
    def middle_mm(self) -> float:
        """Its middle in mm from the head."""
        return (self.begins_mm + self.ends_mm) / 2

    def lower_by(self, length_mm: float) -> Zone:
        """The same so much further from the head."""
        return Zone(self.begins_mm + length_mm, self.ends_mm + length_mm)

    def seen_from_tail(self, height_mm: float) -> Zone:
        """The same on a back of that height in mm from its tail, or back in mm from its head."""
        return Zone(height_mm - self.ends_mm, height_mm - self.begins_mm)


PLANNED = tuple(role for role in Role if role is not Role.RULE)
"""The roles that a text on a back has."""


class Order(StrEnum):
    """The order of the texts on a back without bands."""

    CUSTOM = "custom"  # author, title, subtitle, volume, date, imprint
    AS_TYPED = "as-typed"


class Relation(StrEnum):
    """How the sizes of the texts are related."""

    GRADED = "graded"  # the title largest
    ONE_SIZE = "one-size"


@dataclass(frozen=True, slots=True, kw_only=True)
class BackText:
    """One of the texts on a back.

    Attributes:
        text: what is to be lettered; `` / `` forces a line break.
        role: what it is.
        panel: the panel between bands it stands in, from 1 at the head.
        weight: its share of the space, beside those of its neighbours.
        size_pt: the size to judge it at, in DTP points.
        case: as typed, capitals or small capitals; None for that of the plan.
        font: a known font's name or a font file; None for that of the plan.
        label: name of a label that it shares with the other texts of that name; None for its own.
        label_size_mm: width and height of that label; None where it is to be worked out.
        lines_up_mm, lines_tracking: as of the lettering of a `Job`, for the lines of this text.
    """

    text: str
    role: Role
    panel: int | None = None
    weight: float | None = None
    size_pt: float | None = None
    case: Case | None = None
    font: str | None = None
    label: str | None = None
    label_size_mm: Panel | None = None
    lines_up_mm: tuple[float, ...] | None = None
    lines_tracking: tuple[float, ...] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BackPlan(Job):
    """The texts on one back: what a `Job` says of it, and each text instead of a title.

    Several texts need the back's height. A panel, its shape, a front board and a label of given
    size are for a title alone; a recess, old lettering and the size and lines of the lettering are
    the title's, the frame every label's.

    Attributes:
        texts: the texts, one of them the title, every role once at most.
        order: the order of the texts on a back without bands.
        relation: whether the sizes are graded or all one.
        font_choice: which of the fonts that the method usually takes serves all texts, where none
            is named; None for a title alone, which tries them in turn.
        apart: in a set, True where it goes its own way, False where it stays like the others
            whatever that costs them; None for what the plan finds.
    """

    texts: tuple[BackText, ...] = ()
    order: Order = Order.CUSTOM
    relation: Relation = Relation.GRADED
    font_choice: int | None = None
    apart: bool | None = None

    @property
    def is_single(self) -> bool:
        """True for one text with nothing beside it, which then is asked as any title is."""
        if len(self.texts) != 1:
            return False
        return self.texts[0].label is None and self.texts[0].label_size_mm is None

    @property
    def has_bands(self) -> bool:
        """True where bands part the back into panels."""
        return bool(self.bands)

    @property
    def bands(self) -> int:
        """How many bands the back has."""
        return 0 if self.spine is None else self.spine.bands or len(self.spine.bands_at_mm or ())

    @property
    def height_mm(self) -> float | None:
        """Height of the back, or of the panel given outright; None where it is open."""
        if self.spine is not None:
            return self.spine.height_mm
        return None if self.panel is None else self.panel.height_mm


def said_of(job: Job) -> dict[str, Any]:
    """What was said of a back, but for its words."""
    return {one.name: getattr(job, one.name) for one in fields(Job) if one.name not in _OF_WORDS}


_OF_WORDS = ("title", "parts", "role")


def plan_of(job: Job) -> BackPlan:
    """A title alone as the only text of its back."""
    title = BackText(role=job.role or Role.TITLE, text=job.title)
    return BackPlan(texts=(title,), **said_of(job))


def back_plan(
    values: Mapping[str, object],
    texts: Sequence[Mapping[str, object]],
    *,
    file: str,
    place: Callable[[str], str],
    house: House = NO_HOUSE,
) -> BackPlan:
    """The plan that a job file with ``[[text]]`` tables describes.

    Args:
        values: the other fields of the file, those of the command line among them.
        texts: the tables.
        file: its name, for messages.
        place: where the value of a field came from, for messages.
        house: the file of a house, for what is said nowhere else.

    Raises:
        JobError: a value that cannot be read, an unknown key, or a panel given outright.
    """
    common = dict(values)
    order = _read(f"{file}: order", read.choice(Order), common.pop("order", None), Order.CUSTOM)
    relation = _read(
        f"{file}: relation", read.choice(Relation), common.pop("relation", None), Relation.GRADED
    )
    apart = _apart(common, file)
    found = tuple(
        BackText(**text_of_back(table, f"{file}: text {at}")) for at, table in enumerate(texts, 1)
    )
    roles = [str(one.role) for one in found]
    job = assemble(found[0].text, common, place=place, house=house, roles=roles)
    plan = replace(plan_of(job), texts=found, order=order, relation=relation, apart=apart)
    for name, value in (
        ("panel", job.panel),
        ("label-size", job.label_size),
        ("panel-shape", job.shape),
        ("front-board", None if job.lap_mm is not None else job.front_board),
    ):
        if value is not None and not plan.is_single:
            raise FieldError(
                "several texts share a back, not a panel of its own",
                where=place(name),
                remedy="give the back's width and height, or one text",
            )
    return plan


def volumes_of(
    tables: JobTables, *, file: str, typed: Mapping[str, object], house: House = NO_HOUSE
) -> tuple[tuple[str, BackPlan], ...]:
    """Label of every ``[[volume]]`` table, and its title or the texts of its back.

    Args:
        tables: what stands in the file; a title, fields and texts above its volumes are those of
            every one that gives none of its own.
        file: its name, for messages.
        typed: options of the command line, which have the last word.
        house: the file of a house, for what is said nowhere else.

    Raises:
        JobError: as of `back_plan`, or a volume without a title or text, or with both.
    """
    with FaultsAt(file):
        refuse_larger_set(len(tables.volumes))
    found, are_backs = [], tables.are_backs
    for here, label, own, place in _volume_tables(tables.values, tables.volumes, file, typed):
        if are_backs:
            texts = _texts_of(own, tables.texts, here)
            said = {**tables.values, **own, **typed}
            found.append((label, back_plan(said, texts, file=here, place=place, house=house)))
            continue
        words = own.pop("title", tables.title)
        if words is None:
            raise FieldError(
                "no title given", where=here, remedy="give it here, or above all the volumes"
            )
        said = {**tables.values, **own, **typed}
        apart = _apart(said, here)
        with FaultsAt(here):
            job = assemble(words, said, place=place, house=house)
        found.append((label, replace(plan_of(job), apart=apart)))
    return tuple(found)


def refuse_larger_set(count: int) -> None:
    """Refuse more volumes than can be planned together.

    Raises:
        JobError: more than `LARGEST_SET`.
    """
    if count > LARGEST_SET:
        raise JobError(
            f"a set of {count} volumes, and {LARGEST_SET} are the most",
            remedy="plan some of them with --save-pattern, and hold the others against that with "
            "--match, as many at a time",
        )


def _texts_of(
    own: dict[str, object], above: Sequence[Mapping[str, object]], here: str
) -> list[Mapping[str, object]]:
    """The ``[[volume.text]]`` tables of a volume, taken out of it, and others above by role."""
    if "title" in own:
        raise FieldError(
            "a title beside several texts",
            value=own["title"],
            where=f"{here}: title",
            remedy='give it as a text of its own, with role = "title"',
        )
    given = own.pop("text", [])
    if not isinstance(given, list) or not all(isinstance(one, dict) for one in given):
        raise FieldError(
            "tables are meant", where=here, remedy="write [[volume.text]] above each text"
        )
    roles = {one.get("role") for one in given}
    both = [*given, *(one for one in above if one.get("role") not in roles)]
    if not both:
        raise FieldError(
            "no text given", where=here, remedy="write [[volume.text]] above each text"
        )
    return both


def _volume_tables(
    values: Mapping[str, object],
    volumes: Sequence[Mapping[str, object]],
    file: str,
    typed: Mapping[str, object],
) -> Iterator[tuple[str, str, dict[str, object], Callable[[str], str]]]:
    """Of every table its place, its label, what else it says, and where each value was said."""
    for number, table in enumerate(volumes, 1):
        here = f"{file}: volume {number}"
        own = dict(table)
        for key in ("volume", "number"):
            if key in own:
                raise FieldError(
                    "no key of a volume", value=key, where=here,
                    remedy=f'its name is label = "{own[key]}"; what is lettered of it stands in '
                    '[[volume.text]], role = "volume"',
                )  # fmt: skip
        label = _read(f"{here}: label", read.text, own.pop("label", None), f"Volume {number}")

        def place(name: str, here: str = here, table: Mapping[str, object] = table) -> str:
            if name in typed:
                return f"--{name}"
            return f"{here}: {name}" if name in table or name not in values else f"{file}: {name}"

        yield here, label, own, place


def _apart(said: dict[str, object], where: str) -> bool | None:
    """Whether a volume goes its own way; taken out of what was said of its back."""
    apart: bool | None = _read(f"{where}: apart", read.yes_or_no, said.pop("apart", None), None)
    return apart


def _read(where: str, parse: Callable[[object], Any], value: object, default: Any) -> Any:
    if value is None:
        return default
    with FaultsAt(where):
        return parse(value)
