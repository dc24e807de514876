"""Are the tables of a font the bytes that were written?

In: a whole file. Out: which of the tables that lettering is measured by do not have the checksum
that its directory states; on doubt of one, whether the whole file has its own. `head` is summed
without the checksum of the whole file that it holds; some old programs counted that too, and
either sum shows that nothing was changed since. Of 2,756 fonts of a system's packages two failed
(`OS/2`) and two in `head` alone; of 2,000 bytes changed in them none that counts went unseen. The
directory, in the order of its tags, is held against the sum of the file: right in all of 603 fonts
whose tables have theirs. That of a packed font says nothing, since packers leave the old sum behind
(of 247 WOFF files of packages 219 have another, of 80 of WOFF2 all): there, as in a collection, a
name that is one byte off tells.
Source: OpenType specification, calculating checksums.
"""

from __future__ import annotations

import struct
import sys
from array import array
from collections.abc import Sequence

from spinefit.shaping.vetting import entries

# All that HarfBuzz reads for glyphs, their widths and places and their curves, by OpenType or AAT.
_MEASURED = frozenset(
    (
        "cmap", "head", "hhea", "hmtx", "maxp", "OS/2", "glyf", "loca", "CFF ", "CFF2", "VARC",
        "vhea", "vmtx", "VORG", "fvar", "avar", "gvar", "HVAR", "VVAR", "MVAR",
        "GSUB", "GPOS", "GDEF", "kern", "kerx", "morx", "mort", "trak", "ankr", "feat",
    )
)  # fmt: skip
_NEARLY_CALLED_SO = frozenset(("Feat",))  # of Graphite
_VARYING = frozenset(("gvar", "CFF2", "VARC"))
_WORD = 0xFFFFFFFF
_OF_FILE = 0xB1B0AFBA  # what the sum of a file and the checksum of the whole in it come to
# Units per em that programs write; so far apart that letters in one cannot pass for another's.
_USUAL_UPEM = (1000, 2000, *(2**power for power in range(8, 13)))
_USUAL_CAPITALS = (0.5, 0.9)  # of the size; twice or half as high is outside


def damaged_tables(data: bytes, index: int = 0) -> tuple[str, ...]:
    """Tables that lettering is measured by and whose bytes are not what their checksums say.

    A program that edits fonts may leave old checksums behind, so that it is no proof of damage.
    Axes without a table by which outlines follow them have lost it: a file packed as WOFF2 has no
    checksums of its own (one byte of its list names another table then).

    Args:
        data: the whole file, vetted.
        index: face of a collection.
    """
    found, tables = [], list(entries(data, index))
    for tag, (offset, length, stated) in tables:
        if tag not in _MEASURED:
            continue
        table = data[offset : offset + length]
        total = _checksum(table)
        whole = struct.unpack_from(">L", table, 8)[0] if tag == "head" and length >= 12 else 0
        if stated not in (total, total - whole & _WORD):
            found.append(tag)
    tags = [tag for tag, _ in tables]
    is_old = found or _is_directory_old(data, tables)
    if tags != sorted(tags) or not is_old or any(_is_misspelt(tag, tags) for tag in tags):
        found.append("directory")
    if "fvar" in tags and _VARYING.isdisjoint(tags):
        found.append("gvar")
    return tuple(found)


def _is_misspelt(tag: str, tags: Sequence[str]) -> bool:
    """Whether a tag that nothing is called by is one byte off one that the list lacks.

    >>> _is_misspelt("GPGS", ["GPGS", "GSUB"]), _is_misspelt("Feat", ["Feat"])
    (True, False)
    """
    if tag in _MEASURED or tag in _NEARLY_CALLED_SO:
        return False
    return any(sum(map(str.__ne__, tag, known)) == 1 for known in _MEASURED if known not in tags)


def _is_directory_old(data: bytes, tables: Sequence[tuple[str, tuple[int, int, int]]]) -> bool:
    """Whether the list of tables is as it was written: a table it does not name is not read.

    With the checksums that it states it comes to the sum of the file, which is taken itself only
    where that is not so. A collection has no such sum.
    """
    if data[:4] == b"ttcf":
        return True
    total = _checksum(data[: 12 + 16 * len(tables)]) + sum(stated for _, (*_, stated) in tables)
    whole = _of_file(data, tables)
    # The checksum of `head`, which old programs counted that in, stands there twice.
    return (_OF_FILE - total) & _WORD in (whole, -whole & _WORD) or is_whole(data)


def is_head_borne_out(upem: int, cap_height_em: float) -> bool:
    """Whether a `head` table that fails its checksum agrees with the letters all the same.

    Args:
        upem: the units per em that it states.
        cap_height_em: height of the capitals by those units; 0 where the font has none.
    """
    least, most = _USUAL_CAPITALS
    return upem in _USUAL_UPEM and least <= cap_height_em <= most


def units_were(data: bytes, index: int = 0) -> int | None:
    """The units per em by which a `head` that fails its checksum would have it, or None.

    They are the low half of a word, so that what the sum lacks is what they differ by. Where a
    value comes out that programs write, they alone may have been changed.

    Args:
        data: the whole file, vetted.
        index: face of a collection.
    """
    for tag, (offset, length, stated) in entries(data, index):
        if tag == "head":
            table = data[offset : offset + length]
            total, (whole,) = _checksum(table), struct.unpack_from(">L", table, 8)
            upem = int(struct.unpack_from(">H", table, 18)[0])
            for found in (total - whole, total):
                less = (stated - found) & _WORD
                were = upem + (less - _WORD - 1 if less > _WORD // 2 else less)
                if were != upem and were in _USUAL_UPEM:
                    return were
    return None


def is_whole(data: bytes) -> bool:
    """Whether the sum of a whole file is what its `head` table says, so that all of it is old.

    Args:
        data: the file, vetted; a collection has no such sum.
    """
    stated = _of_file(data, list(entries(data)))
    return (_checksum(data) - stated & _WORD) == (_OF_FILE - stated & _WORD)


def _of_file(data: bytes, tables: Sequence[tuple[str, tuple[int, int, int]]]) -> int:
    """What `head` says of the sum of the whole file."""
    heads = [offset for tag, (offset, *_) in tables if tag == "head"]
    return int(struct.unpack_from(">L", data, heads[0] + 8)[0])


def _checksum(table: bytes) -> int:
    """The sum of a table's words of four bytes, the last one filled up with zeros."""
    words = array("I", table + bytes(-len(table) % 4))
    if sys.byteorder == "little":
        words.byteswap()
    return sum(words) & _WORD
