"""Books on the bench: does the program reason as the handbooks do?

Each case names the passage it follows, or says that it is common practice, and checks which
rule decided, not a figure alone. Where authorities disagree both have to be named.
"""

from __future__ import annotations

import math

import pytest

from spinefit import Job, Lettering, Panel, Spine, check
from spinefit.backs import plan_set
from spinefit.say.model import FindingReport, LayoutReport, Report
from spinefit.say.remedies import remedies
from spinefit.vocabulary import (
    BackForm,
    Case,
    Firmness,
    Level,
    LimitedBy,
    Orientation,
    Reading,
    Status,
    Verdict,
)

ACROSS, ALONG = Orientation.TRANSVERSE, Orientation.LONGITUDINAL
INCH_MM = 25.4


def lettered(title: str, spine: Spine | None = None, **fields) -> Report:
    """The report on a title; whatever belongs to the lettering goes there."""
    lettering = {name: fields.pop(name) for name in [*fields] if name in Lettering.__annotations__}
    job = Job(title=title, spine=spine, lettering=Lettering(**lettering), **fields)
    return check(job, verify=True)


def advised(report: Report) -> LayoutReport:
    assert report.recommended is not None
    return report.layouts[report.recommended]


def decided(report: Report, topic: str) -> FindingReport:
    """The one finding of that topic on the job or on its advised setting."""
    own = advised(report).findings if report.recommended is not None else ()
    (found,) = (one for one in (*report.findings, *own) if one.topic == topic)
    return found


def topics(layout: LayoutReport) -> set[str]:
    return {finding.topic for finding in layout.findings}


def changes(report: Report) -> list[str]:
    return [remedy.change for remedy in remedies(report)]


def test_a_pamphlet_of_9_mm_is_lettered_along_from_the_head():
    """Pleger (1914), p. 250: a thin book along the back, beginning at the head.

    That a printed cover of 9 mm is not lettered across is common practice; 1 mm free at each
    joint is the printer's published rule for 5 to 10 mm.
    """
    report = lettered("The Harbour Light", Spine(width_mm=9, height_mm=210), market="GB")
    best = advised(report)
    assert (best.orientation, best.reading) == (ALONG, Reading.DESCENDING)
    assert len(best.lines) == 1
    why = decided(report, "across-narrow")
    assert (why.value, why.limit, why.status) == (9, 30, Status.PRACTICE)
    assert decided(report, "reading-follows").status is Status.PUBLISHED
    assert report.panel.width_mm == pytest.approx(7)
    assert any("1 mm kept free at each joint" in text for text in report.assumed)


def test_a_folio_of_five_bands_takes_its_title_in_the_second_panel():
    """American manual on rebinding, Finishing: Lettering: the title in the second panel.

    Cockerell, ch. VII: five bands, six parts, the tail part longer; ch. XV, fig. 95: along the
    back is avoided on a banded book. Pleger, p. 250: OF THE joins a neighbouring line.
    """
    folio = Spine(width_mm=55, height_mm=380, bands=5, back=BackForm.ROUNDED, rise_mm=10)
    report = lettered(
        "History of the Port of Wrackness",
        folio,
        method="hand-letters",
        market="GB",
        case=Case.CAPITALS,
    )
    assert report.panel.number == 2
    assert any("American manual" in text for text in report.assumed)
    assert any("Cockerell, ch. VII" in text for text in report.assumed)
    best = advised(report)
    assert best.orientation is ACROSS
    assert "Cockerell" in decided(report, "across-in-panel").source
    assert best.lines == ("HISTORY OF", "THE PORT OF", "WRACKNESS")
    larger = [one for one in report.layouts if one.fits and one.largest_pt > best.largest_pt]
    across = [one for one in larger if one.orientation is ACROSS]
    assert across
    assert all("words-alone" in topics(one) for one in across)  # sense before the last half point


def test_coriolanus_on_an_inch():
    """Cockerell, ch. XV, fig. 95: small across; broken better; along legible, only if forced."""
    back = Spine(width_mm=INCH_MM, height_mm=8 * INCH_MM, bands=5, back=BackForm.ROUNDED)
    report = lettered("Coriolanus", back, case=Case.CAPITALS)
    best = advised(report)
    assert (best.orientation, best.lines) == (ACROSS, ("CORIOLANUS",))
    assert "fig. 95" in decided(report, "across-in-panel").source
    assert decided(report, "legibility").level is Level.NOTE  # a streak of gold
    limit = decided(report, "legibility-limit")  # and no size in this setting mends it
    assert isinstance(limit.value, float)
    assert limit.value < limit.limit == 16
    order = changes(report)
    assert order.index("break-word") < order.index("over-bands") < order.index("cover")
    ways = {remedy.change: remedy for remedy in remedies(report)}
    assert ways["break-word"].largest_pt > 1.5 * best.largest_pt
    assert ways["over-bands"].text.startswith("Only if forced")
    assert not any(one.word_broken for one in report.layouts)  # Pleger, p. 250: never


