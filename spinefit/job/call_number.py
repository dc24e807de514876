"""Into which lines is a call number broken, and where on the back does it stand?

In: the number as typed and how the house letters such numbers. Out: its forced lines, and the back
on which only its own place is left to it. Dewey: the whole number stays together, long decimals
are parted after threes; then book mark, volume and year. Library of Congress: class, number,
Cutters, year, volume (common practice, no source). Numbers of the trade: rules.toml call_number.*.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from spinefit.catalogue import Rules
from spinefit.errors import FieldError
from spinefit.job.checks import usual
from spinefit.job.fields import checked
from spinefit.job.model import Job
from spinefit.job.places import Align, CallNumber, ResolvedCallNumber, Scheme
from spinefit.job.resolved import ResolvedSpine
from spinefit.job.title import title_lines
from spinefit.vocabulary import Orientation

_DEWEY = re.compile(r"[0-9]{3}(?:\.[0-9]+)?")
_DECIMALS = re.compile(r"([0-9]{3}\.[0-9]{3})([0-9]+)([^0-9].*)?")
_CLASS = re.compile(r"([A-Z]{1,3})([0-9]{1,4}(?:\.[0-9]+)?)?((?:\.?[A-Z][0-9]+[a-z]*)*)")
_CUTTERS = re.compile(r"(?:\.?[A-Z][0-9]+[a-z]*){2,}")
_CUTTER = re.compile(r"\.?[A-Z][0-9]+[a-z]*")
# What is read with the figure after it, as in v. 2, Bd. 2 and copy 2.
_COUNTED = re.compile(r"(?:[A-Za-z]+\.|copy|vol|no|pt|bd|tome?)", re.IGNORECASE)
_COUNT = re.compile(r"[0-9]+(?:[-–][0-9]+)?[a-z]?|[IVXLC]+")
_PREFIXES = 2  # marks of a collection before the class, such as REF or J
_PARTED = 3  # decimals to a line


def lines_of(words: str, job: Job, assumed: list[str]) -> tuple[str, ...]:
    """The forced lines of a call number; faults as of `title_lines`.

    Along the back a call number stands in one line, since only a thin book has it so.
    """
    pieces = title_lines(words, slash_breaks=True)
    if job.lettering.orientation is Orientation.LONGITUDINAL:
        return (" ".join(pieces),)
    scheme = (job.call_number or CallNumber()).scheme or Scheme.AUTO
    if scheme is Scheme.AUTO:
        scheme = scheme_of(" ".join(pieces))
        assumed.append(f"call number: {_BROKEN[scheme]}, by its form")
    return call_number_lines(pieces, scheme)


_BROKEN = {
    Scheme.DEWEY: "broken as a Dewey number",
    Scheme.LC: "broken as a Library of Congress number",
    Scheme.AUTO: "of no known scheme, broken at its spaces",
}


def scheme_of(text: str) -> Scheme:
    """The scheme whose form a call number has; AUTO for none.

    Three figures of a Dewey class may follow the mark of a collection, which looks like a class
    of the Library of Congress; there a Cutter with its point follows the number.

    >>> [scheme_of(text).value for text in ("R 823.912 W93", "PR6045 .O72", "R 823 .C7", "FIC W")]
    ['dewey', 'lc', 'lc', 'auto']
    """
    words = text.split()
    joined = _CLASS.fullmatch(words[0])
    if joined and joined[2]:
        return Scheme.LC
    if joined and len(words) > 2 and _NUMBER.fullmatch(words[1]) and words[2].startswith("."):
        return Scheme.LC
    if any(map(_DEWEY.fullmatch, words[: _PREFIXES + 1])):
        return Scheme.DEWEY
    parted = joined and len(words) > 1 and _NUMBERED.fullmatch(words[1])
    return Scheme.LC if parted else Scheme.AUTO


_NUMBER = re.compile(r"[0-9]{1,4}(?:\.[0-9]+)?")
_NUMBERED = re.compile(rf"{_NUMBER.pattern}(?:\.?[A-Z][0-9]+[a-z]*)*")


def call_number_lines(pieces: tuple[str, ...], scheme: Scheme) -> tuple[str, ...]:
    """The lines of a call number.

    Args:
        pieces: what was typed between forced breaks.
        scheme: that breaks them further; AUTO for breaks at spaces alone.

    >>> call_number_lines(("823.9124 W93h 1907 v. 2",), Scheme.DEWEY)
    ('823.912', '4', 'W93h', '1907', 'v. 2')
    >>> call_number_lines(("PR6045.O72Z8 1953",), Scheme.LC)
    ('PR', '6045', '.O72', 'Z8', '1953')
    """
    if scheme is Scheme.AS_TYPED:
        return pieces
    words = [word for piece in pieces for word in _words(piece)]
    if scheme is Scheme.DEWEY:
        return tuple(part for word in words for part in _dewey_parts(word))
    if scheme is Scheme.LC:
        return tuple(
            part for at, word in enumerate(words) for part in _lc_parts(word, first=not at)
        )
    return tuple(words)


def _words(piece: str) -> Iterator[str]:
    """Its words, an abbreviation with the figure it counts."""
    words = piece.split(" ")
    while words:
        word = words.pop(0)
        if words and _COUNTED.fullmatch(word) and _COUNT.fullmatch(words[0]):
            word = f"{word} {words.pop(0)}"
        yield word


def _dewey_parts(word: str) -> list[str]:
    found = _DECIMALS.fullmatch(word)
    if found is None:
        return [word]
    rest = found[2]
    threes = [rest[at : at + _PARTED] for at in range(0, len(rest), _PARTED)]
    return [found[1], *threes[:-1], threes[-1] + (found[3] or "")]


def _lc_parts(word: str, *, first: bool) -> list[str]:
    found = _CLASS.fullmatch(word) if first else None
    if found is not None:
        return [part for part in (found[1], found[2]) if part] + _CUTTER.findall(found[3])
    after = re.fullmatch(rf"({_NUMBER.pattern})((?:{_CUTTER.pattern})+)", word)
    if after is not None:  # the number, where a space parts it from its class
        return [after[1], *_CUTTER.findall(after[2])]
    return _CUTTER.findall(word) if _CUTTERS.fullmatch(word) else [word]


def at_its_place(
    job: Job, spine: ResolvedSpine | None, clearance_mm: float, rules: Rules, assumed: list[str]
) -> tuple[ResolvedSpine | None, ResolvedCallNumber]:
    """The back with only its place left to a call number, and how that stands.

    The house's mark is the edge of the ink, by every method: a label goes on beyond it by its
    margin, ``clearance_mm``.

    Raises:
        FieldError: a place beyond the back.
    """
    said = checked(job.call_number or CallNumber())
    flush_left = usual(said.align, Align.CENTRED, "align: centred", assumed) is Align.LEFT
    found = ResolvedCallNumber(flush_left)
    height_mm = None if spine is None else spine.height_mm
    if spine is None or height_mm is None:
        return spine, found
    if spine.bands:
        if "title-panel" not in spine.typed:
            spine = spine._replace(title_panel=spine.bands + 1)
        assumed.append(f"call number: in the middle of panel {spine.title_panel}, between bands")
        return spine, found
    places = {"from-tail": said.from_tail_mm, "first-line-from-tail": said.first_line_mm}
    for name, value in places.items():
        if value is not None and value >= height_mm:
            raise FieldError(
                "beyond the head of the back", value=f"{value:g} mm", where=f"--{name}",
                remedy=f"the back is {height_mm:g} mm high",
            )  # fmt: skip
    if said.first_line_mm is not None:
        return spine, found._replace(first_line_mm=said.first_line_mm)
    rule, oversize = rules["call_number.from_tail_mm"], rules["call_number.oversize_mm"]
    edge_mm = rule.value if said.from_tail_mm is None else said.from_tail_mm
    if said.from_tail_mm is None and height_mm >= oversize.value:
        assumed.append(f"call number: {edge_mm:g} mm from the head, as the book is oversize")
        head_mm = max(0.0, edge_mm - clearance_mm)
        return spine._replace(head_mm=head_mm, from_head_mm=0.0), found._replace(at_head=True)
    if said.from_tail_mm is None:
        assumed.append(f"call number: its lower edge {edge_mm:g} mm from the tail ({rule.source})")
    stood = spine._replace(foot_mm=max(0.0, edge_mm - clearance_mm), from_head_mm=height_mm)
    return stood, found._replace(edge_mm=edge_mm)
