"""How do results stand in JSON Lines?

In: answered rows. Out: an object a line (jsonlines.org) that holds the whole report of its row;
the schema is that of a batch. There is nothing before the rows and nothing after them.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from spinefit.batch.books import Answered
from spinefit.batch.model import Settings, Totals


def head(settings: Settings, totals: Totals) -> str:
    """Nothing."""
    return ""


def rows(answered: Iterable[Answered], settings: Settings) -> str:
    """A line for each row."""
    return "".join(f"{_line(one, settings)}\n" for one in answered)


def foot(totals: Totals, settings: Settings) -> str:
    """Nothing."""
    return ""


def _line(one: Answered, settings: Settings) -> str:
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
