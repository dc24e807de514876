"""Installed fonts: found by the names menus show, listed by what they can do.

The machine's own fonts are replaced by a folder of fonts made here, but for one test that
holds what the library says against ``fc-list``, fontconfig's own program.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path

import pytest
from click.testing import CliRunner
from fontTools.ttLib import TTFont

from spinefit import catalogue
from spinefit.cli.main import main
from spinefit.errors import FontNotFoundError
from spinefit.shaping import faces, open_font

FC_LIST = shutil.which("fc-list")
BACK = ("--width", "25mm", "--height", "200mm")


@pytest.fixture
def machine(make_font, collection, tmp_path, monkeypatch):
    """A machine with these fonts, one broken file and one that is gone."""
    broken = tmp_path / "broken.ttf"
    broken.write_bytes(b"\0\1\0\0" + bytes(60))
    paths = [
        make_font(),
        make_font(name="quay.ttf", family="Quay", style="Bold Italic", chars="HIx "),
        make_font("wght", "wdth", name="flex.ttf", family="Wrackness Flex"),
        make_font(name="garamond.ttf", family="EB Garamond"),
        collection,
        broken,
        tmp_path / "gone.ttf",
    ]
    monkeypatch.setattr(faces, "_paths", lambda: [str(path) for path in paths])
    monkeypatch.setattr(faces, "_cache_file", lambda: tmp_path / "cache" / "fonts.json")
    faces.installed_fonts.cache_clear()
    faces._names.cache_clear()
    yield {path.name: path for path in paths}
    faces.installed_fonts.cache_clear()
    faces._names.cache_clear()


def listed(*words):
    done = CliRunner().invoke(main, ["fonts", "--installed", "--format", "json", *words])
    assert (done.exit_code, done.stderr) == (0, "")
    return json.loads(done.stdout)


@pytest.mark.parametrize(
    ("typed", "name", "face", "axes"),
    [
        ("Wrackness Bars", "Wrackness Bars", 1, ()),
        ("wrackness-bars regular", "Wrackness Bars", 1, ()),
        ("QUAY BOLD ITALIC", "Quay Bold Italic", 1, ()),
        ("quay-bolditalic", "Quay Bold Italic", 1, ()),
        ("Harbour Bold", "Harbour Bold", 2, ()),
        ("Harbour Flex", "Harbour Flex", 3, (("wght", 400.0),)),
        ("Wrackness Flex SemiBold", "Wrackness Flex SemiBold", 1,
         (("wght", 600.0), ("wdth", 100.0))),
        ("wrackness flex black", "Wrackness Flex Black", 1, (("wght", 900.0), ("wdth", 100.0))),
    ],
)  # fmt: skip
def test_a_font_is_found_by_its_name(machine, typed, name, face, axes):
    font = open_font(typed)
    assert (font.name, font.face, font.axes) == (name, face, axes)
    assert Path(font.file) in machine.values()


def test_axes_may_be_set_on_top_of_a_named_instance(machine):
    font = open_font("Wrackness Flex SemiBold", axes=(("wdth", 75.0),))
    assert dict(font.axes) == {"wght": 600.0, "wdth": 75.0}


def test_of_one_name_the_bundled_font_is_taken(machine):
    """So that an answer is the same on every machine; the installed one has its file."""
    bundled = open_font("EB Garamond")
    assert bundled.file == "eb-garamond/EBGaramond-Regular.ttf"
    own = open_font(str(machine["garamond.ttf"]))
    assert own.sha256 != bundled.sha256


def test_a_name_that_is_wrong_gets_the_nearest(machine):
    done = CliRunner().invoke(main, ["check", "Tides", *BACK, "--font", "Quay Bald Italic"])
    assert (done.exit_code, done.stdout) == (2, "")
    assert "did you mean 'Quay Bold Italic'?" in done.stderr
    assert done.stderr.count("\n") == 1


def test_broken_fonts_are_passed_over_and_counted(machine):
    found = listed()
    assert found["skipped"] == 2
    names = [one["name"] for one in found["installed"]]
    assert names == sorted(names, key=str.casefold)
    assert len(names) == 7
    text = CliRunner().invoke(main, ["fonts", "--installed"]).stdout
    assert text.endswith("2 installed files are no fonts that can be measured, and left out.\n")


@pytest.mark.parametrize(
    ("words", "names"),
    [
        (("quay",), ["Quay Bold Italic"]),
        (("wrackness*",), ["Wrackness Bars", "Wrackness Flex"]),
        (("--weight", "bold", "wrackness"), ["Wrackness Flex"]),
        (("--weight", "850..1000", "--width", "ultra-condensed"), ["Wrackness Flex"]),
        (("--width", "50%"), ["Wrackness Flex"]),
        (("--covers", "HI x", "quay"), ["Quay Bold Italic"]),
        (("--covers", "HI q", "quay"), []),
        (("nothing of that name",), []),
    ],
)  # fmt: skip
def test_the_list_is_narrowed(machine, words, names):
    assert [one["name"] for one in listed(*words)["installed"]] == names


def test_bundled_fonts_are_narrowed_by_the_same_words():
    """Coverage as fontTools reads it, weight as their names have it."""
    done = CliRunner().invoke(main, ["fonts", "--covers", "Маяк", "--format", "json"])
    folder = catalogue.fonts_folder()
    covering = [
        row.name
        for row in catalogue.font_rows()
        if set(map(ord, "Маяк")) <= set(TTFont(folder / row.file).getBestCmap())
    ]
    assert 0 < len(covering) < len(catalogue.font_rows())
    assert [row["name"] for row in json.loads(done.stdout)["fonts"]] == covering
    done = CliRunner().invoke(main, ["fonts", "--weight", "bold", "--format", "json"])
    names = [row["name"] for row in json.loads(done.stdout)["fonts"]]
    assert names
    assert all("Bold" in name for name in names)
    nothing = CliRunner().invoke(main, ["fonts", "--covers", "\U00013000"])
    assert nothing.stdout == (
        "No font meets all of that; --installed lists those of this machine too.\n"
    )


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--weight", "hevy"), "--weight: no weight of a font: 'hevy'; did you mean 'heavy'?"),
        (("--weight", "0"), "--weight: no weight of a font: '0'"),
        (("--weight", "700..600"), "runs backwards"),
        (("--width", "wide"), "--width: no width of a font"),
        (("--covers", "  "), "--covers: no characters to cover"),
    ],
)
def test_filters_that_cannot_be_are_refused(words, said):
    done = CliRunner().invoke(main, ["fonts", *words])
    assert (done.exit_code, done.stdout) == (2, "")
    assert said in done.stderr
    assert done.stderr.count("\n") == 1


def test_what_was_read_is_kept_until_the_file_changes(machine, monkeypatch):
    """A second look reads no file; a changed one is read again, a new one too."""
    read: list[str] = []
    genuine = faces.faces_in
    monkeypatch.setattr(faces, "faces_in", lambda path: read.append(str(path)) or genuine(path))
    first = faces.installed_fonts()
    assert len(read) == 6
    read.clear()
    faces.installed_fonts.cache_clear()
    assert faces.installed_fonts() == first
    assert read == []
    os.utime(machine["quay.ttf"], ns=(1, 1))
    faces.installed_fonts.cache_clear()
    assert faces.installed_fonts() == first
    assert read == [str(machine["quay.ttf"])]


@pytest.mark.parametrize("text", ["", "{", "[]", '{"form": 1}', '{"form": 1, "files": {"a": [1]}}',
                                  '{"form": 0, "files": {}}', "\udcff"])  # fmt: skip
def test_a_cache_that_is_damaged_is_read_anew(machine, text):
    fonts = faces.installed_fonts()
    faces._cache_file().write_bytes(text.encode("utf-8", "surrogateescape"))
    faces.installed_fonts.cache_clear()
    assert faces.installed_fonts() == fonts


def test_a_system_that_does_not_answer_is_said_in_one_line(monkeypatch):
    """As without fontconfig's library: bundled fonts and files go on working."""
    import find_system_fonts_filename

    def fails():
        raise OSError("no library fontconfig")

    monkeypatch.setattr(find_system_fonts_filename, "get_system_fonts_filename", fails)
    faces.installed_fonts.cache_clear()
    faces._names.cache_clear()
    with pytest.raises(FontNotFoundError, match="does not say which fonts"):
        open_font("Quay")
    assert open_font("EB Garamond").face == 1
    done = CliRunner().invoke(main, ["fonts", "--installed"])
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1


@pytest.mark.skipif(FC_LIST is None and not os.environ.get("CI"), reason="no fc-list here")
def test_the_systems_fonts_are_those_of_fontconfig():
    """Every TrueType and OpenType file that ``fc-list`` names, under the name it gives."""
    assert FC_LIST is not None
    form = "%{file}\t%{fontformat}\t%{family[0]}\t%{style[0]}\t%{variable}\n"
    said = subprocess.run([FC_LIST, "-f", form], capture_output=True, check=True, text=True)
    rows = [line.split("\t") for line in said.stdout.splitlines()]
    plain = [row for row in rows if row[1] in ("TrueType", "CFF") and row[4] == "False"]
    assert plain
    assert {row[0] for row in plain} <= set(faces._paths())
    faces.installed_fonts.cache_clear()
    faces._names.cache_clear()
    found = [row for row in plain if faces.find_installed(f"{row[2]} {row[3]}") is not None]
    assert len(found) >= 0.95 * len(plain)
