"""What a job means once nothing is left to guess, and what is refused."""

from __future__ import annotations

import math

import pytest

from spinefit import catalogue
from spinefit.errors import FieldError, ImpossibleBackError, JobError
from spinefit.job.model import Job, Lettering, Shape, Spine
from spinefit.job.resolve import resolve
from spinefit.job.values import KeepFree, Panel
from spinefit.vocabulary import (
    BackForm,
    BindingSide,
    BreakWords,
    Case,
    Centre,
    Measured,
    Orientation,
    PanelForm,
    Reading,
    Work,
)


def a_job(title: str = "The Harbour Light", *, spine: dict | None = None, **fields) -> Job:
    """A job on a back 20 x 200 mm unless said otherwise; lettering fields go by their names."""
    names = set(Lettering.__annotations__)
    lettering = Lettering(**{name: fields.pop(name) for name in names & set(fields)})
    if "panel" not in fields:
        fields["spine"] = Spine(**({"width_mm": 20.0, "height_mm": 200.0} | (spine or {})))
    return Job(title=title, lettering=lettering, **fields)


def refusal(job: Job, kind: type[Exception] = FieldError) -> Exception:
    """The error that a job is refused with."""
    with pytest.raises(kind) as caught:
        resolve(job)
    line = str(caught.value)
    assert "\n" not in line
    return caught.value


# --- defaults ----------------------------------------------------------------------------


def test_every_default_of_a_bare_job_is_named_as_assumed():
    """One line for each thing that was taken for granted, with its figure."""
    resolved = resolve(a_job())
    assert {line.split(" (")[0] for line in resolved.assumed} == {
        "market: none given, so the international standard ISO 6357",
        "language: en, by the small words of the title",
        "method: a printed paperback cover",
        "back: flat",
        "bands: none",
        "width: measured straight across the back, between the joints",
        "edge: 2 mm kept free at each joint",
        "head: 4 mm kept free",
        "foot: 4 mm kept free",
        f"font: {catalogue.font_rows()[0].name}",
        "case: as typed",
        "orientation: any",
        "lines: any number",
        "break words: never",
        "leading: by rule, never so close that lines touch",
        "centre: capitals along a back, ink otherwise",
        "clearance: none",
        "reading distance: 500 mm",
        "work: a printed cover",
    }


def test_a_default_figure_of_the_back_names_its_source():
    assumed = "; ".join(resolve(a_job()).assumed)
    assert assumed.count("Guidelines for Cover Designers") == 3
    assert "published" in assumed


@pytest.mark.parametrize(
    ("topic", "fields"),
    [
        ("market", {"market": "GB"}),
        ("language", {"language": "en"}),
        ("method", {"method": "paperback-cover"}),
        ("back", {"spine": {"back": BackForm.FLAT}}),
        ("width", {"spine": {"measured": Measured.BULK}}),
        ("edge", {"spine": {"edge_mm": 2.0}}),
        ("head", {"spine": {"head_mm": 4.0}}),
        ("foot", {"spine": {"foot_mm": 4.0}}),
        ("font", {"font": "EB Garamond"}),
        ("reading distance", {"reading_distance_mm": 500.0}),
        ("work", {"work": Work.PAPERBACK}),
    ],
)
def test_what_was_said_is_not_called_assumed(topic, fields):
    """Even where it is the default's own value."""
    before = {line.split(":")[0] for line in resolve(a_job()).assumed}
    after = {line.split(":")[0] for line in resolve(a_job(**fields)).assumed}
    assert before - after == {topic}


def test_defaults_of_bands_are_assumed_only_where_there_are_bands():
    """Band height, clearance, tail ratio and title panel, with their figures."""
    bare = set(resolve(a_job()).assumed)
    found = set(resolve(a_job(spine={"bands": 5})).assumed) - bare
    assert {line.split(" (")[0] for line in found} == {
        "method: a set of hand letters, since raised bands are handwork",
        "edge: 2 mm from each joint to the ink",
        "head: 3 mm kept free",
        "foot: 3 mm kept free",
        "band height: 4 mm along the back",
        "band clearance: 1 mm on either side of a band",
        "panels: equal, the tail part 1.1 times as long",
        "title panel: number 2 from the head",
        "work: a leather back",
    }


def test_defaults_of_a_round_are_assumed_only_where_there_is_one():
    """The form that follows from a figure, and the largest angle."""
    found = set(resolve(a_job(spine={"rise_mm": 4.0})).assumed) - set(resolve(a_job()).assumed)
    assert found == {
        "back: rounded, since --rise is given",
        "largest angle: 45 degrees from the middle of the round",
    }


