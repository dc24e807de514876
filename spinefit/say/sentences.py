"""How is each finding said to a binder?

In: a `Finding` with its facts. Out: text, by the table of `templates`, or by a function
here where a sentence is picked by level or figure. Nothing is worked out. Answers and remedies
are worded in `answers` and `remedy_words`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from spinefit.judgement.finding import Finding
from spinefit.say.filling import said
from spinefit.say.letter_sentences import (
    finer_than_advised,
    letters_close,
    narrow_apertures,
    parts_lost,
    sturdier_letter,
    too_fine,
)
from spinefit.say.model import FindingReport
from spinefit.say.phrasing import capitals_or_letters, mm, mm_against
from spinefit.say.templates import TEMPLATES
from spinefit.say.thickness import estimate_in_words
from spinefit.vocabulary import Level

RECESS_CAUTIONS = (
    "Sharp blade, steel rule, light strokes, fingers clear of its path.",
    "Cut the card flat on a cutting mat, by the rules of the workshop.",
    "Cut the opening before the boards are made up, and try the label, wrapped in a strip of the "
    "covering, in it.",
    "Press the covering in with the trimmed piece while the adhesive is soft, and let all of it "
    "dry under weight before the label goes in.",
)
"""What to mind with knives, as methods have it, and with a covering drawn into an opening."""
_HARDLY_TURNED = 0.99  # a cosine that no eye notices


def finding_text(finding: Finding) -> str:
    """The finding as a sentence."""
    template = TEMPLATES.get(finding.topic) or _PICKED[finding.topic](finding)
    if finding.topic.startswith("pattern-") and "volume" in finding.facts:
        template = "{volume}: " + template
    return said(template, value=finding.value, limit=finding.limit, **finding.facts)


def reported(finding: Finding) -> FindingReport:
    """The finding as it stands in a report."""
    topic, level, value, limit, unit, source, status, _facts = finding
    return FindingReport(topic, level, finding_text(finding), value, limit, unit, source, status)


def topics() -> list[str]:
    """Every topic that has a sentence, each as often as it has one."""
    return [*TEMPLATES, *_PICKED]


def _axis_found(f: Finding) -> str:
    found = "{tag} {value} is the {goal} of {font} at {size:pt}"
    if f.facts["because"] == "end":
        return found + ": the end of its range."
    if f.facts["because"] == "room":
        return found + " that fits; at {tag} {past} there is no room."
    return found + (
        " that holds; at {tag} {past} the {because} of '{letter}' is under {least_mm:g} mm."
    )


def _reading_follows(f: Finding) -> str:
    market: Any = f.facts["market"]
    reads, note = "Lettering along the back reads {value:way}", "{market.note:next sentence}"
    if not market.code:
        return reads + ", as ISO 6357 has it; no market was given."
    if market.weakening:
        return f"{reads}, by custom of the market {{market.name}}.{note} So {_match_the_list(f)}"
    firm = "the firm custom" if market.firmness == "firm" else "usual"
    custom = f"is {firm} for the market {{market.name}}.{note}"
    if market.reading == "upright":
        column = f"column of upright characters {custom}"
        return f"A {column}" if f.facts["column"] else f"{reads} where it is turned; a {column}"
    return f"{reads}, as {custom}"


def _reading_mixed(f: Finding) -> str:
    market: Any = f.facts["market"]
    here = "lettering along the back reads {value:way} here"
    if market.reading == "upright" and f.facts["column"]:
        here = "a column of upright characters was taken"
    return f"{_unsettled(market)}; {here}: {_match_the_list(f)}{{market.note:next sentence}}"


def _unsettled(market: Any) -> str:
    if market.status == "memory":
        return "What is usual for the market {market.name} is not confirmed"
    return "Shelves of the market {market.name} are mixed"


def _match_the_list(f: Finding) -> str:
    """What to do where no custom decides, and how to say that it was done."""
    settle = ", and say with --reading which way that is" if f.level is Level.WARNING else ""
    return f"match the list that the book joins{settle}."


def _market_unknown(f: Finding) -> str:
    return (
        "Nothing is known here of the market {code}; lettering along the back reads {value:way}, "
        f"as the international standard has it: {_match_the_list(f)}"
    )


def _reading_against(f: Finding) -> str:
    market: Any = f.facts["market"]
    rule = "the custom of the market {market.name}" if market.code else "ISO 6357"
    match = "Match the list that the book joins.{market.note:next sentence}"
    if market.firmness == "mixed":
        return f"You asked for lettering {{value:way}}. {_unsettled(market)}. {match}"
    return f"You asked for lettering {{value:way}}; {rule} would have it {{limit:way}}. {match}"


def _right_bound(f: Finding) -> str:
    lies = (
        "descending lies upside down with the front cover up (ascending it would lie upright)"
        if f.value == "descending"
        else "ascending lies upright with the front cover up"
    )
    return "On a book bound at the right, a title from left to right that reads " + lies + "."


def _legibility(f: Finding) -> str:
    letters = capitals_or_letters(str(f.facts["title"])).capitalize()
    height, least = _heights(f)
    return (
        ("Small capitals" if f.facts["small"] else letters)
        + f" {height} high"
        + _turned_away(f)
        + {
            Level.GOOD: " are read with ease from {distance_mm} mm",
            Level.NOTE: " are readable at a pinch from {distance_mm} mm",
        }.get(f.level, " are too small to be read from the shelf, {distance_mm} mm away")
        + least
    )


def _heights(f: Finding) -> tuple[str, str]:
    """How high the letters are, and have to be for the eye; what is seen grows as they do."""
    cap_mm, seen, asked = (float(str(one)) for one in (f.facts["cap_mm"], f.value, f.limit))
    if not seen:
        return mm(cap_mm), "."
    least_mm = cap_mm * asked / seen
    height, least = mm_against(cap_mm, least_mm), mm_against(least_mm, cap_mm)
    if height == least:  # they differ by less than anyone can cut
        least = height if f.level is Level.GOOD else "a hair more"
    return height, {
        Level.GOOD: f"; {least} would be enough.",
        Level.NOTE: f"; {least} would be easy.",
    }.get(f.level, f"; {least} at least are asked.")


def _turned_away(f: Finding) -> str:
    """What the round of the back takes from the letters that lie farthest round it."""
    what, seen = ("height", "height_seen") if f.facts["along"] else ("width", "outermost_seen")
    share: Any = f.facts[seen]
    if share >= _HARDLY_TURNED:
        return ""
    return ", of whose " + what + " the round shows {" + seen + ":.0%} at the outside,"


def _thin_back_disagreed(f: Finding) -> str:
    """A US printer's limit: a rule in the market it is of, a second opinion in others."""
    if f.level is Level.WARNING:
        return (
            "The back is {value:mm} wide; a US printer prints type from {limit} mm on (a UK one "
            "from {uk_mm} mm): ask yours, or think of the front cover."
        )
    return (
        "Printers disagree on the thinnest back: a UK one prints type from {uk_mm} mm on, a US one "
        "from {limit} mm; this one is {value:mm} wide. Ask yours."
    )


