"""The order in which letters of both directions are seen, worked out by hand.

Source of the rules: Unicode Standard Annex #9; its whole conformance tests are run elsewhere.
In the cases capitals stand for Hebrew letters, as in the annex's own examples.
"""

from __future__ import annotations

import pytest

from spinefit.shaping.bidi import base_level, classes_of, levels_of, line_levels, seen_order

HEBREW = {chr(ord("A") + at): chr(0x05D0 + at) for at in range(22)}
REMOVED = "\u202a\u202b\u202c\u202d\u202e"


def seen(text: str) -> str:
    """What the eye reads from left to right."""
    told = "".join(HEBREW.get(char, char) for char in text)
    classes = classes_of(told)
    base = base_level(classes)
    levels = line_levels(levels_of(told, base, classes), classes, base, 0, len(told))
    kept = [at for at, char in enumerate(told) if char not in REMOVED]
    return "".join(text[kept[at]] for at in seen_order([levels[at] for at in kept]))


@pytest.mark.parametrize(
    ("logical", "visual"),
    [
        ("car ABC car", "car CBA car"),
        ("ABC car ABC", "CBA car CBA"),
        # figures read from left to right in both; a sign and a separator go with them (W4, W5)
        ("ABC 12 car", "car 12 CBA"),
        ("ABC 1,2 C", "C 1,2 CBA"),
        ("ABC 5% C", "C 5% CBA"),
        ("car A-1", "car 1-A"),
        # brackets: the direction inside where it is that of the text, else that before (N0)
        ("a(B)c", "a(B)c"),
        ("A(b)C", "C)b(A"),
        ("a (B c) D", "a (B c) D"),
        ("A b[C] d", "d ]C[b A"),
        ("a B(c", "a B(c"),
        # overrides and embeddings (X4 to X7); what begins and ends them is not seen
        ("\u202eabc\u202c d", "cba d"),
        ("a \u202dABC\u202c d", "a ABC d"),
        ("a \u202bb C\u202c d", "a C b d"),
        ("A \u202ab C\u202c D", "D b C A"),
        ("a\u202c b", "a b"),
        # isolates (X5a to X6a) are as one neutral letter outside
        ("a \u2067b C\u2069 d", "a \u2067C b\u2069 d"),
        ("A \u2066b C\u2069 D", "D \u2069b C\u2066 A"),
        ("a \u2068B c\u2069 d", "a \u2068c B\u2069 d"),
        ("a \u2069b", "a \u2069b"),
        # an embedding that is not ended ends with its isolate
        ("a \u2067\u202ab\u2069 C d", "a \u2067b\u2069 C d"),
        # spaces at the end of a line go with the text (L1)
        ("car ABC  ", "car CBA  "),
    ],
)
def test_letters_are_seen_in_the_order_of_the_annex(logical: str, visual: str) -> None:
    assert seen(logical) == visual


def test_the_first_strong_letter_outside_isolates_sets_the_direction() -> None:
    """P2 and P3."""
    for text, level in (("12 א b", 1), ("\u2067א\u2069 b", 0), ("\u2069א", 1), ("12", 0)):
        assert base_level(classes_of(text)) == level


@pytest.mark.parametrize(("opens", "ends"), [("\u202b", "\u202c"), ("\u2067", "\u2069")])
def test_what_is_nested_past_the_deepest_level_is_passed_over(opens: str, ends: str) -> None:
    """BD2 allows 125 levels; the letters behind are those of the text again."""
    for depth in (5, 62, 70, 300):
        text = f"a{opens * depth}b{ends * depth}c"
        levels = levels_of(text, 0)
        assert max(levels) <= 126
        assert levels[0] == levels[-1] == 0


def test_too_many_open_brackets_are_no_pairs() -> None:
    """BD16 looks at 63 at a time."""
    assert seen("(" * 64 + "A" + ")" * 64) != ""
    levels = levels_of("a" + "(" * 64 + "\u05d0" + ")" * 64 + "b", 0)
    assert levels[0] == levels[-1] == 0
    assert levels[65] == 1
