"""Drawings of a handful of jobs, made once, and what is needed to look at them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache

import pytest

from spinefit import pipeline
from spinefit.drawing.plate import Subject, subject_of
from spinefit.drawing.scene import Group, Item, Scene, Text
from spinefit.job.model import Job, Lettering, Shape, Spine
from spinefit.job.values import KeepFree, Panel
from spinefit.vocabulary import BackForm, Orientation, PanelForm, SmallWords

TITLE = "The Harbour Light"
JOBS = {
    "pamphlet": Job(title=TITLE, spine=Spine(width_mm=9, height_mm=210)),
    "across": Job(title=TITLE, spine=Spine(width_mm=40, height_mm=210)),
    "folio": Job(title="The Great Chart Book", spine=Spine(width_mm=58, height_mm=330, bands=5)),
    "round": Job(
        title=TITLE,
        spine=Spine(width_mm=34, height_mm=200, back=BackForm.ROUNDED, rise_mm=7),
    ),
    "round-guessed": Job(
        title=TITLE, spine=Spine(width_mm=34, height_mm=200, back=BackForm.ROUNDED)
    ),
    "ascending": Job(
        title="Der Seezeichenwärter", spine=Spine(width_mm=14, height_mm=190), market="DE"
    ),
    "label": Job(
        title="Letters from the Custom House",
        panel=Panel(width_mm=30, height_mm=45),
        lettering=Lettering(clearance_mm=2, small_words=SmallWords.ALONE),
    ),
    "oval": Job(
        title=TITLE, panel=Panel(width_mm=40, height_mm=60), shape=Shape(form=PanelForm.OVAL)
    ),
    "kept-free": Job(
        title=TITLE,
        spine=Spine(width_mm=40, height_mm=210),
        shape=Shape(keep_free=(KeepFree(width_mm=10, height_mm=10, y_mm=40),)),
    ),
    "pillar": Job(
        title="TIDES",
        spine=Spine(width_mm=16, height_mm=190),
        lettering=Lettering(orientation=Orientation.PILLAR),
    ),
    "over": Job(
        title="An Account of the Lighthouses of the Northern Coast",
        spine=Spine(width_mm=12, height_mm=120),
        lettering=Lettering(size_pt=24),
    ),
    "open": Job(title=TITLE, spine=Spine(width_mm=9)),
    "open-across": Job(
        title=TITLE,
        spine=Spine(width_mm=40),
        lettering=Lettering(orientation=Orientation.TRANSVERSE),
    ),
    "tiny": Job(title="Tides", spine=Spine(width_mm=5, height_mm=90)),
    "figures": Job(title="1848", spine=Spine(width_mm=14, height_mm=190)),
    "huge": Job(title="Charts", spine=Spine(width_mm=150, height_mm=900)),
}


@cache
def subject(name: str) -> Subject:
    """The subject of one of the jobs."""
    return subject_of(pipeline.answer(JOBS[name]))


def every(items: Iterable[Item]) -> Iterator[Item]:
    """Every item, those in groups too."""
    for item in items:
        yield item
        if isinstance(item, Group):
            yield from every(item.items)


def group(scene: Scene, name: str) -> Group:
    """The first group of that name."""
    return next(
        item for item in every(scene.items) if isinstance(item, Group) and item.name == name
    )


def words(scene: Scene) -> list[str]:
    """Every text of a scene."""
    return [item.text for item in every(scene.items) if isinstance(item, Text)]


class Drawings:
    """What the tests ask of a drawing."""

    subject = staticmethod(subject)
    every = staticmethod(every)
    group = staticmethod(group)
    words = staticmethod(words)


@pytest.fixture(scope="session")
def on() -> type[Drawings]:
    """The jobs by name, and what is on a scene."""
    return Drawings
