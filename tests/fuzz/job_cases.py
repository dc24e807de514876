"""Which random job is case N?

Command lines of every command with options of every kind, job files, tables of books, titles to
letter a sheet with and a binder's own files, sound ones and hostile ones. ``command_line`` draws
from any `random.Random`, so that the property tests draw the same ones and shrink them.
"""

from __future__ import annotations

import random
from functools import cache
from pathlib import Path
from typing import NamedTuple

import click

from spinefit.cli.main import main

__all__ = ["command_line", "hostile_title", "job_case", "job_text"]

SHARED = Path(__file__).parents[2] / "shared"

SOUND_TITLES = (
    "The Harbour Light", "Tides", "Knots and Splices", "Registers of the Parish / Vol. 2",
    "Der Leuchtturm am Hafen", "Λιμάνι", "Огни гавани", "A", "Dues 1848–1870", "Vol. 2",
)  # fmt: skip
ODD_CHARACTERS = (
    "\0", "\n", "\r", "\t", "\x1b[2J", "\x7f", "\x85", "\u00a0", "\u00ad", "\u0300", "\u034f",
    "\u061c", "\u180e", "\u200b", "\u200d", "\u200e", "\u2028", "\u2029", "\u202e", "\u2066",
    "\u2069", "\ufe0f", "\ufeff", "\ufffd", "\ufffe", "\ufdd0", "\uffff", "\ud800", "\udfff",
    "\udc80", "\ue000", "\U000f0000", "\U0010ffff", "\U000e0041", "\U000e007f", "👩‍🚒", "🇬🇧",
    "👍🏽",
    "אור", "ميناء", "灯台", "ภูเก็ต", "हि", "한", "ﬁ", "ǅ", "ß", "İ", "<script>alert(1)</script>",
    "]]>", "&#0;", "%s", "{0}", "'\"", "=1+1", "@SUM(A1)", "-2", "/", " / ", "\\", "..",
)  # fmt: skip
FIGURES = (
    "0", "-0", "1", "-1", "3", "9", "13", "25.4", "22", "45", "210", "200.5", ".5", "5.", "1e3",
    "1e308", "1e-308", "5e-324", "1e999", "nan", "inf", "-inf", "NaN", "9,5", "1.000,5", "1 000",
    "3/8", "1 1/2", "1/0", "0/1", "1/", "½", "９", "٣", "0x10", "1_0", "--9", "+9", "9 9", "", " ",
    "99999999999999999999", "0." + "0" * 400 + "1", "9" * 4000, "12..13", "13..12", "..", "9..",
    "any", "true", "None", "1e", "1e+", "−9",
)  # fmt: skip
UNITS = ("", "", "mm", "mm", "cm", "in", "pt", "m", "ft", "mn", "MM", " mm", "µm", "pica",
         "didot", "dd", "%", "em", "deg", "°", "\"", "''")  # fmt: skip
