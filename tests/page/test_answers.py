"""What the page tells is what the command line tells."""

from __future__ import annotations

import base64
import json
from pathlib import Path

import pytest

from tests.page.served import ROOT

JOBS = sorted((ROOT / "shared" / "jobs").glob("*.toml"))


def files_beside(page, job: Path) -> dict[str, str]:
    """The tools that an example names lie in another folder: here they lie beside it."""
    tools = ROOT / "shared" / "tools" / "reading-room-brass.toml"
    code, _, body = page.reply("file", tools.read_bytes())
    assert code == 200
    return {"reading-room-brass.toml": json.loads(body)["sha256"]}


def text_of(job: Path) -> str:
    return job.read_text(encoding="utf-8").replace("../tools/", "")


@pytest.mark.parametrize("job", JOBS, ids=lambda path: path.stem)
def test_every_example_gives_the_figures_of_the_command_line(page, run, job):
    about = {"job": text_of(job), "files": files_beside(page, job)}
    told = page.ask("ask/answer", about)
    made = page.ask("make/json", about)
    found = json.loads(run("check", "--job", str(job), "--format", "json").stdout)
    (file,) = made["files"]
    assert file["name"] == "report.json"
    assert _without_places(json.loads(base64.b64decode(file["data"]))) == _without_places(found)
    assert told["verdict"] == found["verdict"]
    assert told["answer"] == found["answer"]
    reports = list(_reports(found))
    assert len(told["texts"]) == len(reports) > 0
    for text, report in zip(told["texts"], reports, strict=True):
        assert (text["verdict"], text["answer"]) == (report["verdict"], report["answer"])
        assert text["panel"] == report["panel"]
        if report["recommended"] is not None:
            layout = report["layouts"][report["recommended"]]
            for figure in ("set_pt", "largest_pt", "lines"):
                assert text[figure] == layout[figure]


def _reports(found):
    """The report of each text, of all volumes, in their order."""
    if "layouts" in found:
        yield found
    for volume in found.get("volumes", [found]):
        for one in volume.get("texts", [volume]):
            if "report" in one:
                yield one["report"]


def _without_places(report):
    """The same without the folder that a file lies in."""
    if isinstance(report, dict):
        return {
            name: Path(value).name if name == "file" and value else _without_places(value)
            for name, value in report.items()
        }
    return [_without_places(one) for one in report] if isinstance(report, list) else report


@pytest.mark.parametrize("job", JOBS, ids=lambda path: path.stem)
def test_a_job_file_opened_is_a_draft_of_it(page, job):
    about = {"job": text_of(job), "files": files_beside(page, job)}
    told = page.ask("ask/open", about)
    assert "fault" not in told
    assert told["lacking"] == []
    assert all(volume["texts"] for volume in told["draft"]["volumes"])


def test_a_job_names_its_files_without_their_folders(page):
    job = 'title = "Tides"\nwidth = "20mm"\nfont = "../fonts/own.ttf"\n'
    job += 'fallback = ["a/b.otf", "Cinzel"]\n'
    told = page.ask("ask/open", {"job": job})
    assert told["lacking"] == ["b.otf", "own.ttf"]
    values = told["draft"]["values"]
    assert (values["font"], values["fallback"]) == ("own.ttf", ["b.otf", "Cinzel"])
    fault = page.ask("ask/answer", {"job": job.replace("../fonts/", "")})["fault"]
    assert fault["where"] in ("font", "fallback")
    assert "open it here" in fault["text"]


@pytest.mark.parametrize("value", ["5", '"words"', '[1, "two"]', "{ font = 7 }"])
def test_what_is_no_table_is_refused_in_words(page, value):
    told = page.ask("ask/answer", {"job": f'title = "Tides"\nwidth = "20mm"\ntext = {value}\n'})
    assert "internal" not in told["fault"]["text"]


@pytest.mark.parametrize("question", ["ask/answer", "ask/open", "ask/improve", "make/json"])
def test_what_is_no_text_and_no_figure_is_refused_in_words(page, question):
    job = 'title = "Tides"\nwidth = "20mm"\n'
    for about in (
        {"job": "# \udcff\n" + job},
        {"job": f"{job}height = nan\nboard = -inf\n"},
        {"job": job, "files": {"\ud800": "0" * 64, "灯" * 150: "0" * 64}},
    ):
        told = json.dumps(page.ask(question, about))
        assert "internal" not in told


