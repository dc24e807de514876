"""Which sizes can be set, and from which size on letters hold."""

from __future__ import annotations

import math

import pytest

from spinefit import Job, Lettering, Spine, catalogue, check
from spinefit.catalogue import Method
from spinefit.geometry import polygons, strokes
from spinefit.job.resolve import resolve
from spinefit.judgement.offer import Offer, finer_letters, weakest_at
from spinefit.say.remedies import remedies
from spinefit.shaping import open_font, shape_title
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Die, Orientation, SetBy, Sourced, Status, Stock, Verdict

_NO_THICKER_EM = 0.0101  # one letter at least is no thicker than the list says, but for this
ROW = Sourced(5, "pt", "a test", Status.PRACTICE)


def a_method(*, stroke_mm: float | None = None, gap_mm: float | None = None) -> Method:
    rows = {
        name: None if value is None else Sourced(value, "mm", "a test", Status.PRACTICE)
        for name, value in (("stroke", stroke_mm), ("gap", gap_mm))
    }
    return Method(
        key="test",
        name="test press",
        smallest=ROW,
        step=Sourced(0.1, "pt", "a test", Status.PRACTICE),
        placing=Sourced(0.5, "mm", "a test", Status.PRACTICE),
        **rows,
    )


def a_job(title: str = "HATE", **fields) -> Job:
    method = fields.pop("method", a_method())
    width = fields.pop("width_mm", 40)
    spine = Spine(width_mm=width, height_mm=220)
    return Job(title=title, spine=spine, method=method, lettering=Lettering(**fields))


def drawer(*sizes: float, floor_pt: float = 0.0) -> Offer:
    return Offer(sizes_pt=sizes, step_pt=0.1, floor_pt=floor_pt, floor=ROW)


@pytest.mark.parametrize(
    ("wanted", "found"), [(9, 10), (10, 10), (13.9, 12), (14, 14), (99, 18), (11.9999999, 12)]
)
def test_a_drawer_gives_its_next_smaller_size_or_its_smallest(wanted, found):
    assert drawer(10, 12, 14, 18).at_most(wanted) == found


def test_a_floor_between_two_sizes_lifts_the_smallest():
    """Where no size of the drawer is held, its largest is judged, and does not hold."""
    assert drawer(10, 12, 14, floor_pt=10.5).smallest_pt() == 12
    assert drawer(10, 12, floor_pt=20).smallest_pt() == 12
    assert not drawer(10, 12, floor_pt=20).holds(12)


def test_only_sizes_of_the_drawer_are_offered():
    """Continuous sizes are all offered from the floor on."""
    assert drawer(10, 12).holds(12) and not drawer(10, 12).holds(11)
    free = Offer(sizes_pt=None, step_pt=0.1, floor_pt=5.03, floor=ROW)
    assert free.holds(11.2345) and not free.holds(5.02)
    assert free.smallest_pt() == 5.1


def test_the_advised_size_is_one_of_the_drawer():
    """Didot sizes come back in DTP points, as typed."""
    sizes = (10.657, 12.789, 14.92)
    report = check(a_job("Tide Tables", sizes_pt=sizes))
    assert all(one.set_pt in sizes for one in report.layouts)


def test_a_size_that_is_not_in_the_drawer_does_not_fit():
    report = check(a_job("Tide", sizes_pt=(10.0, 12.0), size_pt=11.0))
    assert report.verdict is Verdict.DOES_NOT_FIT
    assert "11 pt is not among the sizes at hand" in report.answer


@pytest.mark.parametrize("stroke_mm", [0.1, 0.2, 0.4])
def test_the_floor_is_the_size_at_which_the_thinnest_stroke_is_held(stroke_mm):
    """It grows in exact proportion to what the method holds."""
    resolved = resolve(a_job(method=a_method(stroke_mm=stroke_mm)))
    title = shape_title(resolved)
    weakest = weakest_at(resolved, title, 5)
    assert weakest is not None
    font = open_font(resolved.lettering.font)
    thinnest = min(
        strokes.thinnest_stroke(font.outline(font.shaper.nominal(c))).width_em for c in "HATE"
    )
    assert weakest.measured_em == thinnest
    assert mm_from_pt(weakest.needs_pt) * thinnest == pytest.approx(stroke_mm)
    assert weakest_at(resolved, title, weakest.needs_pt * (1 + 1e-9)) is None