SOUND: dict[str, tuple[str, ...]] = {
    "LENGTH": ("9mm", "13mm", "22", "45", "210mm", "3mm", "0.5", "1mm", "4", "3/8in", "24pt",
               "13..15mm", "120mm"),
    "WHAT": ("back", "bulk", "over-boards", "ink", "capitals", "auto"),
    "FORM": ("flat", "rounded", "rectangle", "cut", "oval"),
    "SIDE": ("left", "right"),
    "N": ("1", "2", "3", "5", "any", "0", "12", "50", "-20"),
    "N-or-NAME": ("1", "2", "SemiBold", "Black"),
    "POSITIONS": ("40,80,120mm", "40", "30;60mm"),
    "RATIO": ("1.1", "1", "1.5"),
    "WxH": ("20x30mm", "45x60", "135x215mm", "28x12@35mm", "2x3in"),
    "WxH@D": ("28x12mm", "28x12@35mm"),
    "WxH@X,Y": ("12x8@0,-60mm", "3x3", "5x5@0,0"),
    "WxH,...": ("45x30", "45x30,50x20mm"),
    "CORNERS": ("-9,-20 9,-20 0,20mm", "-9,-20 9,-20 9,20 0,0 -9,20mm", "0,0 5,5 5,0 0,5"),
    "DEGREES": ("45", "30deg", "90"),
    "NAME-OR-FILE": ("EB Garamond", "Cinzel", "Source Serif 4", "IBM Plex Sans Var"),
    "FONT": ("EB Garamond", "Cinzel Bold"),
    "SETTINGS": ("wght=650", "wght=lightest", "wdth=80,wght=500", "opsz=12"),
    "CASE": ("as-typed", "capitals", "small-capitals"),
    "WAY": ("any", "transverse", "longitudinal", "pillar", "auto", "descending", "ascending"),
    "SIZE": ("14", "12pt", "14didot", "4mm", "72"),
    "SIZES": ("10,12,14", "10,12didot"),
    "EM": ("1.2", "1em", "2"),
    "HOW": ("never", "plain", "hyphen"),
    "CODE": ("GB", "DE", "FR", "JP", "IL", "US"),
    "TAG": ("en", "de", "he", "el", "ja"),
    "NAME": ("leather-label", "hand-letters", "foil-blocked-leather", "paperback-cover", "A4"),
    "FORMAT": ("text", "json", "checklist", "csv", "jsonl", "html", "junit"),
    "LEVEL": ("warning", "failure", "note"),
    "COLUMN": ("note", "all", "id"),
    "PAPER": ("A4", "A3", "letter", "200x300mm"),
    "MARKS": ("corners", "none", "all"),
    "STYLE": ("cut", "filled"),
    "MARGIN": ("10mm", "5"),
    "PITCH": ("1mm", "even"),
    "TEXT": ("The Harbour Light", "ŁÓDŹ"),
    "WEIGHT": ("bold", "400"),
    "FILE.pdf": ("OUT.pdf",),
}  # fmt: skip
BASES = (
    ("--width", "22mm", "--height", "210mm"), ("--width", "9"), ("--panel", "45x30mm"),
    ("--width", "13..15mm", "--height", "198mm", "--market", "DE"),
    ("--width", "40", "--height", "230", "--bands", "5", "--rise", "6"),
    ("--width", "32", "--height", "220", "--arc", "36", "--method", "leather-label"),
    ("--front-board", "135x215mm"), (),
)  # fmt: skip


class Option(NamedTuple):
    """An option of a command, as click has it."""

    name: str
    kind: str | None


_ENDLESS = ("--watch",)  # goes on until somebody ends it


@cache
def _options() -> dict[str, tuple[Option, ...]]:
    found = {}
    for name in main.list_commands(click.Context(main)):
        command = main.get_command(click.Context(main), name)
        assert command is not None
        found[name] = tuple(
            Option(one.opts[-1], None if one.is_flag else one.metavar or "TEXT")
            for one in command.params
            if isinstance(one, click.Option) and one.opts[-1] not in _ENDLESS
        )
    return found


def hostile_title(chance: random.Random) -> str:
    """A title with what a keyboard, a paste or an enemy may put in it."""
    kind = chance.randrange(8)
    if kind == 0:
        return chance.choice(ODD_CHARACTERS) * chance.choice((1, 2, 300, 5000))
    if kind == 1:
        return "A" + "\u0301" * chance.choice((30, 1900, 5000)) + " Light"
    if kind == 2:
        return chance.choice(("Light ", "Ship", "W", "ميناء ", "灯")) * chance.choice(
            (60, 380, 9000)
        )
    if kind == 3:
        return "".join(chr(chance.randrange(0x110000)) for _ in range(chance.randrange(1, 12)))
    title = list(chance.choice(SOUND_TITLES))
    for _ in range(chance.choice((1, 2, 5))):
        title.insert(chance.randrange(len(title) + 1), chance.choice(ODD_CHARACTERS))
    return "".join(title)


def _title(chance: random.Random) -> str:
    return chance.choice(SOUND_TITLES) if chance.random() < 0.75 else hostile_title(chance)


def _figure(chance: random.Random) -> str:
    return chance.choice(FIGURES) + chance.choice(UNITS)


def _value(chance: random.Random, kind: str, option: str, folder: Path) -> str:
    """What to write after an option."""
    if kind == "FILE" or option in ("--output", "--drawing", "--save-pattern"):
        return _file(chance, option, folder)
    if kind == "NAME-OR-FILE" and chance.random() < 0.1:
        return _file(chance, "--font", folder)
    if chance.random() < 0.7 and kind in SOUND:
        return chance.choice(SOUND[kind])
    if chance.random() < 0.15:
        return hostile_title(chance)
    if chance.random() < 0.2:
        return f"{_figure(chance)}{chance.choice('xX×@,;. ')}{_figure(chance)}"
    return _figure(chance)


