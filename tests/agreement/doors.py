"""By which doors may one book be asked for, and what does each answer?

A door takes a book and an empty folder and answers `Answered`: the exit code, the verdict, and
the report of each text or volume as `spinefit.report/1` has it, whatever schema holds it.
`seen` picks what every door must agree on, `differences` compares it.
"""

from __future__ import annotations

import csv
import json
import re
import subprocess
import sys
from collections.abc import Mapping, Sequence
from dataclasses import fields
from pathlib import Path
from typing import Any, NamedTuple

from click.testing import CliRunner
from openpyxl import Workbook

from spinefit import BackPlan, BackText, Job, check, plan_back, plan_set
from spinefit.cli.main import main
from spinefit.job.fields import assemble
from spinefit.say.as_json import to_dict
from spinefit.vocabulary import Role
from tests.agreement.books import Book, Value, Volumes

__all__ = [
    "OF_A_TEXT", "ONE_BOOK", "SET_DOORS", "Answered", "Rows", "asked_of", "asked_rows",
    "differences", "flat_seen", "job_of_one_text", "job_of_two_volumes", "of_rows",
    "options", "seen", "toml",
]  # fmt: skip

_ROUNDED_MM = 0.0002  # JSON has four decimals, and a sum of two rounded ones is out by one more
_ROUNDED_PT = 0.0011  # a limit is rounded down to a thousandth


class Answered(NamedTuple):
    """What a door answered.

    Attributes:
        code: its exit code; None of a Python call.
        verdict: of the whole.
        reports: of each text or volume.
        common: what a set says that all its volumes share, else nothing.
    """

    code: int | None
    verdict: str
    reports: tuple[dict[str, Any], ...]
    common: Mapping[str, Any] = {}


# What is compared


def seen(report: Mapping[str, Any]) -> dict[str, Any]:
    """The figures of the setting that is advised, or shown where none fits, and the findings."""
    layout = _shown(report)
    found: dict[str, Any] = {name: report[name] for name in _OF_A_REPORT}
    found |= {name: layout[name] for name in _OF_A_LAYOUT}
    found |= {f"spare_mm {side}": mm for side, mm in layout["spare_mm"].items()}
    found |= {
        f"{name} {at}": mm
        for name in ("baselines_mm", "line_widths_mm")
        for at, mm in enumerate(layout[name], 1)
    }
    for whose, findings in (("the book", report["findings"]), ("the lines", layout["findings"])):
        found |= _found_of(f"finding of {whose}", findings)
    return found


