"""A file of tools: sizes and widths read, faults named, defaults taken and said."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from spinefit import catalogue
from spinefit.errors import FieldError, JobError, SpinefitError
from spinefit.job.fields import assemble
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.read import read_job_file, read_job_tables
from spinefit.job.resolve import resolve
from spinefit.job.resolved import ResolvedTools
from spinefit.job.tools import Tools, ToolSize, read_tools
from spinefit.vocabulary import Case

BRASS = """
name = "harbour brass"

[[size]]
face = "1/8in"
body = 13
widths = { A = 3.1, E = 2.5, "&" = "3.4mm", "É" = 2.5 }
letter_gap = 0.6
word_space = 3

[[size]]
face = 2.1
e_row = 31.0
e_count = 10
"""
EXAMPLES = Path(__file__).parents[2] / "shared"


def a_file(folder: Path, text: str = BRASS) -> str:
    file = folder / "brass.toml"
    file.write_text(text, encoding="utf-8")
    return str(file)


def resolved(tools: Tools, **said: object) -> tuple[ResolvedTools, tuple[str, ...]]:
    """The tools completed, and what was assumed."""
    lettering = Lettering(tools=tools, case=Case.CAPITALS)
    job = resolve(Job(title="Tides", spine=Spine(width_mm=25), lettering=lettering, **said))
    assert job.lettering.tools is not None
    assert job.lettering.sizes_pt == tuple(size.body_pt for size in job.lettering.tools.sizes)
    return job.lettering.tools, job.assumed


def test_sizes_and_widths_are_read(tmp_path):
    """Lengths bare in mm or with their unit, a body in points; the file's digest is kept."""
    path = a_file(tmp_path)
    tools = read_tools(path)
    assert (tools.name, tools.file) == ("harbour brass", path)
    assert tools.sha256 == hashlib.sha256(Path(path).read_bytes()).hexdigest()
    listed, row = tools.sizes
    assert listed.face_mm == pytest.approx(3.175)
    assert listed == ToolSize(
        face_mm=listed.face_mm, body_pt=13, letter_gap_mm=0.6, word_space_mm=3,
        widths_mm=(("A", 3.1), ("E", 2.5), ("&", 3.4), ("É", 2.5)),
    )  # fmt: skip
    assert row == ToolSize(face_mm=2.1, e_row_mm=31, e_count=10)


def test_what_is_not_given_is_completed_and_named(tmp_path):
    """The body by the usual face, the gap by the method, a space as wide as a letter."""
    tools, assumed = resolved(read_tools(a_file(tmp_path)))
    small, large = tools.sizes
    assert small.body_pt == 8.5  # 2.1 / 0.7 = 3 mm = 8.504 pt
    assert small.letter_gap_mm == catalogue.method("hand-letters").gap.value == 0.5
    assert small.e_mm == pytest.approx(2.65)  # (31 - 9 x 0.5) / 10
    assert small.word_space_mm == pytest.approx(3.65)  # the E, a gap at either side
    assert (large.body_pt, large.letter_gap_mm, large.word_space_mm) == (13, 0.6, 3)
    assert large.e_mm is None
    assert {
        "method: a set of hand letters, since tools are given",
        "body of tools: where none is given, the face over 0.7",
        "gap between letters: 0.5 mm, the least of a set of hand letters",
        "word space: a space counts as a letter, 3.65, 3 mm by size",
    } <= set(assumed)


def test_the_gap_is_that_of_the_method(tmp_path):
    tools, _ = resolved(read_tools(a_file(tmp_path)), method="type-holder")
    assert tools.sizes[0].letter_gap_mm == catalogue.method("type-holder").gap.value == 0.3


def test_a_space_counts_as_the_mean_letter_where_there_is_no_e():
    size = ToolSize(face_mm=3, widths_mm=(("A", 3.0), ("B", 2.0)), letter_gap_mm=0.5)
    tools, _ = resolved(Tools(name="few", sizes=(size,)))
    assert tools.sizes[0].word_space_mm == pytest.approx(2.5 + 2 * 0.5)


def test_a_job_file_names_tools_beside_it(tmp_path):
    """So that a job file and its tools can be moved together."""
    a_file(tmp_path)
    job_file = tmp_path / "job.toml"
    job_file.write_text('title = "AE"\nwidth = 25\ntools = "brass.toml"\n', encoding="utf-8")
    title, values = read_job_file(job_file)
    tools = assemble(title, values).lettering.tools
    assert tools is not None
    assert tools.name == "harbour brass"


@pytest.mark.parametrize(
    ("name", "named", "is_file"),
    [
        ("tools", "brass.toml", True),
        ("method-file", "own.toml", True),
        ("font", "hand.otf", True),
        ("font", "fonts/hand", True),
        ("font", "no-ending", True),
        ("font", "EB Garamond", False),
        ("market", "GB", False),
    ],
)
def test_every_file_that_a_job_file_names_lies_beside_it(tmp_path, name, named, is_file):
    """One rule for all of them; a font may be named by its name."""
    (tmp_path / "no-ending").write_bytes(b"")
    job_file = tmp_path / "job.toml"
    line = f'{name} = "{named}"\n'
    job_file.write_text(f'title = "AE"\nwidth = 25\n{line}', encoding="utf-8")
    expected = str(tmp_path / named) if is_file else named
    assert read_job_file(job_file)[1][name] == expected
    job_file.write_text(f'[[volume]]\ntitle = "AE"\n{line}', encoding="utf-8")
    assert read_job_tables(job_file).volumes[0][name] == expected


