"""Numbers of every hostile kind, in every option, column and key that holds one.

Which options there are is asked of the commands themselves, so that a new one is tried too.
"""

from __future__ import annotations

import csv
import json
from pathlib import Path

import click
import pytest

from spinefit import Job, Spine, check
from spinefit.cli.main import main
from spinefit.errors import FieldError
from spinefit.job.fields import FIELDS
from tests.fuzz.judging import Outcome, faults, outcome

TITLE = "The Harbour Light"
BACK = ("--width", "25mm", "--height", "200mm")
NUMBER = {"role": "call-number"}
VAST = "1" + "0" * 30

# What no length can be, whatever it is the length of; each is named in the line.
NO_LENGTH = (
    "nan", "NaN", "inf", "-inf", "Infinity", "1e308", "1e999", VAST, "1e9", "20000mm", "0.2m",
    "2km", "1ft", "9mn", "9 milimetres", "9,500mm", "1.000,5", "3/0in", "1/0", "½½", "９mm",
    "٣mm", "๙", "Ⅸ", "1_0", "0x10", "0b1", "9 9", "9mm9", "1e", "1e+", "--9", "+-9", "9+", "9°",
    "–9", "—9", "‒9", "﹣9", "－9", "➖9", "9\x009", "9\u202emm", "nine", "9" * 61,
)  # fmt: skip
NEGATIVE = ("-9", "-9mm", "−9", "−9mm", "-0.0000001", "-inf")
NOTHING = ("0", "0mm", "-0", "0/4in", "0.00000000", "0.0000000001mm", "0.000000001", "0.0002mm")
NO_COUNT = (
    "nan", "inf", "-1", "−1", "–1", "2.5", "2,5", "1e9", "1e2", VAST, "1000", "３", "٣", "Ⅲ", "½",
    "two", "1_0", "0x2", "+2", "1 0",
)  # fmt: skip
NO_NUMBER = (
    "nan", "inf", "-inf", "1e308", "1e999", VAST, "1e9", "9,500", "1.000,5", "3/4", "½", "９", "٣",
    "1_0", "0x10", "9 9", "1e", "--9", "–9", "﹣9", "nine",
)  # fmt: skip
KINDS = {
    "LENGTH": NO_LENGTH, "MARGIN": NO_LENGTH, "N": NO_COUNT, "RATIO": NO_NUMBER,
    "DEGREES": NO_NUMBER, "EM": NO_NUMBER, "SIZE": NO_LENGTH, "SIZES": NO_LENGTH,
    "POSITIONS": NO_LENGTH, "WxH": NO_LENGTH, "WxH@D": NO_LENGTH, "WxH@X,Y": NO_LENGTH,
    "WxH,...": NO_LENGTH, "CORNERS": NO_LENGTH, "PITCH": NO_LENGTH,
}  # fmt: skip
MAY_BE_NOTHING = frozenset(
    ("head", "foot", "from-head", "edge", "band-clearance", "clearance", "overlap", "squares",
     "joint-width", "leather-width", "corners", "covering-thickness", "recess-clearance", "margin",
     "gutter", "weeding-box")
)  # fmt: skip
# Two figures with a comma between them are a list there.
LISTS = frozenset(("SIZES", "POSITIONS", "WxH,...", "CORNERS", "WxH@X,Y"))


def beside(name: str) -> dict[str, str]:
    """What else has to be said for a field to be asked about at all."""
    if name in ("width", "panel", "front-board", "leaves"):
        return {}
    if name in ("board-label", "label-from-head", "joint-width", "leather-width", "corners"):
        return {"front-board": "135x215mm"}
    if name == "squares":
        return {"leaves": "130x210mm"}
    said = {"width": "25mm", "height": "200mm"}
    if name in ("extent", "leaf-count"):  # which give the width
        said = {"height": "200mm", "caliper": "0.1mm"}
    said.pop(name, None)
    return said | {
        "band-height": {"bands": "5"}, "band-clearance": {"bands": "5"},
        "tail-ratio": {"bands": "5"}, "title-panel": {"bands": "5"},
        "board": {"measured": "over-boards"}, "max-angle": {"rise": "4mm"},
        **dict.fromkeys(("from-tail", "first-line-from-tail", "call-size"), NUMBER),
        "overlap": {"old-lettering": "12x8mm", "method": "paper-label"},
        "label-thickness": {"method": "paper-label"}, "corner": {"panel-shape": "cut"},
        "stiffener": {"recess": "yes", "method": "leather-label"},
        "card-thickness": {"method": "leather-label"},
        "board-thickness": {"method": "leather-label"},
    }.get(name, {})  # fmt: skip


