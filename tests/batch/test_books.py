"""The answer for a row is that of a check."""

from __future__ import annotations

import pickle

import pytest

from spinefit import Job, Spine, check, check_row
from spinefit.backs import plan_set
from spinefit.batch.books import answer_book, answer_set
from spinefit.batch.model import Fault, Row, Settings
from spinefit.batch.work import Unit, work
from spinefit.plan.model import BackPlan, BackText
from spinefit.say.phrasing import grave, shown_layout
from spinefit.vocabulary import Role


def answered(defaults: dict[str, object] | None = None, **cells: object):
    return answer_book(Row(2, cells), Settings(defaults=defaults or {}))


def test_a_row_is_answered_as_a_check_is() -> None:
    found = check_row({"title": "The Harbour Light", "width": "9mm", "height": 210})
    report = check(Job(title="The Harbour Light", spine=Spine(width_mm=9, height_mm=210)))
    best = report.layouts[report.recommended]
    assert found["answer"] == report.answer
    assert (found["largest_pt"], found["set_pt"]) == (best.largest_pt, best.set_pt)
    assert (found["orientation"], found["reading"]) == ("longitudinal", "descending")
    assert found["spare_mm"] == pytest.approx(min(best.spare_mm), abs=1e-4)


def test_a_row_and_its_answer_travel_between_processes() -> None:
    row = {"title": "Tides", "width": 12}
    again = pickle.loads(pickle.dumps(check_row))
    assert pickle.loads(pickle.dumps(again(row))) == check_row(row)


def test_a_fault_names_its_column_and_raises_nothing() -> None:
    found = check_row({"id": "W 1", "title": "Tides", "width": "9,500"})
    assert found["id"] == "W 1"
    assert (found["verdict"], found["largest_pt"]) == ("", None)
    assert found["error"].startswith("column 'width': a comma in a number")


@pytest.mark.parametrize(
    ("cells", "column", "said"),
    [
        ({"width": 9}, "title", "no title"),
        ({"title": "Tides"}, "", "neither the width"),
        ({"title": "Tides", "width": 9, "lines": 4}, "lines", "4"),
        (
            {"title": "日本", "width": 9, "font": "EB Garamond"},
            "font",
            "EB Garamond has no 日 (U+65E5",
        ),
        ({"title": "Tides", "width": 9, "market": "ZZ"}, "market", "ZZ"),
        ({"title": "Tides", "width": 9, "author": "Quay"}, "", "--height"),
        ({"title": "Tides", "width": 9, "height": 200, "author": "/"}, "author", "no letters"),
    ],
)
def test_faults_of_every_stage(cells, column, said) -> None:
    fault = answered(**cells).result.fault
    assert fault is not None
    assert (fault.column, said in fault.text) == (column, True), fault


def test_defaults_hold_where_a_row_says_nothing() -> None:
    assert answered({"width": 9, "font": "Cinzel"}, title="Tides").report.font.name == "Cinzel"


def test_a_panel_puts_the_defaults_of_a_back_aside() -> None:
    """And a width a default panel, and one figure of the round the others."""
    back = {"width": 9, "height": 210, "bands": 5}
    assert answered(back, title="Tides", panel="20x30").report.panel.of == "outright"
    assert answered({"panel": "20x30"}, title="Tides", width=9).report.panel.of == "back"
    assert answered({"width": 30, "rise": 5}, title="Tides", arc=33).result.fault is None


def test_a_slash_is_a_letter_unless_asked() -> None:
    """Catalogues put it before the author."""
    row = Row(2, {"title": "Tides / Quay", "width": 40, "height": 200})
    plain = answer_book(row, Settings()).report
    forced = answer_book(row, Settings(slash_breaks=True)).report
    assert plain.title == "Tides / Quay"
    assert forced.title == "Tides Quay"


def test_a_slash_in_a_text_of_several_is_a_letter_too() -> None:
    row = Row(2, {"title": "Tides / Quay", "author": "H. Quay", "width": 40, "height": 200})
    texts = answer_book(row, Settings()).report.texts
    assert "Tides / Quay" in {one.report.title for one in texts}


def test_several_texts_are_planned() -> None:
    found = answered(title="Northern Roads", author="H. Quay", date="1848", width=30, height=240)
    assert [str(one.role) for one in found.report.texts] == ["author", "title", "date"]
    assert found.result.verdict == "fits"


