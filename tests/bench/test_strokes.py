"""Foil, film and hand letters on the bench: what their letters may be, and which font serves.

The grades by stock and by die are recalled (memory), but for the two figures that a die maker
publishes; the margins' standing is named where they decide.
"""

from __future__ import annotations

import pytest

from spinefit import Job, Lettering, Spine, check
from spinefit.backs import plan_set
from spinefit.errors import FieldError
from spinefit.say.model import FindingReport, LayoutReport, Report
from spinefit.say.remedies import remedies
from spinefit.vocabulary import Die, Level, Stock, Verdict

TEXT_FACES = ("EB Garamond", "Libre Baskerville", "Source Serif 4")
TITLES = ("The Harbour Light", "History of the Port of Wrackness", "Tides & Currents")


def advised(report: Report) -> LayoutReport:
    assert report.recommended is not None
    return report.layouts[report.recommended]


def warned(report: Report, topic: str = "finer-than-advised") -> list[FindingReport]:
    found = [one for one in advised(report).findings if one.topic == topic]
    assert all(one.level is Level.WARNING for one in found)
    return found


def on_back(title: str, font: str | None, size_pt: float | None, width_mm: float = 45.0, **said):
    spine = Spine(width_mm=width_mm, height_mm=230.0)
    return check(Job(title=title, spine=spine, lettering=Lettering(font=font, size_pt=size_pt),
                     **said))  # fmt: skip


@pytest.mark.parametrize("title", TITLES)
@pytest.mark.parametrize("font", TEXT_FACES)
def test_text_faces_fit_at_the_sizes_the_trade_works_in(font, title):
    """12 pt in gold on a leather label, 14 pt on the cloth of a case: everyday work, with a proof.

    Trade facts, section 5: a figure asked for a drawn line is no limit for type; hairlines of
    ordinary faces in foil are a warning (memory).
    """
    label = on_back(title, font, 12.0, method="leather-label")
    case = on_back(title, font, 14.0, method="blocked-case", stock=Stock.FINE_CLOTH)
    for report in (label, case):
        assert report.verdict is Verdict.FITS
        strokes = warned(report)[0]
        assert (strokes.limit, strokes.unit) == (0.2, "mm") and strokes.value < 0.2
        assert "Hairlines may break" in strokes.text and "Ask for a proof" in strokes.text


def test_at_fourteen_points_on_leather_with_brass_all_is_as_asked():
    """Trade figures (memory, computed): 0.12 and 0.35 mm are asked; 14 pt has 0.14 and 0.48."""
    brass = {"method": "leather-label", "die": Die.BRASS}
    report = on_back("The Harbour Light", "EB Garamond", 14.0, **brass)
    assert not warned(report)
    (good,) = [one for one in advised(report).findings if one.topic == "letters-as-asked"]
    assert (good.level, good.limit) == (Level.GOOD, 0.12)


@pytest.mark.parametrize("font", TEXT_FACES)
def test_five_points_on_cloth_do_not_fit(font):
    """Common practice: foil on bookcloth from 9 pt up."""
    report = on_back("The Harbour Light", font, 5.0, method="blocked-case")
    assert report.verdict is Verdict.DOES_NOT_FIT


@pytest.mark.parametrize("font", TEXT_FACES)
def test_a_light_serif_in_cut_vinyl_does_not_fit(font):
    """Strokes under 0.8 mm cannot be weeded (common practice); a sturdy letter is offered."""
    report = on_back("The Harbour Light", font, None, 20.0, method="transfer-vinyl")
    assert report.verdict is Verdict.DOES_NOT_FIT
    assert any(one.topic == "thin-stroke" for each in report.layouts for one in each.findings)


def test_the_warning_names_letters_and_a_sturdier_face_with_its_size():
    """The eye of e is 0.41 mm at 12 pt (computed), and magnesium asks for 0.5 (published)."""
    report = on_back("The Harbour Light", "EB Garamond", 12.0, method="leather-label")
    strokes, counters = warned(report)
    assert "is sturdier, and takes 12 pt here" in strokes.text
    assert counters.value == pytest.approx(0.41, abs=0.005)
    assert (counters.limit, counters.status) == (0.5, "published")
    assert "Counters may fill: those of e, a" in counters.text


def test_nobodys_default_refuses_gold_on_leather():
    """No font named: a roman with serifs that holds, and the report says which and why."""
    report = on_back("The Harbour Light", None, None, 32.0, method="leather-label")
    assert report.verdict is Verdict.FITS
    (said,) = [line for line in report.assumed if line.startswith("font:")]
    assert said == (
        f"font: {report.font.name}, the sturdiest at hand with serifs, as a foil-blocked leather "
        "label needs a sturdy letter"
    )


def test_a_narrow_back_takes_a_sturdier_letter_than_a_serif():
    """A label on 10 mm leaves 7 pt, where no serif holds; a sans does, and is taken."""
    report = on_back("History of the Port of Wrackness", None, None, 10.0, method="leather-label")
    assert report.verdict is not Verdict.DOES_NOT_FIT
    assert "Sans" in report.font.name


def test_vinyl_takes_a_bold_sans():
    """Common practice: a bold sans, no hairlines; and from the smallest size that it holds."""
    report = on_back("The Harbour Light", None, None, 30.0, method="transfer-vinyl")
    assert report.verdict is Verdict.FITS
    assert report.font.name == "Fira Sans Condensed Bold"
    assert advised(report).set_pt < 30


