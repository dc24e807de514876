"""Files of every kind: the same font gives the same answer however it is packed."""

from __future__ import annotations

import hashlib
import random
import resource
import struct
import zlib

import brotli
import pytest
from click.testing import CliRunner

from spinefit import Job, Lettering, Spine, check
from spinefit.cli.main import main
from spinefit.errors import FontBrokenError, FontError
from spinefit.shaping import open_font
from spinefit.shaping.packed import unpacked
from spinefit.shaping.vetting import vet

TITLE = "The Harbour Light"


def report_of(font, **lettering):
    return check(
        Job(
            title=TITLE,
            spine=Spine(width_mm=22.0, height_mm=210.0),
            lettering=Lettering(font=str(font), **lettering),
        )
    )


@pytest.mark.parametrize("flavour", ["woff", "woff2"])
def test_a_web_font_answers_as_the_font_that_is_in_it(make_font, flavour):
    """And its digest is that of the file as it lies on disk."""
    plain, packed = make_font(), make_font(name=f"bars.{flavour}", flavour=flavour)
    assert packed.read_bytes()[:3] == b"wOF"
    one, other = report_of(plain), report_of(packed)
    assert one.layouts == other.layouts
    assert other.font.sha256 == hashlib.sha256(packed.read_bytes()).hexdigest()
    assert (one.font.name, one.font.face) == (other.font.name, other.font.face)


@pytest.mark.parametrize("flavour", ["woff", "woff2"])
def test_a_variable_web_font_keeps_its_axes(make_font, flavour):
    packed = make_font("wght", name=f"bars.{flavour}", flavour=flavour)
    plain = make_font("wght")
    asked = (("wght", 700.0),)
    assert open_font(str(packed), axes=asked).cap_height_em == pytest.approx(0.7)
    for char in "HeI":
        one, other = (open_font(str(path), axes=asked) for path in (plain, packed))
        gid = one.shaper.nominal(char)
        assert one.ink(gid) == other.ink(other.shaper.nominal(char))


@pytest.mark.parametrize("flavour", ["woff", "woff2"])
def test_a_web_font_cut_short_anywhere_is_refused(make_font, flavour):
    data = make_font(name=f"bars.{flavour}", flavour=flavour).read_bytes()
    for cut in (*range(4, 120, 7), len(data) // 2, len(data) - 8):
        with pytest.raises(FontBrokenError) as fault:
            vet(unpacked(data[:cut]))
        assert "\n" not in str(fault.value)


@pytest.mark.parametrize("flavour", ["woff", "woff2"])
def test_damage_to_a_web_font_gives_a_font_error_or_a_font(make_font, flavour):
    data = make_font(name=f"bars.{flavour}", flavour=flavour).read_bytes()
    chance = random.Random(flavour)
    for _ in range(60):
        hurt = bytearray(data)
        for _ in range(chance.choice([1, 4])):
            hurt[chance.randrange(4, len(hurt))] = chance.randrange(256)
        try:
            vet(unpacked(bytes(hurt)))
        except FontError as fault:
            assert "\n" not in str(fault)


def woff_of(table: bytes, whole: int) -> bytes:
    """A WOFF of one packed table that claims to be ``whole`` bytes long."""
    packed = zlib.compress(table, 9)
    head = struct.pack(
        ">4s4sLHHLHHLLLLL", b"wOFF", b"\0\1\0\0", 64 + len(packed), 1, 0, 28 + whole, 1, 0,
        0, 0, 0, 0, 0,
    )  # fmt: skip
    return head + struct.pack(">4sLLLL", b"glyf", 64, len(packed), whole, 0) + packed


def woff2_of(table: bytes, whole: int, total: int) -> bytes:
    """A WOFF2 of one table in the clear that claims to be ``whole`` bytes long."""
    packed = brotli.compress(table, quality=5)
    length = bytes([whole >> 28 & 127 | 128, whole >> 21 & 127 | 128, whole >> 14 & 127 | 128])
    length = length.lstrip(b"\x80") + bytes([whole >> 7 & 127 | 128, whole & 127])
    entry = bytes([0x3F]) + b"abcd" + length
    size = 48 + len(entry) + len(packed)
    head = struct.pack(
        ">4s4sLHHLLHHLLLLL", b"wOF2", b"\0\1\0\0", size, 1, 0, total, len(packed), 1, 0,
        0, 0, 0, 0, 0,
    )  # fmt: skip
    return head + entry + packed


BOMB = bytes(200 * 1024 * 1024)
BOMBS = {
    "WOFF that says how large it is": lambda: woff_of(BOMB, len(BOMB)),
    "WOFF that lies": lambda: woff_of(BOMB, 1_000_000),
    "WOFF2 that says how large it is": lambda: woff2_of(BOMB, len(BOMB), len(BOMB)),
    "WOFF2 whose table says it": lambda: woff2_of(BOMB, len(BOMB), 1000),
    "WOFF2 that lies": lambda: woff2_of(BOMB, 1_000_000, 1_000_028),
}


@pytest.mark.parametrize("bomb", BOMBS)
def test_a_small_file_does_not_fill_the_memory(bomb):
    """200 MiB packed into less than one are refused for less than 48 MiB more of memory."""
    data = BOMBS[bomb]()
    assert len(data) < 1_000_000
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    with pytest.raises(FontBrokenError, match="unpack"):
        unpacked(data)
    # The peak so far already holds the bomb itself, so that a second one would show.
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 48 * 1024


@pytest.mark.parametrize(
    ("tag", "said"),
    [("EBDT", "bitmaps"), ("CBDT", "colour bitmaps"), ("SVG ", "SVG drawings"), ("sbix", "sbix")],
)
def test_a_font_of_pictures_says_which(make_font, tag, said, tmp_path):
    data = bytearray(make_font().read_bytes())
    at = data.index(b"glyf", 12)
    data[at : at + 4] = tag.encode()
    path = tmp_path / "pictures.ttf"
    path.write_bytes(data)
    with pytest.raises(FontBrokenError, match=f"no outlines, only .*{said}"):
        open_font(str(path))


def test_at_the_command_line_each_is_one_line_and_code_2(make_font, tmp_path):
    """Nothing on standard output: a bomb, a file cut short, and a file that is not there."""
    whole = make_font(name="bars.woff2", flavour="woff2").read_bytes()
    for name, data in (
        ("bomb.woff", BOMBS["WOFF that lies"]()),
        ("bomb.woff2", BOMBS["WOFF2 that lies"]()),
        ("cut.woff2", whole[: len(whole) // 2]),
        ("gone.woff2", None),
    ):
        path = tmp_path / name
        if data is not None:
            path.write_bytes(data)
        done = CliRunner().invoke(main, ["check", TITLE, "--width", "20", "--font", str(path)])
        assert (done.exit_code, done.stdout) == (2, ""), name
        assert done.stderr.startswith("spinefit: --font: ")
        assert done.stderr.count("\n") == 1
        assert done.stderr.rstrip().endswith(("file", "font file"))
