"""What should a binder know of this book before any letter is set?

In: the job, its usable panel and its shaped title. Out: findings on thin backs, widths that vary,
bands and the round; on which way titles along the back run in the book's market; on what was
asked of the letters; and, of a title that holds more than plain letters, on characters that would
be cut as a mistake (named with code point and place: letters of another script inside a word,
characters without ink, straight quotes), letters that another font sets, words that only a
dictionary parts, Mongolian. A convention is advice: where authorities or shelves are mixed, the
list that the book joins decides. Figures come from rules.toml. The spelling of words is left alone.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections import Counter
from collections.abc import Iterator

from spinefit.catalogue.words import lookalikes
from spinefit.geometry import UsablePanel
from spinefit.job.resolve import DEFAULT_METHOD
from spinefit.job.resolved import ResolvedJob, ResolvedSpine
from spinefit.judgement.finding import Finding
from spinefit.layout.group import least_leading_em
from spinefit.layout.standing import sets_columns_here, turn_of
from spinefit.shaping.harfbuzz import script_and_direction
from spinefit.shaping.scripts import CURSIVE, itemise
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import (
    BackForm,
    BindingSide,
    Firmness,
    Letters,
    Level,
    Orientation,
    Reading,
    Status,
    Turn,
)

__all__ = [
    "back_findings",
    "convention_findings",
    "lettering_findings",
    "script_findings",
    "spelling_findings",
]

# Letters of one script without a typewriter's quotes: nothing in them can be mistaken.
_PLAIN = re.compile(r"(?:[A-Za-z0-9À-ÖØ-öø-ɏ&.,:;!?()’–—‘“”/-]| (?! ))+")
# A letter of no upright script; compiled on need, as large sets take milliseconds to compile.
_TURNED = r"[^\W\d_\u1100-\u11ff\u2e80-\uffff]"
# What every title has in which a mark of a library's catalogue stands.
_MAY_HAVE_MARKS = re.compile(r" [:/] |\[|\.$|\. [-–—] |#[0-9]|[-–][0-9]{4}|[0-9]-$|[cC©][0-9]{4}")
_GEOMETRY = "computed from how a book bound at that side shows its spine lying front cover up"
_UPSIDE_DOWN = (
    f"{_GEOMETRY}; descending Latin titles on Japanese books: Japanese learners' forum thread on "
    "spine direction"
)
_TRIAL = "Cockerell, Bookbinding and the Care of Books, ch. XV: the size is tried with a row of Es"


def back_findings(
    job: ResolvedJob, panel: UsablePanel, *, at_widest_pt: float | None, by_width: bool = False
) -> Iterator[Finding]:
    """Findings on the back as measured, and on a label that bends or covers.

    Args:
        job: the resolved job.
        panel: its usable panel.
        at_widest_pt: largest size of the advised setting at the greatest width of a range.
        by_width: whether the width of the panel limits the setting shown.
    """
    spine = job.spine
    if spine is not None:
        yield from _width(job, spine, panel)
        if job.widest is not None and at_widest_pt is not None:
            yield Finding.of(
                "width-range", Level.NOTE, spine.width_mm, job.widest.width_mm, "mm",
                at_widest_pt=at_widest_pt,
            )  # fmt: skip
        yield from _bands(job, spine)
        yield from _round(spine, panel)
        if job.method.key == DEFAULT_METHOD:
            yield from _disagreed(job, spine, by_width=by_width)
    if job.old_lettering is not None or job.label_thickness_mm is not None:
        from spinefit.judgement.labels import label_findings

        yield from label_findings(job, panel)


def _width(job: ResolvedJob, spine: ResolvedSpine, panel: UsablePanel) -> Iterator[Finding]:
    thin, narrow = job.rules["edge.thin_back_mm"], job.rules["edge.narrow_mm"]
    if spine.width_mm < thin.value:
        yield Finding.by_rule("thin-back", Level.WARNING, spine.width_mm, thin)
    if panel.width_mm <= 0:
        yield Finding.by_rule(
            "nothing-left", Level.FAILURE, spine.width_mm, narrow, edge_mm=spine.edge_mm
        )


def _bands(job: ResolvedJob, spine: ResolvedSpine) -> Iterator[Finding]:
    least = job.rules["bands.least_height_mm"]
    if spine.bands and spine.band_height_mm < least.value:
        yield Finding.by_rule("narrow-band", Level.WARNING, spine.band_height_mm, least)
    if spine.bands and spine.height_mm is None:
        yield Finding.of("bands-without-height", Level.WARNING)


def _round(spine: ResolvedSpine, panel: UsablePanel) -> Iterator[Finding]:
    back, usable_mm = panel.back, panel.width_mm
    if spine.form is not BackForm.ROUNDED or back is None:
        return
    if not back.curve_known:
        yield Finding.of("round-unmeasured", Level.NOTE, usable_mm, unit="mm")
        return
    facts: dict[str, object] = {
        "arc_mm": back.arc_mm,
        "radius_mm": back.radius_mm,
        "rise_mm": back.rise_mm,
        "usable_mm": usable_mm,
    }
    if panel.angle_limited:
        to_joint_deg = math.degrees(back.half_angle_rad)
        most_deg = spine.max_angle_deg
        yield Finding.of("round-angle", Level.NOTE, to_joint_deg, most_deg, "deg", **facts)
    else:
        yield Finding.of("round-measured", Level.GOOD, usable_mm, back.arc_mm, "mm", **facts)


def _disagreed(job: ResolvedJob, spine: ResolvedSpine, *, by_width: bool) -> Iterator[Finding]:
    """Where printers of paperbacks disagree, and their rule decided."""
    us_thin, thin = job.rules["edge.us_thin_back_mm"], job.rules["edge.thin_back_mm"]
    if thin.value <= spine.width_mm < us_thin.value:
        yield Finding.by_rule(
            "thin-back-disagreed", Level.NOTE, spine.width_mm, us_thin, uk_mm=thin.value
        )
    us_each = job.rules["edge.us_each_mm"]
    if by_width and "edge" not in spine.typed and spine.edge_mm < us_each.value:
        yield Finding.by_rule("edge-disagreed", Level.NOTE, spine.edge_mm, us_each)


def convention_findings(job: ResolvedJob, stands: Orientation) -> Iterator[Finding]:
    """What the market's convention has to say of a longitudinal title.

    Where shelves are mixed, or their custom weakens, a title along the back is a warning until
    the person has said which way it is to read.

    Args:
        job: the resolved job.
        stands: how the setting that is shown stands.
    """
    market, reading = job.market, job.lettering.reading
    usual = Reading.DESCENDING if market.reading is Reading.UPRIGHT else market.reading
    facts = {"market": market, "code": job.market_code, "column": stands is Orientation.PILLAR}
    is_open = stands is Orientation.LONGITUDINAL and not job.lettering.reading_asked
    unsettled = Level.WARNING if is_open else Level.NOTE

    def finding(topic: str, level: Level) -> Finding:
        source, status = market.source, market.status
        return Finding(topic, level, reading.value, usual.value, "", source, status, facts)

    if job.lettering.reading_asked and reading is not usual:
        firm = market.firmness is Firmness.FIRM
        yield finding("reading-against", Level.WARNING if firm else Level.NOTE)
    elif not job.market_known:
        yield finding("market-unknown", unsettled)
    elif market.firmness is Firmness.MIXED:
        yield finding("reading-mixed", unsettled)
    else:
        yield finding("reading-follows", unsettled if market.weakening else Level.GOOD)
    if job.right_to_left:
        yield _right_to_left(job)
    elif job.spine is not None and job.spine.binding_side is BindingSide.RIGHT:
        yield from _right_bound(job)


def _right_bound(job: ResolvedJob) -> Iterator[Finding]:
    """How a left-to-right title along the back of a right-bound book lies front cover up."""
    asked, words = job.lettering.orientation, " ".join(job.title_lines)
    if asked not in (Orientation.ANY, Orientation.LONGITUDINAL) or not re.search(_TURNED, words):
        return
    reading = job.lettering.reading
    level, source = Level.GOOD, _GEOMETRY
    if reading is Reading.DESCENDING:
        level, source = Level.NOTE, _UPSIDE_DOWN
    yield Finding(
        "reading-right-bound", level, reading.value, BindingSide.RIGHT.value, "", source,
        Status.COMPUTED,
    )  # fmt: skip


def _right_to_left(job: ResolvedJob) -> Finding:
    """How a right-to-left title stands along the back, and when the book lies on its back."""
    reading = job.lettering.reading
    turn = turn_of(reading, right_to_left=True)
    side = BindingSide.RIGHT if job.spine is None else job.spine.binding_side
    upright = (turn is Turn.ANTICLOCKWISE) == (side is BindingSide.RIGHT)
    return Finding(
        "reading-right-to-left", Level.NOTE, turn.value, side.value, "", _GEOMETRY,
        Status.COMPUTED, {"reading": reading.value, "upright": upright},
    )  # fmt: skip


def lettering_findings(job: ResolvedJob, title: ShapedTitle) -> Iterator[Finding]:
    """Findings on what was asked of the letters."""
    asked_em = job.lettering.leading_em
    if asked_em is not None:
        least_em, rule = least_leading_em(title, job.rules), job.rules["lines.least_gap"]
        if asked_em < least_em:
            raised = Finding.by_rule("leading-raised", Level.WARNING, asked_em, rule)
            yield raised._replace(limit=least_em, unit="em")
    if job.lettering.tracking_em and any(run.script in CURSIVE for run in itemise(title.text)):
        yield Finding.of("tracking-refused", Level.WARNING)
    for font, tables in title.font.damaged:
        yield Finding.of("font-checksum", Level.WARNING, tables, font=font)
    if len(job.title_lines) > 1 or _MAY_HAVE_MARKS.search(job.title_lines[0]):
        from spinefit.judgement.catalogue_marks import catalogue_findings

        yield from catalogue_findings(job)
    if not _PLAIN.fullmatch(title.text):
        yield from spelling_findings(job, title.text)
        yield from script_findings(job, title)
    if job.method.letters is Letters.TOOLS:
        yield from _tools(job, title.text)


def _tools(job: ResolvedJob, text: str) -> Iterator[Finding]:
    """How good the widths of tools are, and which sizes lack a letter of the title."""
    tools, rule = job.lettering.tools, job.rules["tools.estimate"]
    if tools is None:
        yield Finding.by_rule("tools-unknown", Level.NOTE, None, rule)
        return
    if any(size.e_mm is not None for size in tools.sizes):
        trial = rule._replace(source=f"{_TRIAL}; {rule.source}")
        yield Finding.by_rule("tools-estimated", Level.NOTE, None, trial)
    else:
        yield Finding.of("tools-measured", Level.GOOD)
    from spinefit.shaping.tools import lacking  # only for letters that are tools

    for body_pt, letters in lacking(job, text):
        yield Finding.of("tools-lacking", Level.NOTE, body_pt, unit="pt", letters=letters)


_MIXED = frozenset({"Latn", "Grek", "Cyrl"})  # scripts whose letters are taken for each other
_WORD = re.compile(r"[^\W\d_]+(?:[\u0300-\u036f][^\W\d_]*)*")
_TWO_SPACES = re.compile(r"\s{2,}")
_INVISIBLE = frozenset("\u00ad\u034f\u061c\u180e\u200b\u200c\u200d\u200e\u200f\u2060\ufeff")
_JOINERS = frozenset("\u200c\u200d")
_BREAK_MARKS = frozenset("\u200b\u2060")
_MARKS_OF_DIRECTION = frozenset("\u061c\u200e\u200f")
# Scripts in whose words a zero width space shows where a line may break, a word joiner where not.
_WITHOUT_SPACES = frozenset({"Thai", "Laoo", "Khmr", "Mymr", "Tibt", "Java", "Bali", "Lana"})
# Scripts in which the zero width joiners choose the form of a letter.
_FORMS_CHOSEN = frozenset((
    "Arab", "Syrc", "Mong", "Nkoo", "Mand", "Adlm", "Rohg", "Phag", "Deva", "Beng", "Guru", "Gujr",
    "Orya", "Taml", "Telu", "Knda", "Mlym", "Sinh", "Khmr", "Mymr", "Tibt", "Java", "Bali", "Newa",
))  # fmt: skip
_STRAY_EM = 0.25  # brushed and round letters reach a little over their cells; by eye, no source
# Scripts without spaces between words, class SA of UAX #14, by ISO 15924 code: those that ICU has a
# dictionary for, and the others.
_BY_DICTIONARY = {"Thai": "Thai", "Laoo": "Lao", "Khmr": "Khmer", "Mymr": "Burmese"}
_UNBROKEN = {"Lana": "Tai Tham", "Talu": "New Tai Lue", "Tale": "Tai Le", "Ahom": "Ahom"}


def spelling_findings(job: ResolvedJob, text: str) -> Iterator[Finding]:
    """What should be looked at before the title is cut.

    Args:
        job: the resolved job; the letters of tools have no two forms of an apostrophe.
        text: the title as lettered.
    """
    yield from _foreign_letters(text)
    yield from _without_ink(text)
    yield from _spaces(text)
    if job.lettering.tools is None:
        yield from _straight_quotes(text)


def _script(char: str) -> str:
    return script_and_direction(char)[0] or ""


def _foreign_letters(text: str) -> Iterator[Finding]:
    """Letters of another script than the rest of their word, or of the rest of the title."""
    words = [match.group() for match in _WORD.finditer(text)]
    scripts = [[_script(char) for char in word] for word in words]
    overall = Counter(name for word in scripts for name in word if name in _MIXED)
    if len(overall) < 2:
        return
    for word, names in zip(words, scripts, strict=True):
        inside = Counter(name for name in names if name in _MIXED)
        if not inside:
            continue
        own = max(inside, key=lambda name: (inside[name], overall[name]))
        main = max(overall, key=lambda name: overall[name])
        if len(inside) > 1:
            for at, (char, name) in enumerate(zip(word, names, strict=True), start=1):
                if name in _MIXED and name != own:
                    yield _foreign(char, at, word, _like(char, own))
        elif own != main and all(_like(char, main) for char in word):
            yield _foreign(word[0], 1, word, "".join(_like(char, main) for char in word))


def _like(char: str, script: str) -> str:
    """The letter of a script that a character looks like; "" for none."""
    return min((one for one in lookalikes().get(char, ()) if _script(one) == script), default="")


def _foreign(char: str, at: int, word: str, like: str) -> Finding:
    return Finding.of(
        "letter-of-another-script", Level.WARNING, char, like or None,
        place=at, word=word, character=_named(char),
    )  # fmt: skip


def _without_ink(text: str) -> Iterator[Finding]:
    """Characters that leave no ink, where their neighbours do not need them."""
    right_to_left = any(unicodedata.bidirectional(char) in ("R", "AL") for char in text)
    for at, char in enumerate(text):
        if char not in _INVISIBLE or (char in _MARKS_OF_DIRECTION and right_to_left):
            continue
        beside = {_script(one) for one in text[max(0, at - 1) : at] + text[at + 1 : at + 2]}
        if char in _JOINERS and beside & _FORMS_CHOSEN:
            continue
        if char in _BREAK_MARKS and beside & _WITHOUT_SPACES:
            continue
        yield Finding.of(
            "character-without-ink", Level.WARNING, char,
            character=_named(char), **_beside(text, at, at + 1),
        )  # fmt: skip


def _spaces(text: str) -> Iterator[Finding]:
    """Two spaces where one was meant; plain ones were closed up before."""
    for match in _TWO_SPACES.finditer(text):
        points = " ".join(f"U+{ord(char):04X}" for char in match.group())
        yield Finding.of("two-spaces", Level.WARNING, points, **_beside(text, *match.span()))


def _straight_quotes(text: str) -> Iterator[Finding]:
    """A typewriter's quotes and apostrophes; after a figure they may be meant as primes."""
    for at, char in enumerate(text):
        if char in "'\"":
            before = text[:at][-1:]
            yield Finding.of(
                "straight-quote", Level.WARNING, char, _meant(char, before),
                character=_named(char), prime=before.isdecimal(), **_beside(text, at, at + 1),
            )  # fmt: skip


