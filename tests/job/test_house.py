"""What a house says once, beside every kind of job and what is said of it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from spinefit.errors import JobError, SpinefitError
from spinefit.job import Job
from spinefit.job.fields import FIELDS, assemble
from spinefit.job.house import House
from spinefit.job.read import read_house
from spinefit.job.resolve import resolve
from spinefit.job.sheet import SHEET_KEYS

TOOLS = """
[[size]]
body = "24pt"
face = "5mm"
e_row = "40mm"
e_count = 10
"""
OWN = """
[our-labels]
like = "paper-label"
label_edge_mm = 1.5

[our-cases]
like = "blocked-case"
"""
# A value for every field that a house may say.
SAID: dict[str, Any] = {
    "head": "7mm", "foot": 6, "edge": "1mm", "max-angle": 40, "from-head": "52mm",
    "band-height": "3mm", "band-clearance": "1.5mm", "tail-ratio": 1.2, "clearance": "0.5mm",
    "font": "Source Serif 4", "face": 1, "axes": {"wght": 600}, "fallback": ["Cinzel"],
    "case": "capitals", "tracking": 10, "reading": "ascending", "sizes": "10,12,14",
    "tools": "brass.toml", "leading": 1.3, "centre": "ink", "break-words": "hyphen",
    "small-words": "alone", "card-thickness": "0.4mm", "covering-thickness": "0.5mm",
    "recess-clearance": "0.4mm", "overlap": "3mm", "market": "DE", "language": "de",
    "method": "blocked-case", "method-file": "ours.toml", "stock": "fine-cloth", "die": "brass",
    "work": "library", "reading-distance": "60cm", "scheme": "dewey", "from-tail": "30mm",
    "first-line-from-tail": "50mm", "align": "left", "call-size": 12,
}  # fmt: skip
METHODS = ("paper-label", "hand-letters", "transfer-vinyl", "paperback-cover")
BACK = {"width": 36, "height": 220}
JOBS: dict[str, dict[str, Any]] = {
    "back": BACK,
    "open back": {"width": 36},
    "rounded": {**BACK, "back": "rounded", "arc": 40},
    "banded": {**BACK, "bands": 4},
    "bands at": {**BACK, "bands-at": "50,100,150mm"},
    "panel": {"panel": "30x40mm"},
    "label": {"label-size": "30x40mm"},
    "label on a back": {**BACK, "label-size": "20x30mm"},
    "board": {"front-board": "138x214mm"},
    "board of leaves": {"leaves": "135x208mm"},
    "recess": {**BACK, "recess": True, "stiffener": "2mm"},
    "call number": {**BACK, "role": "call-number"},
    "old lettering": {**BACK, "old-lettering": "20x10@35mm"},
    "not yet bound": {"extent": 320, "caliper": "100um", "height": 210},
    "lap": {**BACK, "lap": "12mm"},
    "foil": {**BACK, "die": "magnesium"},
    "own font": {**BACK, "font": "Cinzel"},
    "own method": {**BACK, "method": "transfer-vinyl"},
    "own sizes": {**BACK, "sizes": "18,24"},
}


@pytest.fixture
def of(tmp_path: Path) -> Callable[..., House]:
    """A way to a house whose file says so much."""
    (tmp_path / "brass.toml").write_text(TOOLS)
    (tmp_path / "ours.toml").write_text(OWN)

    def written(**said: Any) -> House:
        path = tmp_path / "spinefit.toml"
        lines = [f"{name.replace('_', '-')} = {_toml(value)}" for name, value in said.items()]
        path.write_text("\n".join(lines))
        return read_house(str(path))

    return written


def _toml(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {one}" for key, one in value.items()) + "}"
    return repr(value).replace("'", '"')


def job(house: House, said: dict[str, Any], **more: Any) -> Job:
    return assemble("Tide Tables", said, house=house, **more)


def test_every_field_of_a_house_has_a_value_here() -> None:
    """So that the next tests ask all of them."""
    assert {field.name for field in FIELDS if field.house is not None} == set(SAID)


@pytest.mark.parametrize("kind", JOBS)
@pytest.mark.parametrize("name", [*SAID, *METHODS])
def test_a_house_makes_no_job_impossible(of, name: str, kind: str) -> None:
    """Whatever it says, and whatever kind of job: what cannot count there is left alone."""
    said = {"method": name} if name in METHODS else {name: SAID[name]}
    if name in ("axes", "face"):
        said["font"] = SAID["font"]
    if name == "method-file":
        said["method"] = "our-cases"
    house = of(**said)
    resolved = resolve(job(house, JOBS[kind]))
    told = [words for words in resolved.assumed if words.endswith(" (house defaults)")]
    own = house.beside({name: 1 for name in JOBS[kind]} | JOBS[kind])
    assert len(told) == len(own)


@pytest.mark.parametrize(
    ("name", "kind", "found"),
    [
        ("market", "back", lambda one: one.market == "DE"),
        ("head", "back", lambda one: one.spine.head_mm == 7),
        ("from-head", "back", lambda one: one.spine.from_head_mm == 52),
        ("band-height", "banded", lambda one: one.spine.band_height_mm == 3),
        ("clearance", "panel", lambda one: one.lettering.clearance_mm == 0.5),
        ("card-thickness", "recess", lambda one: one.recess.card_mm == 0.4),
        ("overlap", "old lettering", lambda one: one.overlap_mm == 3),
        ("scheme", "call number", lambda one: one.call_number.scheme == "dewey"),
        ("method", "back", lambda one: one.method == "blocked-case"),
        ("die", "own foil", lambda one: one.die == "brass"),
        ("sizes", "back", lambda one: one.lettering.sizes_pt == (10, 12, 14)),
    ],
)
def test_what_counts_is_taken(of, name: str, kind: str, found: Callable[[Job], bool]) -> None:
    """A value lands where the same option would put it, and a job without a house is without."""
    said = {**JOBS, "own foil": {**BACK, "method": "leather-label"}}[kind]
    assert found(job(of(**{name: SAID[name]}), said))
    assert not (name == "market" and found(assemble("Tide Tables", said)))


@pytest.mark.parametrize(
    ("of_house", "said", "method", "tools"),
    [
        ({"method": "blocked-case"}, {"method": "paper-label"}, "paper-label", False),
        ({"tools": "brass.toml"}, {"method": "paper-label"}, "paper-label", False),
        ({"method": "blocked-case", "sizes": "10,12"}, {"tools": "brass.toml"}, None, True),
        ({"method-file": "ours.toml"}, {"method": "our-cases"}, "our-cases", False),
        ({"method": "our-cases", "method-file": "ours.toml"}, {}, "our-cases", False),
    ],
)
def test_what_says_how_letters_are_made_is_taken_whole(
    of, tmp_path: Path, of_house, said, method: str | None, tools: bool
) -> None:
    """A house's method never stands beside another's tools, nor its tools beside another method."""
    given = {name: str(tmp_path / v) if name == "tools" else v for name, v in said.items()}
    found = job(of(**of_house), {**BACK, **given})
    assert getattr(found.method, "key", found.method) == method
    assert (found.lettering.tools is not None) is tools
    assert found.lettering.sizes_pt is None


def test_a_method_file_puts_the_houses_method_aside(of, tmp_path: Path) -> None:
    """The one method of a file that was named is meant, not the house's own."""
    (tmp_path / "one.toml").write_text('[thin-labels]\nlike = "paper-label"\n')
    house = of(method="blocked-case", **{"method-file": "ours.toml"})
    found = job(house, {**BACK, "method-file": str(tmp_path / "one.toml")})
    assert found.method.key == "thin-labels"
    assert found.house == ()