def _placing(f: Finding) -> str:
    return (
        "From the ink to the nearest edge there are {value:mm against limit}; a {method} may be "
        "out of place by {limit:mm}"
        + ("." if f.level is Level.GOOD else ", so it can run to the edge.")
    )


def _below_method(f: Finding) -> str:
    if not f.value:
        return "No size fits: nothing of the panel is left for it."
    so_far = "It fits up to {value:pt at most} only"
    if f.topic == "size-below-method":
        so_far = "{value:pt} is too small"
    of_capitals = " for capitals {cap.value:mm} high" if f.facts["cap"] else ""
    return f"{so_far}; a {{method}} needs {{smallest_pt:pt}}{of_capitals}."


def _foreign_letter(f: Finding) -> str:
    if f.limit is not None and len(str(f.limit)) > 1:
        return (
            "Every letter of {word} is of another script than the rest of the title ({character} "
            "comes first), and it looks like {limit}: is that meant?"
        )
    alike = "; it looks like {limit} and is another letter" if f.limit else ""
    return (
        "Letter {place} of {word} is {character}, of another script than the rest of the word"
        + alike
        + ": type it again before anything is cut."
    )


def _old_lettering(f: Finding) -> str:
    from spinefit.say.old_lettering import covered, shows  # for few books

    return covered(f) if f.topic == "old-lettering-covered" else shows(f)