def _meant(quote: str, before: str) -> str:
    """What a straight quote most likely stands for."""
    if before and _script(before) == "Hebr":
        return "׳" if quote == "'" else "״"
    return "’" if quote == "'" else "“ ”"


def _beside(text: str, begins: int, ends: int) -> dict[str, str]:
    """A few letters before and after a place of a title."""
    return {"before": text[:begins][-8:], "after": text[ends:][:8]}


def _named(char: str) -> str:
    """A character and what it is called."""
    name = unicodedata.name(char, f"U+{ord(char):04X}").lower()
    return f"an invisible character ({name})" if char in _INVISIBLE else f"{char} ({name})"


def script_findings(job: ResolvedJob, title: ShapedTitle) -> Iterator[Finding]:
    """Findings on the scripts and fonts of a title."""
    scripts = {_script(char) for char in title.text}
    yield from _other_fonts(job, title)
    for topic, names in (
        ("breaks-by-dictionary", _BY_DICTIONARY),
        ("breaks-need-a-dictionary", _UNBROKEN),
    ):
        for script in sorted(scripts & names.keys()):
            yield Finding.of(topic, Level.NOTE, names[script])
    if "Mong" in scripts:
        yield Finding.of("mongolian-turned", Level.WARNING)
    yield from _stray_in_columns(job, title)


def _other_fonts(job: ResolvedJob, title: ShapedTitle) -> Iterator[Finding]:
    """Letters that a fallback font sets, and fallbacks that were not needed."""
    if not job.lettering.fallback:
        return
    (first, _own), *others = title.fonts_used()
    for font, letters in others:
        if letters:
            yield Finding.of(
                "letters-of-another-font", Level.NOTE, letters, font.name, first=first.name
            )


def _stray_in_columns(job: ResolvedJob, title: ShapedTitle) -> Iterator[Finding]:
    """Letters that the font's vertical metrics put outside their cells in a column."""
    columns = title.sets_columns and sets_columns_here(job, title)
    for letter, box in title.letters() if columns else ():
        inked = None if box is None else title.column(letter).box
        if inked is not None and not (inked[1] >= -1 - _STRAY_EM and inked[3] <= _STRAY_EM):
            font = title.font.name
            yield Finding.of("letter-outside-its-cell", Level.WARNING, letter, font=font)
            return
