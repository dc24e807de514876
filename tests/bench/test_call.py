"""Call numbers as a library asks for them.

Standing: the lower edge 1 1/4 or 1 1/2 in (31.75 or 38.1 mm) from the tail, at the head of oversize
books, lengthwise on thin ones and on the front cover when very thin: Bailey, Library Bookbinding
(1916), published. 14 pt, 10 at least: recalled. The panel at the tail of a banded back: practice.
"""

from __future__ import annotations

import csv
import json
from dataclasses import replace
from io import StringIO

import pytest
from click.testing import CliRunner

from spinefit import BackPlan, Job, Lettering, Spine, check
from spinefit.backs import plan_back, plan_set
from spinefit.cli.main import main
from spinefit.drawing.plate import subject_of_plan
from spinefit.errors import FieldError
from spinefit.geometry.polygons import ink_polygon
from spinefit.job.places import Align, CallNumber, Scheme
from spinefit.job.values import Panel, Part
from spinefit.pipeline import answer
from spinefit.plan import BackText
from spinefit.say.as_json import to_dict
from spinefit.say.phrasing import shown
from spinefit.say.plan_text import render
from spinefit.vocabulary import Orientation, Role

NUMBER = "823.912 QUI 1907"


def back(width_mm, height_mm=222, *, title="The Harbour Light", **said):
    """A title and a call number on a foil-blocked case."""
    number, size_pt = said.pop("number", NUMBER), said.pop("size_pt", None)
    call = said.pop("call", None)
    return BackPlan(
        spine=Spine(width_mm=width_mm, height_mm=height_mm, **said),
        texts=(
            BackText(role=Role.TITLE, text=title),
            BackText(role=Role.CALL_NUMBER, text=number, size_pt=size_pt),
        ),
        call_number=call,
        market="GB",
        method="blocked-case",
    )


def texts_of(report):
    return {str(one.role): one for one in report.texts}


def number_of(report):
    return texts_of(report)["call-number"]


@pytest.mark.parametrize(
    ("call", "edge_mm"),
    [(None, 38.1), (CallNumber(from_tail_mm=31.75), 31.75), (CallNumber(from_tail_mm=50.8), 50.8)],
)
def test_the_lower_edge_stands_where_the_house_has_it_and_the_title_keeps_off(call, edge_mm):
    report = plan_back(back(32, call=call))
    number = number_of(report)
    assert report.fits
    assert number.from_tail_mm == pytest.approx(edge_mm, abs=0.01)
    assert shown(number.report).lines == ("823.912", "QUI", "1907")
    assert number.set_pt == 14
    assert texts_of(report)["title"].from_tail_mm > 222 - number.zone.begins_mm
    assert to_dict(report)["texts"][-1]["from_tail_mm"] == edge_mm


def test_the_edge_is_that_of_the_ink_as_it_is_drawn():
    job = Job(
        title=NUMBER, role=Role.CALL_NUMBER, market="GB", method="blocked-case",
        spine=Spine(width_mm=32, height_mm=222), call_number=CallNumber(align=Align.LEFT),
    )  # fmt: skip
    found = answer(job, verify=True)
    layout = found.judgement.shown.layout
    shown_size_mm = found.judgement.shown.size_mm
    _left, bottom, _right, _top = ink_polygon(layout.placed()).bounds
    y_mm = found.judgement.shown.centre_mm[1] + bottom * shown_size_mm
    from_tail_mm = 222 - found.panel.middle_from_head_mm + y_mm
    assert from_tail_mm == pytest.approx(38.1, abs=0.01)


def test_a_first_line_stands_still_and_the_number_grows_downward():
    call = CallNumber(first_line_mm=60)
    for number in (NUMBER, "823.912", "PR6045.O72 Z8 1953"):
        one = number_of(plan_back(back(32, number=number, call=call)))
        layout = shown(one.report)
        assert 222 - layout.first_from_head_mm == pytest.approx(60, abs=0.01)
        assert one.from_tail_mm < 60.01


def test_a_first_line_too_low_for_its_lines_says_where_it_stands_instead():
    one = number_of(
        plan_back(back(32, number="PR6045.O72 Z8 1953 v.2", call=CallNumber(first_line_mm=20)))
    )
    (astray,) = [each for each in shown(one.report).findings if each.topic == "call-number-astray"]
    assert astray.limit == 20 and astray.value > 20


