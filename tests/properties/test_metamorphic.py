"""What must stay the same, or change in a known way, when a job is put another way."""

from __future__ import annotations

import json
import shlex
import unicodedata
from dataclasses import replace
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from spinefit import Job, Lettering, Panel, Spine, SpinefitError, check, pipeline
from spinefit.cli.main import main
from spinefit.drawing.back import elevation
from spinefit.drawing.frame import frame_of
from spinefit.drawing.marks import extents_mm
from spinefit.drawing.plate import subject_of
from spinefit.drawing.scene import Group
from spinefit.say.as_json import to_dict, to_json
from spinefit.say.remedies import remedies
from spinefit.vocabulary import BackForm, Centre, Orientation
from tests.properties.strategies import half_mm, jobs, letterings, spines, titles

CASES = settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
SLOW = settings(CASES, max_examples=12)
SIZE_STEP_PT = 1e-3  # limits are rounded down to it
ALONG, ACROSS = Orientation.LONGITUDINAL, Orientation.TRANSVERSE


def answered(job: Job):
    """The report, or nothing where the job is refused."""
    try:
        return check(job)
    except SpinefitError:
        assume(False)


def run(*words: str) -> tuple[int, str]:
    """Exit code and standard output of a command line in this process."""
    done = CliRunner().invoke(main, list(words))
    assert done.exit_code in (0, 1, 2), done.exception
    return done.exit_code, done.stdout


# ---------------------------------------------------------------- the same said another way


@CASES
@given(jobs(), st.sampled_from(["Ången", "ÉTÉS", "Łódź Ẽ", "Ǖber çédille"]))
def test_composed_and_decomposed_titles_are_one_title(job, word):
    """Every figure of the report; the titles are canonically equivalent (UAX #15)."""
    title = f"{word} {job.title}"
    one, other = (
        answered(replace(job, title=unicodedata.normalize(form, title))) for form in ("NFC", "NFD")
    )
    assert unicodedata.normalize("NFC", to_json(other)) == unicodedata.normalize(
        "NFC", to_json(one)
    )


@CASES
@given(titles(), st.integers(24, 160), st.integers(16, 96), st.integers(0, 8))
def test_inches_and_millimetres_agree_to_the_last_digit(title, sixteenths, eighths, kept):
    """A sixteenth of an inch is 1.5875 mm: every byte of the report but what is repeated."""
    inches = (f"{sixteenths}/16in", f"{eighths}/8in", f"{kept}/16in")
    metric = [
        f"{steps * each / 10000:.4f}mm"
        for steps, each in ((sixteenths, 15875), (eighths, 31750), (kept, 15875))
    ]
    found = [
        run(
            "check", title, "--width", width, "--height", height, "--clearance", clear,
            "--format", "json",
        )
        for width, height, clear in (inches, metric)
    ]  # fmt: skip
    assert found[0] == found[1]


OPTIONS = st.fixed_dictionaries(
    {"width": st.sampled_from(["9mm", "25mm", "1 1/4in"]), "height": st.just("21cm")},
    optional={
        "bands": st.just("4"),
        "case": st.sampled_from(["capitals", "as-typed"]),
        "tracking": st.sampled_from(["-20", "50"]),
        "market": st.sampled_from(["GB", "DE"]),
        "method": st.sampled_from(["leather-label", "hand-letters"]),
        "size": st.sampled_from(["8", "14pt"]),
        "clearance": st.just("0.5mm"),
        "foot": st.just("12mm"),
        "orientation": st.sampled_from(["transverse", "longitudinal"]),
        "reading-distance": st.just("700mm"),
        "centre": st.sampled_from(["ink", "capitals"]),
    },
)


@CASES
@given(titles(most=4), OPTIONS, st.randoms(use_true_random=False))
def test_the_order_of_options_does_not_matter(title, said, chance):
    """Nor whether a job file says them."""
    pairs = list(said.items())
    chance.shuffle(pairs)
    one, other = (
        run("check", title, *(w for key, value in order for w in (f"--{key}", value)),
            "--format", "json")
        for order in (said.items(), pairs)
    )  # fmt: skip
    assert one == other


@SLOW
@given(titles(most=4), OPTIONS)
def test_a_report_is_the_same_bytes_from_options_a_file_and_a_table(tmp_path_factory, title, said):
    """One job on the command line, in a job file, and as the row of a table."""
    assume(" / " not in title)  # in a table a slash breaks only where that is asked
    folder = tmp_path_factory.mktemp("job")
    file, table = folder / "job.toml", folder / "books.csv"
    lines = [f"{key} = {json.dumps(value)}" for key, value in (("title", title), *said.items())]
    file.write_text("\n".join(lines), encoding="utf-8")
    cells = [json.dumps(value, ensure_ascii=False) for value in (title, *said.values())]
    table.write_text(f"{','.join(('title', *said))}\n{','.join(cells)}\n", encoding="utf-8")
    words = [word for key, value in said.items() for word in (f"--{key}", value)]
    code, text = run("check", title, *words, "--format", "json")
    assert run("check", "--job", str(file), "--format", "json") == (code, text)
    again, row = run("batch", str(table), "--format", "jsonl", "--jobs", "1")
    assert again == code
    if code != 2:
        # Shapes are chosen by eye, book by book: a table does not look for them.
        assert json.loads(row)["report"] == json.loads(text) | {"shapes": None}


