"""Does HarfBuzz's own command line tool set the same glyphs?

``hb-shape`` is another build of HarfBuzz, often years older, driven by its own program: it
shows whether texts, features, axes and languages are handed over rightly. Then the lines that
are cut out of a title shaped once are held against the same lines shaped freshly, by us and
by ``hb-shape``.
"""

from __future__ import annotations

import itertools
import json
import os
import shutil
import subprocess
from dataclasses import dataclass
from typing import Any

import pytest

from spinefit import catalogue
from spinefit.catalogue import FontRow
from spinefit.job import Job, Lettering, Panel
from spinefit.job.resolve import resolve
from spinefit.shaping.font_setter import RunShaper
from spinefit.shaping.fontfile import OpenFont, open_font
from spinefit.shaping.glyphs import Box, union
from spinefit.shaping.run import ShapedRun
from spinefit.shaping.stack import shape_title
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import BreakWords, Case

HB_SHAPE = shutil.which("hb-shape")
needs_hb_shape = pytest.mark.skipif(
    HB_SHAPE is None and not os.environ.get("CI"), reason="there is no hb-shape here"
)

ROWS = catalogue.font_rows()
fonts = pytest.mark.parametrize("row", ROWS, ids=[row.name for row in ROWS])

ROUNDING_EM = 1e-9  # sums of the same numbers, added up in another order
# hb-shape writes whole font units, and rounds what a variable font puts between them.
WHOLE_UNITS = 0.501

TITLES = {
    "Latn": (
        "The Harbour Light",
        "A Short History of the Wreck Commissioners of the Inner Harbour",
        "Tide-Tables for the Years 1848–1870, Vol. 2",
        "AV To Ty LT Wa Yo. P, F. r, T- L’Avenir",
        "Officer’s fluff, fifth fjord; baffling shelf fi fl ffi",
        "Éphémérides de la gardienne du phare",
        "Der Seezeichenwärter: Straße, Fluß & Kniffliges Schiff",
        "ĲSSELMEER, Łódź, Ğ, Ș, Ţ, Ñandú",
        "W. A. T. Vly & Y. “Quoted” (2. Bd.)",
        "Jj Qq gyp fÄ fï f) f’ T. V, A’ ’A",
    ),
    "Grek": ("Ή θάλασσα και το λιμάνι", "ΛΙΜΑΝΙ ΤΟΥ ΑΥΓΟΥ", "Ύδρα, Ώρα και Άγκυρα: ΑΥΤΟ"),
    "Cyrl": ("Маяк у моря", "ГУДОК И ЁЛКА, ТАРАС", "Щука, Йод. Подъезд «Уголёк»"),
}


@dataclass(frozen=True)
class Setting:
    """A way of setting a text: what we are told and what ``hb-shape`` is told."""

    name: str
    features: tuple[tuple[str, bool], ...]

    @property
    def written(self) -> str:
        return ",".join(f"{tag}={int(on)}" for tag, on in self.features)


SETTINGS = (
    Setting("plain", ()),
    Setting("small capitals", (("smcp", True),)),
    Setting("no ligatures", (("liga", False), ("clig", False))),
    Setting("no kerning", (("kern", False),)),
)
settings = pytest.mark.parametrize("setting", SETTINGS, ids=[one.name for one in SETTINGS])


def _titles(row: FontRow) -> dict[str, tuple[str, ...]]:
    """The titles of each script of which the font has every character."""
    covered = open_font(row.name).shaper.covered()
    return {
        script: tuple(text for text in texts if covered >= set(map(ord, text)))
        for script, texts in TITLES.items()
        if script in row.scripts
    }


def _hb_shape(
    row: FontRow, script: str, texts: tuple[str, ...], *, features: str = "", language: str = "und"
) -> list[list[dict[str, Any]]]:
    """What ``hb-shape`` makes of each text, in font units."""
    assert HB_SHAPE is not None, "install Debian's libharfbuzz-bin: nothing else has hb-shape"
    words = [
        HB_SHAPE,
        str(catalogue.fonts_folder() / row.file),
        *("--text-file=-", "--output-format=json", "--no-glyph-names"),
        *(f"--script={script}", "--direction=ltr", f"--language={language}"),
    ]
    if features:
        words.append(f"--features={features}")
    if row.axes:
        words.append("--variations=" + ",".join(f"{tag}={at:g}" for tag, at in row.axes))
    done = subprocess.run(
        words, input="\n".join(texts), capture_output=True, text=True, encoding="utf-8", check=True
    )
    found = [json.loads(line) for line in done.stdout.splitlines()]
    assert len(found) == len(texts)
    return found


def _shaper(row: FontRow, setting: Setting, language: str | None = None) -> RunShaper:
    return RunShaper(
        open_font(row.name), language=language, features=dict(setting.features), tracking_em=0.0
    )


def _same(ours: list[Any], theirs: list[dict[str, Any]], upem: int) -> None:
    assert [glyph.gid for glyph in ours] == [glyph["g"] for glyph in theirs]
    assert [glyph.cluster for glyph in ours] == [glyph["cl"] for glyph in theirs]
    for name, key in (("advance_em", "ax"), ("x_em", "dx"), ("y_em", "dy")):
        figures = [getattr(glyph, name) * upem for glyph in ours]
        assert figures == pytest.approx([glyph[key] for glyph in theirs], abs=WHOLE_UNITS)


@needs_hb_shape
@fonts
@settings
def test_glyphs_and_advances_are_those_of_hb_shape(row: FontRow, setting: Setting) -> None:
    """Source: HarfBuzz's hb-shape, glyph numbers, clusters, advances and offsets."""
    shaper = _shaper(row, setting)
    shaped = 0
    for script, texts in _titles(row).items():
        for text, theirs in zip(
            texts, _hb_shape(row, script, texts, features=setting.written), strict=True
        ):
            _same(shaper.shape(text), theirs, shaper.font.shaper.upem)
            shaped += 1
    assert shaped >= 5