def volumes(*titles: str, **more: object) -> list[Row]:
    return [
        Row(line, {"title": title, "width": 20 + line, "height": 210, "set": "s", **more})
        for line, title in enumerate(titles, 2)
    ]


def test_volumes_of_a_set_share_their_size() -> None:
    found = answer_set(volumes("Tide Tables I", "Tide Tables II"), Settings())
    assert len({one.result.set_pt for one in found}) == 1
    assert [one.result.line for one in found] == [2, 3]
    assert all("pt as the set has it," in one.result.answer for one in found)
    asked = answer_set(volumes("Tide Tables I", "Tide Tables II", size=9), Settings())
    assert all("9 pt as asked," in one.result.answer for one in asked)


def test_a_fault_in_a_set_is_its_own_and_the_others_name_it() -> None:
    rows = volumes("I", "II", "III")
    rows[1] = rows[1]._replace(cells={**rows[1].cells, "width": "wide"})
    faults = [one.result.fault for one in answer_set(rows, Settings())]
    assert faults[1] is not None
    assert faults[1].column == "width"
    assert faults[0] == faults[2] == Fault("set", "line 3 of this set is at fault; mend that row")


def test_volumes_of_several_texts_share_the_size_of_each() -> None:
    """As `plan_set` finds it; a row is written for each, of its title."""
    rows = volumes("Tide Tables", "Tide Tables", author="H. Quay", font="EB Garamond")
    rows = [row._replace(cells={**row.cells, "volume": str(row.line - 1)}) for row in rows]
    found = answer_set(rows, Settings())
    assert [one.result.verdict for one in found] == ["fits", "fits"]
    sizes = [{one.role: one.set_pt for one in book.report.texts} for book in found]
    assert sizes[0] == sizes[1]
    assert {str(role) for role in sizes[0]} == {"author", "title", "volume"}
    backs = plan_set([(book.result.title + str(at), plan_of(book.row)) for at, book in
                        enumerate(found)])  # fmt: skip
    assert {one.role: one.set_pt for one in backs.roles} == sizes[0]
    assert found[0].result.set_pt == sizes[0][Role.TITLE]
    assert "author" in found[0].result.answer


def plan_of(row: Row) -> BackPlan:
    texts = tuple(
        BackText(role=role, text=str(row.cells[role.value]))
        for role in (Role.AUTHOR, Role.TITLE, Role.VOLUME)
    )
    spine = Spine(width_mm=float(str(row.cells["width"])), height_mm=210.0)
    return BackPlan(spine=spine, texts=texts, slash_breaks=False)


def test_a_volume_too_thin_for_its_texts_does_not_fit_the_others_do() -> None:
    rows = volumes("Tide Tables", "Tide Tables", author="Augustine Mole and Others")
    rows[1] = rows[1]._replace(cells={**rows[1].cells, "width": 3})
    found = answer_set(rows, Settings())
    assert found[1].result.verdict == "does not fit"
    assert found[1].report.failing
    assert found[0].result.answer.endswith("but the set does not fit so: line 3 cannot take it.")
    assert "the set does not fit" not in found[1].result.answer


def test_a_volume_that_fits_says_that_another_does_not() -> None:
    """Else its label is cut, and then the set is planned anew."""
    rows = volumes("Tides", "Lamps", "Fog")
    rows[1] = rows[1]._replace(cells={**rows[1].cells, "width": 3})
    found = answer_set(rows, Settings())
    assert [one.result.verdict == "does not fit" for one in found] == [False, True, False]
    for fits in (found[0], found[2]):
        assert fits.result.answer.endswith("the set does not fit so: line 3 cannot take it.")


def test_a_fault_of_a_text_in_a_set_is_its_own() -> None:
    rows = volumes("Tide Tables", "Tide Tables", author="H. Quay", font="EB Garamond")
    rows[1] = rows[1]._replace(cells={**rows[1].cells, "author": "\u6e2f"})
    faults = [one.result.fault for one in answer_set(rows, Settings())]
    assert faults[0] == Fault("set", "line 3 of this set is at fault; mend that row")
    assert faults[1] is not None
    assert "\u6e2f" in faults[1].text


def test_a_set_of_one_is_none() -> None:
    fault = answer_set(volumes("I"), Settings())[0].result.fault
    assert fault is not None
    assert (fault.column, "fewer than two" in fault.text) == ("set", True)