def test_a_file_of_no_name_for_a_disk_is_left_out(page):
    digest = json.loads(page.reply("file", b"no font")[2])["sha256"]
    named = {"\ud800": digest, "灯" * 150: digest, "../up": digest}
    job = 'title = "Tides"\nwidth = "20mm"\n'
    assert page.ask("ask/answer", {"job": job, "files": named})["verdict"] == "fits"


def test_a_fault_names_its_field(page):
    cases = {
        'title = "Tides"\nwidth = "9 cubits"\n': "width",
        'width = "9mm"\n': "title",
        'width = "30mm"\nheight = "200mm"\n[[text]]\nrole = "title"\ntext = "A"\nsize = "x"\n'
        '[[text]]\nrole = "date"\ntext = "1889"\n': "text 1: size",
    }
    for job, where in cases.items():
        assert page.ask("ask/answer", {"job": job})["fault"]["where"].rstrip(": ") == where


def changed(job: str, values: dict[str, str]) -> str:
    """A job of one field a line with some of them said anew, before its tables."""
    kept = [line for line in job.splitlines() if line.partition(" ")[0] not in values]
    return "\n".join([*(f'{k} = "{v}"' for k, v in values.items() if v), *kept]) + "\n"


@pytest.mark.parametrize(
    "job",
    [
        'title = "Tide / Tables"\npanel = "30x4mm"\n',
        'title = "Annals of the Harbour Department"\npanel = "30x9mm"\nlines = "1"\n',
    ],
)
def test_every_remedy_names_the_values_that_make_it(page, job):
    told = page.ask("ask/improve", {"job": job})
    edits = [one["edit"] for one in told["remedies"] if one["edit"]]
    assert edits
    for edit in edits:
        values = dict(edit.get("values", {}))
        if "texts" in edit:
            values["title"] = edit["texts"]["title"]["text"]
        elsewhere = {"panel"} if "front-board" in values else set()
        typed = changed(job, {**values, **dict.fromkeys(elsewhere, "")})
        assert page.ask("ask/answer", {"job": typed})["verdict"] != "does not fit", edit


BACK = """width = "12"
height = "60"
[[text]]
role = "author"
text = "J. Penwarne"
[[text]]
role = "title"
text = "Annals of the Harbour Commissioners"
size = "30"
"""
SET = """height = "230"
title = "Annals"
[[volume]]
width = "30"
[[volume]]
width = "32"
[[volume]]
width = "9"
"""


def test_what_makes_the_texts_of_a_back_fit_can_be_done(page):
    (found,) = page.ask("ask/improve", {"job": BACK})["remedies"]
    assert found["edit"] == {"values": {"size": ""}, "texts": {"title": {"size": ""}}}
    assert page.ask("ask/answer", {"job": BACK})["verdict"] == "does not fit"
    again = BACK.replace('size = "30"\n', "")
    assert page.ask("ask/answer", {"job": again})["verdict"] != "does not fit"


def test_what_a_set_could_do_can_be_done(page):
    *_, found = page.ask("ask/improve", {"job": SET})["remedies"]
    assert found["text"].startswith("Letter all alike")
    assert found["edit"] == {"apart": {"0": False, "1": False, "2": False}}
    alike = SET.replace("[[volume]]", "[[volume]]\napart = false")
    answer = page.ask("ask/answer", {"job": alike})["answer"]
    assert found["text"].rpartition(" at ")[2].removesuffix(".") in answer


def test_a_volume_of_other_words_is_like_its_set(page):
    job = """height = "120"
[[volume]]
title = "Harbour Tide Tables"
width = "30"
[[volume]]
title = "Harbour Tide Tables"
width = "32"
[[volume]]
title = "Harbour International Proceedings"
width = "30"
"""
    first, *_ = page.ask("ask/improve", {"job": job})["remedies"]
    words = first["edit"]["volumes"]["2"]["title"]["text"]
    assert f"“{words}”" in first["text"]
    assert "apart" in page.ask("ask/answer", {"job": job})["answer"]
    again = job.replace("Harbour International Proceedings", words)
    assert "apart" not in page.ask("ask/answer", {"job": again})["answer"]


