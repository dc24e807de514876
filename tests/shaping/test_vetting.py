"""Damaged font files: refused, or measured sanely, and never a crash."""

from __future__ import annotations

import io
import math
import random
import struct

import pytest

from spinefit import catalogue
from spinefit.errors import FontBrokenError, FontError
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.shaping import open_font, shape_title
from spinefit.shaping.vetting import vet
from tests.fonts.conftest import build

FOLDER = catalogue.fonts_folder()
GOOD = {
    kind: (FOLDER / next(row.file for row in catalogue.font_rows() if row.file.endswith(kind)))
    for kind in (".ttf", ".otf")
}


def directory(data: bytes) -> list[tuple[bytes, int, int]]:
    count = struct.unpack_from(">H", data, 4)[0]
    rows = (struct.unpack_from(">4sLLL", data, 12 + 16 * at) for at in range(count))
    return [(tag, offset, length) for tag, _sum, offset, length in rows]


def try_to_letter(path) -> None:
    """A FontError, or a title with finite ink."""
    job = Job(
        title="Tides, Vol. 2",
        spine=Spine(width_mm=20.0, height_mm=200.0),
        lettering=Lettering(font=str(path)),
    )
    try:
        title = shape_title(resolve(job))
    except FontError as fault:
        assert str(fault)
        assert "\n" not in str(fault)
        return
    assert all(math.isfinite(edge) for edge in title.run.ink)
    for at in range(len(title.run.pieces)):
        box = title.run.line_ink(at, at)
        assert box[0] <= box[2]
        assert box[1] <= box[3]
        assert all(math.isfinite(edge) for edge in box)
    assert math.isfinite(title.cap_height_em)
    assert math.isfinite(title.x_height_em)


@pytest.mark.parametrize("kind", sorted(GOOD))
def test_a_whole_font_is_accepted(kind):
    vet(GOOD[kind].read_bytes())


@pytest.mark.parametrize("row", catalogue.font_rows(), ids=lambda row: row.name)
def test_every_bundled_font_is_sound_and_has_its_licence(row):
    path = FOLDER / row.file
    vet(path.read_bytes())
    assert (path.parent / "OFL.txt").is_file()