def numbers_of(command: str) -> list[tuple[str, str]]:
    """The options of a command that hold a number, each with what is to be written after it."""
    found = main.get_command(click.Context(main), command)
    assert found is not None
    return [
        (param.opts[-1].removeprefix("--"), str(param.metavar))
        for param in found.params
        if isinstance(param, click.Option) and param.metavar in KINDS
    ]


def hostile(name: str, kind: str) -> list[tuple[str, str]]:
    """Texts for an option, each with what of it has to be named."""
    values = list(KINDS[kind])
    if kind in ("LENGTH", "MARGIN", "WxH", "WxH@D", "SIZE"):
        values += NEGATIVE
    if kind in LISTS:
        values = [value for value in values if "," not in value]
    if name in ("extent", "leaf-count"):  # a book of so many is none to be refused
        values.remove("1000")
    if name == "tracking":  # any number is a count of thousandths
        values = list(NO_NUMBER)
    parts = {
        "WxH": ("{}x20mm", "20x{}"), "WxH@D": ("{}x20mm", "20x{}", "20x20@{}"),
        "WxH@X,Y": ("{}x3mm", "3x{}"), "WxH,...": ("30x{}",), "POSITIONS": ("{}", "40,{}"),
        "SIZES": ("{}", "12,{}"), "CORNERS": ("-9,-20 9,-20 0,{}",),
    }.get(kind, ("{}",))  # fmt: skip
    apart = [value for value in values if kind != "CORNERS" or " " not in value]
    apart = [value for value in apart if "x" not in kind.lower() or "x" not in value]
    return [(part.format(value), value) for value in apart for part in parts]


def words_of(said: dict[str, str]) -> list[str]:
    """Fields as options."""
    return [
        word
        for name, value in said.items()
        for word in ([f"--{name}"] if name == "recess" else [f"--{name}", value])
    ]


def wrong_with(command: str, done: Outcome, value: str, folder: Path) -> list[str]:
    """What is not as it should be with the refusal of a value."""
    found = faults([command], done, folder)
    if done.code != 2:
        found.append(f"exit code {done.code}")
    escaped = value.encode("unicode_escape").decode()
    if not any(one[:60] in done.err for one in (value, escaped)):
        found.append("the value is not named")
    if ";" not in done.err:
        found.append("no word of what to do")
    if any(path.name.startswith("OUT") for path in folder.iterdir()):
        found.append("a file was written")
    return found


WRITES = {"check": (), "sheet": ("--output", "OUT.pdf"), "recess": ("--output", "OUT.svg"),
          "worksheet": ("--output", "OUT.pdf")}  # fmt: skip
CASES = [(command, *option) for command in WRITES for option in numbers_of(command)]


def line_for(command: str, name: str, text: str) -> list[str]:
    """The words of a command with one option that is at fault."""
    words = [command, TITLE, *words_of(beside(name)), f"--{name}", text, *WRITES[command]]
    if name == "weeding-box":
        words[-1] = "OUT.svg"
        words.append("--single")
    return words


@pytest.mark.parametrize(("command", "name", "kind"), CASES)
def test_what_is_no_number_is_refused_in_every_option(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str, name: str, kind: str
) -> None:
    """One line that names the option and the value; nothing else said, nothing written."""
    monkeypatch.chdir(tmp_path)
    found = {}
    for text, value in hostile(name, kind):
        done = outcome(line_for(command, name, text))
        wrong = wrong_with(command, done, value, tmp_path)
        if f"--{name}" not in done.err:
            wrong.append("the option is not named")
        if wrong:
            found[text] = (wrong, done.err)
    assert not found