def test_each_field_is_told_and_no_folder(of) -> None:
    """As it stands in the file and in its order, lengths with a unit, files by name."""
    house = of(tools="brass.toml", clearance=2, fallback=["Cinzel", "EB Garamond"], market="GB")
    found = resolve(job(house, BACK))
    assert [one for one in found.assumed if "(house" in one] == [
        "tools brass.toml (house defaults)",
        "clearance 2 mm (house defaults)",
        "fallback Cinzel, EB Garamond (house defaults)",
        "market GB (house defaults)",
    ]
    assert found.market_code == "GB"
    assert not any(one.startswith("market:") for one in found.assumed)


def test_a_call_number_beside_a_title_has_what_the_house_says(of) -> None:
    """Texts of a back say what they are; a title alone leaves it out."""
    house = of(**{"from-tail": "30mm"})
    assert job(house, BACK, roles=["title", "call-number"]).call_number.from_tail_mm == 30
    assert job(house, BACK).call_number is None


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('width = "20mm"', "{}: width: a field of each book, and none of a house; give it in the "
         "job file of the book or as --width"),
        ('title = "Tides"', "{}: title: a field of each book, and none of a house; give it in the "
         "job file of the book"),
        ('[[text]]\nrole = "title"', "{}: text: a field of each book, and none of a house; give it "
         "in the job file of the book"),
        ('markt = "GB"', "{}: no field of a house: 'markt'; did you mean 'market'?"),
        ("[sheet]\nsizes = 4", "{}: [sheet] sizes: a field of each book, and none of a house; give "
         "it in the job file of the book or as --size-count"),
        ("[sheet]\npapr = 4", "{}: [sheet] papr: no key of a sheet: 'papr'; did you mean 'paper'?"),
        ('[sheets]\npaper = "A4"', "{}: a house file has no such table: 'sheets'; did you mean "
         "[sheet]?"),
        ("[lettering]\nx = 1", "{}: a house file has no such table: 'lettering'; write one"),
        ('[sheet]\npaper = "A44"', "{}: [sheet] paper: no such paper: 'A44'; did you mean 'A4'?"),
        ('[sheet]\npaper = "21cm"', "{}: [sheet] paper: not a rectangle: '21cm'"),
        ('clearance = "2 ells"', "{}: clearance: "),
        ("reading-distance = -1", "{}: reading-distance: "),
        ('case = "upper"', "{}: case: no such choice: 'upper'"),
        ("market", "{}:1:7: not a house file: "),
    ],
)  # fmt: skip
def test_a_fault_names_file_and_key(tmp_path: Path, text: str, line: str) -> None:
    """Whatever is wrong in it, in one line."""
    path = tmp_path / "spinefit.toml"
    path.write_text(text)
    with pytest.raises(JobError) as found:
        read_house(str(path))
    assert str(found.value).startswith(line.format(path))


def test_what_a_later_stage_finds_is_told_of_the_file(of) -> None:
    """Unless the job itself said it."""
    house = of(market="XX", font="Cinzel")
    with pytest.raises(SpinefitError) as found:
        resolve(job(house, BACK))
    assert house.placed(found.value, BACK).where.endswith("spinefit.toml: market")
    with pytest.raises(SpinefitError) as typed:
        resolve(job(house, {**BACK, "market": "YY"}))
    assert house.placed(typed.value, {"market"}).where == "--market"


def test_the_paper_of_a_house_is_read() -> None:
    """What a printer takes is of a house; what is compared is of a book."""
    own = {key for key, field in SHEET_KEYS.items() if field.house is not None}
    assert {"paper", "margin", "spares"} <= own
    assert not {"labels", "cases", "trial"} & own
