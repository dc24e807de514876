"""Lines and columns of so many character cells."""

from __future__ import annotations

import pytest
from rich.cells import cell_len

from spinefit.say.page import Column, Page
from spinefit.say.screen import Screen

COLUMNS = (Column("way"), Column("lines", wraps=True), Column("largest", right=True))
ROWS = (
    ("across", "The Harbour / Light", "9.2"),
    ("along", "灯台守の娘 " * 6 + "\n(a word broken)", "10"),
)


def lines_of(columns: int) -> list[str]:
    page = Page(Screen(columns))
    page.table(COLUMNS, ROWS)
    return page.text().splitlines()


@pytest.mark.parametrize("columns", [24, 40, 80])
@pytest.mark.parametrize("text", ["The Harbour Light", "x" * 190, "灯台守 " * 20, "a  b"])
def test_rows_fit_and_lose_nothing(text: str, columns: int) -> None:
    """But the spaces at which they were broken; what follows hangs under the first line."""
    page = Page(Screen(columns))
    page.row("Lines", text)
    first, *rest = page.text().splitlines()
    assert first.startswith("Lines       ")
    assert all(line.startswith(" " * 12) for line in rest)
    assert all(cell_len(line) <= columns for line in (first, *rest))
    shown = first.removeprefix("Lines") + "".join(rest)
    assert shown.replace(" ", "") == text.replace(" ", "")


def test_columns_stand_under_their_headings() -> None:
    """Figures end at the right, by cells."""
    head, first, *rest = lines_of(60)
    assert head.startswith("way     lines") and head.endswith("  largest")
    assert first.endswith("9.2") and cell_len(first) == cell_len(head)
    assert rest[0].endswith("10") and cell_len(rest[0]) == cell_len(head)
    assert rest[-1] == "        (a word broken)"


def test_a_narrow_table_breaks_its_headings_and_no_figure() -> None:
    """Where they do not fit as they are; the columns stand closer then."""
    columns = [Column(name, right=True) for name in ("from middle", "by count", "from head")]
    shown = {}
    for wide in (32, 31):
        page = Page(Screen(wide))
        page.table(columns, [("-8.45", "-8.88", "120.5")])
        shown[wide] = page.text().splitlines()
    assert shown[32] == ["from middle  by count  from head", "      -8.45     -8.88      120.5"]
    assert shown[31] == ["  from    by  from", "middle count  head", " -8.45 -8.88 120.5"]


@pytest.mark.parametrize("columns", [24, 30, 40, 80])
def test_a_table_never_runs_over_the_page(columns: int) -> None:
    """However narrow."""
    assert all(cell_len(line) <= columns for line in lines_of(columns))


def test_colours_change_no_letter() -> None:
    """Taken away, the page is the plain one."""
    coloured, plain = (_why(Screen(40, has_colour)) for has_colour in (True, False))
    for code in ("\x1b[0m", "\x1b[1m", "\x1b[2m", "\x1b[33m"):
        assert code in coloured
        coloured = coloured.replace(code, "")
    assert coloured == plain


def _why(screen: Screen) -> str:
    page = Page(screen)
    page.heading("Why")
    page.row("warning", "Bands are narrow.", style="yellow", dim="[common practice; practice]")
    return page.text()