@pytest.mark.parametrize(
    ("command", "name"),
    [(command, name) for command, name, kind in CASES
     if kind in ("LENGTH", "PITCH", "SIZE", "SIZES") and name not in MAY_BE_NOTHING]
    + [("check", "max-angle"), ("check", "leading")],
)  # fmt: skip
def test_what_must_be_something_is_not_next_to_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str, name: str
) -> None:
    """Zero, what the arithmetic takes for it, and what no rule can measure."""
    monkeypatch.chdir(tmp_path)
    found = {}
    for text in NOTHING:
        if name in ("max-angle", "leading") and not text.lstrip("-").replace(".", "").isdigit():
            continue
        done = outcome(line_for(command, name, text))
        if done.code != 2 or f"--{name}" not in done.err or faults([command], done, tmp_path):
            found[text] = done
    assert not found
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("side", [("{}x20mm"), ("20x{}mm")])
@pytest.mark.parametrize("name", ["panel", "front-board", "board-label", "keep-free"])
@pytest.mark.parametrize("nothing", ["0", "0.00000000", "0.000000001"])
def test_a_side_of_next_to_nothing(name: str, side: str, nothing: str) -> None:
    """Geometry of it would divide by nothing."""
    done = outcome(line_for("check", name, side.format(nothing)))
    assert done.code == 2
    assert not faults(["check"], done)
    assert done.err.startswith(f"spinefit: --{name}: ")
    assert "is out of bounds; give" in done.err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--rise", "12.6"), "rises at most 12.5 mm"),
        (("--rise", "5000mm"), "5000 mm is out of bounds; give more than 0 and at most 2000 mm"),
        (("--radius", "12.4"), "a radius of at least 12.5 mm"),
        (("--arc", "25"), "give more than 25 mm"),
        (("--foot", "200"), "--foot"),
        (("--head", "100", "--foot", "100"), "leave nothing"),
        (("--bands", "50"), "bands 4 mm wide"),
        (("--bands", "100"), "a whole number from 0 to"),
        (("--bands", "2", "--band-height", "100"), "bands 100 mm wide"),
        (("--bands-at", "5,6,7mm"), "bands"),
        (("--bands-at", "100,199.9mm"), "bands"),
        (("--bands-at", ",".join(str(n) for n in range(1, 300))), "give 1 to 200"),
        (("--sizes", ",".join(str(n) for n in range(1, 300))), "give 1 to 200"),
        (("--edge", "12.5"), "--edge"),
        (("--lines", "1000000000"), "--lines"),
    ],
)
@pytest.mark.parametrize("command", list(WRITES))
def test_figures_that_no_back_can_have(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str, words: tuple[str, ...], said: str
) -> None:
    """Each sound by itself, and not together with the back."""
    monkeypatch.chdir(tmp_path)
    done = outcome([command, TITLE, *BACK, *words, *WRITES[command]])
    assert done.code == 2
    assert not faults([command], done, tmp_path)
    assert said in done.err
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("command", "words", "said"),
    [
        ("sheet", ("--gutter", "1000"), "--gutter: leaves no room for labels: '1000 mm'; give a"),
        ("sheet", ("--margin", "100"), "take larger paper, or a smaller --margin"),
        ("sheet", ("--paper", "0x20mm"), "--paper: no such sheet"),
        ("sheet", ("--paper", "nan"), "--paper"),
        ("sheet", ("--paper", "99999999x20"), "--paper: longer than 10 m"),
        ("sheet", ("--paper", "9,500x20"), "--paper: a comma in a number"),
        ("sheet", ("--labels", ""), "--labels: 0 values; give 1 to"),
        ("sheet", ("--labels", ",".join(["20x30"] * 51)), "give 1 to 50"),
        ("sheet", ("--labels", "0.00001x20mm"), "--labels: 1e-05 mm is out of bounds"),
        ("sheet", ("--splits", "0"), "give a whole number from 1 to 10"),
        ("sheet", ("--spares", "1000"), "from 0 to 999"),
        ("sheet", ("--weeding-box", "5000mm", "--single"), "5000 mm is out of bounds"),
        ("worksheet", ("--pitch", "0"), "--pitch: 0 mm is out of bounds"),
        ("worksheet", ("--pitch", "0.00001"), "--pitch: 1e-05 mm is out of bounds"),
        ("worksheet", ("--pitch", "0.0009"), "0.0009 mm is out of bounds; give at least 0.001 and"),
        ("worksheet", ("--pitch", "-3"), "--pitch: a length cannot be negative: '-3'"),
        ("worksheet", ("--pitch", "9mn"), "--pitch: no unit 'mn' here: '9mn'; did you mean 'mm'"),
        ("worksheet", ("--pitch", "even"), "choose from proportional, equal, or give a distance"),
        ("worksheet", ("--paper", "1e-9x200"), "--paper"),
    ],
)
def test_figures_of_the_sheets_themselves(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str, words: tuple[str, ...], said: str
) -> None:
    """Of paper, labels and their room, copies and pitches."""
    monkeypatch.chdir(tmp_path)
    file = "OUT.svg" if "--single" in words else "OUT.pdf"
    done = outcome([command, TITLE, *BACK, *words, "--output", file])
    assert done.code == 2
    assert not faults([command], done, tmp_path)
    assert said in done.err
    assert not list(tmp_path.iterdir())