@pytest.mark.parametrize("kind", sorted(GOOD))
def test_a_font_cut_short_anywhere_is_refused(kind):
    """At every byte of the header and directory, and at and about every table's two ends."""
    data = GOOD[kind].read_bytes()
    tables = directory(data)
    cuts = set(range(0, 12 + 16 * len(tables) + 2))
    for _tag, offset, length in tables:
        cuts |= {offset - 1, offset, offset + 1, offset + length // 2, offset + length - 1}
        cuts |= {offset + length}
    end = max(offset + length for _tag, offset, length in tables)
    for cut in sorted(cut for cut in cuts if 0 <= cut < end):
        with pytest.raises(FontBrokenError):
            vet(data[:cut])


@pytest.mark.parametrize("kind", sorted(GOOD))
@pytest.mark.parametrize("tag", ["cmap", "head", "hhea", "hmtx", "maxp"])
def test_a_font_without_a_needed_table_is_refused(kind, tag):
    """And the table is named."""
    data = bytearray(GOOD[kind].read_bytes())
    at = data.index(tag.encode(), 12)
    data[at : at + 4] = b"zzzz"
    with pytest.raises(FontBrokenError, match=tag):
        vet(bytes(data))


@pytest.mark.parametrize(("kind", "tag"), [(".ttf", b"glyf"), (".ttf", b"loca"), (".otf", b"CFF ")])
def test_a_font_without_outlines_is_refused(kind, tag):
    data = bytearray(GOOD[kind].read_bytes())
    at = data.index(tag, 12)
    data[at : at + 4] = b"zzzz"
    with pytest.raises(FontBrokenError, match="outlines"):
        vet(bytes(data))


@pytest.mark.parametrize(
    "data",
    [b"", b"\x00", b"%PDF-1.7" + bytes(200), b"PK\x03\x04" + bytes(200), bytes(4096), b"OTTO",
     b"ttcf" + bytes(4), b"ttcf" + bytes(100), b"\x00\x01\x00\x00\xff\xff" + bytes(100)],
)  # fmt: skip
def test_what_is_no_font_is_refused(data):
    with pytest.raises(FontBrokenError):
        vet(data)


@pytest.mark.parametrize(("signature", "name"), [(b"wOFF", "WOFF"), (b"wOF2", "WOFF2")])
def test_web_fonts_are_named_as_such(signature, name):
    with pytest.raises(FontBrokenError, match=name):
        vet(signature + bytes(200))


@pytest.mark.parametrize("upem", [0, 1, 15, 16385, 65535])
def test_units_per_em_that_cannot_be_are_refused(upem):
    data = bytearray(GOOD[".ttf"].read_bytes())
    offset = next(offset for tag, offset, _length in directory(data) if tag == b"head")
    struct.pack_into(">H", data, offset + 18, upem)
    with pytest.raises(FontBrokenError, match="units per em"):
        vet(bytes(data))


def test_a_font_of_no_glyphs_is_refused():
    data = bytearray(GOOD[".ttf"].read_bytes())
    offset = next(offset for tag, offset, _length in directory(data) if tag == b"maxp")
    struct.pack_into(">H", data, offset + 4, 0)
    with pytest.raises(FontBrokenError, match="no glyphs"):
        vet(bytes(data))


def test_a_collection_gives_its_first_face():
    """A TTC made of one font is accepted; a face it doesn't have is refused."""
    font = GOOD[".ttf"].read_bytes()
    head = b"ttcf" + struct.pack(">LLL", 0x00010000, 1, 16)
    moved = bytearray(font)
    for at in range(struct.unpack_from(">H", font, 4)[0]):
        place = 12 + 16 * at + 8
        struct.pack_into(">L", moved, place, struct.unpack_from(">L", font, place)[0] + 16)
    vet(head + bytes(moved))
    with pytest.raises(FontBrokenError, match="no face 1"):
        vet(head + bytes(moved), index=1)


@pytest.mark.parametrize("kind", sorted(GOOD))
def test_truncated_files_are_refused_by_name(kind, tmp_path):
    """From the file to the message: the option, the file, what to do."""
    path = tmp_path / f"cut{kind}"
    path.write_bytes(GOOD[kind].read_bytes()[:5000])
    with pytest.raises(FontBrokenError) as fault:
        open_font(str(path))
    assert fault.value.where == "--font"
    assert fault.value.value == str(path)  # the line itself cuts a long one
    assert fault.value.remedy


@pytest.mark.parametrize("kind", sorted(GOOD))
@pytest.mark.parametrize("seed", range(20))
def test_random_damage_never_gives_anything_but_a_font_error(kind, seed, tmp_path):
    """One to forty bytes changed, half the time among headers and small tables."""
    chance = random.Random(f"{kind}{seed}")
    data = bytearray(GOOD[kind].read_bytes())
    small = [
        (offset, length)
        for tag, offset, length in directory(data)
        if tag in (b"head", b"hhea", b"maxp", b"cmap", b"loca", b"hmtx", b"CFF ", b"glyf")
    ]
    for _ in range(chance.choice([1, 4, 40])):
        if chance.random() < 0.5:
            offset, length = chance.choice(small)
            at = offset + chance.randrange(min(length, 400))
        else:
            at = chance.randrange(len(data))
        data[at] = chance.randrange(256)
    path = tmp_path / f"damaged{kind}"
    path.write_bytes(data)
    try_to_letter(path)


@pytest.mark.parametrize("kind", sorted(GOOD))
@pytest.mark.parametrize(
    "tag", [b"glyf", b"loca", b"cmap", b"hmtx", b"GPOS", b"GSUB", b"CFF ", b"name"]
)
@pytest.mark.parametrize("filler", [0x00, 0xFF])
def test_a_table_blotted_out_never_gives_anything_but_a_font_error(kind, tag, filler, tmp_path):
    data = bytearray(GOOD[kind].read_bytes())
    for found, offset, length in directory(data):
        if found == tag:
            data[offset : offset + length] = bytes([filler]) * length
    path = tmp_path / f"blotted{kind}"
    path.write_bytes(data)
    try_to_letter(path)


def test_a_folder_and_an_unreadable_name_are_refused(tmp_path):
    for bad in (str(tmp_path), str(tmp_path / "x.ttf"), "a\0b.ttf"):
        with pytest.raises(FontError):
            open_font(bad)


@pytest.mark.parametrize(
    ("tag", "at", "value"),
    [
        ("fvar", 0, 9), ("fvar", 4, 65535), ("fvar", 8, 65535), ("fvar", 10, 4),
        ("fvar", 12, 9), ("fvar", 14, 4),
        ("gvar", 0, 9), ("gvar", 4, 65535), ("gvar", 12, 65535), ("gvar", 16, 65535),
    ],
)  # fmt: skip
def test_variations_that_would_be_passed_over_are_refused(tag, at, value):
    """HarfBuzz leaves damaged axes or deltas out and draws the letters as if none were asked."""
    data = bytearray(sound_variable())
    vet(bytes(data))
    offset = struct.unpack_from(">L", data, data.index(tag.encode(), 12) + 8)[0]
    struct.pack_into(">H", data, offset + at, value)
    with pytest.raises(FontBrokenError, match=f"{tag} table is damaged"):
        vet(bytes(data))


def sound_variable() -> bytes:
    out = io.BytesIO()
    build(("wght", "wdth")).save(out)
    return out.getvalue()
