"""How thick are the lines of a label?"""

import pytest

from spinefit.catalogue import methods, rules, ruling_mm
from spinefit.vocabulary import Ruling


@pytest.mark.parametrize("key", [*methods()])
def test_thick_is_two_to_three_times_thin_and_two_lines_stay_open(key: str) -> None:
    method = methods()[key]
    (thin_mm,) = ruling_mm(Ruling.THIN, method, rules())
    (thick_mm,) = ruling_mm(Ruling.THICK, method, rules())
    assert 2 * thin_mm <= thick_mm <= 3 * thin_mm
    if method.stroke_advised is not None:
        assert thin_mm >= method.stroke_advised.value
    first, space_mm, second = ruling_mm(Ruling.DOUBLE, method, rules())
    assert first == second == thin_mm
    assert space_mm >= (method.gap.value if method.gap else thin_mm)
    assert ruling_mm(Ruling.THICK_AND_THIN, method, rules()) == (thick_mm, space_mm, thin_mm)


def test_a_line_of_brass_is_heavier_than_one_that_is_printed() -> None:
    found = {key: ruling_mm(Ruling.THIN, own, rules())[0] for key, own in methods().items()}
    assert found["paper-label"] < found["hand-letters"]
