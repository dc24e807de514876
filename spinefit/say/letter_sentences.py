"""How is a binder told of letters that a method may not hold?

In: a `Finding` on the letters of a setting, with its facts. Out: a template for `said`, its figures
still to be put in. Nothing is worked out.
"""

from __future__ import annotations

import math
from typing import Any

from spinefit.judgement.finding import Finding
from spinefit.say.phrasing import count_in_words, visible
from spinefit.vocabulary import Level

_LETTERS_NAMED = 6  # of those that are finer than asked, the finest
_TRACKING_STEP = 5  # thousandths of an em: less is not seen


def finer_than_advised(f: Finding) -> str:
    """Strokes or counters that are finer than asked, and a sturdier letter."""
    value: Any = f.value
    named = _named(f)
    may, thing = (
        ("Hairlines may break", "the thinnest strokes")
        if f.facts["what"] == "stroke"
        else ("Counters may fill", "those")
    )
    if f.facts["cut"]:
        may = "Thin strokes may tear in weeding"
    value_mm = f"{value:.2f}" if round(value, 2) < float(f.limit or 0) else f"{value:.3f}"
    text = f"{may}: {thing} of {named} are {value_mm} mm, and {{limit}} mm is asked for, "
    text += "which takes {needs_pt:pt at least}. "
    text += "Cut a trial" if f.facts["cut"] else "Ask for a proof"
    sturdier: Any = f.facts["sturdier"]
    if sturdier is None:
        return text + "."
    text += "; {sturdier.font} is sturdier, and takes {sturdier.size_pt:pt} here"
    return text + (", with nothing finer than asked." if sturdier.is_good else ".")


def too_fine(f: Finding) -> str:
    """A letter that does not hold, and the size at which it would."""
    what = "thinnest stroke" if f.topic == "thin-stroke" else "counter"
    return (
        f"At {{size_pt:pt at most}} the {what} of {{letter}} is {{value:.2f}} mm; a {{method}} "
        "needs {limit} mm, which takes {needs_pt:pt at least}, and {largest_pt:pt at most} is the "
        "most that fits: {larger_fits:set it larger|take a sturdier letter}."
    )


def sturdier_letter(_f: Finding) -> str:
    """A font at hand that holds better."""
    return "A sturdier letter is at hand: {font}, which comes with spinefit, takes {value:pt} here."


def letters_close(f: Finding) -> str:
    """Letters that stand nearer than the method keeps open."""
    apart = "stand {value:.2f} mm apart, and a {method} keeps {limit} mm open: "
    if f.level is Level.GOOD:
        return "The nearest letters " + apart + "near enough."
    if not f.facts["in_line"]:
        return "Letters of two lines " + apart + "add leading."
    tracking: Any = f.facts["tracking"]
    about = _TRACKING_STEP * math.ceil(tracking / _TRACKING_STEP)
    return "Neighbouring letters " + apart + f"space them, with --tracking of about {about}."


def parts_lost(f: Finding) -> str:
    """Dots, points and accents that are too small to stay where they are cut."""
    return (
        f"Dots, points or accents of {_named(f)} are under {{limit}} mm ({{value:.2f}} mm) and are "
        "lost in weeding: a larger size, or a letter with larger ones."
    )


def narrow_apertures(f: Finding) -> str:
    """Mouths of letters that are narrower than a counter may be."""
    return f"The openings of {_named(f)} are under {{limit}} mm wide: weed them with care."


def _named(f: Finding) -> str:
    """The letters of a finding, the first few by name, safe in a template."""
    letters: Any = f.facts["letters"]
    named = ", ".join(map(visible, letters[:_LETTERS_NAMED])).replace("{", "{{").replace("}", "}}")
    others = len(letters) - _LETTERS_NAMED
    return f"{named} and {count_in_words(others)} more" if others > 0 else named
