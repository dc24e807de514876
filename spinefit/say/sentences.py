"""How is each finding said to a binder?

All wording of findings, one sentence a topic. In: a `Finding` with its facts. Out: text. The
figures are those of the finding, rounded in `phrasing`; nothing is worked out here. Answers
and remedies are worded in `answers`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from spinefit.judgement.finding import Finding
from spinefit.say.phrasing import against, capitals_or_letters, limit_pt, mm, mm_against, pt, way
from spinefit.vocabulary import Level

__all__ = ["finding_text"]

_HARDLY_TURNED = 0.99  # a cosine that no eye notices


def finding_text(finding: Finding) -> str:
    """The finding as a sentence."""
    said = _TEXTS.get(finding.topic)
    if said is None:
        said = _on_need(finding.topic)
    return said(finding)


def _on_need(topic: str) -> Callable[[Finding], str]:
    """A sentence that few reports need, from a module of its own."""
    from spinefit.say.board_sentences import TEXTS as BOARD_TEXTS
    from spinefit.say.label_sentences import TEXTS as LABEL_TEXTS
    from spinefit.say.script_sentences import SCRIPT_TEXTS

    return {**BOARD_TEXTS, **LABEL_TEXTS, **SCRIPT_TEXTS}[topic]


def _market_of(finding: Finding) -> str:
    market: Any = finding.facts["market"]
    return f"the custom of the market {market.name}" if market.code else "ISO 6357"


def _note_of(finding: Finding) -> str:
    market: Any = finding.facts["market"]
    note = str(market.note)
    return f" {note[:1].upper()}{note[1:]}." if note else ""


def _reading_follows(finding: Finding) -> str:
    market: Any = finding.facts["market"]
    if not market.code:
        return (
            f"Lettering along the back reads {way(finding.value)}, as ISO 6357 has it; no "
            "market was given."
        )
    firm = "the firm custom" if market.firmness == "firm" else "usual"
    return (
        f"Lettering along the back reads {way(finding.value)}, as is {firm} for the market "
        f"{market.name}.{_note_of(finding)}"
    )


def _reading_mixed(finding: Finding) -> str:
    market: Any = finding.facts["market"]
    return (
        f"Shelves in {market.name} are mixed; {way(finding.value)} was taken: match the list "
        f"that the book joins.{_note_of(finding)}"
    )


def _reading_against(finding: Finding) -> str:
    return (
        f"You asked for lettering {way(finding.value)}; {_market_of(finding)} would have it "
        f"{way(finding.limit)}. Match the list that the book joins.{_note_of(finding)}"
    )


def _market_unknown(finding: Finding) -> str:
    return (
        f"Nothing is known here of the market {finding.facts['code']}, so the international "
        f"standard was followed, {way(finding.value)}: match the list that the book joins."
    )


def _legibility(finding: Finding) -> str:
    facts, value = finding.facts, _number(finding.value)
    letters = "Small capitals"
    if not facts["small"]:
        letters = capitals_or_letters(str(facts["title"])).capitalize()
    angle = against(value, _number(finding.limit))
    seen = (
        f"{letters} {mm(_number(facts['cap_mm']))} high{_turned_away(finding)} are seen at {angle} "
        f"minutes of arc from {_number(facts['distance_mm']):g} mm"
    )
    if finding.level is Level.GOOD:
        return f"{seen}: read with ease ({_number(finding.limit):g} is enough)."
    if finding.level is Level.NOTE:
        return f"{seen}: readable at a pinch ({_number(finding.limit):g} would be easy)."
    return f"{seen}: too small to be read from the shelf ({_number(finding.limit):g} at least)."


def _turned_away(finding: Finding) -> str:
    """What the round of the back takes from the letters that lie farthest round it."""
    facts = finding.facts
    along = bool(facts["along"])
    share = _number(facts["height_seen" if along else "outermost_seen"])
    if share >= _HARDLY_TURNED:
        return ""
    what = "height" if along else "width"
    return f", of whose {what} the round shows {share:.0%} at the outside,"


def _legibility_limit(finding: Finding) -> str:
    facts = finding.facts
    least = _number(finding.limit)
    return (
        f"Even at {limit_pt(_number(facts['largest_pt']))}, the most that fits so, capitals would "
        f"be seen at {against(_number(finding.value), least)} minutes of arc from "
        f"{_number(facts['distance_mm']):g} mm; {least:g} cannot be reached in this setting. They "
        f"would be read with ease from {_number(facts['reads_from_mm']):.0f} mm."
    )


def _placing(finding: Finding) -> str:
    facts, value, limit = finding.facts, _number(finding.value), _number(finding.limit)
    between = (
        f"From the ink to the nearest edge there are {mm_against(value, limit)}; a "
        f"{facts['method']} may be out of place by {mm(limit)}"
    )
    if finding.level is Level.GOOD:
        return f"{between}."
    return f"{between}, so it can run to the edge."


def _foreshortened(finding: Finding) -> str:
    facts = finding.facts
    angle, share = _number(facts["angle_deg"]), _number(finding.value)
    narrowed = "their height" if facts["along"] else "their width"
    return (
        f"The outermost ink lies {angle:.0f} degrees round the back, where letters show "
        f"{share:.0%} of {narrowed}."
    )


def _round_measured(finding: Finding) -> str:
    facts = finding.facts
    return (
        f"The round measures {mm(_number(facts['arc_mm']))} over the back (radius "
        f"{mm(_number(facts['radius_mm']))}, rise {mm(_number(facts['rise_mm']))}), of which "
        f"{mm(_number(finding.value))} can take ink."
    )


def _round_angle(finding: Finding) -> str:
    facts = finding.facts
    return (
        f"Of the {mm(_number(facts['arc_mm']))} over the round, {mm(_number(facts['usable_mm']))} "
        f"can take ink: beyond {_number(finding.limit):g} degrees from the middle it turns away "
        "from the eye."
    )


def _width_range(finding: Finding) -> str:
    return (
        f"Judged at the least width, {mm(_number(finding.value))}; at "
        f"{mm(_number(finding.limit))} the same setting could be "
        f"{limit_pt(_number(finding.facts['at_widest_pt']))} at most."
    )


def _too_large(finding: Finding) -> str:
    return (
        f"{pt(_number(finding.value))} is too large: {limit_pt(_number(finding.limit))} is the "
        f"most, and {mm(_number(finding.facts['excess_mm']))} would stand over."
    )


def _thin(finding: Finding) -> str:
    facts = finding.facts
    what = "thinnest stroke" if finding.topic == "thin-stroke" else "narrowest gap"
    return (
        f"At {limit_pt(_number(facts['size_pt']))} the {what} of {facts['letter']} is "
        f"{_number(finding.value):.2f} mm; a {facts['method']} needs "
        f"{_number(finding.limit):g} mm, which takes {pt(_tenth_up(facts['needs_pt']))}, and "
        f"{limit_pt(_number(facts['largest_pt']))} is the most that fits: take a sturdier letter."
    )


def _tenth_up(size_pt: object) -> float:
    """A size that is needed, rounded up, so that it is enough."""
    return math.ceil(_number(size_pt) * 10 - 1e-6) / 10


def _close(f: Finding) -> str:
    which = "Neighbouring letters" if f.facts["in_line"] else "Letters of two lines"
    about = _TRACKING_STEP * math.ceil(_number(f.facts["tracking"]) / _TRACKING_STEP)
    do = f"add tracking, about {about}" if f.facts["in_line"] else "add leading"
    return (
        f"{which} stand {_number(f.value):.2f} mm apart, and a {f.facts['method']} keeps "
        f"{_number(f.limit):g} mm open: {do}."
    )


_TRACKING_STEP = 5  # thousandths of an em: less is not seen


def _below_method(finding: Finding) -> str:
    if not finding.value:
        return "No size fits: nothing of the panel is left for it."
    return (
        f"It fits up to {limit_pt(_number(finding.value))} only; a {finding.facts['method']} needs "
        f"{pt(_number(finding.facts['smallest_pt']))}."
    )


def _number(value: object) -> float:
    assert isinstance(value, int | float)  # the topic's finding carries a number here
    return float(value)


def _axis_found(f: Finding) -> str:
    facts, at = f.facts, f"{f.facts['tag']} {_number(f.value):g}"
    found = f"{at} is the {facts['goal']} of {facts['font']} at {pt(_number(facts['size']))}"
    if facts["because"] == "end":
        return f"{found}: the end of its range."
    past = f"{facts['tag']} {_number(facts['past']):g}"
    if facts["because"] == "room":
        return f"{found} that fits; at {past} there is no room."
    least = mm(_number(facts["least_mm"]))
    return (
        f"{found} that holds; at {past} the {facts['because']} of '{facts['letter']}' is under "
        f"{least}."
    )


def _axis_not_found(f: Finding) -> str:
    facts = f.facts
    return (
        f"No {facts['tag']} of {facts['font']} from {_number(facts['least']):g} to "
        f"{_number(facts['most']):g} fits and holds at {pt(_number(facts['size']))}; "
        f"{_number(f.value):g}, with the most room, is shown."
    )


_TEXTS: dict[str, Callable[[Finding], str]] = {
    "axis-found": _axis_found,
    "axis-not-found": _axis_not_found,
    "thin-back": lambda f: (
        f"The back is {mm(_number(f.value))} wide; under {mm(_number(f.limit))} the trade puts "
        "no type on it: think of the front board or cover."
    ),
    "thin-back-disagreed": lambda f: (
        f"Printers disagree on the thinnest back: a UK one prints type from {f.facts['uk_mm']:g} "
        f"mm on, a US one from {_number(f.limit):g} mm; this one is {mm(_number(f.value))} wide. "
        "Ask yours."
    ),
    "edge-disagreed": lambda f: (
        f"Printers disagree on the space at each joint: a UK one asks 1 to 3 mm by the width, "
        f"here {mm(_number(f.value))}, a US one {mm(_number(f.limit))}. Ask yours, and give it "
        "with --edge."
    ),
    "nothing-left": lambda f: (
        f"On a back of {mm(_number(f.value))} the usual space at the joints leaves nothing for "
        "lettering."
    ),
    "width-range": _width_range,
    "narrow-band": lambda f: (
        f"Bands {mm(_number(f.value))} wide are under {mm(_number(f.limit))}: is it the width "
        "along the back that was measured?"
    ),
    "bands-without-height": lambda f: (
        "Without the height of the back its panels are not known; give --height."
    ),
    "round-unmeasured": lambda f: (
        "The round was not measured, so its width counts as if it were flat "
        f"({mm(_number(f.value))} can take ink); lay a tape over it and give --arc. For the "
        "view a third of a circle is assumed."
    ),
    "round-angle": _round_angle,
    "round-measured": _round_measured,
    "leading-raised": lambda f: (
        f"Lines {_number(f.value):g} em apart would touch; {_number(f.limit):.2f} em was taken."
    ),
    "tracking-refused": lambda f: (
        "Letters that join are not spaced apart; their tracking was left out."
    ),
    "market-unknown": _market_unknown,
    "reading-against": _reading_against,
    "reading-mixed": _reading_mixed,
    "reading-follows": _reading_follows,
    "across-does-not-fit": lambda f: "Across the back it does not fit.",
    "along-does-not-fit": lambda f: "Along the back it does not fit.",
    "across-narrow": lambda f: (
        f"Across is not advised: {mm(_number(f.value))} is narrow; {mm(_number(f.limit))} is asked."
    ),
    "across-lines": lambda f: (
        f"Across is not advised: it takes {_number(f.value):g} lines; {_number(f.limit):g} are "
        "the most that look well."
    ),
    "across-broken": lambda f: "Across is not advised: a word would be broken.",
    "across-small": lambda f: (
        f"Across is not advised: its capitals would be {mm(_number(f.value))} high; "
        f"{mm(_number(f.limit))}, half of those along the back, is asked."
    ),
    "across-chosen": lambda f: (
        "The back is wide enough to letter it across, which is read without tilting the head."
    ),
    "across-unreadable": lambda f: (
        f"Across, its capitals would be seen at {_number(f.value):.0f} minutes of arc, too small "
        "to be read; along the panel they can be."
    ),
    "across-in-label": lambda f: "A label that is not tall is lettered across.",
    "advised-share": lambda f: (
        f"{pt(_number(f.value))} is the largest size offered up to "
        f"{_number(f.facts['share']):g} of the largest that fits: lettering that fills its "
        "place looks crowded and leaves nothing for the hand."
    ),
    "advised-eye": lambda f: (
        f"{pt(_number(f.value))} is as large as capitals need be to be read from "
        f"{_number(f.facts['distance_mm']):g} mm ({_number(f.facts['arcmin']):g} minutes of "
        "arc); more would fit."
    ),
    "advised-floor": lambda f: (
        f"{pt(_number(f.value))} is the smallest size that holds; less would look better here."
    ),
    "sturdier-letter": lambda f: (
        f"Another letter holds smaller: {f.facts['font']}, which comes with spinefit, from "
        f"{pt(_number(f.value))}."
    ),
    "size-not-offered": lambda f: f"{pt(_number(f.value))} is not among the sizes at hand.",
    "across-in-panel": lambda f: (
        "In a panel between bands lettering stands across; along is avoided unless forced."
    ),
    "below-method": _below_method,
    "thin-stroke": _thin,
    "thin-gap": _thin,
    "finer-than-advised": lambda f: (
        f"The {'thinnest stroke' if f.facts['what'] == 'stroke' else 'narrowest gap'} of "
        f"{f.facts['letter']} is {_number(f.value):.2f} mm; it may hold, but "
        f"{_number(f.limit):g} mm is advised, which takes {pt(_tenth_up(f.facts['needs_pt']))}: "
        "make a trial."
    ),
    "letters-close": _close,
    "size-below-method": lambda f: (
        f"{pt(_number(f.value))} is smaller than a {f.facts['method']} holds, "
        f"{pt(_number(f.facts['smallest_pt']))}."
    ),
    "too-large": _too_large,
    "over-bands": lambda f: (
        "It runs along the whole back, over the bands: avoided unless forced, since the bands "
        "break up the letters."
    ),
    "legibility": _legibility,
    "legibility-limit": _legibility_limit,
    "library-foot": lambda f: (
        f"The lettering ends {mm(_number(f.value))} from the tail; the lowest "
        f"{mm(_number(f.limit))} are best left to a library's mark."
    ),
    "placing": _placing,
    "foreshortened": _foreshortened,
    "tools-unknown": lambda f: (
        f"The letters of a font stand in for your tools: good to about {_number(f.limit):.0%}; "
        "give their widths with --tools."
    ),
    "tools-estimated": lambda f: (
        "The widths of your tools follow from a row of E by the proportions of a font: good to "
        f"about {_number(f.limit):.0%}."
    ),
    "tools-measured": lambda f: "Lines are as exact as the widths given for your tools.",
    "tools-lacking": lambda f: (
        f"Your tools of {pt(_number(f.value))} have no {f.facts['letters']}, so that size is not "
        "offered for this title."
    ),
    "words-alone": lambda f: (
        f"Small words stand alone on a line: {f.value}. If you want them so, say --small-words "
        "alone."
    ),
    "words-chosen": lambda f: (
        f"Small words stand alone on a line, as asked: {f.value}. Set them smaller where you can."
    ),
    "words-stranded": lambda f: f"A line ends on an article, away from its word: {f.value}.",
    "words-broken": lambda f: f"A word is broken at {f.value}.",
}