def test_lines_flush_left_begin_together_and_the_group_keeps_the_middle():
    found = {}
    for align in Align:
        job = Job(
            title=NUMBER, role=Role.CALL_NUMBER, market="GB", method="paper-label",
            spine=Spine(width_mm=32, height_mm=222), call_number=CallNumber(align=align),
        )  # fmt: skip
        one = answer(job, verify=True)
        layout = one.judgement.shown.layout
        lefts = {}
        for curves, x, y in layout.placed():
            ink = ink_polygon([(curves, x, y)]).bounds
            lefts[y] = min(lefts.get(y, ink[0]), ink[0])
        found[align] = sorted(lefts.values())
        assert one.judgement.shown.spare_mm.left == pytest.approx(
            one.judgement.shown.spare_mm.right
        )
    assert max(found[Align.LEFT]) - min(found[Align.LEFT]) < 1e-6
    assert max(found[Align.CENTRED]) - min(found[Align.CENTRED]) > 0.1


def test_its_size_is_its_own_whatever_the_titles():
    for title in ("Dues", "The Harbour Light", "Commissioners of Lighthouses"):
        assert number_of(plan_back(back(40, title=title))).set_pt == 14
    assert number_of(plan_back(back(40, call=CallNumber(size_pt=18)))).set_pt == 18
    assert number_of(plan_back(back(40, size_pt=12, call=CallNumber(size_pt=18)))).set_pt == 12


@pytest.mark.parametrize(("height_mm", "largest"), [(40, False), (60, True)])
def test_among_the_texts_of_a_label_it_keeps_to_ten_and_fourteen_points(height_mm, largest):
    """However small the title beside it is, and however large."""
    parts = (
        Part(role=Role.TITLE, text="Log" if largest else "The Lighthouse Log"),
        Part(role=Role.CALL_NUMBER, text="823.10 QUI"),
    )
    panel = Panel(width_mm=30, height_mm=height_mm)
    report = check(Job(title="", parts=parts, panel=panel, method="paper-label"))
    title, number = report.layouts[report.recommended].texts
    assert number.set_pt == (14 if largest else 10)
    assert (title.set_pt > 17.5) is largest


def test_on_a_thin_book_it_runs_along_in_one_line_and_on_the_thinnest_goes_to_the_cover():
    thin = number_of(plan_back(back(9)))
    assert shown(thin.report).orientation is Orientation.LONGITUDINAL
    assert shown(thin.report).lines == (NUMBER,)
    assert thin.set_pt >= 10
    assert thin.from_tail_mm == pytest.approx(38.1, abs=0.01)
    report = plan_back(back(4))
    assert Role.CALL_NUMBER in report.failing
    assert "put it on the front cover" in report.answer


def test_a_title_may_run_along_with_its_number_across():
    report = plan_back(back(22, title="Proceedings of the Harbour Commissioners"))
    found = {role: shown(one.report).orientation for role, one in texts_of(report).items()}
    assert report.fits
    assert found == {"title": Orientation.LONGITUDINAL, "call-number": Orientation.TRANSVERSE}


def test_an_oversize_book_has_it_at_the_head_unless_its_place_was_given():
    report = plan_back(back(40, 420))
    first, second = report.texts
    assert (first.role, second.role) == (Role.CALL_NUMBER, Role.TITLE)
    assert first.zone.begins_mm == pytest.approx(38.1, abs=0.01)
    assert "at the head, as the book is oversize" in " ".join(render(report).split())
    kept = plan_back(back(40, 420, call=CallNumber(from_tail_mm=31.75)))
    assert number_of(kept).from_tail_mm == pytest.approx(31.75, abs=0.01)


def test_between_bands_it_has_the_tail_panel_and_the_date_moves_up():
    plan = back(40, 250, bands=5)
    date = BackText(role=Role.DATE, text="1907")
    report = plan_back(replace(plan, texts=(*plan.texts, date)))
    assert {role: one.panel for role, one in texts_of(report).items()} == {
        "title": 2, "date": 5, "call-number": 6,
    }  # fmt: skip


