"""Columns of upright characters, from the head down, the second to the left of the first."""

from __future__ import annotations

import itertools

import pytest

from spinefit import check
from spinefit.errors import FieldError
from spinefit.job import Job, Lettering, Panel, Spine
from spinefit.job.resolve import resolve
from spinefit.layout.group import placed_outlines
from spinefit.pipeline import check as run_check
from spinefit.say.model import LayoutReport, Report
from spinefit.shaping.font_setter import CELL, TURNED, UPRIGHT, set_column, stretches
from spinefit.shaping.glyphs import ink_box, union
from spinefit.shaping.stack import shape_title
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import Orientation, Reading

IPA = "/usr/share/fonts/opentype/ipafont-gothic/ipag.ttf"
LOG = "港の灯台日誌"


@pytest.fixture(scope="module")
def gothic(needs_font) -> str:
    return needs_font(IPA, "fonts-ipafont-gothic")


def _job(title: str, font: str, *, market: str | None = "JP", **keys: object) -> Job:
    lettering = Lettering(font=font, **keys)  # type: ignore[arg-type]
    return Job(
        title=title, spine=Spine(width_mm=14, height_mm=180), lettering=lettering, market=market
    )


def _title(title: str, font: str) -> ShapedTitle:
    panel = Panel(width_mm=30, height_mm=30)
    return shape_title(resolve(Job(title=title, panel=panel, lettering=Lettering(font=font))))


def _pillars(report: Report) -> list[LayoutReport]:
    return [one for one in report.layouts if one.orientation is Orientation.PILLAR]


def _ways(text: str, font: str) -> list[tuple[str, str]]:
    title = _title(text, font)
    return [(text[start:end], way) for start, end, way in stretches(text, title._shaper)]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (LOG, [(LOG, UPRIGHT)]),
        ("第12巻", [("第", UPRIGHT), ("12", CELL), ("巻", UPRIGHT)]),
        ("第3巻", [("第", UPRIGHT), ("3", CELL), ("巻", UPRIGHT)]),
        ("1870年", [("1870", TURNED), ("年", UPRIGHT)]),
        ("12.5米", [("12.5", TURNED), ("米", UPRIGHT)]),
        ("港HARBOUR灯", [("港", UPRIGHT), ("HARBOUR", TURNED), ("灯", UPRIGHT)]),
        ("港B2灯", [("港", UPRIGHT), ("B2", TURNED), ("灯", UPRIGHT)]),
        ("（上）ー。", [("（上）ー。", UPRIGHT)]),
    ],
)
def test_what_stands_and_what_is_turned(gothic, text, expected):
    """Source: UAX #50; brackets and the long vowel mark have vertical forms in this font."""
    assert _ways(text, gothic) == expected


def test_a_mark_without_a_vertical_form_is_turned(needs_font):
    """Source: UAX #50, Tr: this font has a form of the brackets and none of the colon."""
    font = needs_font(
        "/usr/share/fonts/truetype/arphic-gbsn00lp/gbsn00lp.ttf", "fonts-arphic-gbsn00lp"
    )
    assert _ways("（上）", font) == [("（上）", UPRIGHT)]
    assert _ways("上：下", font) == [("上", UPRIGHT), ("：", TURNED), ("下", UPRIGHT)]


def test_upright_characters_take_one_em_each(gothic):
    """Source: the font's vertical metrics: the pitch is the em (common practice in print)."""
    title = _title(LOG, gothic)
    assert title.column(LOG).length_em == pytest.approx(len(LOG))


def test_the_ink_box_is_that_of_the_outlines(gothic):
    for text in ("港の灯（上）ー。", "第12巻HARBOUR灯"):
        column = set_column(text, _title(text, gothic)._shaper)  # type: ignore[arg-type]
        boxes = []
        for outline, x, y in column.placed:
            left, bottom, right, top = ink_box(outline)  # type: ignore[misc]
            boxes.append((left + x, bottom + y, right + x, top + y))
        assert column.box == pytest.approx(union(boxes))


def test_a_column_is_advised_where_the_market_sets_upright(gothic):
    report = check(_job(LOG, gothic))
    assert report.recommended is not None
    best = report.layouts[report.recommended]
    assert (best.orientation, best.reading) == (Orientation.PILLAR, Reading.STACKED)
    assert best.lines == (LOG,)