@pytest.mark.parametrize(
    ("title", "broken"), [("The Administrations", True), ("Harbour Administrations", False)]
)
def test_what_is_like_a_set_is_in_as_many_lines(page, title, broken):
    """Of two lines; the second can be broken into three alone."""
    volume = '[[volume]]\nwidth = "40"\ntitle = "{}"\n'
    titles = ("Harbour Tide Tables", "Harbour Tide Tables", title)
    job = 'height = "120"\n' + "".join(map(volume.format, titles))
    told = [one["text"] for one in page.ask("ask/improve", {"job": job})["remedies"]]
    assert any("like the others: if you allow a word to be broken" in one for one in told) is broken
    assert all(one.count(" / ") == 1 for one in told if "broken, " in one)


def test_a_board_of_which_nothing_is_known_is_a_place_to_letter(page):
    job = 'title = "Annals of the Harbour Commissioners of Wrackness"\nwidth = "3mm"\n'
    *_, last = page.ask("ask/improve", {"job": job})["remedies"]
    assert last["edit"] == {"place": "board"}


def test_settings_are_told_with_the_values_that_ask_for_them(page):
    job = 'title = "Tide Tables of the North"\nwidth = "30mm"\nheight = "210mm"\n'
    told = page.ask("ask/settings", {"job": job})
    other = next(one for one in told["texts"][0] if not one["advised"])
    found = page.ask("ask/settings", {"job": changed(job, other["edit"]["values"])})
    assert {json.dumps(one["edit"]) for one in found["texts"][0]} == {json.dumps(other["edit"])}


def test_what_nobody_can_ask_for_is_shown_alone(page):
    job = 'title = "The Harbour Light of the North"\nwidth = "40"\nheight = "230"\nbands = "5"\n'
    (ways,) = page.ask("ask/settings", {"job": job})["texts"]
    assert {"over the bands" in one["name"]: one["edit"] is None for one in ways} == {
        True: True, False: False,
    }  # fmt: skip


@pytest.mark.parametrize("job", [BACK.replace("30", "6"), SET], ids=["back", "set"])
def test_several_texts_can_be_laid_across_or_along(page, job):
    told = page.ask("ask/settings", {"job": job})["all"]
    assert {one["name"] for one in told} <= {"Across", "Along"}
    assert [one["advised"] for one in told].count(True) == 1
    for one in told:
        found = page.ask("ask/answer", {"job": changed(job, one["edit"]["values"])})
        assert found["verdict"] == one["verdict"]


def test_the_tasks_are_those_of_the_checklist(page, run, tmp_path):
    job = 'title = "Tide_Tables *of* the North"\nwidth = "30mm"\nheight = "210mm"\n'
    told = page.ask("ask/tasks", {"job": job})["groups"]
    file = tmp_path / "job.toml"
    file.write_text(job, encoding="utf-8")
    written = run("check", "--job", str(file), "--format", "checklist").stdout
    tasks = [task for group in told for task in group["tasks"]]
    assert len(tasks) == written.count("\n- [")
    assert [done for done, _ in tasks].count(True) == written.count("\n- [x]")
    assert any("Tide_Tables *of* the North" in text for _, text in tasks)


SPOILT = 'title = "Tide Tables"\nwidth = "30mm"\nheight = "200mm"\nedge = "1.1mm"\n'


def test_what_would_be_cut_wrong_is_given_only_to_who_wants_it(page):
    made = page.ask("make/recess", {"job": SPOILT})
    assert (made["files"], made["withheld"]) == ([], True)
    assert "--force" not in made["said"]
    (file,) = page.ask("make/recess", {"job": SPOILT, "force": True})["files"]
    assert base64.b64decode(file["data"]).startswith(b"%PDF")


