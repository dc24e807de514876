"""What do the tables of a job file say of a back with several texts, or of a set?

In: the tables of `spinefit.job.read.read_job_tables`. Out: a `BackPlan`, or the volumes of a
set. Every fault names the file and the number of the table, from 1.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from spinefit.errors import FaultsAt, FieldError, did_you_mean
from spinefit.job import values as read
from spinefit.job.fields import assemble
from spinefit.job.model import Job
from spinefit.plan.model import BackPlan, BackText, Order, Relation, Role, plan_of
from spinefit.vocabulary import Case

__all__ = ["TEXT_KEYS", "back_plan", "backs_of", "volumes_of"]

_READERS: dict[str, Callable[[object], Any]] = {
    "role": read.choice(Role),
    "text": read.title,
    "panel": read.count,
    "weight": read.number(),
    "size": read.size_pt,
    "case": read.choice(Case),
    "font": read.text,
    "label": read.text,
    "label-size": read.panel,
}
_ATTRIBUTES = {"size": "size_pt", "label-size": "label_size_mm"}  # where it is not the key
TEXT_KEYS = tuple(_READERS)
"""Keys that a ``[[text]]`` table may have."""


def back_plan(
    values: Mapping[str, object],
    texts: Sequence[Mapping[str, object]],
    *,
    file: str,
    place: Callable[[str], str],
) -> BackPlan:
    """The plan that a job file with ``[[text]]`` tables describes.

    Args:
        values: the other fields of the file, those of the command line among them.
        texts: the tables.
        file: its name, for messages.
        place: where the value of a field came from, for messages.

    Raises:
        JobError: a value that cannot be read, an unknown key, or a panel given outright.
    """
    common = dict(values)
    order = _read(f"{file}: order", read.choice(Order), common.pop("order", None), Order.CUSTOM)
    relation = _read(
        f"{file}: relation", read.choice(Relation), common.pop("relation", None), Relation.GRADED
    )
    found = tuple(_text(table, f"{file}: text {at}") for at, table in enumerate(texts, 1))
    job = assemble(found[0].text, common, place=place)
    plan = replace(plan_of(job), texts=found, order=order, relation=relation)
    for name, value in (
        ("panel", job.panel),
        ("panel-shape", job.shape),
        ("front-board", job.front_board),
    ):
        if value is not None and not plan.is_single:
            raise FieldError(
                "several texts share a back, not a panel of its own",
                where=place(name),
                remedy="give the back's width and height, or one text",
            )
    return plan


def volumes_of(
    title: str | None,
    values: Mapping[str, object],
    volumes: Sequence[Mapping[str, object]],
    *,
    file: str,
    typed: Mapping[str, object],
) -> tuple[tuple[str, Job], ...]:
    """Label and job of every ``[[volume]]`` table.

    Args:
        title: the title above the tables, for volumes that have none of their own.
        values: the fields above the tables.
        volumes: the tables: a label, and whatever differs.
        file: its name, for messages.
        typed: options of the command line, which have the last word.

    Raises:
        JobError: a value that cannot be read, an unknown key, or a volume without a title.
    """
    found = []
    for here, label, own, place in _volume_tables(values, volumes, file, typed):
        words = own.pop("title", title)
        if words is None:
            raise FieldError(
                "no title given", where=here, remedy="give it here, or above all the volumes"
            )
        with FaultsAt(here):
            found.append((label, assemble(words, {**values, **own, **typed}, place=place)))
    return tuple(found)


def backs_of(
    values: Mapping[str, object],
    texts: Sequence[Mapping[str, object]],
    volumes: Sequence[Mapping[str, object]],
    *,
    file: str,
    typed: Mapping[str, object],
) -> tuple[tuple[str, BackPlan], ...]:
    """Label and plan of every ``[[volume]]`` table that has ``[[volume.text]]`` tables.

    Args:
        values: the fields above the tables.
        texts: ``[[text]]`` tables, which every volume has where it gives none of that role.
        volumes: the tables: a label, texts, and whatever differs.
        file: its name, for messages.
        typed: options of the command line, which have the last word.

    Raises:
        JobError: as of `back_plan`, or a title beside the texts.
    """
    found = []
    for here, label, own, place in _volume_tables(values, volumes, file, typed):
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
        both = [*given, *(one for one in texts if one.get("role") not in roles)]
        if not both:
            raise FieldError(
                "no text given", where=here, remedy="write [[volume.text]] above each text"
            )
        found.append((label, back_plan({**values, **own, **typed}, both, file=here, place=place)))
    return tuple(found)


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
        label = _read(f"{here}: label", read.text, own.pop("label", None), f"Volume {number}")

        def place(name: str, here: str = here, table: Mapping[str, object] = table) -> str:
            if name in typed:
                return f"--{name}"
            return f"{here}: {name}" if name in table or name not in values else f"{file}: {name}"

        yield here, label, own, place


def _text(table: Mapping[str, object], here: str) -> BackText:
    for key in table:
        if key not in _READERS:
            hint = did_you_mean(key, _READERS, otherwise=f"a text has {', '.join(_READERS)}")
            raise FieldError("no such key of a text", value=key, where=here, remedy=hint)
    for key in ("role", "text"):
        if key not in table:
            raise FieldError(f"no {key} given", where=here, remedy=f"such as {_EXAMPLES[key]}")
    said = {
        _ATTRIBUTES.get(key, key): _read(f"{here}: {key}", _READERS[key], value, None)
        for key, value in table.items()
    }
    return BackText(**said)


_EXAMPLES = {"role": 'role = "title"', "text": 'text = "Tide Tables"'}


def _read(where: str, parse: Callable[[object], Any], value: object, default: Any) -> Any:
    if value is None:
        return default
    with FaultsAt(where):
        return parse(value)