def test_an_advised_size_is_raised_until_the_strokes_hold():
    method = a_method(stroke_mm=0.25)
    font = "EB Garamond"
    along = {"orientation": Orientation.LONGITUDINAL, "width_mm": 10}
    report = check(a_job(method=method, font=font, **along))
    best = report.layouts[report.recommended]
    resolved = resolve(a_job(method=method, font=font))
    weakest = weakest_at(resolved, shape_title(resolved), 5)
    assert weakest is not None
    assert best.set_pt == pytest.approx(math.ceil(weakest.needs_pt * 10) / 10)
    assert best.set_by is SetBy.ADVISED
    assert any(finding.topic == "advised-floor" for finding in best.findings)


def test_strokes_that_never_hold_here_are_named_with_the_size_they_would_take():
    """At the largest size: what is measured, what is needed, which letter, which size."""
    job = a_job("HATE", method=a_method(stroke_mm=0.5), width_mm=12, font="EB Garamond")
    report = check(job)
    assert report.verdict is Verdict.DOES_NOT_FIT
    found = next(f for one in report.layouts for f in one.findings if f.topic == "thin-stroke")
    assert found.limit == 0.5 and found.value < 0.5
    assert "thinnest stroke of" in found.text and "which takes" in found.text
    fonts = [remedy for remedy in remedies(report) if remedy.change == "font"]
    assert fonts and fonts[0].largest_pt >= 5


def test_a_sturdier_font_holds_where_it_is_offered():
    """The remedy is run again with the font it names."""
    job = a_job("HATE", method=a_method(stroke_mm=0.5), width_mm=12, font="EB Garamond")
    remedy = next(each for each in remedies(check(job)) if each.change == "font")
    name = remedy.options.removeprefix("--font '").removesuffix("'")
    again = check(a_job("HATE", method=a_method(stroke_mm=0.5), width_mm=12, font=name))
    assert again.fits
    assert again.layouts[again.recommended].largest_pt == remedy.largest_pt


def test_letters_that_stand_too_near_are_told_of():
    """Tracking parts them."""
    method = a_method(gap_mm=1.0)
    tight = check(a_job("ILLIL", method=method, size_pt=30))
    spaced = check(a_job("ILLIL", method=method, size_pt=30, tracking=100))
    topics = [f.topic for f in tight.layouts[tight.recommended].findings]
    assert "letters-close" in topics
    assert "letters-close" not in [f.topic for f in spaced.layouts[spaced.recommended].findings]


def told_of(report, topic):
    return [f for f in report.layouts[report.recommended].findings if f.topic == topic]


def test_as_much_tracking_as_is_named_parts_letters():
    """And ten thousandths of an em less leaves them too near: upright stems part by as much."""
    method = a_method(gap_mm=1.0)
    (told,) = told_of(check(a_job("ILLIL", method=method, size_pt=30)), "letters-close")
    about = float(told.text.partition("about ")[2].rstrip("."))
    parted = a_job("ILLIL", method=method, size_pt=30, tracking=about)
    assert not told_of(check(parted), "letters-close")
    less = a_job("ILLIL", method=method, size_pt=30, tracking=about - 10)
    assert told_of(check(less), "letters-close")


def test_letters_of_two_lines_want_leading():
    lettering = {"size_pt": 30, "tracking": 400, "leading_em": 0.7}
    (told,) = told_of(
        check(a_job("IL / TI", method=a_method(gap_mm=1.5), width_mm=60, **lettering)),
        "letters-close",
    )
    assert told.text.startswith("Letters of two lines stand ")
    assert told.text.endswith("add leading.")


