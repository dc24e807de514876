"""In which of two encodings were bytes written that are no UTF-8?

In: bytes of a text of Western Europe. Out: cp1252, as Windows writes it, or Mac Roman. In both of
them a byte is a character, so the one is likelier in which more of them stand where such characters
stand in words: a capital before letters, a small letter beside one, a quotation mark at the edge of
a word. Greek, Cyrillic and other scripts have encodings of their own, which a person must name.
"""

from __future__ import annotations

import re

_CAPITALS = "ÄÖÜÉÈÀÇÑÅÆØÁÍÓÚÂÊÎÔÃÐÞ"
_SMALL = "äöüßéèêëàâçîïôûùñáíóúåæøãõìòðþýÿ"
_LETTER = r"[^\W\d_]"
_AT_HOME = re.compile(
    rf"""
    (?<![a-z{_SMALL}\d]) [{_CAPITALS}] (?={_LETTER})       # Öl, ÉTÉ
    | (?<=[A-Z]) [{_CAPITALS}] (?!{_LETTER})                # CAFÉ
    | (?<![^\W\d_])[ÀÈÅÖ](?=\s)                            # À la mer
    | (?<=[a-z{_SMALL}]) [{_SMALL}]                         # Höhe
    | (?<![a-z{_SMALL}]) [{_SMALL}] (?=[a-z{_SMALL}]|\s)    # älter, à
    | (?<=[A-Z]) [{_SMALL}] (?=[a-z{_SMALL}])               # Möwe
    | œ (?=[a-z]) | Œ (?=u)
    | (?<!\w) [“„‘‚«‹] (?=[\w\s\xa0])
    | (?<=[\w.,!?…\s\xa0]) [”“’‘»›] (?!\w)
    | (?<=\b[A-Za-z]) ’ (?=\w) | (?<=\b[Qq]u) ’ (?=\w)      # l’été, O’Hara
    | ’ (?=(?:s|t|d|m|ll|re|ve)\b)                          # it’s
    | (?<=[\d\s]) [–—] (?=[\d\s])
    | (?<=[A-Za-z]{{3}}) — (?=[A-Za-z]{{3}})
    | (?<=[\w\s]) … (?!\w)
    | (?<!\w)[¿¡] (?=[^\W\d_]{{2}}) | (?<=\d)\s?[°½¼¾²³€] | [£§€©] (?=\s?\d)
    | \xa0 (?=[:;!?»\d]) | (?<=[«\d]) \xa0
    """,
    re.VERBOSE,
)


def western(raw: bytes) -> str:
    """Which of cp1252 and Mac Roman bytes are likelier in, as Python names them.

    >>> western("Höhe der Flut".encode("mac_roman")), western("Höhe der Flut".encode("cp1252"))
    ('mac-roman', 'cp1252')
    """
    at_home = {
        name: len(_AT_HOME.findall(raw.decode(name, "replace"))) for name in ("cp1252", "mac-roman")
    }
    return max(at_home, key=lambda name: at_home[name])  # cp1252 where they are equal
