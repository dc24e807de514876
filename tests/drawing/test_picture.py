"""The picture on the screen."""

from __future__ import annotations

from typing import Any

import pytest

from spinefit.drawing.picture import picture


def dots(lines: tuple[str, ...]) -> set[tuple[int, int]]:
    """Every dot that is set, decoded by Unicode's own numbering of braille dots."""
    places = [(0, 0), (0, 1), (0, 2), (1, 0), (1, 1), (1, 2), (0, 3), (1, 3)]
    return {
        (2 * column + x, 4 * row + y)
        for row, line in enumerate(lines)
        for column, char in enumerate(line)
        if char != " "
        for bit, (x, y) in enumerate(places)
        if (ord(char) - 0x2800) >> bit & 1
    }


@pytest.mark.parametrize(
    "name", ["pamphlet", "across", "ascending", "label", "oval", "pillar", "open", "tiny"]
)
@pytest.mark.parametrize("columns", [40, 80, 200])
def test_the_picture_is_small_and_keeps_to_the_screen(on: Any, name: str, columns: int) -> None:
    """Sixteen lines at most, none wider than the screen."""
    lines = picture(on.subject(name).texts[0].answer, columns=columns)
    assert 2 <= len(lines) <= 16 or (columns == 40 and not lines)
    assert all(len(line) < columns for line in lines)
    assert set("".join(lines)) <= {" ", *(chr(0x2800 + code) for code in range(1, 256))}


def test_the_picture_has_the_proportions_of_the_ink(on: Any) -> None:
    """Of a label's lettering, its sides left out: within two dots."""
    shown = on.subject("label").texts[0]
    lines = picture(shown.answer, columns=80)
    found = dots(lines)
    xs, ys = sorted({x for x, _y in found}), sorted({y for _x, y in found})
    per_mm = (xs[-1] - xs[0]) / 30  # the panel's sides are 30 mm apart
    assert (ys[-1] - ys[0]) / per_mm == pytest.approx(45, abs=2 / per_mm)
    inner = {(x, y) for x, y in found if xs[0] + 2 < x < xs[-1] - 2 and ys[0] + 2 < y < ys[-1] - 2}
    wide = max(x for x, _ in inner) - min(x for x, _ in inner) + 1
    high = max(y for _, y in inner) - min(y for _, y in inner) + 1
    assert wide / per_mm == pytest.approx(shown.layout.ink_width_mm, abs=2 / per_mm)
    assert high / per_mm == pytest.approx(shown.layout.ink_height_mm, abs=2 / per_mm)


def test_lines_along_the_back_are_turned_level(on: Any) -> None:
    """Read from left to right whichever way they run."""
    for name in ("pamphlet", "ascending"):
        lines = picture(on.subject(name).texts[0].answer, columns=80)
        assert max(map(len, lines)) > 4 * len(lines)


def test_letters_too_small_to_be_told_are_not_shown(on: Any) -> None:
    """A long title on a narrow screen."""
    answer = on.subject("over").texts[0].answer
    assert picture(answer, columns=40) == ()
