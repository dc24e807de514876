"""What can the page ask, and what is answered?

In: a question by name and what it is about: the text of a job file, with the files beside it. Out:
plain values and drawings. A job file goes the way that it goes on the command line, so that both
give the same figures; a fault of the input is an answer too, with the field that it is about.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path
from types import MappingProxyType
from typing import Any

from spinefit.errors import FieldError, SpinefitError
from spinefit.job.house import NO_HOUSE, House
from spinefit.page.drafts import draft_of, lacking_files, refuse_paths, with_plain_names
from spinefit.page.store import JOB, laid_out, lay_job

_NOTHING: Mapping[str, object] = MappingProxyType({})


def answer(
    question: str, asked: Mapping[str, Any], folder: str, house: House = NO_HOUSE
) -> dict[str, Any]:
    """The answer to a question.

    Args:
        question: its name.
        asked: what it is about: ``job``, the text of a job file, and ``files``, names with digests.
        folder: where the files of the page lie.
        house: the file of a house, for what is said nowhere else.
    """
    if question not in _ANSWERS:
        return fault_reply("no such question")
    files = asked.get("files")
    named = {str(k): str(v) for k, v in files.items()} if isinstance(files, dict) else {}
    with laid_out(folder, named) as own:
        try:
            return _ANSWERS[question](asked, own, house)
        except SpinefitError as fault:
            return {"fault": _fault(fault, own)}


def fault_reply(text: str) -> dict[str, Any]:
    """A fault that is about no field."""
    return {"fault": {"text": text, "where": ""}}


def _fault(fault: SpinefitError, own: Path) -> dict[str, Any]:
    """A fault with its field, and without the folder that only the server knows."""
    where = fault.where.replace(str(own / JOB), "").lstrip(": ").removeprefix("--")
    where = where.replace(f"{own}{os.sep}", "")  # of what lies beside the job its name
    fault.where = ""
    text = str(fault).replace(f"{own}{os.sep}", "").replace(str(own), "")
    return {"text": text, "where": "title" if where == "TITLE" else where}


def _answer(asked: Mapping[str, Any], own: Path, house: House) -> dict[str, Any]:
    """Verdict, drawing, settings and what to mind."""
    from spinefit.page.showing import shown

    return shown(_subject_of(asked, own, house))


def _settings(asked: Mapping[str, Any], own: Path, house: House) -> dict[str, Any]:
    """The settings side by side, which cost more to draw than the answer itself."""
    from spinefit.page.showing import DIRECTIONS, directions, settings

    found = _subject_of(asked, own, house)
    if found.answer is not None or getattr(found.report, "is_single", False):
        return settings(found)
    others = {}
    for name in DIRECTIONS:
        with suppress(SpinefitError):  # a back may have no room for one of them
            others[name] = _found(asked, own, house, {"orientation": name})
    return directions(found, others)


def _improve(asked: Mapping[str, Any], own: Path, house: House) -> dict[str, Any]:
    """What could be changed, each with the edit that changes it, and the shapes of the lines."""
    from spinefit.page.improving import improvements

    return improvements(_subject_of(asked, own, house).report)


def _tasks(asked: Mapping[str, Any], own: Path, house: House) -> dict[str, Any]:
    """The checklist, to be ticked."""
    from spinefit.page.showing import tasks

    return tasks(_subject_of(asked, own, house))


def _subject_of(asked: Mapping[str, Any], own: Path, house: House) -> Any:
    """What is found, of the job that was asked about last without working it out again."""
    key = json.dumps([asked.get("job"), asked.get("files")], sort_keys=True)
    if key not in _latest:
        found = _found(asked, own, house)
        _latest.clear()
        _latest[key] = found
    return _latest[key]


_latest: dict[str, Any] = {}


def _found(
    asked: Mapping[str, Any], own: Path, house: House, typed: Mapping[str, object] = _NOTHING
) -> Any:
    """What is found of a job, with values typed beside it that have the last word."""
    from spinefit.asked import JobRequest, planned
    from spinefit.page.showing import Shown

    _read(asked, own)
    request = JobRequest(None, str(own / JOB), typed, house)
    tables = request.tables()
    assert tables is not None
    if (tables.texts or tables.volumes) and not tables.are_of_a_label():
        return Shown(planned(request, tables))
    described = request.described(tables)
    answer = described.answered(described.job())
    return Shown(answer.report, answer)


def _read(asked: Mapping[str, Any], own: Path) -> None:
    """Lay the job file beside its files, which are all that it may name."""
    refuse_paths(_tables_of(asked, own), [one.name for one in own.iterdir()])


def _tables_of(asked: Mapping[str, Any], own: Path) -> dict[str, Any]:
    """The tables of the job file, laid beside its files."""
    from spinefit.job.files import read_toml

    return read_toml(lay_job(own, asked.get("job")), "job file", "write one field a line")


def _open(asked: Mapping[str, Any], own: Path, _house: House) -> dict[str, Any]:
    """A job file as the page shows it, and which files it needs beside it."""
    from spinefit.job.read import read_job_tables

    table = with_plain_names(_tables_of(asked, own))
    read_job_tables(own / JOB)
    lacking = lacking_files(table, [one.name for one in own.iterdir()])
    return {"draft": draft_of(table), "lacking": sorted({named for _, named in lacking})}


def _samples(asked: Mapping[str, Any], own: Path, _house: House) -> dict[str, Any]:
    """A few words in each of some fonts; nothing of one that lacks a letter."""
    from spinefit.page.samples import samples

    fonts = asked.get("fonts")
    named = [str(one) for one in fonts] if isinstance(fonts, list) else []
    refuse_paths({"fallback": named}, [one.name for one in own.iterdir()])
    beside = {one.name: str(one) for one in own.iterdir()}
    return {
        "samples": samples(
            str(asked.get("words", "")), {one: beside.get(one, one) for one in named}
        )
    }


def _table(asked: Mapping[str, Any], own: Path, _house: House) -> dict[str, Any]:
    """The books of a table, each as a draft."""
    from spinefit.page.tables import books_in

    name = str(asked.get("table", ""))
    if name not in [one.name for one in own.iterdir()]:
        raise FieldError("no table given")
    return books_in(own / name, name)


def _tools(asked: Mapping[str, Any], own: Path, _house: House) -> dict[str, Any]:
    """A file of hand letters or type, for its widths to be changed in the page."""
    from spinefit.job.files import read_toml
    from spinefit.job.tools import read_tools

    name = str(asked.get("tools", ""))
    refuse_paths({"tools": name}, [one.name for one in own.iterdir()])
    read_tools(str(own / name))
    sizes = read_toml(own / name, "tools file", "")["size"]
    assert isinstance(sizes, list)  # read_tools has found it good
    typed = (
        {key: value if key == "widths" else str(value) for key, value in one.items()}
        for one in sizes
    )
    return {"sizes": [{"widths": {}, **one} for one in typed]}


def _choices(_asked: Mapping[str, Any], _own: Path, _house: House) -> dict[str, Any]:
    """All that can be chosen from, with the words for it."""
    from spinefit.page.choices import choices

    return choices()


_ANSWERS: Mapping[str, Callable[[Mapping[str, Any], Path, House], dict[str, Any]]] = {
    "answer": _answer,
    "settings": _settings,
    "improve": _improve,
    "tasks": _tasks,
    "samples": _samples,
    "open": _open,
    "table": _table,
    "tools": _tools,
    "choices": _choices,
}
