"""Bytes that are wrong inside sound tables: told, or refused where no letter can be so."""

from __future__ import annotations

import hashlib
import io
import struct

import pytest
from fontTools.ttLib import TTFont
from fontTools.ttLib.scaleUpem import scale_upem

from spinefit import Job, Lettering, Spine, check, draw
from spinefit.errors import FontBrokenError
from spinefit.say.checklist import to_markdown
from spinefit.say.terminal import render
from spinefit.shaping import fontfile
from spinefit.shaping.checksums import damaged_tables, units_were
from tests.fonts.conftest import build

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
        assert hashlib.sha256(data).hexdigest() == row.sha256, row.name


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


def changed(font, tag: bytes, at: int, *, bits: int = 1) -> bytes:
    """A font with bits of one byte of a table turned over, its checksums as they were."""
    data = bytearray(font.read_bytes())
    _entry, begins = table(data, tag)
    data[begins + at] ^= bits
    return bytes(data)


@pytest.mark.parametrize(
    ("tag", "at"),
    [(b"head", 18), (b"fvar", 40), (b"hmtx", 3), (b"avar", 9), (b"gvar", 60), (b"HVAR", 60)],
)
def test_every_table_that_is_measured_by_is_held_against_its_checksum(tag, at):
    """Units per em, an axis, a width, the bend of an axis, how letters and widths vary."""
    from spinefit import catalogue

    sound = catalogue.fonts_folder() / "ibm-plex-sans-var/IBMPlexSansVar-Roman.ttf"
    assert damaged_tables(changed(sound, tag, at)) == (tag.decode(),)


@pytest.mark.parametrize("tag", [b"GPOT", b"gone"])
def test_a_table_that_the_directory_no_longer_names_is_missed(tmp_path, tag):
    """Kerning is lost with it: by the sum of the file, and by the order of the names."""
    from spinefit import catalogue

    data = bytearray((catalogue.fonts_folder() / "cinzel/Cinzel-Regular.ttf").read_bytes())
    entry, _begins = table(data, b"GPOS")
    data[entry : entry + 4] = tag
    assert damaged_tables(bytes(data)) == ("directory",)
    path = tmp_path / "gone.ttf"
    path.write_bytes(data)
    (told,) = [one for one in report_of(path).findings if one.topic == "font-checksum"]
    assert "(directory)" in told.text


@pytest.mark.parametrize("kind", ["woff", "collection"])
def test_a_name_one_byte_off_is_missed_where_no_sum_tells(kind):
    """A packed font's sum is its packer's, and a collection has none; its kerning would be lost."""
    from fontTools.ttLib import TTCollection

    from spinefit import catalogue
    from spinefit.shaping.packed import unpacked

    font = TTFont(catalogue.fonts_folder() / "cinzel/Cinzel-Regular.ttf")
    made = io.BytesIO()
    if kind == "woff":
        font.flavor = "woff"
        font.save(made)
    else:
        both = TTCollection()
        both.fonts = [font]
        both.save(made)
    sound = made.getvalue()
    damaged = sound.replace(b"GPOS", b"GPGS", 1)
    told = [damaged_tables(unpacked(one) if kind == "woff" else one) for one in (sound, damaged)]
    assert told == [(), ("directory",)]


def test_axes_without_what_follows_them_are_told(tmp_path):
    """A WOFF2 file has no checksums: by one byte of its list the table of variations is another."""
    font = build(("wght",))
    font.flavor = "woff2"
    packed = io.BytesIO()
    font.save(packed)
    data = bytearray(packed.getvalue())
    sound = tmp_path / "sound.woff2"
    sound.write_bytes(data)
    data[data.index(48, 48)] = 46  # gvar and fmtx, in the list of known tags after the header
    assert {"fvar", "fmtx"} < {*TTFont(io.BytesIO(data)).reader.keys()}
    path = tmp_path / "gone.woff2"
    path.write_bytes(data)
    topics = [[one.topic for one in report_of(each).findings] for each in (sound, path)]
    assert [("font-checksum" in each) for each in topics] == [False, True]


def test_a_doubled_unit_stands_in_the_first_lines_and_on_every_drawing(make_font, tmp_path):
    path = tmp_path / "half.ttf"
    path.write_bytes(changed(make_font(), b"head", 18, bits=2))
    report = report_of(path)
    (told,) = [finding for finding in report.findings if finding.topic == "font-checksum"]
    assert told.level == "warning" and "sizes may be wrong" in told.text
    words = render(report)
    assert words.count("damaged") == 1
    assert words.index("damaged") < words.index("setting\n")
    tasks = to_markdown(report)
    assert tasks.index("damaged") < tasks.index("### To be measured again")
    for form in ("svg", "html"):
        drawn = draw(report, form)
        assert "damaged" in drawn if isinstance(drawn, str) else b"damaged" in drawn


