"""What can be chosen from in the page, and what is each field called?

In: the fields of a job and the catalogue. Out: plain lists with the words that the help has too:
fields by heading with what they mean and the words they take, methods, markets, fonts, papers.
"""

from __future__ import annotations

from typing import Any

from spinefit import catalogue
from spinefit.catalogue import trade
from spinefit.catalogue.method_table import methods
from spinefit.job.fields import FIELDS
from spinefit.job.kinds import Field
from spinefit.job.model import HEADINGS
from spinefit.job.read import FILE_FIELDS
from spinefit.job.sheet import SHEET_KEYS
from spinefit.page.making import WAYS
from spinefit.vocabulary import Letters, Measure, Role, Ruling


def choices() -> dict[str, Any]:
    """Every list of the page."""
    return {
        "headings": list(HEADINGS),
        "fields": [_field(field.name, field) for field in FIELDS],
        "sheet": [_field(key, field) for key, field in SHEET_KEYS.items()],
        "roles": [{"name": str(role), "words": role.words} for role in Role],
        "rules": [str(one) for one in Ruling],
        "measures": [str(one) for one in Measure],
        "methods": [
            {
                "name": one.key,
                "words": one.name,
                "place": str(one.place),
                "tools": one.letters is Letters.TOOLS,
                "caution": one.caution,
            }
            for one in methods().values()
        ],
        "markets": [
            {"name": code, "words": name} for code, name in sorted(trade.iso_3166_codes().items())
        ],
        "fonts": [
            {"name": row.name, "kind": row.kind, "use": row.use} for row in catalogue.font_rows()
        ],
        "papers": sorted(trade.papers()),
        "cut_by": [name for name, way in WAYS.items() if way.cuts],
    }


def _field(key: str, field: Field) -> dict[str, Any]:
    return {
        "name": key,
        "heading": field.heading,
        "meaning": field.meaning,
        "metavar": field.kind.metavar,
        "words": list(field.kind.choices),
        "flag": field.kind.flag,
        "many": field.kind.repeatable,
        "file": key in FILE_FIELDS,
    }
