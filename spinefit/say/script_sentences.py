"""How are findings on letters and scripts said to a binder?

The wording of topics that plain titles never raise, one sentence a topic, for `sentences`.
In: a `Finding` with its facts. Out: text.
"""

from __future__ import annotations

from collections.abc import Callable

from spinefit.judgement.finding import Finding
from spinefit.say.phrasing import way

__all__ = ["SCRIPT_TEXTS"]


def _foreign_letter(finding: Finding) -> str:
    facts = finding.facts
    word, character = facts["word"], facts["character"]
    if finding.limit is not None and len(str(finding.limit)) > 1:
        return (
            f"Every letter of {word} is of another script than the rest of the title ({character} "
            f"comes first), and it looks like {finding.limit}: is that meant?"
        )
    alike = f"; it looks like {finding.limit} and is another letter" if finding.limit else ""
    return (
        f"Letter {facts['place']} of {word} is {character}, of another script than the rest of "
        f"the word{alike}: type it again before anything is cut."
    )


def _without_ink(finding: Finding) -> str:
    return (
        f"Between {_quoted(finding, 'before')} and {_quoted(finding, 'after')} stands "
        f"{finding.facts['character']}, which leaves no ink: take it out if it was not meant."
    )


def _straight_quote(finding: Finding) -> str:
    prime = "; after a figure it may be meant as ′ or ″" if finding.facts["prime"] else ""
    return (
        f"Between {_quoted(finding, 'before')} and {_quoted(finding, 'after')} stands "
        f"{finding.facts['character']}, a typewriter's: {finding.limit} is lettered as a "
        f"rule{prime}."
    )


def _two_spaces(finding: Finding) -> str:
    return (
        f"Between {_quoted(finding, 'before')} and {_quoted(finding, 'after')} stand several "
        f"spaces ({finding.value}): one is the rule."
    )


def _quoted(finding: Finding, side: str) -> str:
    text = str(finding.facts[side]).strip()
    return f"“{text}”" if text else f"the {'beginning' if side == 'before' else 'end'}"


def _right_bound(finding: Finding) -> str:
    way = "descending" if finding.value == "descending" else "ascending"
    lies = "upside down" if way == "descending" else "upright"
    other = " (ascending it would lie upright)" if way == "descending" else ""
    return (
        f"On a book bound at the right, a title from left to right that reads {way} lies {lies} "
        f"with the front cover up{other}."
    )


def _right_to_left(finding: Finding) -> str:
    facts = finding.facts
    lying = "is read upright" if facts["upright"] else "stands upside down"
    return (
        f"The title reads from right to left: along the back its lines are turned "
        f"{finding.value}, so as to read {way(facts['reading'])}; on a book bound at the "
        f"{finding.limit} it {lying} when the book lies front cover up."
    )


def _another_font(finding: Finding) -> str:
    return (
        f"{finding.facts['first']} lacks {finding.value}: set in {finding.limit} at the same "
        "size; see whether the two go together."
    )


def _breaks_by_dictionary(finding: Finding) -> str:
    return (
        f"{finding.value} words are not parted by spaces: lines end where a dictionary says that "
        "words do. Let a reader see them; a word joiner (U+2060) keeps two parts together, a zero "
        "width space (U+200B) parts them."
    )


def _no_breaks(finding: Finding) -> str:
    return (
        f"{finding.value} words are not parted by spaces, and no dictionary is at hand to "
        "find where they end, so that no line is broken inside them: put a zero width space "
        "(U+200B) where it may be, or ' / ' where it must."
    )


def _mongolian(_finding: Finding) -> str:
    return (
        "Mongolian is set level and turned, which along the back, descending, stands as its "
        "columns do; setting its columns is not supported, and several lines would follow one "
        "another from right to left instead of from left to right: take one line."
    )


def _outside_its_cell(finding: Finding) -> str:
    return (
        f"The vertical metrics of {finding.facts['font']} put {finding.value} outside its cell in "
        "a column, so that letters may run into each other: look at a drawing, or take a font "
        "made for columns."
    )


def _font_checksum(finding: Finding) -> str:
    return (
        f"The file of {finding.facts['font']} is not what its own checksums say ({finding.value}): "
        "it is damaged, or was edited; look at a drawing before anything is cut, or get the font "
        "anew."
    )


SCRIPT_TEXTS: dict[str, Callable[[Finding], str]] = {
    "font-checksum": _font_checksum,
    "letter-of-another-script": _foreign_letter,
    "character-without-ink": _without_ink,
    "straight-quote": _straight_quote,
    "letters-of-another-font": _another_font,
    "breaks-by-dictionary": _breaks_by_dictionary,
    "breaks-need-a-dictionary": _no_breaks,
    "letter-outside-its-cell": _outside_its_cell,
    "mongolian-turned": _mongolian,
    "reading-right-bound": _right_bound,
    "reading-right-to-left": _right_to_left,
    "two-spaces": _two_spaces,
}