def test_a_fault_of_ours_costs_one_book(monkeypatch) -> None:
    """Whatever goes wrong inside is a row at fault, said as such."""
    import spinefit.pipeline

    real = spinefit.pipeline.answer

    def broken(job, **more):
        if job.title == "Two":
            raise RuntimeError("broken")
        return real(job, **more)

    monkeypatch.setattr(spinefit.pipeline, "answer", broken)
    units = [
        Unit((Row(at, {"title": title, "width": 20}),))
        for at, title in enumerate(["One", "Two", "Three"], 2)
    ]
    done = work(Settings(), units)
    assert [bool(verdict) for verdict in done.verdicts] == [True, False, True]
    broken = Fault("", "internal fault: RuntimeError: broken; please report it")
    assert done.faults == ((3, broken),)


def test_the_figures_of_a_row_are_those_of_its_report() -> None:
    """Across the first baseline from the head, along where the ink begins; the back as judged."""
    for cells in ({"width": 40, "height": 200}, {"width": "9..11", "height": 200, "market": "GB"}):
        one = answered(title="The Harbour Light", method="blocked-case", **cells)
        layout = shown_layout(one.report)
        across = str(layout.orientation) == "transverse"
        found = one.result
        places = (found.first_baseline_mm, found.from_head_mm)
        wanted = round(layout.first_from_head_mm, 4)
        assert places == ((wanted, None) if across else (None, wanted))
        assert (found.method, found.height_mm) == ("blocked-case", 200)
        assert found.width_mm == (40 if across else 9)
        assert found.spare_mm == round(min(s for s in layout.spare_mm if s is not None), 4)


def test_every_text_of_a_back_has_its_size_and_place() -> None:
    one = answered(
        title="Northern Roads", author="H. Quay", imprint="Wrackness", width=30, height=240
    )
    found = one.result.values(("author", "date", "imprint"))
    assert found["date_pt"] is None
    for text in one.report.texts:
        layout = shown_layout(text.report)
        first_mm = round(layout.first_from_head_mm, 4)
        across = layout.orientation == "transverse"
        begin = "first" if text.role == "title" else text.role
        assert found[f"{begin}_baseline_mm"] == (first_mm if across else None)
        if text.role != "title":
            assert found[f"{text.role}_from_head_mm"] == (None if across else first_mm)
            assert found[f"{text.role}_pt"] == text.set_pt
            assert found[f"{text.role}_lines"] == " / ".join(layout.lines)
            assert found[f"{text.role}_spare_mm"] <= layout.spare_mm.left + 1e-4


def test_every_text_of_a_label_is_measured_from_its_upper_edge() -> None:
    one = answered(title="Northern Roads", author="H. Quay", date="1889", panel="30x40mm")
    found = one.result.values(("author", "date"))
    texts = {str(text.role): text for text in shown_layout(one.report).texts}
    assert list(texts) == ["author", "title", "date"]
    for role in ("author", "date"):
        assert found[f"{role}_pt"] == texts[role].set_pt
        assert found[f"{role}_baseline_mm"] == round(texts[role].baselines_mm[0], 4)
    assert found["first_baseline_mm"] == round(texts["title"].baselines_mm[0], 4)
    assert found["author_baseline_mm"] < found["first_baseline_mm"] < found["date_baseline_mm"]
    assert (found["width_mm"], found["height_mm"]) == (30, 40)


def test_warnings_of_weight_are_told_each_once_with_the_text_they_are_of() -> None:
    plain = answered(title="Tides", width=20, height=200)
    assert plain.result.warnings == ""
    small = answered(title="The Wreck Register", width=5, height=60)
    grave_ones = [one.text for one in grave(small.report)]
    assert grave_ones and small.result.warnings == " ".join(grave_ones)
    several = answered(title="The Wreck Register", author="H. Quay", width=5, height=60)
    assert "Author: " in several.result.warnings and "Title: " in several.result.warnings
    along = answered(title="Tide Tables", author="H. Quay", width=18, height=210, market="DE")
    assert along.result.warnings.startswith("Title, Author: Lettering along the back reads")
    assert along.result.warnings.count("Lettering along") == 1


def test_what_is_to_be_minded_of_the_words_is_no_warning_too() -> None:
    """A call number that goes on the front cover is said once."""
    one = answered(title="Tides", **{"call-number": "823.914 TEL"}, width=4, height=200).result
    said = "put it on the front cover"
    assert said in one.mind and said not in one.warnings