def test_a_german_paperback_ascends_and_the_doubt_is_told():
    """Typographers' forum: usually ascending; against it a Czech glossary: over half descend.

    Authorities disagree (trade facts, section 11), so the shelf is to be matched, and the
    other way is no failure.
    """
    spine = Spine(width_mm=14, height_mm=190)
    report = lettered("Die Geschichte des Hafens", spine, market="DE")
    best = advised(report)
    assert (best.orientation, best.reading) == (ALONG, Reading.ASCENDING)
    assert report.convention.firmness is Firmness.USUAL
    assert "over half of current German output descends" in report.convention.note
    assert "descends" in decided(report, "reading-follows").text
    other = lettered("Die Geschichte des Hafens", spine, market="DE", reading=Reading.DESCENDING)
    against = decided(other, "reading-against")
    assert against.level is Level.NOTE
    assert "Match the list" in against.text
    assert other.verdict is report.verdict
    assert advised(other).largest_pt == pytest.approx(best.largest_pt, rel=0.01)


def test_a_book_of_4_mm_goes_on_the_side():
    """Cockerell, ch. XV: too thin for any lettering, put it on the side.

    Under 5 mm no type on the back: a UK book manufacturer's guidelines, the EU guide alike.
    """
    spine = Spine(width_mm=4, height_mm=210)
    report = lettered("Tide Tables", spine, method="blocked-case", market="GB")
    assert report.verdict is Verdict.DOES_NOT_FIT
    thin = decided(report, "thin-back")
    assert (thin.value, thin.limit, thin.status) == (4, 5, Status.PUBLISHED)
    (cover,) = remedies(report)  # nothing smaller serves, and nothing else is claimed
    assert cover.change == "cover"
    assert "front cover or board" in cover.text and "across it" in cover.text
    assert "148.5 x 210 mm" in cover.text  # ISO 216: the breadth is the height over root 2


def test_the_works_of_stevenson():
    """Cockerell, ch. XV, figs 91-94: four lines; the longest line rules, the longest word it.

    Longest lines of 35, 19, 12 and 9 places (trade facts, section 3.3, computed). A fifth line
    gives nothing more, since STEVENSON has 9 places itself: it would have to be broken.
    """
    report = lettered(
        "The Works of Robert Louis Stevenson",
        Spine(width_mm=1.5 * INCH_MM, height_mm=220, bands=5),
        method="hand-letters",
        case=Case.CAPITALS,
        orientation=ACROSS,
    )
    by_count = {len(one.lines): one for one in report.layouts}
    places = {count: max(map(len, one.lines)) for count, one in by_count.items()}
    assert places == {1: 35, 2: 19, 3: 12, 4: 9, 5: 9, 6: 9}
    best = advised(report)
    assert best.lines == ("THE WORKS", "OF ROBERT", "LOUIS", "STEVENSON")
    widest = max(best.line_widths_mm)
    assert best.line_widths_mm.index(widest) == best.lines.index("STEVENSON")
    assert by_count[3].largest_pt < best.largest_pt
    assert by_count[5].largest_pt == best.largest_pt
    assert "words-alone" in topics(by_count[5])  # what decided between four and five
    assert not any(one.word_broken for one in report.layouts)


def test_of_the_on_a_line_of_its_own():
    """Pleger, p. 250: OF THE joins a neighbour; against him Adam (1903), rule 2: it improves.

    Left free, the tool follows Pleger; where the binder breaks so, both are named, and no
    more than a note is made of it.
    """
    spine = Spine(width_mm=30, height_mm=200)
    free = lettered("Commissioners of the Port", spine, market="GB", orientation=ACROSS)
    assert advised(free).lines == ("Commissioners", "of the Port")
    assert "words-alone" not in topics(advised(free))
    forced = lettered("Commissioners / of the / Port", spine, market="GB")
    note = decided(forced, "words-alone")
    assert (note.value, note.level, note.status) == ("of the", Level.NOTE, Status.PUBLISHED)
    assert "Pleger (1914), p. 250" in note.source
    assert "against it Adam (1903), rule 2" in note.source
    assert forced.verdict is Verdict.FITS