@pytest.mark.parametrize(("market", "offered"), [("JP", True), ("CN", True), ("GB", False)])
def test_columns_are_offered_where_they_are_the_custom(gothic, market, offered):
    assert bool(_pillars(check(_job(LOG, gothic, market=market)))) is offered


def test_the_language_alone_is_enough(gothic):
    job = _job(LOG, gothic, market=None)
    said = Job(title=LOG, spine=job.spine, lettering=job.lettering, language="ja")
    assert _pillars(check(said))
    assert not _pillars(check(job))


def test_a_latin_title_there_is_no_column():
    assert not _pillars(check(_job("The Harbour Light", "EB Garamond")))


def test_the_second_column_stands_to_the_left(gothic):
    """Source: Japanese practice; the first cells stand level."""
    layouts = _layouts(_job("港の灯 / 日誌", gothic, orientation=Orientation.PILLAR))
    group = layouts[0].group
    assert group.texts == ("港の灯", "日誌")
    (first, first_top), (second, second_top) = group.columns_em
    assert second < first
    assert first_top == second_top


def _layouts(job: Job):
    from spinefit import catalogue
    from spinefit.geometry import usable_panel
    from spinefit.layout import search

    resolved = resolve(job)
    assert resolved.spine is not None
    panel = usable_panel(resolved.spine, resolved.shape, resolved.rules)
    words = catalogue.title_words(resolved.language)
    return search(resolved, shape_title(resolved), panel, words)


def test_outlines_lie_in_the_group_s_box(gothic):
    for layout in _layouts(_job(LOG, gothic, orientation=Orientation.PILLAR)):
        placed = placed_outlines(layout.title, layout.group, pillar=True)
        boxes = []
        for outline, x, y in placed:
            left, bottom, right, top = ink_box(outline)  # type: ignore[misc]
            boxes.append((left + x, bottom + y, right + x, top + y))
        assert union(boxes) == pytest.approx(layout.group.box)


def test_the_longest_column_is_as_short_as_can_be(gothic):
    """Against brute force over all splits in two."""
    text = "潮汐表、一八七〇年。港の灯"
    title = _title(text, gothic)
    (layout,) = _layouts(_job(text, gothic, orientation=Orientation.PILLAR, lines=2))
    starts = [piece.start for piece in title.run.pieces][1:]

    def length(part: str) -> float:
        box = title.column(part).box
        assert box is not None
        return box[3] - box[1]

    best = min(max(length(text[:at]), length(text[at:])) for at in starts)
    assert max(map(length, layout.group.texts)) == pytest.approx(best)


@pytest.mark.parametrize("text", ["潮汐表、一八七〇年。", "（上）港の灯「下」", "ハーバーッライト"])
def test_no_column_begins_or_ends_as_it_must_not(gothic, text):
    """Source: UAX #14 (kinsoku): no closing mark or small kana begins, no opener ends a column."""
    run = _title(text, gothic).run
    for before, after in itertools.pairwise(run.pieces):
        assert text[after.start] not in "、。）」ーッ"
        assert text[before.end - 1] not in "（「"


def test_columns_do_not_touch(gothic):
    report = run_check(
        _job("港の灯 / 日誌", gothic, orientation=Orientation.PILLAR, leading_em=0.1)
    )
    assert "leading-raised" in {found.topic for found in report.findings}
    (one,) = _pillars(report)[:1]
    assert one.ink_width_mm > sum(one.line_widths_mm)


def test_letters_that_join_are_not_stacked(needs_font):
    """Common practice: the joins would be lost; one clear line, nothing set."""
    amiri = needs_font(
        "/usr/share/fonts/opentype/fonts-hosny-amiri/Amiri-Regular.ttf", "fonts-hosny-amiri"
    )
    with pytest.raises(FieldError) as caught:
        check(_job("منارة", amiri, orientation=Orientation.PILLAR))
    assert "join" in str(caught.value)
    assert caught.value.where == "lettering.orientation"


def test_a_latin_pillar_is_one_column_still():
    with pytest.raises(FieldError, match="one column"):
        check(_job("Harbour / Light", "EB Garamond", orientation=Orientation.PILLAR))


def test_there_may_be_as_many_columns_as_there_are_pieces(gothic):
    report = check(_job("港灯", gothic))
    assert {len(one.lines) for one in _pillars(report)} == {1, 2}
