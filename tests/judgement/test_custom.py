"""Across or along by custom: one change of way as a back grows wider, and no leap of size."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import NamedTuple

import pytest

from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.job.values import Panel
from spinefit.judgement.choice import choose
from spinefit.judgement.judged import Judged
from spinefit.judgement.laying import layouts_of
from spinefit.judgement.sizing import judge_layouts
from spinefit.judgement.verdict import panel_of
from spinefit.shaping import shape_titles
from spinefit.vocabulary import Case, Orientation, Work

ACROSS, ALONG = Orientation.TRANSVERSE, Orientation.LONGITUDINAL
LEAP = 1.3  # between widths that differ by a tenth of a millimetre
TITLES = (
    "I",
    "Sea",
    "Tides",
    "COMMISSIONERS",
    "Lighthousekeeping",
    "Constantinopolitanischer Hafenleuchtturm",
    "The Harbour Light",
    "Knots and Splices",
    "TIDE TABLES",
    "A History of the Harbour Commissioners of the Port and Town, Vol. 2",
    "REGISTERS OF WRECKS",
    "The Pilot’s Almanack for the Year 1884",
    "ORDERS / AND / DUES",
    "Povești din port",
    "Λιμάνι και φάρος",
    "Chart Book 3",
    "WRACKNESS HARBOUR DUES 1848–1870",
    "Quay, Vol. 12",
    "Letters Home",
    "Navigation and Nautical Astronomy for Schools with Tables and Many Examples, Volume 12",
)
METHODS = ("paperback-cover", "blocked-case", "paper-label", "hand-letters", "screen-print")
DRAWERS = ("hand-letters", "type-holder")  # their steps are leaps: 14, 18, 24 pt


class Place(NamedTuple):
    """Where a title is put: the same but for the width."""

    method: str | None = None
    height_mm: float | None = 210.0
    work: Work | None = None
    bands: int = 0
    on_panel: bool = False
    distance_mm: float | None = None

    def job(self, title: str, width_mm: float, **lettering: object) -> Job:
        spine, panel = None, None
        if self.on_panel:
            assert self.height_mm is not None
            panel = Panel(width_mm=width_mm, height_mm=self.height_mm)
        else:
            spine = Spine(width_mm=width_mm, height_mm=self.height_mm, bands=self.bands or None)
        return Job(
            title=title, spine=spine, panel=panel, method=self.method, work=self.work,
            reading_distance_mm=self.distance_mm, lettering=Lettering(**lettering),
        )  # fmt: skip


def advised_over_widths(
    place: Place, title: str, *, tenths: int = 1, **lettering: object
) -> Iterator[tuple[float, Judged]]:
    """What is advised from 8 to 60 mm, by so many tenths of a millimetre, where anything fits.

    The title is shaped once: its letters are the same on every back.
    """
    shaped, font = None, "EB Garamond"  # which some methods would not take of themselves
    for width in range(80, 601, tenths):
        job = resolve(place.job(title, width / 10, font=font, **lettering))
        shaped = shaped or shape_titles(job)
        judged = judge_layouts(job, shaped[0], layouts_of(job, shaped, panel_of(job)))
        best = choose(job, judged).best
        if best is not None:
            yield width / 10, best


def turns_once(found: list[tuple[float, Judged]]) -> bool:
    """Whether the way is along up to some width, and across from there on."""
    ways = [one.orientation for _width, one in found]
    return ways == sorted(ways, key=(ALONG, ACROSS).index)


def leaps(found: list[tuple[float, Judged]], method: str) -> list[tuple[float, str, float, float]]:
    """Where the way stays and the size or the capitals differ by more than is smooth.

    Not where small words join on a label, as soon as letters so much smaller hold.
    """

    def joins(before: Judged, after: Judged) -> bool:
        was, now = (one.layout.group.lines.strands_small_words for one in (before, after))
        return method == "paper-label" and was and not now

    return [
        (width, name, getattr(before, name), getattr(after, name))
        for (_width, before), (width, after) in itertools.pairwise(found)
        for name in ("set_pt", "cap_height_mm")
        if before.orientation is after.orientation
        and not joins(before, after)
        and not 1 / LEAP < getattr(after, name) / getattr(before, name) < LEAP
    ]


@pytest.mark.parametrize(("at", "title"), list(enumerate(TITLES)), ids=range(len(TITLES)))
def test_the_way_changes_once_and_the_size_never_leaps(at: int, title: str) -> None:
    """By a tenth of a millimetre from 8 to 60, each title by a method, its height given or open."""
    method = METHODS[at % len(METHODS)]
    place = Place(method, height_mm=None if at % 2 else 210.0)
    found = list(advised_over_widths(place, title))
    assert len(found) > 250 or method != METHODS[0]  # print fits on most backs
    assert turns_once(found)
    assert method in DRAWERS or leaps(found, method=method) == []


@pytest.mark.parametrize("method", [*METHODS, "leather-label", "transfer-vinyl", "cloth-print"])
@pytest.mark.parametrize("height_mm", [None, 120.0, 210.0])
def test_the_way_changes_once_for_every_title_and_method(
    method: str, height_mm: float | None
) -> None:
    """Every title by every method, in steps of three millimetres."""
    for title in TITLES:
        assert turns_once(list(advised_over_widths(Place(method, height_mm), title, tenths=30)))


@pytest.mark.parametrize(
    "place",
    [
        Place(bands=5),
        Place(on_panel=True, height_mm=60.0),
        Place("paper-label", on_panel=True, height_mm=34.0),
        Place(work=Work.LIBRARY),
        Place(work=Work.LEATHER),
        Place(distance_mm=1500.0),
        Place("blocked-case", distance_mm=250.0),
    ],
)
def test_the_way_changes_once_in_panels_and_by_any_kind_of_work(place: Place) -> None:
    for title in TITLES[::3]:
        assert turns_once(list(advised_over_widths(place, title, tenths=15)))


@pytest.mark.parametrize("lettering", [{"case": Case.CAPITALS}, {"size_pt": 11.0}, {"lines": 1}])
def test_the_way_changes_once_however_it_is_lettered(lettering: dict[str, object]) -> None:
    for title in ("The Harbour Light", "Knots and Splices", "Tides"):
        assert turns_once(list(advised_over_widths(Place(), title, tenths=10, **lettering)))


def test_a_word_more_or_less_at_16_mm_turns_nothing() -> None:
    """Words that make no line longer leave a cover as it is."""
    words = ["Tides", "and", "Tables", "of", "the", "Port", "and", "Bay", "of", "Sund"]
    for work in (Work.PAPERBACK, Work.CASE):
        ways = set()
        for count in range(1, len(words) + 1):
            job = resolve(Place(work=work).job(" ".join(words[:count]), 16.0))
            titles = shape_titles(job)
            judged = judge_layouts(job, titles[0], layouts_of(job, titles, panel_of(job)))
            best = choose(job, judged).best
            assert best is not None
            ways.add(best.orientation)
        assert ways == {ALONG}
