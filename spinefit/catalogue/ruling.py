"""How thick are the lines that a label is ruled with?

In: which line, the method that makes it, and the rules of the trade. Out: ink and space in mm, from
one side of the line to the other, for a rule between two texts and for a frame alike.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from spinefit.vocabulary import Letters, Ruling

if TYPE_CHECKING:
    from spinefit.catalogue.method_table import Method
    from spinefit.catalogue.trade import Rules


def ruling_mm(ruling: Ruling, method: Method, rules: Rules) -> tuple[float, ...]:
    """The thickness of each line in mm, with the space to the next between them.

    A thin line is what the method is advised to draw, a thick one a multiple of that; two lines
    stand as far apart as a multiple says, or as the method keeps letters open.
    Source: rules.toml ``ruling.*``; Adam, Practical Bookbinding (1903), for rules in a label.

    Args:
        ruling: which line.
        method: how it is made.
        rules: the numbers of the trade.
    """
    finest = "ruling.tool_mm" if method.letters is Letters.TOOLS else "ruling.thin_mm"
    thin_mm = rules.value(finest)
    if method.stroke_advised is not None:
        thin_mm = max(thin_mm, method.stroke_advised.value)
    thick_mm = round(rules.value("ruling.thick_times") * thin_mm, 3)
    space_mm = round(rules.value("ruling.space_times") * thin_mm, 3)
    if method.gap is not None:
        space_mm = max(space_mm, method.gap.value)
    return {
        Ruling.THIN: (thin_mm,),
        Ruling.THICK: (thick_mm,),
        Ruling.DOUBLE: (thin_mm, space_mm, thin_mm),
        Ruling.THICK_AND_THIN: (thick_mm, space_mm, thin_mm),
    }[ruling]
