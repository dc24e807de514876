"""Bytes that are wrong inside sound tables: told, or refused where no letter can be so."""

from __future__ import annotations

import struct

import pytest

from spinefit import Job, Lettering, Spine, check
from spinefit.errors import FontBrokenError
from spinefit.shaping.vetting import damaged_tables

AMIRI = "/usr/share/fonts/opentype/fonts-hosny-amiri/Amiri-Regular.ttf"


def table(data: bytes, tag: bytes) -> tuple[int, int]:
    """Where the entry, and where the bytes of a table stand."""
    entry = data.index(tag, 12)
    return entry, struct.unpack_from(">L", data, entry + 8)[0]


def report_of(font):
    return check(Job(
        title="Tides", spine=Spine(width_mm=22.0, height_mm=210.0),
        lettering=Lettering(font=str(font)),
    ))  # fmt: skip


def topics(report) -> list[str]:
    return [finding.topic for finding in report.findings]


@pytest.mark.parametrize("flavour", [None, "woff", "woff2"])
def test_checksums_agree_with_those_font_tools_writes(make_font, flavour):
    """An independent writer of fonts: nothing is told of its files, packed or not."""
    path = make_font("wght", name=f"sound.{flavour or 'ttf'}", flavour=flavour)
    if flavour is None:
        assert damaged_tables(path.read_bytes()) == ()
    assert "font-checksum" not in topics(report_of(path))


def test_the_bundled_fonts_have_their_checksums():
    from spinefit import catalogue

    for row in catalogue.font_rows():
        data = (catalogue.fonts_folder() / row.file).read_bytes()
        assert damaged_tables(data) == (), row.name


def test_a_wrong_bit_in_the_outlines_is_told(make_font, tmp_path):
    data = bytearray(make_font().read_bytes())
    _entry, glyf = table(data, b"glyf")
    data[glyf + 30] ^= 1
    assert damaged_tables(bytes(data)) == ("glyf",)
    path = tmp_path / "bit.ttf"
    path.write_bytes(data)
    report = report_of(path)
    (told,) = [finding for finding in report.findings if finding.topic == "font-checksum"]
    assert told.level == "warning"
    assert "(glyf)" in told.text
    assert report_of(make_font()).layouts[0].set_pt > 0


def scaled(make_font, tmp_path, upem: int):
    """The letters 1000 units to the em, in a head table that says otherwise."""
    data = bytearray(make_font().read_bytes())
    _entry, head = table(data, b"head")
    struct.pack_into(">H", data, head + 18, upem)
    path = tmp_path / f"of-{upem}.ttf"
    path.write_bytes(data)
    return path


def test_ink_that_no_letter_has_is_refused(make_font, tmp_path):
    with pytest.raises(FontBrokenError, match="times the size from its origin"):
        report_of(scaled(make_font, tmp_path, 16))


def test_widths_that_no_letter_has_are_refused(make_font, tmp_path):
    data = bytearray(make_font().read_bytes())
    entry, hmtx = table(data, b"hmtx")
    length = struct.unpack_from(">L", data, entry + 12)[0]
    for at in range(hmtx, hmtx + length - 3, 4):
        struct.pack_into(">H", data, at, 65535)
    path = tmp_path / "wide.ttf"
    path.write_bytes(data)
    with pytest.raises(FontBrokenError, match="times its size long"):
        report_of(path)


def test_the_widest_letter_known_passes(needs_font):
    """U+FDFD of Amiri, 11.5 times the size wide."""
    from spinefit.shaping import open_font

    font = open_font(needs_font(AMIRI, "fonts-hosny-amiri"))
    box = font.ink(font.shaper.nominal("\ufdfd"))
    assert 11 < box[2] - box[0] < 12