def test_a_panel_too_low_to_measure_is_drawn_all_the_same(tmp_path: Path) -> None:
    """What is nearly nothing and yet something does not fit, and has its drawing."""
    for height in ("0.001", "0.04", "0.06"):
        path = tmp_path / f"DRAWING{height}.svg"
        words = ["check", TITLE, "--panel", f"20x{height}mm", "--drawing", str(path)]
        done = outcome(words)
        assert done.code == 1, done.err
        assert not faults(words, done, tmp_path)
        assert path.stat().st_size > 1000


TYPED_FIELDS = [field for field in FIELDS if field.kind.metavar in KINDS]


def test_a_bad_figure_in_a_table_is_that_rows_alone(tmp_path: Path) -> None:
    """Line and column are named, for every column and every figure; sound rows have answers."""
    rows = []
    for field in TYPED_FIELDS:
        for text, value in hostile(field.name, field.kind.metavar):
            if "\0" not in text:
                rows.append(({**beside(field.name), field.name: text}, field.name, value))
    table = tmp_path / "books.csv"
    with table.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, ["title", *(field.name for field in FIELDS)])
        writer.writeheader()
        for said, _, _ in rows:
            writer.writerow({"title": TITLE, **said})
        writer.writerow({"title": TITLE, "width": "25mm", "height": "200mm"})
    done = outcome(["batch", str(table), "--format", "jsonl", "--jobs", "1"])
    assert done.code == 2
    assert not faults(["batch"], done)
    *found, last = [json.loads(line) for line in done.out.splitlines()]
    assert last["report"]["verdict"] == "fits"
    wrong = []
    for (_, name, value), one in zip(rows, found, strict=True):
        said = one.get("error", "")
        escaped = value.encode("unicode_escape").decode()
        named = value[:60] in said or escaped[:60] in said
        if one.get("column") != name or not named or ";" not in said:
            wrong.append((name, value, one))
    assert not wrong
    at = f"spinefit: {table}:"
    told = [line.removeprefix(at) for line in done.err.splitlines() if line.startswith(at)]
    told = [line for line in told if line[:1].isdecimal()]  # others count the rest of a kind
    assert len(told) > len({name for _, name, _ in rows})  # the first of each kind
    for line in told:
        number = int(line.partition(":")[0])
        assert line.startswith(f"{number}: column '{rows[number - 2][1]}': ")


# Values of JSON and TOML that no field with a number can have.
NO_PLAIN_NUMBER = (
    True, False, {}, {"a": 1}, [[1, 2]], [True], [None], [{}], 1e308, -1e308, -9.5e7,
    10**25, "", "9,500mm", "3/0in", "9mn", "\u202e9", "９", "nan", [""], ["9,500"], [9] * 300,
)  # fmt: skip