def test_the_font_of_a_text_lies_beside_its_job_file(tmp_path):
    job_file = tmp_path / "job.toml"
    text = '[[volume]]\n[[volume.text]]\nrole = "title"\ntext = "AE"\nfont = "hand.otf"\n'
    job_file.write_text(text, encoding="utf-8")
    volume = read_job_tables(job_file).volumes[0]
    assert volume["text"][0]["font"] == str(tmp_path / "hand.otf")
    assert volume["text"][0]["text"] == "AE"


def test_an_absolute_path_stays(tmp_path):
    job_file = tmp_path / "job.toml"
    job_file.write_text('title = "AE"\nwidth = 25\ntools = "/brass.toml"\n', encoding="utf-8")
    assert read_job_file(job_file)[1]["tools"] == "/brass.toml"


def test_the_example_of_tools_is_read():
    tools = read_tools(EXAMPLES / "tools" / "reading-room-brass.toml")
    assert [size.body_pt for size in tools.sizes] == [10, 13, 18]


# Each: what stands in the file, and a part of the line that should be read.
BAD = {
    "no sizes": ('name = "brass"', "no sizes"),
    "a size without brackets": ("size = 3", "no sizes"),
    "no face": ("[[size]]\nwidths = { A = 3 }", "size 1: no face"),
    "a slip in a key": ("[[size]]\nface = 3\nwidhts = { A = 3 }", "did you mean 'widths'?"),
    "a key of nothing": ("colour = 3\n[[size]]\nface = 3", "no such key: 'colour'"),
    "no width": ("[[size]]\nface = 3\nwidths = { A = true }", "size 1, widths, A: "),
    "two letters": ("[[size]]\nface = 3\nwidths = { AB = 3 }", "not one letter: 'AB'"),
    "a space": ('[[size]]\nface = 3\nwidths = { " " = 3 }', "not one letter"),
    "no table of widths": ("[[size]]\nface = 3\nwidths = 3", "no widths of letters"),
    "a negative face": ("[[size]]\nface = -3", "size 1, face: "),
    "half an E": ("[[size]]\nface = 3\ne_row = 31\ne_count = 2.5", "size 1, e_count: "),
    "a letter that hangs": ("[[size]]\nface = 3\nwidths = { g = 2 }", "g hang below the line"),
    "no TOML": ("[[size]", "not a tools file"),
}  # fmt: skip


@pytest.mark.parametrize(("text", "said"), BAD.values(), ids=BAD)
def test_a_file_at_fault_is_refused(tmp_path, text, said):
    """In one line that names the file and the size."""
    path = a_file(tmp_path, text)
    with pytest.raises(JobError) as refusal:
        read_tools(path)
    assert said in str(refusal.value)
    assert str(refusal.value).startswith(path)


def test_no_such_file(tmp_path):
    with pytest.raises(JobError, match="no such tools file"):
        read_tools(tmp_path / "none.toml")


LISTED = {"face_mm": 3.0, "widths_mm": (("A", 3.0),)}
IMPOSSIBLE = {
    "neither widths nor a row": ({"face_mm": 3.0}, "no widths for the 3 mm face"),
    "widths and a row": ({**LISTED, "e_row_mm": 31.0, "e_count": 10}, "both widths and a row"),
    "no letters": ({"face_mm": 3.0, "widths_mm": ()}, "no letters for the 3 mm face"),
    "no count": ({"face_mm": 3.0, "e_row_mm": 31.0}, "no number of Es"),
    "a row of gaps": ({"face_mm": 3.0, "e_row_mm": 4.0, "e_count": 10}, "longer than that: '4 mm'"),
    "a face of nothing": ({**LISTED, "face_mm": 0.0}, "--tools"),
    "a letter of nothing": ({"face_mm": 3.0, "widths_mm": (("A", 0.0),)}, "width of A"),
    "a body of nothing": ({**LISTED, "body_pt": 0.0}, "--tools"),
}


@pytest.mark.parametrize(("size", "said"), IMPOSSIBLE.values(), ids=IMPOSSIBLE)
def test_a_size_that_cannot_be_is_refused(size, said):
    with pytest.raises(SpinefitError) as refusal:
        resolved(Tools(name="brass", sizes=(ToolSize(**size),)))
    assert said in str(refusal.value)


@pytest.mark.parametrize(
    ("lettering", "method", "said"),
    [
        ({"sizes_pt": (10, 12)}, None, "sizes beside tools"),
        ({"case": Case.SMALL_CAPITALS}, None, "no small capitals"),
        ({}, "paper-label", "give --method hand-letters or type-holder"),
    ],
    ids=["a drawer", "small capitals", "a printed label"],
)
def test_what_tools_cannot_do_is_refused(lettering, method, said):
    tools = Tools(name="brass", sizes=(ToolSize(**LISTED),))
    job = Job(
        title="A", spine=Spine(width_mm=25), lettering=Lettering(tools=tools, **lettering),
        method=method,
    )  # fmt: skip
    with pytest.raises(FieldError) as refusal:
        resolve(job)
    assert said in str(refusal.value)


@pytest.mark.parametrize("sizes", [(), (ToolSize(**LISTED), ToolSize(**LISTED))])
def test_each_size_is_there_once(sizes):
    with pytest.raises(FieldError):
        resolved(Tools(name="brass", sizes=sizes))