def _board_place(f: Finding) -> str:
    between = (
        "on the board paper" if _on_leather(f.facts["place"]) else "between joint and fore edge"
    )
    return "The " + _place(f.facts["place"]) + ": centred " + between + "."


def place_in_words(place: Any) -> str:
    """Where the middle of a label on a front board stands, as it is measured off."""
    return said(_place(place), place=place)


def _place(place: Any) -> str:
    what = "label advised " if place.advised else "label "
    return (
        (what if place.is_label else "lettering ")
        + "{place.label_width_mm:mm} wide, {place.label_height_mm:mm} high; its middle "
        "{place.from_head_mm:mm} from the head and {place.from_free_mm:mm} from the "
        + ("leather" if _on_leather(place) else "joint")
        + ", {place.from_fore_edge_mm:mm} from the fore edge"
    )


def _on_leather(place: Any) -> bool:
    reaches: bool = place.board.leather_mm > place.board.joint_mm
    return reaches


def _board_corner(f: Finding) -> str:
    value: Any = f.value
    if value > 0:
        return "The label comes within {value:mm against limit} of a leather corner."
    return "The label runs {value:mm beyond} over a leather corner."


def recess_in_words(plan: Any) -> str:
    """What is cut, how deep, and of what the board is made."""
    layers = ", ".join(
        f"{layer.what} {layer.thickness.value_mm:.4g}{' cut through' if layer.cut else ''}"
        for layer in plan.layers
    )
    return said(
        "cut {plan.opening_width_mm:mm} x {plan.opening_height_mm:mm}, {plan.depth_mm:.4g} mm "
        "deep; from the face: {layers}, in all {plan.total_mm:.4g} mm; pressing piece "
        "{plan.pressing_width_mm:mm} x {plan.pressing_height_mm:mm}",
        plan=plan,
        layers=layers,
    )


def _recess_edge(f: Finding) -> str:
    value: Any = f.value
    left = "Only {value:mm against limit} of card are left between the opening and an edge; less "
    if value <= 0:
        left = "The opening runs {value:mm beyond} over the edge, and card of less "
    return left + "than {limit:mm} tears. " + " and ".join(_mending_edge(f)).capitalize() + "."


def _mending_edge(f: Finding) -> Iterator[str]:
    """What leaves enough card beside a recess, a clause for the width and one for the height."""
    wide, high, edge = (f.facts[name] for name in ("most_wide_mm", "most_high_mm", "edge_mm"))
    if any(isinstance(most, float) and most <= 0 for most in (wide, high)):
        yield "cut no recess"
        return
    if wide is not None:
        option = "" if edge is None else " (--edge {edge_mm:bare mm at least}mm)"
        yield "take a label at most {most_wide_mm:mm at most} wide" + option
    if high is not None:
        yield "take a label at most {most_high_mm:mm at most} high"
    elif f.facts["moved_mm"] is not None:
        yield "keep the label {moved_mm:mm at least} farther from the {end}"