@CASES
@given(jobs())
def test_blanks_about_a_title_say_nothing(job):
    """Before it, after it, or two for one."""
    wide = job.title.replace(" / ", "\0").replace(" ", "  ").replace("\0", "  /  ")
    report, other = answered(job), answered(replace(job, title=f"  {wide} "))
    assert other.title == report.title
    assert (other.layouts, remedies(other)) == (report.layouts, remedies(report))
    assert {one for one in other.assumed if one not in report.assumed} <= {
        "spaces: one between words, where the title has several"
    }


BOOKS = st.lists(
    st.tuples(titles(most=3, forced=False), st.sampled_from(["6", "12.5", "30", "x"])),
    min_size=2,
    max_size=5,
)


@SLOW
@given(BOOKS, st.randoms(use_true_random=False))
def test_the_order_of_rows_and_columns_does_not_matter(tmp_path_factory, books, chance):
    """What is found for a book depends on its row and nothing else."""
    file = tmp_path_factory.mktemp("books") / "books.jsonl"

    def found(rows: list[Any], columns: list[str]) -> dict[str, Any]:
        lines = [json.dumps({name: row[name] for name in columns}) for row in rows]
        file.write_text("\n".join(lines), encoding="utf-8")
        text = run("batch", str(file), "--format", "jsonl", "--jobs", "1")[1]
        answers = [json.loads(line) for line in text.splitlines()]
        assert [one.pop("line") for one in answers] == list(range(1, len(rows) + 1))
        return {one.pop("kept")["id"]: one for one in answers}

    rows = [
        {"id": f"b{at}", "title": title, "width": width, "height": "200"}
        for at, (title, width) in enumerate(books)
    ]
    names = list(rows[0])
    first = found(rows, names)
    chance.shuffle(rows)
    chance.shuffle(names)
    assert found(rows, names) == first
    assert first.keys() == {row["id"] for row in rows}


# ------------------------------------------------------------------- changed in a known way


@CASES
@given(titles(), half_mm(10, 40), half_mm(60, 200), letterings, st.booleans())
def test_twice_the_back_takes_twice_the_size(title, width, height, lettering, rounded):
    """Every length of the back doubled, its allowances too: sizes and spare double."""

    def doubled(times: int) -> Job:
        kept = lettering.clearance_mm
        return Job(
            title=title,
            spine=Spine(
                width_mm=times * width,
                height_mm=times * height,
                head_mm=times * 5.0,
                foot_mm=times * 7.0,
                edge_mm=times * 1.5,
                **({"back": BackForm.ROUNDED, "rise_mm": times * width / 5} if rounded else {}),
            ),
            lettering=replace(
                lettering,
                size_pt=times * 8.0,
                clearance_mm=None if kept is None else times * kept,
            ),
        )

    small, large = (answered(doubled(times)) for times in (1, 2))
    assert large.panel.width_mm == pytest.approx(2 * small.panel.width_mm, abs=1e-9)
    before, after = (
        {
            (one.orientation, one.lines): one
            for one in report.layouts
            if one.split in ("whole", "least width", "as typed") and not one.word_broken
        }
        for report in (small, large)
    )
    assert before.keys() == after.keys()
    for key, one in before.items():
        twice = after[key]
        assert twice.largest_pt == pytest.approx(2 * one.largest_pt, abs=2.1 * SIZE_STEP_PT)
        assert twice.ink_width_mm == pytest.approx(2 * one.ink_width_mm, abs=1e-9)
        for side in ("left", "right", "head", "tail"):
            spare = getattr(one.spare_mm, side)
            assert getattr(twice.spare_mm, side) == pytest.approx(2 * spare, abs=1e-6)


