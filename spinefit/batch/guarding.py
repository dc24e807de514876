"""Which texts would a spreadsheet run as a formula, and how are they kept from it?

In: a text of a cell. Out: the same with an apostrophe in front where it would be run (OWASP, "CSV
Injection"); and, of a table that we wrote, the text without it again, since no apostrophe of ours
is ever to be lettered.
"""

from __future__ import annotations

import re
import unicodedata

_RUNS_AS_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")  # OWASP's list
_NOT_SEEN = ("Zs", "Cf")  # spaces and what has no shape: some programs pass them over
_NUMBER = re.compile(r"[+-]?[0-9]+([.,][0-9]+)?", re.ASCII)


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


def unguarded(text: str) -> str:
    """A text as it stood before `safe_cell`; any other as it is.

    >>> unguarded("'=1+1"), unguarded("'Tis the Tide")
    ('=1+1', "'Tis the Tide")
    """
    plain = text[1:]
    return plain if text[:1] == "'" and safe_cell(plain) == text else text