def head_checksum_of_an_old_program(font, upem_bits: int = 0) -> bytes:
    """As programs wrote it that summed `head` with the checksum of the whole file in it."""
    data = bytearray(font.read_bytes())
    entry, head = table(data, b"head")
    (whole,) = struct.unpack_from(">L", data, head + 8)
    (stated,) = struct.unpack_from(">L", data, entry + 4)
    struct.pack_into(">L", data, entry + 4, stated + whole & 0xFFFFFFFF)
    data[head + 18] ^= upem_bits
    return bytes(data)


def test_the_sum_of_old_programs_is_no_damage(make_font):
    assert damaged_tables(head_checksum_of_an_old_program(make_font())) == ()
    assert damaged_tables(head_checksum_of_an_old_program(make_font(), 1)) == ("head",)


def test_a_head_that_its_letters_bear_out_is_a_note(make_font, tmp_path):
    """The time of change is another: nothing is measured by that."""
    path = tmp_path / "dated.ttf"
    path.write_bytes(changed(make_font(), b"head", 35))
    report = report_of(path)
    (told,) = [finding for finding in report.findings if "checksum" in finding.topic]
    assert (told.topic, told.level) == ("font-head-checksum", "note")
    assert report.layouts[0].set_pt == report_of(make_font()).layouts[0].set_pt


@pytest.mark.parametrize(
    ("capitals_em", "upem", "read"), [(0.44, 2048, 1024), (0.65, 1000, 1024), (0.65, 2048, 2000)]
)
def test_units_that_may_have_been_others_are_no_note(tmp_path, capitals_em, upem, read):
    """Letters as low as a script's, or units nearly the same, bear either out; the sum does not."""
    font = build()
    scale_upem(font, upem)
    font["OS/2"].sCapHeight = round(capitals_em * upem)
    made = io.BytesIO()
    font.save(made)
    data = bytearray(made.getvalue())
    _entry, head = table(data, b"head")
    assert struct.unpack_from(">H", data, head + 18) == (upem,)
    struct.pack_into(">H", data, head + 18, read)
    assert units_were(bytes(data)) == upem
    path = tmp_path / "read.ttf"
    path.write_bytes(data)
    (told,) = [one for one in report_of(path).findings if "checksum" in one.topic]
    assert (told.topic, told.level) == ("font-checksum", "warning")


def test_a_head_in_a_file_that_has_its_whole_checksum_is_a_note(tmp_path):
    """Letters without capitals cannot bear it out; the whole file can."""
    font = build(chars="abcdefgh ", family="Wrackness Small")
    made = io.BytesIO()
    font.save(made)
    data = bytearray(made.getvalue())
    entry, head = table(data, b"head")
    (stated,) = struct.unpack_from(">L", data, entry + 4)
    struct.pack_into(">L", data, entry + 4, stated ^ 1)  # no bytes of the table are wrong
    path = tmp_path / "small.ttf"
    for whole, topic in ((False, "font-checksum"), (True, "font-head-checksum")):
        if whole:
            sums = struct.unpack(f">{len(data) // 4}L", data)
            (old,) = struct.unpack_from(">L", data, head + 8)
            struct.pack_into(">L", data, head + 8, 0xB1B0AFBA - (sum(sums) - old) & 0xFFFFFFFF)
        path.write_bytes(data)
        found = check(Job(
            title="head", spine=Spine(width_mm=22.0, height_mm=210.0),
            lettering=Lettering(font=str(path)),
        ))  # fmt: skip
        assert [one for one in topics(found) if "checksum" in one] == [topic]


def test_a_stored_table_of_a_web_font_is_held_against_what_the_file_states(make_font, tmp_path):
    """WOFF packs what gets smaller, and packing has checksums of its own; head stands as it is."""
    data = bytearray(make_font(name="packed.woff", flavour="woff").read_bytes())
    entry = data.index(b"head", 44)
    start, packed, whole = struct.unpack_from(">LLL", data, entry + 4)
    assert packed == whole
    data[start + 18] ^= 2
    path = tmp_path / "bit.woff"
    path.write_bytes(data)
    (told,) = [one for one in report_of(path).findings if one.topic == "font-checksum"]
    assert "(head)" in told.text


def test_a_bundled_font_that_was_changed_is_told(monkeypatch, tmp_path):
    from spinefit import catalogue

    row = catalogue.font_named("Cinzel")
    path = tmp_path / row.file
    path.parent.mkdir()
    path.write_bytes(changed(catalogue.fonts_folder() / row.file, b"hmtx", 1))
    monkeypatch.setattr(catalogue, "fonts_folder", lambda: tmp_path)
    fontfile._bundled.cache_clear()
    try:
        assert "font-checksum" in topics(report_of("Cinzel"))
    finally:
        fontfile._bundled.cache_clear()


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