def test_a_third_of_a_circle_holds_ink_to_45_degrees():
    """Zaehnsdorf (1890), ch. XI: about a third of a circle; the 45 degrees are computed.

    Chord 30: radius 17.32, arc 36.28, of which 27.21 lie within 45 degrees (trade facts,
    section 7). At the outside letters show 71 % of their width.
    """
    radius_mm = 15 / math.sin(math.radians(60))
    spine = Spine(width_mm=30, height_mm=220, back=BackForm.ROUNDED, radius_mm=radius_mm, edge_mm=1)
    report = lettered("Harbour / Commissioners", spine, orientation=ACROSS)
    assert report.panel.width_mm == pytest.approx(27.21, abs=5e-3)
    assert advised(report).limited_by is LimitedBy.ANGLE
    assert decided(report, "round-angle").limit == 45
    turned = decided(report, "foreshortened")
    assert turned.status is Status.COMPUTED
    assert math.cos(math.radians(45)) < turned.value < 0.866
    assert "of whose width the round shows" in decided(report, "legibility").text
    at_largest = lettered(
        "Harbour / Commissioners", spine, orientation=ACROSS, size_pt=advised(report).largest_pt
    )
    assert advised(at_largest).foreshortening == pytest.approx(0.7071, abs=1e-3)


def test_two_volumes_on_one_baseline():
    """Cockerell, ch. XV, fig. 115: the worst rules all, or a thin volume goes its own way.

    One height for the first baselines is common practice.
    """
    volumes = [
        (
            f"Vol. {number}",
            Job(
                title=f"Tide Tables / Vol. {number}",
                spine=Spine(width_mm=width_mm, height_mm=height_mm),
                market="GB",
            ),
        )
        for number, width_mm, height_mm in ((1, 22, 210), (2, 30, 214))
    ]
    report = plan_set(volumes)
    assert report.fits
    assert report.limiting == "Vol. 1"
    topic = {finding.topic: finding for finding in report.findings}
    assert "fig. 115" in topic["set-limit"].source
    assert topic["set-height"].status is Status.PRACTICE
    settings = [advised(volume.report) for volume in report.volumes]
    assert len({one.set_pt for one in settings}) == 1
    from_tail = [
        job.spine.height_mm - one.first_from_head_mm
        for one, (_label, job) in zip(settings, volumes, strict=True)
    ]
    assert from_tail[0] == pytest.approx(from_tail[1])
    assert from_tail[0] == pytest.approx(topic["set-height"].value)


def test_a_brazilian_thesis_descends():
    """ABNT NBR 12225, via Brazilian guides: across, or along from the head down.

    Against it the encyclopaedia counts Latin America with the Continent (ascending); the tool
    says so and leaves the choice.
    """
    spine = Spine(width_mm=12, height_mm=297)
    report = lettered("História do Porto", spine, market="BR", language="pt-BR")
    best = advised(report)
    assert (best.orientation, best.reading) == (ALONG, Reading.DESCENDING)
    follows = decided(report, "reading-follows")
    assert "NBR 12225" in follows.source
    assert follows.status is Status.PUBLISHED
    assert "ascending" in report.convention.note
    other = lettered(
        "História do Porto", spine, market="BR", language="pt-BR", reading=Reading.ASCENDING
    )
    assert decided(other, "reading-against").level is Level.NOTE


def test_a_label_already_cut_is_tight():
    """Common practice: a label pasted by hand is out by up to 0.5 mm, which the edge must hold.

    Tight is no failure: the ways out are a smaller size and a label cut anew, both verified.
    """
    cut = Panel(width_mm=22, height_mm=14)
    fields = {
        "panel": cut,
        "method": "paper-label",
        "font": "Alegreya Sans",
        "clearance_mm": 0.2,
        "lines": 2,
    }
    loose = lettered("The Harbour Light", size_pt=10, **fields)
    size_pt = math.floor(max(one.largest_pt for one in loose.layouts) * 10) / 10
    report = lettered("The Harbour Light", size_pt=size_pt, **fields)
    assert report.verdict is Verdict.TIGHT
    assert report.fits
    placing = decided(report, "placing")
    assert (placing.level, placing.limit, placing.status) == (Level.WARNING, 0.5, Status.PRACTICE)
    assert placing.value < 0.5
    ways = {remedy.change: remedy for remedy in remedies(report)}
    smaller = lettered(
        "The Harbour Light", **fields, size_pt=float(ways["smaller"].options.split()[1])
    )
    assert smaller.verdict is Verdict.FITS
    measures = ways["wider-label"].options.split()[1].removesuffix("mm").split("x")
    width_mm, height_mm = map(float, measures)
    wider = {**fields, "panel": Panel(width_mm=width_mm, height_mm=height_mm)}
    assert lettered("The Harbour Light", size_pt=size_pt, **wider).verdict is Verdict.FITS
    assert width_mm * height_mm < 1.2 * cut.width_mm * cut.height_mm