@needs_hb_shape
@fonts
def test_the_language_reaches_the_shaper(row: FontRow) -> None:
    """Source: hb-shape with a language; forms of Serbian, Romanian, Turkish, Dutch, Bulgarian."""
    covered = open_font(row.name).shaper.covered()
    for script, language, text in (
        ("Latn", "ro", "Povești și țărm"),
        ("Latn", "tr", "fiıl İLİ fi"),
        ("Latn", "nl", "IJzer íj́"),
        ("Latn", "ca", "Col·lecció"),
        ("Cyrl", "sr", "бгдпт Ђак"),
        ("Cyrl", "bg", "вгджзийклптцшщъьюя"),
    ):
        if script in row.scripts and covered >= set(map(ord, text)):
            (theirs,) = _hb_shape(row, script, (text,), language=language)
            _same(
                _shaper(row, SETTINGS[0], language).shape(text),
                theirs,
                open_font(row.name).shaper.upem,
            )


def test_features_change_what_is_set() -> None:
    """Source: the font's own tables; the comparisons above would otherwise compare nothing."""
    row = next(row for row in ROWS if row.name == "EB Garamond")
    shaped = {
        setting.name: [
            (glyph.gid, glyph.advance_em)
            for text in TITLES["Latn"][:6]
            for glyph in _shaper(row, setting).shape(text)
        ]
        for setting in SETTINGS
    }
    assert len({tuple(glyphs) for glyphs in shaped.values()}) == len(SETTINGS)


def _shaped(row: FontRow, text: str, case: Case) -> ShapedTitle:
    lettering = Lettering(font=row.name, case=case)
    panel = Panel(width_mm=30, height_mm=30)
    return shape_title(resolve(Job(title=text, panel=panel, lettering=lettering)))


def _runs(
    row: FontRow, text: str, modes: tuple[BreakWords, ...]
) -> list[tuple[RunShaper, ShapedRun]]:
    """The title shaped once in each case, and what shapes a line of it afresh."""
    cases = {Case.AS_TYPED: SETTINGS[0], Case.CAPITALS: SETTINGS[0]}
    if row.small_capitals and text.isascii():
        cases[Case.SMALL_CAPITALS] = SETTINGS[1]
    titles = {case: _shaped(row, text, case) for case in cases}
    return [
        (_shaper(row, cases[case], title.language), title.run_broken(mode))
        for case, title in titles.items()
        for mode in modes
    ]


def _lines(run: ShapedRun) -> list[tuple[int, int]]:
    return list(itertools.combinations_with_replacement(range(len(run.pieces)), 2))


def _fresh_ink(font: OpenFont, glyphs: list[tuple[int, float, float]]) -> Box:
    boxes = [(font.ink(gid), x, y) for gid, x, y in glyphs]
    found = union([(b[0] + x, b[1] + y, b[2] + x, b[3] + y) for b, x, y in boxes if b is not None])
    assert found is not None
    return found


def _compare_with_fresh_lines(row: FontRow, modes: tuple[BreakWords, ...]) -> None:
    compared = 0
    for text in itertools.chain.from_iterable(_titles(row).values()):
        for shaper, run in _runs(row, text, modes):
            for first, last in _lines(run):
                said, cut = run.line_text(first, last), run.line_ink(first, last)
                fresh = shaper.ink(shaper.shape(said))
                assert fresh is not None
                assert cut[2] - cut[0] == pytest.approx(fresh[2] - fresh[0], abs=ROUNDING_EM), said
                assert cut[1::2] == pytest.approx(fresh[1::2], abs=ROUNDING_EM), said
                compared += 1
    assert compared > 200


@fonts
def test_lines_cut_out_of_the_run_are_lines_freshly_shaped(row: FontRow) -> None:
    """Source: HarfBuzz, every possible line of every title shaped again on its own."""
    _compare_with_fresh_lines(row, (BreakWords.NEVER,))


@fonts
def test_lines_that_break_words_are_lines_freshly_shaped(row: FontRow) -> None:
    """Source: HarfBuzz, every line between breaks inside words, ligatures among them."""
    _compare_with_fresh_lines(row, (BreakWords.PLAIN, BreakWords.HYPHEN))


@needs_hb_shape
@fonts
def test_lines_cut_out_of_the_run_are_lines_of_hb_shape(row: FontRow) -> None:
    """Source: hb-shape, every possible line of every title; ink of each glyph as FreeType's."""
    font = open_font(row.name)
    em = 1 / font.shaper.upem
    for script, texts in _titles(row).items():
        runs = [_shaped(row, text, Case.AS_TYPED).run for text in texts]
        wanted = [(run, line) for run in runs for line in _lines(run)]
        lines = tuple(run.line_text(*line) for run, line in wanted)
        for (run, line), theirs in zip(wanted, _hb_shape(row, script, lines), strict=True):
            pen, glyphs = 0.0, []
            for glyph in theirs:
                glyphs.append((glyph["g"], (pen + glyph["dx"]) * em, glyph["dy"] * em))
                pen += glyph["ax"]
            ink, cut = _fresh_ink(font, glyphs), run.line_ink(*line)
            rounded = (WHOLE_UNITS * len(theirs) if row.axes else 0.0) * em + ROUNDING_EM
            assert cut[2] - cut[0] == pytest.approx(ink[2] - ink[0], abs=rounded)
            assert cut[1::2] == pytest.approx(ink[1::2], abs=rounded)
