"""A title shaped once, and the ink of every line cut out of it."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from spinefit import catalogue
from spinefit.errors import FontError, MissingCharacterError
from spinefit.shaping.breaks import Piece
from spinefit.shaping.font_setter import RunShaper
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.run import ShapedRun

FONTS = [row.name for row in catalogue.font_rows()]
SMALL_CAPITALS = [row.name for row in catalogue.font_rows() if row.small_capitals]

# Words that kern with spaces and with each other, and make ligatures.
WORDS = (
    "The", "AV", "WAVY", "Tides,", "To", "Ty", "Y.", "“V”", "fi", "office", "affluent", "Th",
    "L’Aurore", "1870", "Vol.", "f", "j", "VA", "A", "Qu", "r.", "y", "(W)", "P,", "fj", "T",
)  # fmt: skip


def shaper(
    font: str, *, tracking: float = 0.0, smcp: bool = False, language: str | None = "en"
) -> RunShaper:
    features = {"smcp": True} if smcp else {}
    return RunShaper(open_font(font), language=language, features=features, tracking_em=tracking)


def pieces_of(words: list[str]) -> tuple[Piece, ...]:
    found, at = [], 0
    for word in words:
        found.append(Piece(at, at + len(word)))
        at += len(word) + 1
    return tuple(found)


def width_and_heights(box) -> tuple[float, float, float]:
    return box[2] - box[0], box[1], box[3]


def lists_agree(run: ShapedRun) -> None:
    """Widths, tops and bottoms in lists are those of the lines one by one, to the last bit."""
    last = len(run.pieces) - 1
    assert run.line_tops(last) == [run.line_ink(0, at)[3] for at in range(last + 1)]
    for first in range(last + 1):
        boxes = [run.line_ink(first, at) for at in range(first, last + 1)]
        assert run.line_widths(first, last) == [box[2] - box[0] for box in boxes]
        assert run.line_bottoms(first) == [
            run.line_ink(at, last)[1] for at in range(first, last + 1)
        ]
        assert run.line_tops(first) == run.line_tops(last)[: first + 1]


def lines_agree(run: ShapedRun, by: RunShaper) -> None:
    """Every line's ink, cut from the run, is that of the line shaped by itself."""
    lists_agree(run)
    count = len(run.pieces)
    for first in range(count):
        for last in range(first, count):
            fresh = by.ink(by.shape(run.line_text(first, last)))
            cut = run.line_ink(first, last)
            assert width_and_heights(cut) == pytest.approx(width_and_heights(fresh), abs=1e-9)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.sampled_from(FONTS),
    st.lists(st.sampled_from(WORDS), min_size=1, max_size=7),
    st.sampled_from([0.0, 0.05, -0.03]),
)
def test_slicing_equals_fresh_shaping_in_every_font(font, words, tracking):
    """Kerning with spaces, ligatures and tracking included."""
    by = shaper(font, tracking=tracking)
    lines_agree(ShapedRun(by, " ".join(words), pieces_of(words), ""), by)


@pytest.mark.parametrize("tracking", [-0.6, -1.5])
def test_lines_are_as_wide_as_their_ink_where_letters_go_backwards(tracking):
    """Tracked so tightly, the last word does not reach furthest, nor the first begin."""
    words = ["WAVY", "i", "AVATAR", "l", "The"]
    run = ShapedRun(shaper("EB Garamond", tracking=tracking), " ".join(words), pieces_of(words), "")
    lists_agree(run)
    assert run.line_widths(0, 4)[4] > run.line_ink(4, 4)[2] - run.line_ink(0, 0)[0]


@settings(max_examples=40, deadline=None)
@given(st.sampled_from(SMALL_CAPITALS), st.lists(st.sampled_from(WORDS), min_size=1, max_size=6))
def test_slicing_equals_fresh_shaping_in_small_capitals(font, words):
    by = shaper(font, smcp=True)
    lines_agree(ShapedRun(by, " ".join(words), pieces_of(words), ""), by)


def test_a_break_inside_a_ligature_is_shaped_afresh():
    """The l of affluent, parted from its ligature, kerns with the u that follows it."""
    by = shaper("EB Garamond Bold")
    pieces = (Piece(0, 3, in_word=True), Piece(3, 8), Piece(9, 15))
    lines_agree(ShapedRun(by, "affluent AVATAR", pieces, ""), by)


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(FONTS),
    st.lists(
        st.sampled_from(["AVATAR", "affluent", "office", "Typeface", "WAVY"]),
        min_size=1,
        max_size=3,
    ),
    st.sampled_from(["", "-"]),
    st.data(),
)
def test_slicing_inside_words_equals_fresh_shaping(font, words, suffix, data):
    """Also where the break goes through a kerned pair or a ligature, with or without a hyphen."""
    pieces: list[Piece] = []
    for piece in pieces_of(words):
        cut = data.draw(st.integers(piece.start + 1, piece.end - 1))
        pieces += [Piece(piece.start, cut, in_word=True), Piece(cut, piece.end)]
    by = shaper(font)
    run = ShapedRun(by, " ".join(words), tuple(pieces), suffix)
    lines_agree(run, by)
    assert run.line_text(0, 0).endswith(suffix)
    assert run.line_text(0, len(pieces) - 1) == " ".join(words)