def test_a_panel_given_outright_assumes_nothing_of_a_back():
    """No edge, head, foot, form or width."""
    resolved = resolve(a_job(panel=Panel(width_mm=30.0, height_mm=20.0)))
    assert {line.split(":")[0] for line in resolved.assumed} == {
        "market",
        "language",
        "method",
        "font",
        "case",
        "orientation",
        "lines",
        "break words",
        "leading",
        "centre",
        "clearance",
        "reading distance",
        "work",
    }
    assert resolved.spine is None


def test_fields_that_were_left_out_have_the_defaults_of_the_design():
    """As typed, any orientation, any lines, no clearance, automatic centre, no broken word."""
    lettering = resolve(a_job()).lettering
    assert lettering.case is Case.AS_TYPED
    assert lettering.orientation is Orientation.ANY
    assert lettering.lines is None
    assert lettering.size_pt is None
    assert lettering.leading_em is None
    assert lettering.clearance_mm == 0.0
    assert lettering.centre is Centre.AUTO
    assert lettering.break_words is BreakWords.NEVER
    assert lettering.tracking_em == 0.0


def test_tracking_is_in_thousandths_of_an_em():
    assert resolve(a_job(tracking=25)).lettering.tracking_em == 0.025


def test_the_title_panel_of_a_back_with_one_band_is_the_second():
    """The usual panel is the second; where there is none, the last."""
    assert resolve(a_job(spine={"bands": 1})).spine.title_panel == 2
    assert resolve(a_job()).spine.title_panel == 1


def test_binding_side_follows_the_market_unless_said():
    """Right in Japan, left elsewhere; the person has the last word."""
    assert resolve(a_job(market="JP")).spine.binding_side is BindingSide.RIGHT
    assert resolve(a_job(market="GB")).spine.binding_side is BindingSide.LEFT
    said = {"binding_side": BindingSide.LEFT}
    assert resolve(a_job(market="JP", spine=said)).spine.binding_side is BindingSide.LEFT


# --- market and language -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("code", "reading"),
    [
        (None, Reading.DESCENDING),
        ("GB", Reading.DESCENDING),
        ("fr", Reading.ASCENDING),
        (" DE ", Reading.ASCENDING),
        ("JP", Reading.DESCENDING),
    ],
)
def test_the_market_gives_the_reading(code, reading):
    """Nobody asked for it, and it isn't called asked; an upright market descends along."""
    lettering = resolve(a_job(market=code)).lettering
    assert (lettering.reading, lettering.reading_asked) == (reading, False)


def test_a_reading_asked_for_has_the_last_word():
    lettering = resolve(a_job(market="FR", reading=Reading.DESCENDING)).lettering
    assert (lettering.reading, lettering.reading_asked) == (Reading.DESCENDING, True)
    auto = resolve(a_job(market="FR", reading=Reading.AUTO)).lettering
    assert (auto.reading, auto.reading_asked) == (Reading.ASCENDING, False)


@pytest.mark.parametrize("language", ["fr", "en", "de", "ja", "el"])
def test_a_language_never_changes_the_market(language):
    """French words on a British shelf descend."""
    resolved = resolve(a_job(market="GB", language=language))
    assert resolved.market.code == "GB"
    assert resolved.lettering.reading is Reading.DESCENDING


@pytest.mark.parametrize("across", [Reading.ACROSS, Reading.STACKED, Reading.UPRIGHT])
def test_a_reading_that_is_no_longitudinal_one_is_refused(across):
    assert refusal(a_job(reading=across)).where == "--reading"


def test_uk_is_pointed_to_gb():
    """The commonest slip has a hint of its own."""
    assert "GB" in refusal(a_job(market="UK")).remedy


def test_a_country_may_have_its_own_name():
    assert resolve(a_job(market="USA")).market_code == resolve(a_job(market="US")).market_code


def test_a_countrys_name_is_pointed_to_its_code():
    assert "FR" in refusal(a_job(market="Frence")).remedy


@pytest.mark.parametrize("code", ["XX", "ZZ", "U", "USX", "  ", "é"])
def test_what_is_no_iso_3166_code_is_refused(code):
    assert "ISO 3166" in str(refusal(a_job(market=code)))


def test_a_country_without_a_row_is_no_error():
    """Mongolia has a code and no row; the international standard is followed."""
    known = catalogue.markets()
    code = next(code for code in sorted(catalogue.iso_3166_codes()) if code not in known)
    resolved = resolve(a_job(market=code.lower()))
    assert resolved.market_known is False
    assert resolved.market_code == code
    assert resolved.market.code == ""
    assert resolved.lettering.reading is Reading.DESCENDING