@pytest.mark.parametrize("what", ["sheet", "plot", "artwork", "recess", "worksheet"])
def test_nothing_is_made_of_what_finds_no_room(page, what):
    job = 'title = "Harbourmastership"\npanel = "8x4mm"\nmethod = "paper-label"\n'
    made = page.ask(f"make/{what}", {"job": job, "force": True})
    assert made["files"] == []
    assert made["said"].strip()


def test_a_file_that_is_lacking_is_asked_for(page):
    about = {
        "job": 'title = "Tides"\nwidth = "20mm"\nfont = "own.ttf"\n',
        "files": {"own.ttf": "0" * 64},
    }
    assert page.ask("ask/answer", about) == {"needs": ["0" * 64]}


def test_an_own_font_letters_the_title(page):
    data = ROOT / "fonts_open/cinzel/Cinzel-Regular.ttf"
    data = data if data.exists() else next((ROOT / "fonts_open/cinzel").glob("*.ttf"))
    digest = json.loads(page.reply("file", data.read_bytes())[2])["sha256"]
    about = {
        "job": 'title = "TIDES"\nwidth = "20mm"\nheight = "200mm"\nfont = "own.ttf"\n',
        "files": {"own.ttf": digest},
    }
    assert "Cinzel" in page.ask("ask/answer", about)["texts"][0]["font"]


def test_hostile_titles_are_shown_as_text(page):
    job = 'title = "<script>alert(1)</script>"\nwidth = "30mm"\nheight = "210mm"\n'
    told = page.ask("ask/answer", {"job": job})
    assert "<script" not in "".join(told["drawings"])


def test_what_takes_too_long_is_ended_and_the_page_goes_on(page):
    """A newer question of a tab takes the place of an older one."""
    many = " ".join(["Harbour"] * 60)
    slow = {"job": f'title = "{many}"\nwidth = "300mm"\nheight = "400mm"\nmethod = "vinyl"\n'}
    quick = {"job": 'title = "Tides"\nwidth = "20mm"\nheight = "200mm"\n'}
    assert page.ask("ask/answer?tab=one&turn=2", quick)["verdict"]
    assert page.ask("ask/answer?tab=one&turn=1", slow) == {"overtaken": True}


def test_what_is_made_is_what_the_command_line_makes(page, run, tmp_path):
    job = ROOT / "shared" / "jobs" / "label-with-author.toml"
    made = page.ask("make/sheet", {"job": text_of(job)})
    (file,) = made["files"]
    own = tmp_path / "labels.pdf"
    assert run("sheet", "--job", str(job), "--output", str(own)).exit_code == 0
    assert base64.b64decode(file["data"]) == own.read_bytes()


def opened_table(page, text: str):
    digest = json.loads(page.reply("file", text.encode())[2])["sha256"]
    return page.ask("ask/table", {"table": "trolley.csv", "files": {"trolley.csv": digest}})


def test_a_table_with_columns_of_its_owner_opens_and_says_which_are_left_aside(page):
    told = opened_table(page, "title,width,note,widht\nTide Tables,20mm,old,3\n")
    (book,) = told["books"]
    assert book["draft"]["values"] == {"width": "20mm"}
    assert told["notes"] == ["columns left aside: 'note', 'widht'"]
    assert "title" in opened_table(page, "nonsense\nx\n")["fault"]["text"]


BESIDE = {
    "tools": (
        'method = "hand-letters"\ntools = "own.toml"\n', b'name = "x"\n[[size]]\nface = "abc"\n',
    ),
    "method-file": (
        'method-file = "own.toml"\n', b'[our]\nlike = "leather-label"\nstroke_mm = "zz"\n',
    ),
    "font": ('font = "own.ttf"\n', b"no font at all"),
}  # fmt: skip


@pytest.mark.parametrize("field", BESIDE)
def test_what_is_wrong_in_a_file_is_told_by_its_name_alone(page, field):
    line, data = BESIDE[field]
    digest = json.loads(page.reply("file", data)[2])["sha256"]
    name = line.split('"')[-2]
    job = f'title = "Tides"\nwidth = "20mm"\n{line}'
    told = page.ask("ask/answer", {"job": job, "files": {name: digest}})["fault"]
    assert name in told["where"] + told["text"]
    assert "/" not in (told["where"] + told["text"]).replace("3/8in", "")
