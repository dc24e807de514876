"""A title in a script that no font at hand has is set in an installed font, and told so."""

from __future__ import annotations

from pathlib import Path

import pytest

from spinefit import BackPlan, BackText, check, plan_back
from spinefit.errors import MissingCharacterError
from spinefit.job import Job, Lettering, Spine
from spinefit.shaping import choosing
from spinefit.shaping.faces import Installed, face_of
from spinefit.shaping.font_setter import open_fonts
from spinefit.vocabulary import Role
from tests.fonts.conftest import build

HEBREW = "אבגדהוזחטיכלמנסעפצקרשתםןץףך"
SPINE = Spine(width_mm=20.0, height_mm=200.0)


def _font(
    folder: Path, name: str, chars: str, style: str = "Regular", page: int | None = None
) -> Installed:
    """A font of bars whose letters are mapped to other characters."""
    font = build(family=name, style=style)
    if page is not None:
        font["OS/2"].version, font["OS/2"].ulCodePageRange1 = 1, 1 << page
        font["OS/2"].ulCodePageRange2 = 0
    bars = [glyph for glyph in font.getGlyphOrder() if len(glyph) == 1]
    for table in font["cmap"].tables:
        table.cmap.update({ord(char): bars[at % len(bars)] for at, char in enumerate(chars)})
    path = folder / f"{name}-{style}.ttf".replace(" ", "")
    font.save(path)
    return Installed(str(path), face_of(path.read_bytes(), 1))


@pytest.fixture
def installed(monkeypatch, tmp_path):
    """What the system says it has."""

    def say(*fonts: Installed) -> None:
        monkeypatch.setattr(choosing, "installed_fonts", lambda: (fonts, 0))

    say.folder = tmp_path
    return say


def test_an_installed_font_of_its_script_is_taken_and_named(installed):
    plain = _font(installed.folder, "Wrackness Stones", HEBREW)
    slanted = _font(installed.folder, "Wrackness Alef", HEBREW, "Italic")
    latin = _font(installed.folder, "Wrackness Aaa", "")
    installed(latin, slanted, plain)
    report = check(Job(title="אור הים", spine=SPINE))
    assert report.font.name == "Wrackness Stones"
    told = [words for words in report.assumed if words.startswith("font:")]
    assert told == ["font: Wrackness Stones, installed, as EB Garamond lacks the title's script"]
    assert check(Job(title="Tides", spine=SPINE)).font.name == "EB Garamond"


@pytest.mark.parametrize(
    ("title", "market", "language", "name"),
    [
        ("港の灯", None, None, "Wrackness Z Japanese"),
        ("港灯", "JP", None, "Wrackness Z Japanese"),
        ("港灯", None, "zh-Hant-TW", "Wrackness Y Taiwan"),
        ("港灯", "CN", None, "Wrackness X Mainland"),
        ("港灯", None, None, "Wrackness A"),
    ],
)
def test_an_east_asian_title_is_set_in_its_own_hand(installed, title, market, language, name):
    """Han characters look otherwise in each; by its letters, its language or its market."""
    pages = {"A": None, "X Mainland": 18, "Y Taiwan": 20, "Z Japanese": 17}
    installed(
        *(_font(installed.folder, f"Wrackness {one}", "港の灯", page=page)
          for one, page in pages.items())
    )  # fmt: skip
    report = check(Job(title=title, spine=SPINE, market=market, language=language))
    assert report.font.name == name


def test_the_font_that_a_method_tries_last_gives_way_too(installed):
    installed(_font(installed.folder, "Wrackness Stones", HEBREW))
    job = Job(title="אור הים", spine=SPINE, method="leather-label")
    assert check(job).font.name == "Wrackness Stones"
    greek = Job(title="Λιμάνι", spine=SPINE, method="leather-label")
    assert check(greek).font.name == "IBM Plex Sans Var"  # at hand


def test_of_several_texts_each_font_is_told(installed):
    installed(_font(installed.folder, "Wrackness Stones", HEBREW))
    texts = (BackText(text="A. Wrack", role=Role.AUTHOR), BackText(text="אור הים", role=Role.TITLE))
    report = plan_back(BackPlan(spine=SPINE, texts=texts))
    assert [words for words in report.assumed if words.startswith("font:")] == [
        "font: EB Garamond",
        "font: Wrackness Stones, installed, as EB Garamond lacks the title's script",
    ]


def test_a_font_that_was_named_stays(installed):
    installed(_font(installed.folder, "Wrackness Stones", HEBREW))
    job = Job(title="אור", spine=SPINE, lettering=Lettering(font="Cinzel"))
    with pytest.raises(MissingCharacterError, match="Cinzel has no א"):
        check(job)


def test_a_letter_of_a_script_at_hand_is_refused_as_before(installed):
    """No other face for one rare letter, nor for a sign that is none."""
    installed(_font(installed.folder, "Wrackness Signs", HEBREW + "♜ꞁ"))
    for title in ("Tides ♜", "Tides ꞁ"):
        with pytest.raises(MissingCharacterError):
            check(Job(title=title, spine=SPINE))


@pytest.mark.parametrize(
    ("title", "name"), [("אור", "Noto Serif Hebrew"), ("ሰላም", "Noto Serif Ethiopic")]
)
def test_without_one_the_refusal_names_an_open_font(installed, title, name):
    installed()
    with pytest.raises(MissingCharacterError) as fault:
        check(Job(title=title, spine=SPINE))
    assert f"such as the open {name}" in fault.value.remedy


def test_every_script_has_its_open_font():
    assert open_fonts("港の") == ["Noto Serif CJK SC", "Noto Serif CJK JP"]
    assert open_fonts("1 &") == []