def test_a_value_of_the_wrong_type_in_json_lines_is_that_rows_alone(tmp_path: Path) -> None:
    rows = [
        ({"title": TITLE, **beside(field.name), field.name: value}, field.name)
        for field in TYPED_FIELDS
        for value in NO_PLAIN_NUMBER
        if value != "" and not (field.name == "keep-free" and value == [True])
    ]
    table = tmp_path / "books.jsonl"
    table.write_text("\n".join(json.dumps(row) for row, _ in rows) + "\n", encoding="utf-8")
    done = outcome(["batch", str(table), "--format", "jsonl", "--jobs", "1"])
    assert done.code == 2
    assert not faults(["batch"], done)
    found = [json.loads(line) for line in done.out.splitlines()]
    wrong = [
        (row, one)
        for (row, name), one in zip(rows, found, strict=True)
        if one.get("column") != name or not one.get("error")
    ]
    assert not wrong


DATES = ("2026-01-01", "07:32:00", "2026-01-01T07:32:00Z")
NO_TOML = (
    "true", "false", "{}", "{ a = 'b' }", "[[1, 2], [3]]", "[true]", "[{}]", "nan", "-nan", "inf",
    "-inf", "1e308", "9" * 25, *DATES, '""', "' '", '"9,500mm"', '"3/0in"', '"9mn"', '"９"',
    '"\\u0000"', '"\\u202e9"', "'''\n\n'''",
)  # fmt: skip


@pytest.mark.parametrize("field", TYPED_FIELDS, ids=[field.name for field in TYPED_FIELDS])
def test_a_value_of_the_wrong_type_in_a_job_file(tmp_path: Path, field) -> None:
    """A list, a table, a yes or a date where a number belongs; the file and the key are named."""
    file = tmp_path / "book.toml"
    found = {}
    for value in NO_TOML:
        said = [f'title = "{TITLE}"', *(f'{key} = "{one}"' for key, one in
                                        beside(field.name).items())]  # fmt: skip
        file.write_text("\n".join([*said, f"{field.name} = {value}"]) + "\n", encoding="utf-8")
        done = outcome(["check", "--job", str(file)])
        wrong = faults(["check"], done)
        at_its_place = f"{file}: {field.name}: " in done.err or f": '{field.name}'; " in done.err
        if done.code != 2 or not done.err.startswith(f"spinefit: {file}: ") or not at_its_place:
            wrong.append("not refused at its place")
        if ";" not in done.err:
            wrong.append("no word of what to do")
        if wrong:
            found[value] = (wrong, done.err)
    assert not found


@pytest.mark.parametrize("command", list(WRITES))
def test_a_slip_in_a_name_is_offered_the_right_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    """On the command line, in a job file and in a table of titles."""
    monkeypatch.chdir(tmp_path)
    writes = WRITES[command]
    done = outcome([command, TITLE, *BACK, "--band-hieght", "4", *writes])
    assert (done.code, "did you mean --band-height?" in done.err) == (2, True)
    job = tmp_path / "book.toml"
    job.write_text(f'title = "{TITLE}"\nwidth = 25\nhieght = 200\n')
    done = outcome([command, "--job", "book.toml", *writes])
    assert (done.code, "did you mean 'height'?" in done.err) == (2, True)
    assert "book.toml" in done.err
    if command == "sheet":
        (tmp_path / "titles.csv").write_text("title,pannel\nTides,20x30\n")
        done = outcome([command, "--titles", "titles.csv", *writes])
        assert (done.code, "did you mean 'panel'?" in done.err) == (2, True)
    assert done.err.count("\n") == 1
    assert not [path for path in tmp_path.iterdir() if path.name.startswith("OUT")]


@pytest.mark.parametrize("value", [*NO_COUNT, "0", "257", "999", ""])
def test_a_number_of_processes(value: str) -> None:
    done = outcome(["batch", "-", "--jobs", value], b"title,width\nTides,25\n")
    assert (done.code, done.out) == (2, "")
    assert done.err.startswith("spinefit: --jobs: ")
    assert done.err.count("\n") == 1


@pytest.mark.parametrize(
    "width_mm", [10**400, -(10**400), 10**16, 10**5000], ids=["400", "-400", "16", "5000"]
)
def test_a_whole_number_past_all_floats_is_refused(width_mm: int) -> None:
    """From Python, where integers have no end."""
    with pytest.raises(FieldError, match=r"spine\.width_mm: not a number"):
        check(Job(title="Tides", spine=Spine(width_mm=width_mm, height_mm=210)))