def _file(chance: random.Random, option: str, folder: Path) -> str:  # noqa: PLR0911 (one a kind)
    """A file to read or to write; one that is there, is not, or cannot be."""
    if chance.random() < 0.1:
        return chance.choice(
            ("", ".", "/", "/dev/full", "/dev/null/x", "no-such", "a\0b", str(folder), "x" * 5000)
        )
    if option in ("--output", "--drawing", "--save-pattern"):
        ending = chance.choice((".svg", ".pdf", ".html", ".csv", ".jsonl", ".txt", ".dxf", ".toml"))
        return str(folder / f"{'DRAWING' if option == '--drawing' else 'OUT'}{ending}")
    if option in ("--match", "--font"):
        return _written(chance, folder, "any.toml", _job_text(chance))
    if option == "--titles":
        return _written(chance, folder, "titles.csv", _table_text(chance))
    if option == "--tools":
        return _written(chance, folder, "tools.toml", _sample(chance, "tools"))
    if option == "--method-file":
        return _written(chance, folder, "methods.toml", _METHODS)
    return _written(chance, folder, "job.toml", _job_text(chance))


_METHODS = """[our-labels]
like = "leather-label"
stroke_mm = "0.3mm"
placing_mm = { value = 0.4, source = "the foreman" }
sizes_pt = "10,12,14didot"
"""


@cache
def _samples(kind: str) -> tuple[str, ...]:
    return tuple(
        path.read_text(encoding="utf-8") for path in sorted((SHARED / kind).glob("*.toml"))
    )


def _sample(chance: random.Random, kind: str) -> str:
    return chance.choice(_samples(kind))


def _written(chance: random.Random, folder: Path, name: str, text: str) -> str:
    """The path of a file of that text, damaged now and then."""
    data = bytearray(text.encode("utf-8", "surrogatepass"))
    if chance.random() < 0.4 and data:
        for _ in range(chance.choice((1, 2, 6))):
            _damage(data, chance)
    path = folder / name
    path.write_bytes(data)
    return str(path)


def job_text(chance: random.Random) -> str:
    """A job file, damaged now and then, as a browser would send it."""
    data = bytearray(_job_text(chance).encode("utf-8", "surrogatepass"))
    if chance.random() < 0.2:
        _damage(data, chance)
    return data.decode("utf-8", "surrogateescape")


def _damage(data: bytearray, chance: random.Random) -> None:
    at = chance.randrange(len(data) + 1)
    kind = chance.randrange(6)
    if kind == 0:
        data[at : at + chance.choice((1, 4))] = b""
    elif kind == 1:
        data[at:at] = chance.choice(
            (b"\0", b'"', b"'", b"\n", b"[", b"]]", b"{", b"=", b"\xff", b"\xed\xa0\x80", b"\r",
             b"\xef\xbb\xbf", b"#", b",", b";", b"\xfe\xff", b"9" * 5000, b"[" * 3000)
        )  # fmt: skip
    elif kind == 2:
        del data[at:]
    elif kind == 3:
        data[at : at + 1] = bytes([chance.randrange(256)])
    elif kind == 4:
        data[:] = data.decode("utf-8", "replace").encode(
            chance.choice(("utf-16", "latin-1")), "replace"
        )
    else:
        data[at:at] = data[: chance.randrange(len(data) + 1)]
    del data[2_000_000:]


_TOML_VALUES = (
    "true", "[]", "[9]", "[[1, 2], [3]]", "{}", '{ a = "b" }', "nan", "-inf", "1e308", "-0.0",
    "2026-01-01", "07:32:00",
    "99999999999999999999999999", '""', "'9,5'", "0", "-9", "9.5", '"9mm"',
    '"\\u202e"', "'''\n\n'''", '"wght=650"', '[["wght", 3]]', '{ wght = "lightest" }', "0x1F",
)  # fmt: skip