def test_a_market_with_a_row_is_known():
    assert resolve(a_job(market="GB")).market_known
    assert resolve(a_job()).market_known


@pytest.mark.parametrize("tag", ["", " ", "e", "english", "en_GB", "en-", "-en", "e n", "én"])
def test_a_tag_that_is_no_language_is_refused(tag):
    assert refusal(a_job(language=tag)).where == "--language"


@pytest.mark.parametrize("tag", ["en", "en-GB", "zh-Hant-TW", "grc", " de "])
def test_bcp_47_tags_are_taken(tag):
    assert resolve(a_job(language=tag)).language == tag.strip()


@pytest.mark.parametrize(
    ("title", "market", "language"),
    [
        ("The Light of the Harbour", None, "en"),
        ("The Light of the Harbour", "DE", "en"),
        ("Der Leuchtturm und das Meer", "DE", "de"),
        ("La Gardienne du phare", "FR", "fr"),
        ("Leuchtturm", "DE", "de"),
        ("Leuchtturm", None, None),
        ("Harbour", "CH", None),
    ],
)
def test_the_language_is_guessed_from_small_words_and_the_market(title, market, language):
    """Small words first, then a market that has one language only; otherwise nothing."""
    assert resolve(a_job(title, market=market)).language == language


def test_a_guessed_language_is_named_as_assumed():
    assert any(line.startswith("language: de") for line in resolve(a_job(market="DE")).assumed) is (
        resolve(a_job(market="DE")).language == "de"
    )
    assert not any(
        line.startswith("language") for line in resolve(a_job("Tides", market=None)).assumed
    )


def test_an_unknown_method_is_refused_with_the_nearest():
    assert "paperback-cover" in refusal(a_job(method="paperbackcover")).remedy


# --- the width ---------------------------------------------------------------------------


def test_a_range_is_judged_at_the_least_and_shows_both():
    """Each end has the edge of its own width."""
    resolved = resolve(a_job(spine={"width_mm": (8.0, 40.0)}))
    assert (resolved.spine.width_mm, resolved.widest.width_mm) == (8.0, 40.0)
    assert (resolved.spine.edge_mm, resolved.widest.edge_mm) == (1.0, 3.0)


def test_an_edge_that_was_typed_holds_for_the_whole_range():
    resolved = resolve(a_job(spine={"width_mm": (8.0, 40.0), "edge_mm": 1.5}))
    assert (resolved.spine.edge_mm, resolved.widest.edge_mm) == (1.5, 1.5)


def test_a_range_of_one_width_is_no_range():
    assert resolve(a_job(spine={"width_mm": (8.0, 8.0)})).widest is None
    assert resolve(a_job()).widest is None


def test_a_backward_range_is_refused():
    assert refusal(a_job(spine={"width_mm": (15.0, 13.0)})).where == "--width"


def test_a_width_over_the_boards_loses_two_boards():
    """The edge is that of the back, not of the whole book."""
    said = {"width_mm": (25.0, 26.0), "measured": Measured.OVER_BOARDS, "board_mm": 2.5}
    resolved = resolve(a_job(spine=said))
    assert (resolved.spine.width_mm, resolved.widest.width_mm) == (20.0, 21.0)
    assert resolved.spine.edge_mm == 2.0


@pytest.mark.parametrize(
    ("said", "where"),
    [
        ({"measured": Measured.OVER_BOARDS}, "--measured"),
        ({"board_mm": 2.5}, "--board"),
        ({"board_mm": 2.5, "measured": Measured.BACK}, "--board"),
        ({"board_mm": 2.5, "measured": Measured.BULK}, "--board"),
    ],
)
def test_boards_and_over_boards_need_each_other(said, where):
    assert refusal(a_job(spine=said)).where == where


@pytest.mark.parametrize("board", [10.0, 12.0])
def test_boards_that_leave_nothing_cannot_be(board):
    said = {"measured": Measured.OVER_BOARDS, "board_mm": board}
    assert refusal(a_job(spine=said), ImpossibleBackError).where == "--board"


# --- contradictions ----------------------------------------------------------------------


@pytest.mark.parametrize(
    "said",
    [
        {"rise_mm": 4.0, "radius_mm": 12.0},
        {"rise_mm": 4.0, "arc_mm": 24.0},
        {"radius_mm": 12.0, "arc_mm": 24.0},
        {"rise_mm": 4.0, "radius_mm": 12.0, "arc_mm": 24.0},
    ],
)
def test_two_figures_of_one_round_are_refused(said):
    """Both are named."""
    fault = refusal(a_job(spine=said))
    assert all(f"--{name.removesuffix('_mm')}" in str(fault) for name in said)