def _text_without_room(f: Finding) -> str:
    if "along_mm" in f.facts:
        return (
            "The {role} finds no room: at {set_pt:pt} its lettering takes {value:mm against limit} "
            "across the back, where {limit:mm} are left for it."
        )
    if "volume" not in f.facts:
        return (
            "The {role} finds no room: at {set_pt:pt} its lettering takes {value:mm} along the "
            "back by {across_mm:mm} across it; {limit:mm} along the back are left for it."
        )
    length = "" if f.facts["length_mm"] is None else ", {length_mm:mm} of the back"
    return (
        "The {role} of {volume} finds no room at {value:pt} where the others of its kind stand"
        + length
        + ": {answer}"
    )


def _volume_does_not_fit(f: Finding) -> str:
    if "lines" in f.facts:
        return "{volume} cannot take {value:pt} in {lines}: {answer}"
    return "{volume}: {answer}"


def _set_limit(f: Finding) -> str:
    if "most" in f.facts:
        return "{way:start} in {lines} each would take at most: {most}. {volume} sets the limit."
    what = "No one text or volume sets the limit: without any of them the title stays as it is."
    if f.facts["role"] is not None:
        where = "every volume" if f.facts["volume"] is None else "{volume}"
        what = "The {role} sets the limit in " + where + ": without it the title could be larger."
    return what + " Planned by itself the title of each would be: {alone}."


def _set_height(f: Finding) -> str:
    role = "The {role}" if "role" in f.facts else ""
    if f.value is not None:
        at = " {value:mm} from the tail in every volume."
        if f.facts["across"]:
            return (role + "'s" if role else "The") + " first baseline stands" + at
        return (role or "The lettering") + " begins" + at
    if role:
        return "No common height over the shelf is known for the {role}."
    if f.facts["labels"]:
        return "Labels: paste them so that their first baselines stand at one height."
    return "Without the heights of all volumes no common height over the shelf is known."


def _pattern_height(f: Finding) -> str:
    where = "at no known height" if f.value is None else "{value:mm} from the tail"
    return (
        "The lettering stands " + where + " instead of {limit:mm}, where the others of the set "
        "have theirs: this back has no room for it there."
    )


def _pattern_lines(f: Finding) -> str:
    if str(f.value).isdigit():
        return "The lines asked for is {value}; the pattern has {limit}, which was judged."
    lines = "one line" if f.limit == "1" else "{limit} lines"  # which the title cannot have
    return "The pattern has " + lines + "; {value}."


_PICKED: dict[str, Callable[[Finding], str]] = {
    "axis-found": _axis_found,
    "below-method": _below_method,
    "size-below-method": _below_method,
    "board-corner": _board_corner,
    "board-place": _board_place,
    "finer-than-advised": finer_than_advised,
    "legibility": _legibility,
    "letter-of-another-script": _foreign_letter,
    "letters-close": letters_close,
    "narrow-apertures": narrow_apertures,
    "parts-lost": parts_lost,
    "small-counter": too_fine,
    "sturdier-letter": sturdier_letter,
    "thin-back-disagreed": _thin_back_disagreed,
    "thin-stroke": too_fine,
    "market-unknown": _market_unknown,
    "old-lettering-covered": _old_lettering,
    "old-lettering-height": _old_lettering,
    "old-lettering-met": _old_lettering,
    "old-lettering-outside": _old_lettering,
    "old-lettering-shape": _old_lettering,
    "old-lettering-width": _old_lettering,
    "pattern-height": _pattern_height,
    "pattern-lines": _pattern_lines,
    "placing": _placing,
    "reading-against": _reading_against,
    "reading-follows": _reading_follows,
    "reading-mixed": _reading_mixed,
    "reading-right-bound": _right_bound,
    "recess-edge": _recess_edge,
    "set-height": _set_height,
    "set-limit": _set_limit,
    "text-without-room": _text_without_room,
    "volume-does-not-fit": _volume_does_not_fit,
    "width-estimated": estimate_in_words,
}
"""The topics whose template is picked by level, figure or another fact."""
