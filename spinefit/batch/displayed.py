"""How does a number of a workbook stand on the screen?

In: a number, a truth, a date or a text, and the number format of its cell (ECMA-376 part 1,
18.8.31). Out: what is displayed: of figures, percentages, currencies and dates in figures; None for
what looks otherwise elsewhere or is not known here: times, names of months, fractions, powers of
ten.
"""

from __future__ import annotations

import re
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

_SECTIONS = re.compile(r'((?:"[^"]*"|\\.|\[[^\]]*\]|[^;])*)(?:;|$)')
_THOUSANDS = re.compile(r"(?<=[0-9])(?=(?:[0-9]{3})+$)")
_TOKEN = re.compile(
    r'"(?P<quoted>[^"]*)"|\\(?P<escaped>.)|_.|\*.|\[\$(?P<money>[^\]-]*)[^\]]*\]|\[[^<>=\]]*\]'
    r"|(?P<figures>[0#?][0#?,]*(?:\.[0#?]*)?|\.[0#?]+)|(?P<part>[Yy]+|[Mm]+|[Dd]+)"
    r"|(?P<sign>[-+ ()/.,:$€£%])|(?P<other>.)"
)
_BY_PLACE = ("mm-dd-yy", "m/d/yy h:mm")  # the built-in ones, which each country shows its own way
_PARTS = {
    "y": "{:%y}", "yy": "{:%y}", "yyyy": "{:%Y}", "m": "{0.month}", "mm": "{:%m}", "d": "{0.day}",
    "dd": "{:%d}",
}  # fmt: skip
_MOST_DIGITS = 15  # that a workbook keeps


def shown(value: object, form: str) -> str | None:
    """What is displayed of a value.

    Args:
        value: a text, number, truth or date.
        form: the number format.

    >>> shown(823.9, "0.00"), shown(7, "000"), shown(0.5, "0%"), shown(12.5, "General")
    ('823.90', '007', '50%', '12.5')
    >>> shown(date(1987, 4, 3), "d.m.yyyy"), shown(date(1987, 4, 3), "mm-dd-yy")
    ('3.4.1987', None)
    """
    if isinstance(value, bool) or not isinstance(value, int | float | date):
        return plain(value)
    if form in ("General", "@", ""):
        return plain(value)
    if isinstance(value, date):
        return None if form in _BY_PLACE else _of_date(value, form)
    sections = _SECTIONS.findall(form)[:-1]  # of numbers above, below and at nothing
    at = 1 if value < 0 else 2 if value == 0 else 0
    at = at if at < len(sections) else 0
    text = _of_number(abs(value), sections[at])
    return text and f"{'-' if value < 0 and not at else ''}{text}"


def plain(value: object) -> str:
    """A value without a format: a number in all its digits, a date in those of ISO 8601."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return str(value).upper() if isinstance(value, bool) else str(value)
    return f"{Decimal(format(value, f'.{_MOST_DIGITS}g')):f}"


def beside_figures(form: str) -> str:
    """What a format writes beside the figures of a number, such as a unit.

    >>> beside_figures('0.0" mm"'), beside_figures("0%"), beside_figures("#,##0.00")
    ('mm', '%', '')
    """
    tokens = _TOKEN.finditer(form.partition(";")[0])
    found = (one["quoted"] or one["escaped"] or one["money"] or one["sign"] for one in tokens)
    return "".join(filter(None, found)).strip(" -+().,/:")


def _of_number(value: float, section: str) -> str | None:
    tokens = list(_TOKEN.finditer(section))
    patterns = [one["figures"] for one in tokens if one["figures"]]
    strange = any(one["other"] or one["part"] or one["sign"] in ("/", ",") for one in tokens)
    if strange or len(patterns) > 1 or value >= 10**_MOST_DIGITS:
        return None
    percent = any(one["sign"] == "%" for one in tokens)
    figures = _in_figures(Decimal(repr(value)) * (100 if percent else 1), *patterns)
    if figures is None:
        return None
    return "".join(
        figures if one["figures"] else next(filter(None, one.groups()), "") for one in tokens
    )


def _in_figures(value: Decimal, pattern: str = "") -> str | None:
    whole, point, decimals = pattern.partition(".")
    if whole.endswith(","):  # thousands
        return None
    rounded = f"{value.quantize(Decimal(1).scaleb(-len(decimals)), ROUND_HALF_UP):f}"
    left, _, right = rounded.partition(".")
    left = left.lstrip("0").rjust(whole.count("0"), "0")
    if "," in whole:
        left = _THOUSANDS.sub(",", left)
    least = len(decimals.rstrip("#?"))
    return left + point + right[:least] + right[least:].rstrip("0")


def _of_date(value: date, form: str) -> str | None:
    found = []
    for one in _TOKEN.finditer(form.partition(";")[0]):
        part = (one["part"] or "").lower()
        if one["other"] or one["figures"] or (part and part not in _PARTS):
            return None
        text = _PARTS[part].format(value) if part else next(filter(None, one.groups()), "")
        found.append(text)
    return "".join(found)