def test_volumes_of_a_set_have_their_numbers_at_one_height_and_size_however_many_lines():
    volumes = [
        (f"{at}", back(width_mm, number=f"823.912 QUI 1907{more}"))
        for at, (width_mm, more) in enumerate(((32, ""), (19, " v.2"), (30, " v.3 copy 2")), 1)
    ]
    report = plan_set(volumes)
    numbers = [number_of(one) for one in report.volumes]
    assert report.fits
    assert len({one.set_pt for one in numbers}) == 1
    assert all(one.from_tail_mm == pytest.approx(38.1, abs=0.01) for one in numbers)
    assert [len(shown(one.report).lines) for one in numbers] == [3, 4, 5]


def test_alone_it_is_asked_as_a_title_is():
    job = Job(
        title="PR6045.O72 Z8", role=Role.CALL_NUMBER, market="GB", method="paper-label",
        spine=Spine(width_mm=30, height_mm=220),
    )  # fmt: skip
    report = check(job)
    layout = shown(report)
    assert layout.lines == ("PR", "6045", ".O72", "Z8")
    (stands,) = [one for one in layout.findings if one.topic == "call-number-stands"]
    assert stands.value == pytest.approx(38.1, abs=0.01)


def batch(table, *options):
    return CliRunner().invoke(main, ["batch", str(table), *options, "--jobs", "1"])


def test_a_table_takes_it_as_displayed(tmp_path):
    """CSV text is kept to the nought; a number of JSON is asked about."""
    table = tmp_path / "books.csv"
    table.write_text(
        "title,call-number,width,height\nTide Tables,823.10,32,222\n", encoding="utf-8"
    )
    found = CliRunner().invoke(
        main, ["batch", str(table), "--format", "html", "--align", "left", "--jobs", "1"]
    )
    assert found.exit_code == 0
    assert "823.10" in found.stdout
    lines = tmp_path / "books.jsonl"
    rows = [
        {"title": "Tide Tables", "call-number": number, "width": 32, "height": 222}
        for number in (823.1, "823.10")
    ]
    lines.write_text("".join(f"{json.dumps(row)}\n" for row in rows), encoding="utf-8")
    found = batch(lines, "--format", "csv")
    first, second = list(csv.DictReader(StringIO(found.stdout)))
    assert "may have lost a nought" in first["mind"]
    assert second["mind"] == ""
    reports = [json.loads(line) for line in batch(lines, "--format", "jsonl").stdout.splitlines()]
    topics = [{one["topic"] for one in each["report"]["findings"]} for each in reports]
    assert "call-number-noughts" in topics[0]
    assert "call-number-noughts" not in topics[1]


@pytest.mark.parametrize(
    ("number", "asked"),
    [
        ("7.5", True), ("20", True), ("20 QUA", True), ("5", True), ("020", False),
        ("823.1", False), ("PR6045", False), ("7th Quarto", False), ("007.5 QUA", False),
    ],
)  # fmt: skip
def test_a_text_with_too_few_figures_is_asked_about_too(tmp_path, number, asked):
    """As a spreadsheet saves 007.5 and 020."""
    table = tmp_path / "books.csv"
    table.write_text(f"title,call-number,width,height\nTides,{number},32,222\n", encoding="utf-8")
    (row,) = csv.DictReader(StringIO(batch(table, "--format", "csv").stdout))
    assert row["verdict"] and ("may have lost a nought" in row["mind"]) == asked


def test_one_job_file_serves_the_sheet_too_and_lines_that_cannot_be_are_refused(tmp_path):
    job = tmp_path / "number.toml"
    text = '[[text]]\nrole = "call-number"\ntext = "PR6045.O72 Z8"\n'
    job.write_text(f'panel = "30x40mm"\nmethod = "paper-label"\n{text}', encoding="utf-8")
    sheet = tmp_path / "labels.pdf"
    done = CliRunner().invoke(main, ["sheet", "--job", str(job), "--output", str(sheet)])
    assert done.exit_code == 0
    assert "PR / 6045 / .O72 / Z8" in done.stdout
    with pytest.raises(FieldError, match="make 4 lines"):
        check(
            Job(
                title="PR6045.O72 Z8", role=Role.CALL_NUMBER, lettering=Lettering(lines=2),
                spine=Spine(width_mm=30, height_mm=220),
            )
        )  # fmt: skip