def test_a_greek_title_in_gold_takes_a_letter_that_has_its_alphabet():
    report = on_back("Λιμάνι", None, None, 32.0, method="leather-label", market="GR")
    assert report.fits


def test_raised_bands_are_handwork():
    """A folio of five bands: hand letters in the sizes of a drawer, and nothing of printers.

    That bands are lettered by hand is common practice; the edge is a little in from the joint
    (Zaehnsdorf, 1890).
    """
    spine = Spine(width_mm=45.0, height_mm=300.0, bands=5)
    report = check(Job(title="History of the Port of Wrackness", spine=spine))
    assert "method: a set of hand letters, since raised bands are handwork" in report.assumed
    assert advised(report).set_pt in (8, 10, 12, 14, 18, 24)
    said = [one.text for one in report.findings] + list(report.assumed)
    assert not any("printer" in text or "trim" in text for text in said)


@pytest.mark.parametrize("width_mm", [8.0, 20.0, 35.0])
def test_a_case_is_lettered_two_millimetres_less_than_its_bulk(width_mm):
    """Lettering of a case no wider than the bulk (published), 2 mm less for drift (practice).

    Heights count from the board's head, squares included: nothing is trimmed there.
    """
    report = on_back("Tides", None, None, width_mm, method="blocked-case")
    assert report.panel.width_mm == pytest.approx(width_mm - 2)
    assert any("Guidelines for Brasses and Artwork" in text for text in report.assumed)
    assert not any("trims" in text for text in report.assumed)


def test_a_thin_pamphlet_printed_keeps_the_printers_rule():
    """A paperback of 9 mm keeps 1 mm at each fold and 4 mm from the trims (published)."""
    report = on_back("Tides", None, None, 9.0)
    assert report.panel.width_mm == pytest.approx(7)
    assert any("4 mm kept free" in text and "trims" in text for text in report.assumed)


def test_a_stock_or_a_die_without_a_method_means_foil():
    """And what is not blocked has neither."""
    report = on_back("Tides", None, None, 30.0, stock=Stock.COARSE_CLOTH)
    assert "method: a foil-blocked case" in report.assumed
    with pytest.raises(FieldError, match="a printed paper label is not blocked with foil"):
        on_back("Tides", None, None, 30.0, method="paper-label", die=Die.BRASS)


def test_letters_closed_up_until_they_touch_are_spoilt_in_foil_and_film():
    """Common practice: foil bridges, and film is one piece; on paper it is a matter of looks."""
    said = {"font": "Libre Baskerville Bold", "size_pt": None, "width_mm": 40.0}
    for method in ("blocked-case", "transfer-vinyl"):
        report = closed_up("Tide Mill", -100, method=method, **said)
        assert report.verdict is Verdict.DOES_NOT_FIT
        assert "M and i touch and run together" in report.answer
        (remedy,) = [one for one in remedies(report) if one.change == "tracking"]
        assert remedy.options == "--tracking 0"
    assert closed_up("Tide Mill", -100, method="paperback-cover", **said).fits
    assert closed_up("Tide Mill", -20, method="blocked-case", **said).fits


def closed_up(title: str, tracking: float, *, font: str, size_pt: float | None, width_mm: float,
              method: str) -> Report:  # fmt: skip
    lettering = Lettering(font=font, size_pt=size_pt, tracking=tracking)
    spine = Spine(width_mm=width_mm, height_mm=230.0)
    return check(Job(title=title, spine=spine, lettering=lettering, method=method))


def test_a_ligature_is_no_touching():
    """One glyph is one piece as it was drawn."""
    report = on_back("Fish fillets", "EB Garamond", 40.0, 60.0, method="leather-label")
    assert report.fits


def test_dots_lost_in_weeding_are_named_and_open_mouths_noted():
    """Dots under a millimetre are lost (memory); an aperture is open, and only wants care."""
    small = on_back("Tidings: é", "EB Garamond", 14.0, 40.0, method="transfer-vinyl")
    (lost,) = [one for one in small.layouts[0].findings if one.topic == "parts-lost"]
    assert lost.level is Level.WARNING and lost.value < lost.limit == 1
    assert "Dots, points or accents of i, :, é are under 1 mm" in lost.text
    bold = on_back("Tidings", "Fira Sans Condensed Bold", 28.0, 40.0, method="transfer-vinyl")
    (noted,) = [one for one in advised(bold).findings if one.topic == "narrow-apertures"]
    assert noted.level is Level.NOTE and "openings of g, s" in noted.text
    assert not any(one.topic == "parts-lost" for one in advised(bold).findings)


def test_a_volume_of_a_set_takes_the_font_that_serves_all():
    """One font for a set: where the thin volume holds no serif, none has one."""
    volumes = [
        (f"{number}", Job(title=f"Annals of the Harbour {number}", method="leather-label",
                          spine=Spine(width_mm=width_mm, height_mm=230.0)))
        for number, width_mm in ((1, 34.0), (2, 30.0))
    ]  # fmt: skip
    report = plan_set(volumes)
    assert report.fits
    assert len({one.report.font.name for one in report.volumes}) == 1
