"""A binder's own methods: read from a file, like others, used by name."""

from __future__ import annotations

from pathlib import Path

import pytest

from spinefit import catalogue
from spinefit.errors import CatalogueError, FieldError, JobError, SpinefitError
from spinefit.job.fields import assemble
from spinefit.job.files import pick_method, read_methods
from spinefit.job.resolve import resolve
from spinefit.units import DIDOT_POINT_MM, mm_from_pt
from spinefit.vocabulary import Place, Sourced, Status

OWN = """
[our-labels]
like = "leather-label"
name = "calf label"
stroke_mm = "0.3mm"
gap_mm = 0.35
placing_mm = { value = 0.4, source = "the foreman" }
thickness_mm = { value = "0.5mm", status = "memory" }

[our-drawer]
like = "hand-letters"
sizes_pt = "10,12,14didot"

[small-labels]
like = "our-labels"
smallest_pt = 5

[bare]
smallest_pt = "6pt"
placing_mm = 0
"""


def a_file(folder: Path, text: str = OWN) -> str:
    file = folder / "own.toml"
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_numbers_may_be_bare_or_texts_or_rows(tmp_path):
    """The binder is the source of what has none; the unit is the key's."""
    row = read_methods(a_file(tmp_path))["our-labels"]
    own = "the binder's own"
    assert row.stroke == Sourced(0.3, "mm", own, Status.PRACTICE)
    assert row.gap == Sourced(0.35, "mm", own, Status.PRACTICE)
    assert row.placing == Sourced(0.4, "mm", "the foreman", Status.PRACTICE)
    assert row.thickness == Sourced(0.5, "mm", own, Status.MEMORY)
    leather = catalogue.method("leather-label")
    assert (row.name, row.inner_margin, row.cautions) == (
        "calf label", leather.inner_margin, leather.cautions,
    )  # fmt: skip


def test_a_drawer_may_be_in_didot_points(tmp_path):
    sizes = read_methods(a_file(tmp_path))["our-drawer"].sizes
    assert [mm_from_pt(size) for size in sizes.values] == pytest.approx(
        [size * DIDOT_POINT_MM for size in (10, 12, 14)]
    )


def test_methods_may_be_like_others_of_the_file(tmp_path):
    found = read_methods(a_file(tmp_path))
    assert list(found) == ["our-labels", "our-drawer", "small-labels", "bare"]
    assert found["small-labels"].stroke == found["our-labels"].stroke
    assert found["small-labels"].smallest.value == 5
    assert found["bare"].place is Place.BACK


def test_a_method_may_change_the_known_one_of_its_name(tmp_path):
    """It is like the known one, not like itself, and takes its place."""
    path = a_file(tmp_path, '[paper-label]\nlike = "paper-label"\ninner_margin_mm = 3\n')
    own = read_methods(path)
    assert pick_method("paper-label", own, path).inner_margin.value == 3
    assert pick_method("paper-label", own, path).frame == catalogue.method("paper-label").frame


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "no method in the file"),
        ("stroke_mm = 1\n", "not a method: 'stroke_mm'; begin each method with its name"),
        ('["\\n"]\n', "no name for a method"),
        ("[a]\n", "[a]: no smallest_pt"),
        ('[a]\nlike = "leather"\n', "[a] like: no such method: 'leather'; did you mean 'leather-"),
        ("[a]\nlike = 3\n", "[a] like: no such method: '3'"),
        ('[a]\nlike = "b"\n[b]\nlike = "a"\n', "methods that are like each other"),
        (
            '[a]\nlike = "paper-label"\nstroke_mm = "0,3,1mm"\n',
            "[a] stroke_mm: a comma in a number",
        ),
        ('[a]\nlike = "paper-label"\nstroke_mm = true\n', "[a] stroke_mm: neither a number nor"),
        ('[a]\nlike = "paper-label"\nstroke_mm = nan\n', "[a] stroke_mm: not a length"),
        ('[a]\nlike = "paper-label"\nstroke_mm = -1\n', "[a] stroke_mm: a length cannot be neg"),
        ('[a]\nlike = "paper-label"\nstroke_mm = {unit = "mm"}\n', "a number without value"),
        ('[a]\nlike = "paper-label"\nstroke_mm = {value = 1, unit = "in"}\n', "not in mm: 'in'"),
        ('[a]\nlike = "paper-label"\nstroke_mm = {value = 1, by = "me"}\n', "no such part"),
        ('[a]\nlike = "paper-label"\nstrokes_mm = 1\n', "did you mean 'stroke_mm'?"),
        ('[a]\nlike = "paper-label"\nsizes_pt = [10, 10]\n', "[a] sizes_pt: a size given twice"),
        ("[a]\n[a]\n", "own.toml:2:"),
        ("[a", "not a method file"),
    ],
)
def test_a_broken_file_is_one_line_with_file_table_and_key(tmp_path, text, said):
    path = a_file(tmp_path, text)
    with pytest.raises((CatalogueError, JobError)) as fault:
        read_methods(path)
    line = str(fault.value)
    assert said in line
    assert line.startswith(path) and "\n" not in line
    assert fault.value.remedy


def test_a_long_chain_of_likenesses_is_refused(tmp_path):
    """Rather than running out of stack."""
    chain = "".join(f'[m{at}]\nlike = "m{at + 1}"\n' for at in range(3000))
    with pytest.raises(CatalogueError, match="like each other"):
        read_methods(a_file(tmp_path, chain))


def test_a_job_holds_the_method_itself(tmp_path):
    """By name, or the only one of the file; a known one may be named beside a file."""
    path = a_file(tmp_path)
    said = {"width": 20, "height": 200, "method-file": path}
    job = assemble("Tides", said | {"method": "our-labels"})
    assert job.method == read_methods(path)["our-labels"]
    assert resolve(job).method == job.method
    assert assemble("Tides", said | {"method": "blocked-case"}).method == catalogue.method(
        "blocked-case"
    )
    (tmp_path / "one.toml").write_text('[one]\nlike = "paper-label"\n')
    alone = assemble("Tides", said | {"method-file": str(tmp_path / "one.toml")})
    assert alone.method.key == "one"


@pytest.mark.parametrize(
    ("name", "said"),
    [
        (None, "--method-file: 4 methods in the file"),
        ("our-label", "--method: no such method: 'our-label'; did you mean 'our-labels'?"),
        ("zzz", "known methods: our-labels, our-drawer, small-labels, bare, paperback-cover"),
    ],
)
def test_a_name_that_is_not_in_the_file_is_refused(tmp_path, name, said):
    with pytest.raises(FieldError) as fault:
        assemble("Tides", {"width": 20, "method-file": a_file(tmp_path), "method": name})
    assert said in str(fault.value)


def test_faults_are_placed_where_the_value_stood(tmp_path):
    """A job file's key, where the name of the file came from there."""
    with pytest.raises(SpinefitError) as fault:
        assemble(
            "Tides", {"width": 20, "method-file": str(tmp_path / "none.toml")},
            place=lambda name: f"book.toml: {name}",
        )  # fmt: skip
    assert str(fault.value).startswith("book.toml: method-file: no such method file")