@CASES
@given(titles(), half_mm(6, 60), half_mm(6, 60), letterings)
def test_a_panel_laid_on_its_side_takes_across_what_it_took_along(title, width, height, lettering):
    """A quarter turn of panel and lettering together changes no size and no spare.

    Lines across open up where there is room, unless their distance is given.
    """
    leading_em = lettering.leading_em or 1.2
    lettering = replace(
        lettering, size_pt=9.0, centre=Centre.INK, break_words=None, leading_em=leading_em
    )
    along, across = (
        answered(
            Job(
                title=title,
                panel=Panel(width_mm=sides[0], height_mm=sides[1]),
                lettering=replace(lettering, orientation=way),
            )
        )
        for sides, way in (((width, height), ALONG), ((height, width), ACROSS))
    )
    found = [
        {one.lines: one for one in report.layouts if one.split in ("whole", "least width")}
        for report in (along, across)
    ]
    for lines in found[0].keys() & found[1].keys():
        one, other = found[0][lines], found[1][lines]
        assert one.largest_pt == pytest.approx(other.largest_pt, abs=1.1 * SIZE_STEP_PT)
        assert one.ink_width_mm == pytest.approx(other.ink_width_mm, abs=1e-9)
        assert sorted((one.spare_mm.left, one.spare_mm.right)) == pytest.approx(
            sorted((other.spare_mm.head, other.spare_mm.tail)), abs=1e-9
        )


@CASES
@given(jobs())
def test_what_is_advised_is_found_again_when_asked_for(job):
    """Its size, lines and orientation typed: the same ink in the same place, and it fits."""
    assume(job.lettering.size_pt is None)
    report = answered(job)
    assume(report.recommended is not None)
    one = report.layouts[report.recommended]
    asked = replace(
        job.lettering, size_pt=one.set_pt, lines=len(one.lines), orientation=one.orientation
    )
    again = answered(replace(job, lettering=asked))
    same = next(
        other
        for other in again.layouts
        if (other.lines, other.over_bands) == (one.lines, one.over_bands)
    )
    assert same.fits
    assert same.largest_pt == one.largest_pt
    assert same.ink_width_mm == one.ink_width_mm
    assert same.spare_mm == one.spare_mm
    assert same.tight == one.tight


@CASES
@given(titles(), spines())
def test_ends_changed_over_leave_lettering_along_as_large(title, spine):
    """The space kept free at head and tail, the other way round: a back stood on its head."""
    assume(spine.height_mm is not None and spine.bands is None)
    head, foot = (
        answered(
            Job(
                title=title,
                spine=replace(spine, head_mm=ends[0], foot_mm=ends[1]),
                lettering=Lettering(orientation=ALONG, size_pt=9.0, centre=Centre.INK),
            )
        )
        for ends in ((5.0, 12.0), (12.0, 5.0))
    )
    for one, other in zip(head.layouts, foot.layouts, strict=True):
        assert one.largest_pt == other.largest_pt
        assert (one.spare_mm.head, one.spare_mm.tail) == pytest.approx(
            (other.spare_mm.head, other.spare_mm.tail), abs=1e-9
        )


@SLOW
@given(jobs())
def test_the_ink_that_is_drawn_is_the_ink_that_is_reported(job):
    """For any job, from the extrema of the curves drawn to a hundredth of a millimetre."""
    try:
        subject = subject_of(pipeline.answer(job))
    except SpinefitError:
        assume(False)
    (shown,) = subject.texts
    lettering = next(
        item
        for item in elevation(frame_of([shown]))
        if isinstance(item, Group) and item.name == "lettering"
    )
    left, bottom, right, top = extents_mm(lettering.items)
    layout = to_dict(shown.answer.report)["layouts"][
        shown.answer.report.layouts.index(shown.layout)
    ]
    sides = (right - left, top - bottom)
    if layout["orientation"] == "longitudinal":
        sides = sides[::-1]
    assert sides == pytest.approx((layout["ink_width_mm"], layout["ink_height_mm"]), abs=0.01)
    panel = frame_of([shown]).panels_mm[0]
    clear = shown.answer.job.lettering.clearance_mm
    spare = layout["spare_mm"]
    assert left - panel[0] - clear == pytest.approx(spare["left"], abs=0.01)
    assert panel[2] - right - clear == pytest.approx(spare["right"], abs=0.01)
    if spare["head"] is not None:
        assert panel[3] - top - clear == pytest.approx(spare["head"], abs=0.01)
        assert bottom - panel[1] - clear == pytest.approx(spare["tail"], abs=0.01)


@SLOW
@given(titles(most=4, forced=False), half_mm(5, 14), st.sampled_from(["14", "30"]))
def test_options_of_a_remedy_on_the_command_line_give_its_size(title, width, size):
    """Typed after the command as the report prints them, to the size that it claims.

    Those that take the title off the back stand in place of the back's own.
    """
    asked = ("check", title, "--size", size, "--format", "json")
    back = ("--width", f"{width}mm", "--height", "120mm")
    code, text = run(*asked, *back)
    assume(code == 1)
    for remedy in json.loads(text)["remedies"]:
        if not remedy["options"] or remedy["largest_pt"] is None:
            continue
        kept = () if remedy["change"] in ("cover", "cover-old") else back  # another place
        changed = json.loads(run(*asked, *kept, *shlex.split(remedy["options"]))[1])
        best = changed["layouts"][changed["recommended"]]
        assert best["largest_pt"] == remedy["largest_pt"], remedy["change"]