def _job_text(chance: random.Random) -> str:
    """A job file: an example, or fields at random."""
    if chance.random() < 0.3:
        return _sample(chance, "jobs")
    lines = [f"title = {_quoted(_title(chance))}"]
    if chance.random() < 0.8:
        lines += ["width = 22", 'height = "210mm"']
    names = [one for one in _options()["check"] if one.kind and one.kind != "FILE"]
    for option in chance.sample(names, chance.choice((0, 1, 2, 4))):
        if chance.random() < 0.4:
            value = chance.choice(_TOML_VALUES)
        else:
            value = _quoted(_plain(chance, option))
        lines.append(f"{option.name[2:]} = {value}")
    if chance.random() < 0.1:
        lines += ["[[text]]", 'role = "author"', f"text = {_quoted(_title(chance))}"]
    if chance.random() < 0.1:
        lines += ["[[volume]]", f"title = {_quoted(_title(chance))}", "width = 30"]
    if chance.random() < 0.1:
        lines.append(
            f"{chance.choice(('colour', 'widht', '', 'a.b'))} = {chance.choice(_TOML_VALUES)}"
        )
    return "\n".join(lines) + "\n"


def _plain(chance: random.Random, option: Option) -> str:
    kind = option.kind or ""
    return (
        chance.choice(SOUND[kind]) if kind in SOUND and chance.random() < 0.7 else _figure(chance)
    )


def _quoted(text: str) -> str:
    escaped = "".join(
        char if char.isprintable() and char not in '"\\' else f"\\U{ord(char):08X}" for char in text
    )
    return f'"{escaped}"'


def _table_text(chance: random.Random) -> str:
    """A table of a few books."""
    names = [one for one in _options()["check"] if one.kind and one.kind != "FILE"]
    more = chance.sample(names, chance.choice((0, 1, 3)))
    heading = ["title", "width", "height", *(one.name[2:] for one in more)]
    if chance.random() < 0.15:
        heading.append(chance.choice(("title", "colour", "widht", "", "note", "author", "set")))
    between = chance.choice(",;\t")
    lines = [between.join(heading)]
    for _ in range(chance.randrange(1, 6)):
        cells = [_title(chance), chance.choice(("22", "9mm", _figure(chance))), "210"]
        cells += [_plain(chance, one) for one in more]
        cells += [chance.choice(("", "x", "=1+1"))] * (len(heading) - len(cells))
        lines.append(between.join('"' + cell.replace('"', '""') + '"' for cell in cells))
    return "\n".join(lines) + "\n"


def command_line(chance: random.Random, folder: Path, commands: tuple[str, ...]) -> list[str]:
    """The words of a command line, with the files that it names written into a folder.

    Args:
        chance: what is drawn from.
        folder: an empty folder.
        commands: which commands may be drawn.
    """
    command = chance.choice(commands)
    words = [command]
    if command == "batch":
        words.append(_written(chance, folder, "books.csv", _table_text(chance)))
        words += ["--jobs", "1"]
        if chance.random() < 0.5:
            words += ["--output", _file(chance, "--output", folder)]
    elif command in ("fonts", "markets", "methods"):
        known = {"fonts": "EB Garamond", "markets": "GB", "methods": "leather-label"}[command]
        words += chance.choice(([], [known], [hostile_title(chance)]))
    elif chance.random() < 0.8:
        words += [_title(chance), *chance.choice(BASES)]
    else:
        words += ["--job", _file(chance, "--job", folder)]
    if command in ("sheet", "worksheet", "recess") and chance.random() < 0.8:
        words += ["--output", str(folder / "OUT.pdf")]
    for option in chance.choices(_options()[command], k=chance.choice((0, 1, 1, 2, 3, 6))):
        words.append(option.name)
        if option.kind:
            words.append(_value(chance, option.kind, option.name, folder))
    if chance.random() < 0.05:
        words.insert(chance.randrange(len(words)), hostile_title(chance))
    # The system hands no zero byte on, and bytes that are no text as half characters.
    return words


_OFTEN = ("check",) * 14 + ("sheet",) * 4 + ("worksheet", "recess") * 3 + (
    "fonts", "markets", "methods", "batch",
)  # fmt: skip


def job_case(seed: int, number: int, folder: Path) -> tuple[str, list[str], bytes]:
    """The words of a random job and what it is given on standard input."""
    chance = random.Random(f"{seed} job {number}")
    words = command_line(chance, folder, _OFTEN)
    given = _table_text(chance).encode("utf-8", "surrogatepass") if chance.random() < 0.1 else b""
    return words[0] if words else "", words, given
