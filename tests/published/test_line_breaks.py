"""Do lines end between words where no space parts them?

Titles in Thai, Lao, Khmer and Burmese. Each is made of nouns that any dictionary of its language
has, and parted here by hand, by the meanings that stand beside it; nobody whose language it is
has read them. What ICU's dictionaries part inside a compound, and what they leave whole, is said
as it is.
"""

from __future__ import annotations

import pytest

from spinefit import check
from spinefit.job import Job, Lettering, Panel
from spinefit.shaping.breaks import line_breaks

GARUDA = "/usr/share/fonts/truetype/tlwg/Garuda.ttf"


def parted(text: str) -> str:
    """A title with a bar at every break, its spaces kept."""
    ends = (*line_breaks(text, None), len(text))
    starts = (0, *ends[:-1])
    return "|".join(text[start:end] for start, end in zip(starts, ends, strict=True))


@pytest.mark.parametrize(
    "title",
    [
        "ประวัติศาสตร์|ของ|ท่าเรือ",  # history, of, harbour
        "แผนที่|ชายฝั่ง|ทะเล",  # map, coast, sea
        "หนังสือ|ประภาคาร",  # book, lighthouse
        "เกาะ|และ|ทะเล",  # island, and, sea
        "ประวัติศาสตร์|ท่าเรือ |เล่ม 2",  # history, harbour; volume 2
        "ประภาคาร|เก่า |1848–1870",  # lighthouse, old; years
        "ປະຫວັດສາດ|ຂອງ|ທ່າເຮືອ",  # history, of, harbour
        "ແຜນທີ່|ທະເລ",  # map, sea
        "ປຶ້ມ|ປະຫວັດສາດ",  # book, history
        "ຫໍສະໝຸດ",  # library
        "ប្រវត្តិសាស្ត្រ|នៃ|កំពង់ផែ",  # history, of, harbour
        "ផែនទី|សមុទ្រ",  # map, sea
        "សៀវភៅ|បណ្ណាល័យ",  # book, library
        "ဆိပ်ကမ်း|သမိုင်း",  # harbour, history
        "ပင်လယ်|မြေပုံ",  # sea, map
        "မြန်မာ|သမိုင်း",  # Burma, history
    ],
)
def test_lines_end_between_words(title: str) -> None:
    """Source: the meanings beside each title; a volume's number stays with its word."""
    assert parted(title.replace("|", "")) == title


@pytest.mark.parametrize(
    ("title", "mended"),
    [
        # library (room, volume), and, book
        ("ห้อง|สมุด|และ|หนังสือ", "ห้อง\u2060สมุด|และ|หนังสือ"),
        ("សៀវភៅផែនទី", "សៀវភៅ\u200b|ផែនទី"),  # book, map
        ("မြေပုံစာအုပ်", "မြေပုံ\u200b|စာအုပ်"),  # map, book
    ],
)
def test_a_mark_mends_what_a_dictionary_parts_or_joins_amiss(title: str, mended: str) -> None:
    """Source: meanings as beside each; a word joiner binds, a zero width space parts."""
    assert parted(title.replace("|", "")) == title
    assert parted(mended.replace("|", "")) == mended


@pytest.mark.parametrize("title", ["ᨴᩦ᩵ᨶᩲ", "ᦅᦱᧉ"])
def test_scripts_without_a_dictionary_are_not_broken(title: str) -> None:
    """Source: UAX #14, class SA; ICU has no words of Tai Tham and New Tai Lue."""
    assert line_breaks(title, None) == ()


def test_a_thai_title_is_set_in_lines(needs_font) -> None:
    """Source: as above; whole lines from the title to the layouts listed."""
    font = needs_font(GARUDA, "fonts-tlwg-garuda-ttf")
    report = check(
        Job(
            title="ประวัติศาสตร์ของท่าเรือ",
            panel=Panel(width_mm=40, height_mm=60),
            lettering=Lettering(font=font),
        )
    )
    across = {layout.lines for layout in report.layouts if layout.reading == "across"}
    words = ("ประวัติศาสตร์", "ของ", "ท่าเรือ")
    assert ("".join(words),) in across
    assert words in across
    assert any(len(lines) == 2 for lines in across)