@pytest.mark.parametrize("figure", ["rise_mm", "radius_mm", "arc_mm"])
def test_a_flat_back_has_no_round(figure):
    said = {"back": BackForm.FLAT, figure: 15.0}
    assert refusal(a_job(spine=said)).where == f"--{figure.removesuffix('_mm')}"


def test_a_figure_makes_the_back_round():
    assert resolve(a_job(spine={"arc_mm": 24.0})).spine.form is BackForm.ROUNDED


def test_neither_spine_nor_panel_is_refused():
    assert "--width" in refusal(Job(title="Tides"), JobError).remedy


def test_a_spine_and_a_panel_together_are_refused():
    job = Job(title="Tides", spine=Spine(width_mm=20.0), panel=Panel(width_mm=20.0, height_mm=20.0))
    assert "--panel" in refusal(job, JobError).remedy


def test_positions_must_be_as_many_as_the_bands():
    assert refusal(a_job(spine={"bands": 3, "bands_at_mm": (40.0, 80.0)})).where == "--bands-at"
    assert resolve(a_job(spine={"bands_at_mm": (40.0, 80.0)})).spine.bands == 2


@pytest.mark.parametrize("field", ["band_height_mm", "band_clearance_mm", "tail_ratio"])
def test_figures_of_bands_need_bands(field):
    assert (
        refusal(a_job(spine={field: 1.0})).where
        == f"--{field.removesuffix('_mm').replace('_', '-')}"
    )
    resolve(a_job(spine={field: 1.0, "bands": 4}))


@pytest.mark.parametrize("bands", [-1, 51, True, 2.0, "five"])
def test_a_number_of_bands_that_cannot_be_is_refused(bands):
    assert refusal(a_job(spine={"bands": bands})).where == "--bands"


@pytest.mark.parametrize("panel", [True, 1.5, "second"])
def test_a_panels_number_is_whole(panel):
    assert refusal(a_job(spine={"bands": 5, "title_panel": panel})).where == "--title-panel"


@pytest.mark.parametrize("lines", [0, -1, 61, True, 1.5])
def test_a_number_of_lines_that_cannot_be_is_refused(lines):
    assert refusal(a_job(lines=lines)).where == "--lines"


def test_fewer_lines_than_forced_are_refused():
    """As many or more are not."""
    title = "The Harbour / Light / Vol. 2"
    assert refusal(a_job(title, lines=2)).where == "--lines"
    assert resolve(a_job(title, lines=3)).lettering.lines == 3


def test_a_pillar_is_one_column():
    """Neither two lines nor a forced break; one line is what it is."""
    pillar = Orientation.PILLAR
    assert refusal(a_job(orientation=pillar, lines=2)).where == "--lines"
    assert refusal(a_job("Harbour / Light", orientation=pillar)).where == "TITLE"
    assert resolve(a_job(orientation=pillar, lines=1)).lettering.lines == 1


@pytest.mark.parametrize("form", [PanelForm.ROUNDED, PanelForm.CUT])
def test_corners_need_a_size_and_a_size_needs_corners(form):
    assert refusal(a_job(shape=Shape(form=form))).where == "--panel-shape"
    assert refusal(a_job(shape=Shape(corner_mm=3.0))).where == "--corner"
    assert resolve(a_job(shape=Shape(form=form, corner_mm=3.0))).shape.corner_mm == 3.0


# --- figures that cannot be --------------------------------------------------------------

NOT_FINITE = (math.nan, math.inf, -math.inf)
LENGTHS = ("width_mm", "height_mm", "edge_mm", "head_mm", "foot_mm")
ABOVE_ZERO = ("width_mm", "height_mm")


@pytest.mark.parametrize("bad", [*NOT_FINITE, -1.0, 2000.5, True, "20"])
@pytest.mark.parametrize("field", LENGTHS)
def test_lengths_of_a_back_are_finite_and_within_any_book(field, bad):
    assert refusal(a_job(spine={field: bad})).where == f"--{field.removesuffix('_mm')}"


@pytest.mark.parametrize("field", LENGTHS)
def test_zero_is_refused_only_where_it_means_nothing(field):
    """An edge, head or foot of 0 is a choice; a back of 0 is not."""
    if field in ABOVE_ZERO:
        refusal(a_job(spine={field: 0.0}))
    else:
        assert getattr(resolve(a_job(spine={field: 0.0})).spine, field) == 0.0


