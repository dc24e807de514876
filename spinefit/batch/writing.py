"""How does the result of a row stand in the output?

In: `Answered` rows. Out: text, whole rows of it, in CSV, JSON Lines, a text table or HTML. CSV
follows RFC 4180; texts are quoted and those that a spreadsheet would run as a formula carry an
apostrophe in front (OWASP, "CSV Injection"), while numbers stay numbers. What is written for a
row depends on nothing but the row.
"""

from __future__ import annotations

import csv
import io
import json
import re
import unicodedata
from collections.abc import Iterable, Sequence
from typing import Any

from spinefit.batch.books import Answered
from spinefit.batch.model import RESULT_COLUMNS, Settings

FORMATS = ("csv", "jsonl", "text", "html")

_RUNS_AS_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")  # OWASP's list
_NOT_SEEN = ("Zs", "Cf")  # spaces and what has no shape: some programs pass them over
_NUMBER = re.compile(r"[+-]?[0-9]+(\.[0-9]+)?", re.ASCII)


def safe_cell(text: str) -> str:
    """A text that no spreadsheet runs.

    >>> safe_cell("=HYPERLINK(1)"), safe_cell("-3.1"), safe_cell("Tide Tables")
    ("'=HYPERLINK(1)", '-3.1', 'Tide Tables')
    """
    if text[:1].isalnum() or _NUMBER.fullmatch(text):
        return text
    seen = next((char for char in text if unicodedata.category(char) not in _NOT_SEEN), "")
    # Wide and small forms stand for the plain ones, and some spreadsheets take them for those.
    runs = unicodedata.normalize("NFKC", seen).startswith(_RUNS_AS_FORMULA)
    return f"'{text}" if runs else text


def head_of(settings: Settings) -> str:
    """What stands before the rows."""
    if settings.form == "csv":
        line, *others = RESULT_COLUMNS
        return _csv([(line, *map(safe_cell, settings.kept), *others)])
    if settings.form == "html":
        from spinefit.batch.overview import head

        return head(settings.kept)
    if settings.form == "text":
        from spinefit.batch.text_table import heading

        return heading(settings)
    return ""


def foot_of(settings: Settings, counts: dict[str, int], hazards: Sequence[str] = ()) -> str:
    """What stands after the rows.

    Args:
        settings: what holds for every row.
        counts: how many books have each verdict, and how many rows are at fault, under "".
        hazards: lines about what can hurt in making them.
    """
    if settings.form == "html":
        from spinefit.batch.overview import foot

        return foot(counts, hazards)
    if settings.form == "text":
        from spinefit.batch.text_table import foot as text_foot

        return text_foot(counts, hazards, settings)
    return ""


def rows_of(answered: Iterable[Answered], settings: Settings) -> str:
    """The rows, each whole and ended by a newline; half characters in them as escapes."""
    return _written(answered, settings).encode("utf-8", "backslashreplace").decode()


def _written(answered: Iterable[Answered], settings: Settings) -> str:
    if settings.form == "csv":
        return _csv(map(_cells, answered))
    if settings.form == "html":
        from spinefit.batch.overview import rows

        return rows(answered)
    if settings.form == "text":
        from spinefit.batch.text_table import lines

        return lines(answered, settings)
    return "".join(f"{_json(one, settings)}\n" for one in answered)


def _csv(rows: Iterable[Iterable[object]]) -> str:
    sink = io.StringIO()
    # All texts are quoted: a semicolon inside one must not begin a cell of its own.
    writer = csv.writer(sink, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\n")
    writer.writerows(rows)
    return sink.getvalue()


def _cells(one: Answered) -> tuple[object, ...]:
    found = one.result
    error = "" if found.fault is None else found.fault.line
    texts = (found.title, found.verdict)
    return (
        found.line,
        *map(_kept_cell, one.row.kept),
        *map(safe_cell, texts),
        found.largest_pt,
        found.set_pt,
        *map(safe_cell, (found.lines, found.orientation, found.reading)),
        found.spare_mm,
        *map(safe_cell, (found.answer, found.mind, error)),
    )


_LONGEST_FIGURE = 15  # digits that a spreadsheet keeps; a longer one, as of a barcode, is a text


def _kept_cell(text: str) -> object:
    """A cell carried along: safe, and a plain whole number as such."""
    if re.fullmatch("0|[1-9][0-9]*", text) and len(text) <= _LONGEST_FIGURE:
        return int(text)
    return safe_cell(text)


def _json(one: Answered, settings: Settings) -> str:
    found: dict[str, Any] = {"line": one.result.line}
    if any(one.row.kept):
        found["kept"] = dict(zip(settings.kept, one.row.kept, strict=True))
    if one.result.fault is not None:
        found["error"] = one.result.fault.text
        found["column"] = one.result.fault.column or None
    elif one.report is not None:
        from spinefit.say.as_json import to_dict

        found["report"] = to_dict(one.report)
    return json.dumps(found, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
