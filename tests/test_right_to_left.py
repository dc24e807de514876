"""Titles in scripts that read from right to left, from the job to the report."""

from __future__ import annotations

import pytest

from spinefit import catalogue, check
from spinefit.geometry import usable_panel
from spinefit.job import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.layout import placed_outlines, search
from spinefit.say.model import Report
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.stack import shape_title
from spinefit.vocabulary import BindingSide, Orientation, Reading, Turn

AMIRI = "/usr/share/fonts/opentype/fonts-hosny-amiri/Amiri-Regular.ttf"
EZRA = "/usr/share/fonts/truetype/ezra/SILEOT.ttf"
LIGHT = "אור הנמל"
BEACON = "منارة الميناء"


def _job(title: str, *, font: str | None = None, **keys: object) -> Job:
    spine_keys = {key: keys.pop(key) for key in ("binding_side",) if key in keys}
    lettering = Lettering(
        font=font, **{k: keys.pop(k) for k in ("tracking", "reading") if k in keys}
    )  # type: ignore[arg-type]
    spine = Spine(width_mm=12, height_mm=210, **spine_keys)  # type: ignore[arg-type]
    return Job(title=title, spine=spine, lettering=lettering, **keys)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("title", "market", "side"),
    [
        (LIGHT, None, "right"),
        (LIGHT, "US", "right"),
        (BEACON, "EG", "right"),
        ("Harbour Light", "IL", "left"),
        ("Harbour Light", "GB", "left"),
        ("Harbour Light", "JP", "right"),
        ("NAVIS אור", "IL", "right"),
    ],
)
def test_the_script_says_where_a_book_is_bound(title, market, side):
    """A book opens the way it is read; what was assumed is said."""
    job = resolve(_job(title, market=market))
    assert job.spine is not None
    assert job.spine.binding_side == side
    assert ("binding side: right, as such books are bound" in job.assumed) == (side == "right")


def test_a_typed_binding_side_stands():
    job = resolve(_job(LIGHT, binding_side=BindingSide.LEFT))
    assert job.spine is not None
    assert job.spine.binding_side is BindingSide.LEFT


def _hebrew(needs_font, **keys: object) -> Report:
    return check(_job(LIGHT, font=needs_font(EZRA, "fonts-sil-ezra"), **keys))


def _along(report: Report):
    return next(one for one in report.layouts if one.orientation is Orientation.LONGITUDINAL)


@pytest.mark.parametrize(
    ("reading", "turn"),
    [(Reading.DESCENDING, Turn.ANTICLOCKWISE), (Reading.ASCENDING, Turn.CLOCKWISE)],
)
def test_lines_are_turned_the_other_way_than_latin_ones(needs_font, reading, turn):
    """Geometry: letter tops point to the front cover of a book bound at the right."""
    report = _hebrew(needs_font, reading=reading)
    assert (_along(report).reading, _along(report).turn) == (reading, turn)


@pytest.mark.parametrize(
    ("reading", "side", "words"),
    [
        (Reading.DESCENDING, BindingSide.RIGHT, "anticlockwise, so as to read from head to tail"),
        (Reading.DESCENDING, BindingSide.RIGHT, "bound at the right it is read upright"),
        (Reading.DESCENDING, BindingSide.LEFT, "bound at the left it stands upside down"),
        (Reading.ASCENDING, BindingSide.RIGHT, "bound at the right it stands upside down"),
        (Reading.ASCENDING, BindingSide.LEFT, "bound at the left it is read upright"),
    ],
)
def test_the_report_says_how_it_stands_when_the_book_lies(needs_font, reading, side, words):
    report = _hebrew(needs_font, reading=reading, binding_side=side)
    (one,) = [found for found in report.findings if found.topic == "reading-right-to-left"]
    assert words in one.text


def test_latin_titles_have_no_such_finding():
    report = check(_job("The Harbour Light"))
    assert not [found for found in report.findings if found.topic == "reading-right-to-left"]


def test_letters_that_join_are_not_tracked(needs_font):
    """CSS Text 3, section 8.2; said as a warning, and the widths are those without tracking."""
    font = needs_font(AMIRI, "fonts-hosny-amiri")
    tracked, plain = (check(_job(BEACON, font=font, tracking=by)) for by in (100, 0))
    assert _along(tracked).largest_pt == _along(plain).largest_pt
    assert "tracking-refused" in {found.topic for found in tracked.findings}
    assert "tracking-refused" not in {found.topic for found in plain.findings}


def test_hebrew_is_tracked(needs_font):
    assert _along(_hebrew(needs_font, tracking=100)).ink_width_mm > 0
    tracked, plain = (_along(_hebrew(needs_font, tracking=by)) for by in (100, 0))
    widths = [one.line_widths_mm[0] / one.set_pt for one in (tracked, plain)]
    assert widths[0] > widths[1]


def test_a_range_broken_off_an_arabic_title_is_set_as_in_the_whole(needs_font):
    """UAX #9: the years of a second line stand in the order the whole title gives them."""
    font = needs_font(AMIRI, "fonts-hosny-amiri")
    report = check(_job("سنة / 1848-1870", font=font))
    assert report.verdict == "fits"


def test_letters_without_capitals_stand_by_their_ink(needs_font):
    """There is no band of capitals in Hebrew: the ink is centred, and letters give the height."""
    along = _along(_hebrew(needs_font))
    assert along.centre == "ink"
    assert along.spare_mm.left == pytest.approx(along.spare_mm.right)
    assert 0 < along.cap_height_mm < along.ink_height_mm  # the lamed stands higher


def test_a_latin_word_brings_the_band_of_capitals_back(needs_font):
    font = needs_font(EZRA, "fonts-sil-ezra")
    assert _along(check(_job("NAVIS אור", font=font))).centre == "capitals"


def test_what_is_drawn_keeps_the_directions_of_the_whole_title(needs_font):
    """UAX #9: the comma between two Latin words stays with them where the line is cut."""
    font = needs_font(EZRA, "fonts-sil-ezra")
    job = resolve(_job("אור Tide, / Log ים", font=font))
    title = shape_title(job)
    assert job.spine is not None
    panel = usable_panel(job.spine, job.shape, job.rules)
    layout = search(job, title, panel, catalogue.title_words(job.language))[0]
    assert layout.group.texts == ("אור Tide,", "Log ים")
    placed = placed_outlines(title, layout.group, pillar=False)
    highest = max(y for _outline, _x, y in placed)
    outline, _x, _y = min((one for one in placed if one[2] == highest), key=lambda one: one[1])
    letter = open_font(font).shaper.nominal("T")
    assert outline == open_font(font).outline(letter)