@pytest.mark.parametrize("bad", [*NOT_FINITE, 1e9])
@pytest.mark.parametrize("field", ["rise_mm", "radius_mm", "arc_mm"])
def test_figures_of_a_round_are_finite(field, bad):
    assert refusal(a_job(spine={field: bad})).where == f"--{field.removesuffix('_mm')}"


@pytest.mark.parametrize("bad", [*NOT_FINITE, 0.0, -5.0, 90.5])
def test_the_largest_angle_is_above_0_and_at_most_90(bad):
    assert refusal(a_job(spine={"max_angle_deg": bad})).where == "--max-angle"


@pytest.mark.parametrize("bad", [*NOT_FINITE, 0.0, -1.0])
def test_a_board_has_a_thickness(bad):
    said = {"measured": Measured.OVER_BOARDS, "board_mm": bad}
    assert refusal(a_job(spine=said)).where == "--board"


@pytest.mark.parametrize(
    ("field", "bads"),
    [
        ("band_height_mm", (*NOT_FINITE, 0.0, -1.0)),
        ("band_clearance_mm", (*NOT_FINITE, -1.0)),
        ("tail_ratio", (*NOT_FINITE, 0.0, 0.05, 11.0)),
    ],
)
def test_figures_of_bands_are_finite_and_in_bounds(field, bads):
    for bad in bads:
        refusal(a_job(spine={"bands": 5, field: bad}))


@pytest.mark.parametrize(
    ("field", "bads"),
    [
        ("size_pt", (*NOT_FINITE, 0.0, -12.0, 5001.0)),
        ("leading_em", (*NOT_FINITE, 0.0, -1.0, 21.0)),
        ("tracking", (*NOT_FINITE, -201.0, 2001.0)),
        ("clearance_mm", (*NOT_FINITE, -0.1, 2001.0)),
    ],
)
def test_figures_of_the_lettering_are_finite_and_in_bounds(field, bads):
    where = f"--{field.split('_')[0]}"
    for bad in bads:
        assert refusal(a_job(**{field: bad})).where == where


@pytest.mark.parametrize("bad", [*NOT_FINITE, 0.0, -500.0, 10_001.0])
def test_the_reading_distance_is_above_0(bad):
    assert refusal(a_job(reading_distance_mm=bad)).where == "--reading-distance"


@pytest.mark.parametrize("bad", [*NOT_FINITE, 0.0, -1.0, 2001.0])
@pytest.mark.parametrize("side", ["width_mm", "height_mm"])
def test_a_panel_has_two_sides(side, bad):
    sides = {"width_mm": 30.0, "height_mm": 20.0} | {side: bad}
    assert refusal(a_job(panel=Panel(**sides))).where == "--panel"


@pytest.mark.parametrize("bad", NOT_FINITE)
@pytest.mark.parametrize("field", ["width_mm", "height_mm", "x_mm", "y_mm"])
def test_an_area_kept_free_is_finite(field, bad):
    area = KeepFree(**({"width_mm": 3.0, "height_mm": 3.0} | {field: bad}))
    assert refusal(a_job(shape=Shape(keep_free=(area,)))).where == "--keep-free"


@pytest.mark.parametrize("field", ["case", "orientation", "reading", "centre", "break_words"])
def test_a_word_outside_an_enumeration_is_refused(field):
    """A plain string is no member, even a right one, so that later stages can rely on it."""
    assert refusal(a_job(**{field: "sideways"})).where == f"--{field.replace('_', '-')}"


@pytest.mark.parametrize("field", ["back", "measured", "binding_side"])
def test_a_word_of_the_back_outside_its_enumeration_is_refused(field):
    assert refusal(a_job(spine={field: "sideways"})).where == f"--{field.replace('_', '-')}"


@pytest.mark.parametrize("bads", [(40.0, math.nan), (math.inf, 80.0), (80.0, 40.0), (-4.0, 80.0)])
def test_positions_of_bands_that_cannot_be_are_refused_before_any_answer(bads):
    """By the resolver or by the division of the back, never by a traceback."""
    from spinefit.pipeline import check

    with pytest.raises(JobError):
        check(a_job(spine={"bands": 2, "bands_at_mm": bads}))


def test_typed_options_are_remembered():
    """What was typed is an error where it leaves nothing; a default is not."""
    spine = resolve(a_job(spine={"edge_mm": 1.0, "bands": 2})).spine
    assert spine.typed == {"width", "height", "edge", "bands"}
