"""How is it said what a label must be like?

Sentences of the findings on labels, one a topic, loaded where there is one. In: a `Finding`
with its facts. Out: text; nothing is worked out here.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from spinefit.judgement.finding import Finding
from spinefit.say.phrasing import bare_mm, mm

__all__ = ["TEXTS"]


def _cut_width(finding: Finding) -> str:
    label: Any = finding.facts["label"]
    return (
        f"A label {label.thickness_mm:g} mm thick bends about its middle: to cover "
        f"{label.covers_mm:.2f} mm of the round cut it {label.cut_width_mm:.2f} mm wide; its "
        f"printed face is stretched by {label.face_stretch - 1:.2%}."
    )


def _covered(finding: Finding) -> str:
    facts: Any = finding.facts
    size = f"{bare_mm(_number(finding.value))} x {mm(facts['height_mm'])}"
    beyond = f"{mm(_number(finding.limit))} beyond its ink on every side"
    if facts["chosen"]:
        return f"The label covers the old lettering: {size} at least are asked, {beyond}."
    text = f"A label of {size} at least covers the old lettering, {beyond}"
    if facts["bent"] is not None:
        text += f" (cut it {facts['bent'].cut_width_mm:.2f} mm wide for the round)"
    if facts["begins_mm"] is not None:
        text += f"; its upper edge stands {mm(facts['begins_mm'])} from the head"
    return f"{text}."


def _lacks(side: str) -> Callable[[Finding], str]:
    def text(finding: Finding) -> str:
        needed, given = mm(_number(finding.value)), mm(_number(finding.limit))
        if finding.facts["chosen"]:
            return (
                f"Old lettering would show beside this label: it has to be {needed} {side}, and "
                f"is {given}."
            )
        return (
            f"A label that covers the old lettering has to be {needed} {side}, and there is room "
            f"for {given}: part of it would show, or has to be taken off."
        )

    return text


def _outside(finding: Finding) -> str:
    facts: Any = finding.facts
    return (
        f"The label over the old lettering would reach from {mm(_number(finding.value))} to "
        f"{mm(facts['ends_mm'])} from the head, beyond the panel, which is "
        f"{mm(facts['first_mm'])} to {mm(facts['last_mm'])} from it."
    )


def _number(value: object) -> float:
    assert isinstance(value, int | float)  # the topic's finding carries a number here
    return float(value)


TEXTS: dict[str, Callable[[Finding], str]] = {
    "label-cut-width": _cut_width,
    "old-lettering-covered": _covered,
    "old-lettering-width": _lacks("wide"),
    "old-lettering-height": _lacks("high"),
    "old-lettering-outside": _outside,
}
"""A sentence for each topic."""