@pytest.mark.parametrize("name", ["EB Garamond", "Cinzel Bold", "Fira Sans Condensed"])
def test_the_thinness_listed_with_a_font_is_what_its_letters_measure(name):
    """No plain character is thinner than the list says, and one is no thicker."""
    font = open_font(name)
    stroke_em, counter_em = font.plain_thinness_em
    plain = catalogue.PLAIN_CHARACTERS - {" "}
    glyphs = [font.outline(font.shaper.nominal(char)) for char in plain]
    thin = [strokes.thinner_stroke(glyph, stroke_em + _NO_THICKER_EM) for glyph in glyphs]
    assert stroke_em <= min(found for found in thin if found is not None)
    counters = [polygons.least_counter_em(glyph) for glyph in glyphs]
    least_em = min(found for found in counters if found is not None)
    assert counter_em <= least_em < counter_em + _NO_THICKER_EM


def foiled(title, *, stock=None, die=None, **lettering):
    """A title on a leather label or a case, in EB Garamond."""
    return Job(
        title=title,
        spine=Spine(width_mm=60, height_mm=250),
        method="leather-label" if stock is None else "blocked-case",
        stock=stock,
        die=die,
        lettering=Lettering(font="EB Garamond", **lettering),
    )


def grade(size_pt, *, stock, die):
    """Whether the thin strokes of a title fail, are warned of or are good at a size."""
    job = resolve(foiled("The Harbour Light", stock=stock, die=die))
    title = shape_title(job)
    if weakest_at(job, title, size_pt) is not None:
        return "fails"
    return "warns" if finer_letters(job, title, size_pt, as_advised=True) else "good"


@pytest.mark.parametrize(
    ("stock", "die", "grades"),
    [
        (Stock.SMOOTH_LEATHER, Die.BRASS, ("warns", "warns", "good")),
        (Stock.FINE_CLOTH, Die.BRASS, ("warns", "warns", "warns")),
        (Stock.COARSE_CLOTH, Die.BRASS, ("fails", "fails", "warns")),
        (Stock.SMOOTH_LEATHER, Die.MAGNESIUM, ("fails", "warns", "warns")),
    ],
)
def test_a_text_face_in_foil_by_stock_and_die(stock, die, grades):
    """EB Garamond Regular at 9, 12 and 14 pt, as the trade figures reckon it (memory, computed)."""
    assert tuple(grade(size_pt, stock=stock, die=die) for size_pt in (9, 12, 14)) == grades


def test_a_few_finer_letters_do_not_refuse_a_title():
    """The k alone is under 0.1 mm at 12 pt: one letter of 26 is warned of, one of four fails."""
    many, few = (
        resolve(foiled(title, die=Die.MAGNESIUM))
        for title in ("History of the Port of Wrackness", "Book")
    )
    assert weakest_at(many, shape_title(many), 12) is None
    found = weakest_at(few, shape_title(few), 12)
    assert found is not None and found.letter == "k"


def test_vinyl_spares_no_letter():
    job = resolve(Job(title="mmmmmmmmmmmma", spine=Spine(width_mm=60), method="transfer-vinyl",
                      lettering=Lettering(font="Fira Sans Condensed Bold")))  # fmt: skip
    title = shape_title(job)
    found = weakest_at(job, title, 23)
    assert found is not None and (found.letter, found.what) == ("a", "counter")
    assert weakest_at(job, title, found.needs_pt * (1 + 1e-9)) is None


def test_titles_beyond_ascii_are_measured():
    """The list covers ASCII only; a Greek title is looked at itself."""
    title = shape_title(resolve(Job(title="Λιμάνι", spine=Spine(width_mm=20))))
    assert title.known_thinness is None
    assert shape_title(resolve(a_job())).known_thinness is not None


def test_the_smallest_size_from_a_wish_up():
    """Of continuous sizes the next step, of a drawer the next size, never below the floor."""
    rule = Sourced(6.0, "pt", "test", Status.PRACTICE)
    continuous = Offer(sizes_pt=None, step_pt=0.1, floor_pt=6.0, floor=rule)
    assert [continuous.at_least(size) for size in (1.0, 6.01, 7.2)] == [6.0, 6.1, 7.2]
    drawer = continuous._replace(sizes_pt=(5.0, 8.0, 10.0, 14.0))
    assert [drawer.at_least(size) for size in (1.0, 8.0, 8.5, 20.0)] == [8.0, 8.0, 10.0, 14.0]