@pytest.mark.parametrize(
    ("font", "words"),
    [
        ("EB Garamond", ["Φάρος", "στο", "λιμάνι"]),
        ("EB Garamond", ["Маяк", "в", "гавани"]),
        ("Source Serif 4", ["Λιμάνι", "Harbour", "Гавань"]),
    ],
)
def test_other_scripts_slice_alike(font, words):
    by = shaper(font, language=None)
    lines_agree(ShapedRun(by, " ".join(words), pieces_of(words), ""), by)


@pytest.mark.parametrize("font", FONTS)
def test_kerning_across_the_break_is_not_kept(font):
    """A line's width is its own: each word of a title has the width of the word alone."""
    by = shaper(font)
    run = ShapedRun(by, "AV To Y.", pieces_of(["AV", "To", "Y."]), "")
    for at, word in enumerate(("AV", "To", "Y.")):
        alone = by.ink(by.shape(word))
        assert width_and_heights(run.line_ink(at, at)) == pytest.approx(width_and_heights(alone))


def test_ink_ignores_spaces():
    """A space at either end adds nothing; one between words adds its advance only."""
    by = shaper("EB Garamond")
    bare = by.ink(by.shape("Tides"))
    assert by.ink(by.shape("Tides   ")) == pytest.approx(bare)
    before = by.ink(by.shape("  Tides"))
    assert before[2] - before[0] == pytest.approx(bare[2] - bare[0])
    assert by.ink(by.shape("   ")) is None


def test_tracking_adds_between_letters_and_not_after_the_last():
    """Three letters have two gaps; ink at the ends has none."""
    for font in FONTS:
        plain, wide = (
            RunShaper(
                open_font(font),
                language="en",
                features={"liga": False, "clig": False},
                tracking_em=tracking,
            )
            for tracking in (0.0, 0.1)
        )
        boxes = [by.ink(by.shape("HIM")) for by in (plain, wide)]
        widths = [box[2] - box[0] for box in boxes]
        assert widths[1] - widths[0] == pytest.approx(0.2, abs=1e-9)


@pytest.mark.parametrize("font", ["EB Garamond", "Source Serif 4"])
def test_tracking_switches_ligatures_off(font):
    """The glyphs of fi are two once letters are spaced."""
    assert len(shaper(font).shape("fi")) == 1
    assert len(shaper(font, tracking=0.02).shape("fi")) == 2


def test_letters_with_marks_are_tracked_as_one():
    """No space comes between a letter and its mark."""
    text = "A\u0323\u0301M"
    plain, wide = (shaper("EB Garamond", tracking=tracking) for tracking in (0.0, 0.1))
    boxes = [by.ink(by.shape(text)) for by in (plain, wide)]
    assert (boxes[1][2] - boxes[1][0]) - (boxes[0][2] - boxes[0][0]) == pytest.approx(0.1)


@pytest.mark.parametrize("font", FONTS)
def test_missing_characters_are_named_and_a_font_that_has_them_is_offered(font):
    """Every font offered has every letter of the title."""
    for text in ("Tides 港", "Φάρος", "Маяк", "אור"):
        try:
            shaper(font, language=None).shape(text)
        except MissingCharacterError as fault:
            lacking = [
                char
                for char in text
                if not char.isspace() and not open_font(font).shaper.nominal(char)
            ]
            assert lacking
            assert any(f"U+{ord(char):04X}" in fault.what for char in lacking)
            named = [part.split()[0] for part in fault.what.split("U+")[1:]]
            assert all(chr(int(code.strip(","), 16)) in lacking for code in named)
            assert fault.where == "--font"
            offered = [name for name in FONTS if f"--font '{name}'" in fault.remedy]
            assert all(
                open_font(name).shaper.nominal(char)
                for name in offered
                for char in text
                if not char.isspace()
            )
            whole = [
                name
                for name in FONTS
                if all(open_font(name).shaper.nominal(char) for char in text if char != " ")
            ]
            assert bool(offered) == bool(whole)
        else:
            assert all(open_font(font).shaper.nominal(char) for char in text)


def test_a_title_without_ink_is_refused():
    by = shaper("EB Garamond")
    with pytest.raises(FontError, match="no ink"):
        ShapedRun(by, "\u2060", (Piece(0, 1),), "")


def test_scripts_are_shaped_one_after_another():
    """A mixed title is as wide as its runs in a row, and its clusters count through."""
    by = shaper("Source Serif 4", language=None)
    whole = by.shape("Tide Λιμάνι")
    parts = [*by.shape("Tide "), *by.shape("Λιμάνι")]
    assert [glyph.gid for glyph in whole] == [glyph.gid for glyph in parts]
    assert sum(glyph.advance_em for glyph in whole) == pytest.approx(
        sum(glyph.advance_em for glyph in parts)
    )
    assert [glyph.cluster for glyph in whole] == list(range(len("Tide Λιμάνι")))


@pytest.mark.parametrize("font", FONTS)
def test_placed_glyphs_have_the_ink_that_was_measured(font):
    """What is drawn is what was sized."""
    from spinefit.shaping.glyphs import ink_box, union

    by = shaper(font, tracking=0.03)
    boxes = []
    placed, ink = by.set_line("Harbour, Vol. 2")
    for outline, x, y in placed:
        box = ink_box(outline)
        boxes.append((box[0] + x, box[1] + y, box[2] + x, box[3] + y))
    assert union(boxes) == pytest.approx(ink)
    assert ink == by.ink(by.shape("Harbour, Vol. 2"))