@pytest.mark.parametrize(
    "said",
    [
        {"from_tail_mm": 38.0}, {"first_line_mm": 60.0}, {"align": Align.LEFT},
        {"scheme": Scheme.LC}, {"size_pt": 12.0},
    ],
)  # fmt: skip
def test_what_is_said_of_a_number_that_is_not_there_is_refused(said):
    """A binder who leaves out the role would else get a title where the mark was wanted."""
    call, spine = CallNumber(**said), Spine(width_mm=30, height_mm=220)
    title = BackText(role=Role.TITLE, text="Tides")
    label = (Part(role=Role.TITLE, text="Tides"), Part(role=Role.DATE, text="1907"))
    for ask in (
        lambda: check(Job(title="QA76 Q5", spine=spine, call_number=call)),
        lambda: check(
            Job(title="", parts=label, panel=Panel(width_mm=30, height_mm=40), call_number=call)
        ),
        lambda: plan_back(BackPlan(spine=spine, texts=(title,), call_number=call)),
    ):
        with pytest.raises(FieldError, match="there is no call number for it"):
            ask()


def test_a_table_takes_what_is_said_of_numbers_for_the_rows_that_have_one(tmp_path):
    table = tmp_path / "books.csv"
    rows = "title,call-number,width,height\nTides,,30,220\nTide Tables,823.10,30,220\n"
    table.write_text(rows, encoding="utf-8")
    found = batch(table, "--align", "left", "--format", "csv")
    assert found.exit_code == 0
    assert all(not row["error"] for row in csv.DictReader(StringIO(found.stdout)))


@pytest.mark.parametrize("method", ["cloth-print", "paper-label", "blocked-case", "screen-print"])
def test_the_mark_is_the_edge_of_the_lettering_by_every_method(method):
    """A shelf is read by its letters: a label goes on below the mark, the ink does not (Bailey)."""
    call = CallNumber(from_tail_mm=31.75, align=Align.LEFT)
    plan = replace(back(30, 220, title="Tides", call=call), method=method)
    report = plan_back(plan)
    one = number_of(report)
    judged, panel = one.judged.shown, one.judged.panel
    _left, bottom, _right, _top = ink_polygon(judged.layout.placed()).bounds
    y_mm = judged.centre_mm[1] + bottom * judged.size_mm
    assert 220 - panel.middle_from_head_mm + y_mm == pytest.approx(31.75, abs=0.01)
    assert one.from_tail_mm == pytest.approx(31.75, abs=0.01)
    assert "lower edge 31.75 mm" in " ".join(render(report).split())


def test_a_number_has_a_label_of_its_own_as_it_is_drawn():
    """No one cuts one label from the title to the mark: the number's ends where its lines do."""
    report = plan_back(replace(back(30, 220, title="Tides"), method="cloth-print"))
    title, number = subject_of_plan(report).backs[0]
    assert title.label_mm is None
    begins_mm, ends_mm = number.label_mm
    assert title.panel.middle_from_head_mm + title.panel.height_mm / 2 <= begins_mm
    around_mm = 2 * number.answer.job.lettering.clearance_mm
    assert ends_mm - begins_mm == pytest.approx(number.layout.ink_height_mm + around_mm, abs=0.01)


def test_an_oversize_book_says_why_its_number_stands_at_the_head():
    """Which edge is held has to be read: 367 mm from the tail is nobody's mark."""
    spine = Spine(width_mm=40, height_mm=400)
    layout = shown(check(Job(title="823.10 QUI", role=Role.CALL_NUMBER, spine=spine)))
    (found,) = [one for one in layout.findings if one.topic.startswith("call-number-")]
    assert found.text == (
        "An oversize book: the call number stands at the head, its top 38.1 mm from it."
    )


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[[volume]]\nvolume = "1"\ntitle = "Tides"\n', "volume 1: no key of a volume: 'volume'"),
        ('[[volume]]\nnumber = 1\ntitle = "Tides"\n', 'its name is label = "1"'),
        (
            '[[text]]\nrole = "title"\ntext = "T"\n[[text]]\nrole = "call-number"\n'
            'text = "823 Q"\nfrom-tail = "38mm"\n',
            "put it at the top of the job",
        ),
    ],
)  # fmt: skip
def test_a_key_in_the_wrong_table_is_shown_its_place(tmp_path, text, said):
    job = tmp_path / "job.toml"
    job.write_text(f"width = 30\nheight = 220\n{text}", encoding="utf-8")
    done = CliRunner().invoke(main, ["check", "--job", str(job)])
    assert done.exit_code == 2
    assert said in done.stderr