def _found_of(whose: str, findings: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """Level, value and limit of each finding; of one topic the second has a name of its own."""
    found: dict[str, Any] = {}
    for one in findings:
        name = f"{whose}: {one['topic']}"
        while name in found:
            name += ", another"
        found[name] = one["level"]
        found |= {f"{name}, {part} {one['unit']}": one[part] for part in ("value", "limit")}
    return found


_OF_A_REPORT = ("verdict", "title", "recess", "front_board", "label")
_OF_A_LAYOUT = (
    "lines", "set_pt", "largest_pt", "orientation", "reading", "turn", "first_from_head_mm",
    "ink_width_mm", "ink_height_mm", "cap_height_mm", "limited_by", "centre", "fits", "tight",
)  # fmt: skip


def _shown(report: Mapping[str, Any]) -> Mapping[str, Any]:
    layouts: Sequence[Mapping[str, Any]] = report["layouts"]
    fits = report["recommended"] is not None
    return layouts[report["recommended" if fits else "nearest"]]


def flat_seen(report: Mapping[str, Any]) -> dict[str, Any]:
    """The columns that the results of a table have for it."""
    layout = _shown(report)
    spares = [mm for mm in layout["spare_mm"].values() if mm is not None]
    same = ("largest_pt", "set_pt", "orientation", "reading")
    across = layout["orientation"] == "transverse"
    first_mm = layout["first_from_head_mm"]
    return {
        "method": report["method"]["key"],
        "first_baseline_mm": first_mm if across else None,
        "from_head_mm": None if across else first_mm,
        "verdict": report["verdict"],
        "lines": " / ".join(layout["lines"]),
        "spare_mm": min(spares, default=None),
        "answer": report["answer"],
        **{name: layout[name] for name in same},
    }


def differences(mine: Mapping[str, Any], theirs: Mapping[str, Any]) -> list[str]:
    """What two doors disagree on, a line each; lengths and limits but for their rounding."""
    return [
        f"{name}: {mine.get(name, 'nothing')!r} against {theirs.get(name, 'nothing')!r}"
        for name in [*mine, *(name for name in theirs if name not in mine)]
        if not _same(name, mine.get(name, ""), theirs.get(name, ""))
    ]


def _same(name: str, mine: object, theirs: object) -> bool:
    if isinstance(mine, float | int) and isinstance(theirs, float | int):
        if name == "set_pt":
            return mine == theirs
        return abs(mine - theirs) <= (_ROUNDED_PT if name.endswith("pt") else _ROUNDED_MM)
    return mine == theirs


# The doors of one book


def asked_of(words: Sequence[str]) -> Answered:
    """What a command line answers; whatever it says must be one JSON object."""
    done = CliRunner().invoke(main, [*words, "--format", "json"])
    assert done.exit_code in (0, 1), done.stderr or repr(done.exception)
    return _answered(json.loads(done.stdout), done.exit_code)


def _answered(found: Mapping[str, Any], code: int | None) -> Answered:
    common: dict[str, Any] = {}
    if found["schema"] == "spinefit.report/1":
        reports = [found]
    elif found["schema"] == "spinefit.back/1":
        reports = [text["report"] for text in found["texts"]]
    elif found["schema"] == "spinefit.set/1":
        reports = [volume["report"] for volume in found["volumes"]]
        common = {name: found[name] for name in _COMMON}
    else:
        reports = [text["report"] for volume in found["volumes"] for text in volume["texts"]]
        title = next(role for role in found["roles"] if role["role"] == "title")
        common = {name: title[name] for name in _COMMON}
    return Answered(code, found["verdict"], tuple(reports), common)


_COMMON = ("orientation", "reading", "lines", "set_pt")


def _command_line(book: Book, _folder: Path) -> Answered:
    return asked_of(["check", book.title, *options(book.said)])


def options(said: Mapping[str, Value]) -> list[str]:
    """The fields as words of a command line."""
    words = []
    for name, value in said.items():
        for one in value if isinstance(value, list) else [value]:
            words += [f"--{name}"] if isinstance(one, bool) else [f"--{name}", one]
    return words


def toml(said: Mapping[str, Value]) -> str:
    """The fields as lines of a job file; what JSON writes of texts and lists TOML reads."""
    return "".join(
        f"{name} = {json.dumps(value, ensure_ascii=False)}\n" for name, value in said.items()
    )


def _job_file(text: str, folder: Path) -> Answered:
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    return asked_of(["check", "--job", str(path)])


def _title_in_a_file(book: Book, folder: Path) -> Answered:
    return _job_file(toml({"title": book.title, **book.said}), folder)


def job_of_one_text(book: Book) -> str:
    """A job file with the title as its only text."""
    return f"{toml(book.said)}[[text]]\n{_title_text(book.title)}"


def _one_text(book: Book, folder: Path) -> Answered:
    return _job_file(job_of_one_text(book), folder)


def _title_text(title: str) -> str:
    return toml({"role": "title", "text": title})


OF_A_TEXT = {"case": "case", "font": "font", "size": "size", "title-panel": "panel"}
"""Fields of a job that may stand beside the text instead, and what they are called there."""


def _one_text_with_its_own(book: Book, folder: Path) -> Answered:
    above = {name: value for name, value in book.said.items() if name not in OF_A_TEXT}
    own = {OF_A_TEXT[name]: value for name, value in book.said.items() if name in OF_A_TEXT}
    return _job_file(f"{toml(above)}[[text]]\n{_title_text(book.title)}{toml(own)}", folder)


def job_of_two_volumes(book: Book) -> str:
    """A job file with the book as both volumes of a set."""
    volumes = "".join(f"[[volume]]\n{toml({'label': n, 'title': book.title})}" for n in "12")
    return f"{toml(book.said)}{volumes}"


def _twice(book: Book, folder: Path) -> Answered:
    return _job_file(job_of_two_volumes(book), folder)


def _twice_as_texts(book: Book, folder: Path) -> Answered:
    volumes = "".join(
        f"[[volume]]\n{toml({'label': n})}[[volume.text]]\n{_title_text(book.title)}" for n in "12"
    )
    return _job_file(f"{toml(book.said)}{volumes}", folder)


def _called(book: Book, _folder: Path) -> Answered:
    return _answered(to_dict(check(_job(book))), None)


def _job(book: Book) -> Job:
    return assemble(book.title, book.said)


def _planned(book: Book, _folder: Path) -> Answered:
    job = _job(book)
    text = BackText(role=job.role or Role.TITLE, text=book.title)
    said = {field.name: getattr(job, field.name) for field in fields(Job)} | {"title": ""}
    found = plan_back(BackPlan(texts=(text,), **said))
    return Answered(None, str(found.verdict), tuple(to_dict(one.report) for one in found.texts))


ONE_BOOK = {
    "command line": _command_line,
    "title in a file": _title_in_a_file,
    "one text": _one_text,
    "one text with its own fields": _one_text_with_its_own,
    "a set of it twice": _twice,
    "a set of its text twice": _twice_as_texts,
    "check": _called,
    "plan_back": _planned,
}
"""The doors by which one book is asked for, but for those of a table."""


# The doors of a table, which answers all books at once


class Rows(NamedTuple):
    """What a table's results say: for each name the reports of its rows, and the faults."""

    code: int
    reports: Mapping[str, tuple[dict[str, Any], ...]]
    faults: Mapping[str, str]


def asked_rows(
    rows: Sequence[tuple[str, str, Mapping[str, Value]]], path: Path, *more: str
) -> Rows:
    """What ``batch`` answers of rows, each of a name, a title and fields; with more options."""
    (_write_workbook if path.suffix == ".xlsx" else _write_csv)(_table(rows), path)
    words = [str(path), "--format", "jsonl", "--slash-breaks", "--verify", "--jobs", "1", *more]
    done = subprocess.run(
        [sys.executable, "-m", "spinefit", "batch", *words], capture_output=True, check=False
    )
    reports: dict[str, tuple[dict[str, Any], ...]] = {}
    faults: dict[str, str] = {}
    for line in done.stdout.decode().splitlines():
        found = json.loads(line)
        name = found["kept"]["id"]
        if "error" in found:
            faults[name] = f"{found['column']}: {found['error']}"
        else:
            report = _answered(found["report"], None).reports[0]
            reports[name] = (*reports.get(name, ()), report)
    assert len(faults) + sum(map(len, reports.values())) > 0, done.stderr.decode()
    return Rows(done.returncode, reports, faults)


def _table(rows: Sequence[tuple[str, str, Mapping[str, Value]]]) -> list[list[str]]:
    names = list(dict.fromkeys(name for _id, _title, said in rows for name in said))
    found = [["id", "title", *names]]
    for name, title, said in rows:
        found.append([name, title, *(_cell(said.get(key, "")) for key in names)])
    return found


def _write_csv(table: list[list[str]], path: Path) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(table)


def _write_workbook(table: list[list[str]], path: Path) -> None:
    """With figures as numbers, as a spreadsheet has them."""
    book = Workbook()
    assert book.active is not None
    for line, row in enumerate(table, 1):
        for column, text in enumerate(row, 1):
            figure = column > 2 and re.fullmatch(r"[0-9]+(\.[0-9]+)?", text)
            cell = book.active.cell(line, column)
            cell.value = float(text) if figure else text
            cell.data_type = "n" if figure else "s"  # a title that begins with = is no formula
    book.save(path)


def _cell(value: Value) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ";".join(value) if isinstance(value, list) else value


def of_rows(rows: Rows, name: str) -> Answered:
    """What the rows of that name answered."""
    assert name not in rows.faults, rows.faults[name]
    reports = rows.reports[name]
    verdicts = {report["verdict"] for report in reports}
    worst = next(one for one in ("does not fit", "tight", "fits") if one in verdicts)
    return Answered(None, worst, reports)


# The doors of a set


def _volumes_of_titles(one: Volumes, folder: Path) -> Answered:
    volumes = "".join(
        f"[[volume]]\n{toml({'label': str(at), 'title': title, **own})}"
        for at, (title, own) in enumerate(one.volumes, 1)
    )
    return _job_file(f"{toml(one.said)}{volumes}", folder)


def _volumes_of_texts(one: Volumes, folder: Path) -> Answered:
    volumes = "".join(
        f"[[volume]]\n{toml({'label': str(at), **own})}[[volume.text]]\n{_title_text(title)}"
        for at, (title, own) in enumerate(one.volumes, 1)
    )
    return _job_file(f"{toml(one.said)}{volumes}", folder)


def _volumes_called(one: Volumes, _folder: Path) -> Answered:
    jobs = [
        (str(at), assemble(title, {**one.said, **own}))
        for at, (title, own) in enumerate(one.volumes, 1)
    ]
    found = plan_set(jobs)
    common = {name: getattr(found, name) for name in _COMMON}
    reports = tuple(to_dict(one.report) for one in found.volumes)
    return Answered(None, str(found.verdict), reports, common)


SET_DOORS = {
    "titles": _volumes_of_titles,
    "texts": _volumes_of_texts,
    "plan_set": _volumes_called,
}
"""The doors by which a set is asked for, but for a table's."""
