"""Which way does the title run, asked as binders of different shelves would ask it?

Each case is one whole question, and what has to stand on the page. Where a custom has no source, or
loses ground, the page says so, and leaves it to the shelf that the book joins.
"""

from __future__ import annotations

import pytest

from spinefit import check, plan_back, plan_set
from spinefit.job import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.plan.model import BackPlan, BackText
from spinefit.vocabulary import (
    BindingSide,
    Firmness,
    Level,
    Orientation,
    Reading,
    Role,
    Status,
    Verdict,
)

PAPERBACK = Spine(width_mm=12.0, height_mm=210.0)
ALONG = Lettering(orientation=Orientation.LONGITUDINAL)


def asked(title: str, market: str, **more):
    return check(Job(title=title, spine=PAPERBACK, market=market, lettering=ALONG, **more))


def of_direction(report):
    """What the page says of the direction: one finding, so that nothing can contradict it."""
    (one,) = [
        found
        for found in report.findings
        if found.topic.startswith(("market-", "reading-"))
        and found.topic not in ("reading-right-bound", "reading-right-to-left")
    ]
    return one


@pytest.mark.parametrize(
    ("market", "firmness", "status", "level"),
    [
        ("FR", Firmness.USUAL, Status.PUBLISHED, Level.GOOD),
        ("CA", Firmness.USUAL, Status.PUBLISHED, Level.GOOD),
        ("CH", Firmness.USUAL, Status.REPORTED, Level.GOOD),
        ("BE", Firmness.MIXED, Status.MEMORY, Level.WARNING),
        ("LB", Firmness.MIXED, Status.MEMORY, Level.WARNING),
    ],
)
def test_a_french_title_ascends_where_french_is_read(market, firmness, status, level) -> None:
    """France, Canada and Switzerland have a source; Belgium and Lebanon rest on memory.

    All five books are bound at the left, those of Beirut too, whose Arabic ones are not.
    """
    report = asked("Le phare et la marée", market)
    said = of_direction(report)
    assert report.layouts[0].reading is Reading.ASCENDING
    assert report.verdict is Verdict.FITS
    assert (report.convention.firmness, report.convention.status) == (firmness, status)
    assert (said.level, said.status) == (level, status)
    assert "from tail to head" in said.text and "from head to tail" not in said.text
    assert "binding side: right" not in " ".join(report.assumed)


def test_the_same_shelf_in_montreal_has_english_titles_descending() -> None:
    """The general encyclopaedia for English, the government's term bank for French (published).

    PHARE may be either: then the page warns, and says that the language settles it.
    """
    english, unknown = asked("The Tide and the Light", "CA"), asked("PHARE", "CA")
    assert english.layouts[0].reading is Reading.DESCENDING
    assert "firm custom" in of_direction(english).text
    assert of_direction(unknown).level is Level.WARNING
    assert "--language" in of_direction(unknown).text
    assert asked("PHARE", "CA", language="fr-CA").layouts[0].reading is Reading.ASCENDING


def test_a_german_paperback_ascends_and_the_page_says_that_the_custom_weakens() -> None:
    """A typographers' forum has it ascending (reported), a Czech glossary over half descending."""
    report = asked("Der Hafen und das Licht", "DE")
    said = of_direction(report)
    assert report.layouts[0].reading is Reading.ASCENDING
    assert (said.level, said.status) == (Level.WARNING, Status.REPORTED)
    assert "over half of current German output descends" in said.text
    assert "usual" not in said.text  # what over half do not do is not usual


@pytest.mark.parametrize(
    ("title", "market", "reading", "standing"),
    [
        ("Il porto e la luce", "IT", Reading.DESCENDING, "are mixed"),
        ("Przystań i światło", "PL", Reading.DESCENDING, "are mixed"),
        ("Hafen und Licht", "AT", Reading.ASCENDING, "is not confirmed"),
        ("Harbour Lights", "KE", Reading.DESCENDING, "is not confirmed"),
        ("Pelabuhan", "ID", Reading.DESCENDING, "is not confirmed"),
        ("Harbour Lights", "SA", Reading.DESCENDING, "is not confirmed"),
        ("Harbour Lights", "UG", Reading.DESCENDING, "Nothing is known"),
    ],
)
def test_where_shelves_differ_or_no_source_is_known_the_list_decides(
    title, market, reading, standing
) -> None:
    """Italy by three who disagree, Poland by its standard and its shelves, the others recalled."""
    report = asked(title, market)
    said = of_direction(report)
    assert report.layouts[0].reading is reading
    assert standing in said.text and "match the list" in said.text and "--reading" in said.text
    assert "usual for the market" not in said.text.replace("What is usual for the market", "")
    assert "anticlockwise" not in said.text  # nothing of Arabic said of a title in Latin letters
    assert said.level is Level.WARNING and report.verdict is Verdict.FITS


def test_a_latin_title_on_a_japanese_book_descends_beside_the_columns() -> None:
    """A learners' forum (reported): turned clockwise, on right-bound books too."""
    said = of_direction(asked("Harbour Lights", "JP"))
    assert (said.level, said.status) == (Level.GOOD, Status.REPORTED)
    assert "column of upright characters is the firm custom" in said.text


def test_author_and_title_of_one_back_run_one_way() -> None:
    """The author's name has a French small word, the title English ones: the title decides."""
    texts = (
        BackText(role=Role.TITLE, text="The Tide and the Light"),
        BackText(role=Role.AUTHOR, text="A. de la Rive"),
    )
    plan = BackPlan(spine=PAPERBACK, texts=texts, market="CA", lettering=ALONG)
    report = plan_back(plan)
    ways = {
        text.report.layouts[text.report.recommended].reading
        for text in report.texts
        if text.report.recommended is not None
    }
    assert ways == {Reading.DESCENDING}
    assert any("English titles" in one for one in report.assumed)


def test_a_french_set_runs_one_way_though_one_title_has_no_small_word() -> None:
    """PHARES alone speaks no language; beside its sister it is French, and both ascend."""
    volumes = [
        (str(number), Job(title=title, spine=PAPERBACK, market="CA", lettering=ALONG))
        for number, title in enumerate(("La marée et le port", "PHARES"), 1)
    ]
    report = plan_set(volumes)
    assert report.fits
    assert report.pattern is not None and report.pattern.reading is Reading.ASCENDING


def test_a_french_book_of_beirut_is_bound_at_the_left() -> None:
    """Computed: it opens the way it is read."""
    spine = resolve(Job(title="Le phare et la marée", spine=PAPERBACK, market="LB")).spine
    assert spine is not None and spine.binding_side is BindingSide.LEFT
