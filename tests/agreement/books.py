"""Which books are asked for at every door? Invented, from the reading room of Wrackness.

A book is a title and what is said of it, by the names that command line, job file and table
share: texts as a person would type them, True for an option without a value, a list for one
that is repeated.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

__all__ = ["BOOKS", "SETS", "Book", "Value", "Volumes"]

BRASS = Path(__file__).parents[2] / "shared" / "tools" / "reading-room-brass.toml"

Value = str | bool | list[str]


class Book(NamedTuple):
    """One title on one book.

    Attributes:
        name: what is special about it, in a word or two.
        title: the text to letter.
        said: the fields of its job.
    """

    name: str
    title: str
    said: Mapping[str, Value]

    @property
    def is_on_a_back(self) -> bool:
        """Whether it is lettered on its back, not on a panel given outright or a board."""
        return "width" in self.said


def _book(name: str, title: str, width: str = "20mm", height: str = "210mm", **said: Value) -> Book:
    """A title on a back; underscores stand for the dashes of names."""
    fields = {key.replace("_", "-"): value for key, value in said.items()}
    return Book(name, title, {"width": width, "height": height, "market": "GB", **fields})


def _elsewhere(name: str, title: str, **said: Value) -> Book:
    """A title on something other than a back."""
    fields = {key.replace("_", "-"): value for key, value in said.items()}
    return Book(name, title, {"market": "GB", **fields})


TIDES = "Tide Tables of the North Sea Coast"
FORCED = "Tide Tables of the / North Sea Coast"
ANNALS = "Annals of the Harbour Commissioners"
CHARTS = "The Great Chart Book of the Northern Roads"

_BACKS = (
    _book("plain", TIDES),
    _book("plain and short", "The Harbour Light", "9mm"),
    _book("pamphlet", "Knots and Splices", "4mm", "180mm"),
    _book("wide", ANNALS, "62mm", "310mm"),
    _book("one word", "Harbourmastership", "25mm", "200mm"),
    _book("range of widths", "Notices to Pilots", "13..15mm", "198mm"),
    _book("width over boards", TIDES, "36mm", "240mm", measured="over-boards", board="2.5mm"),
    _book("width of the bulk", TIDES, "18mm", "190mm", measured="bulk"),
    _book("no room", "The Coastguard’s Register of Wrecks and Salvage", "3mm", "60mm"),
    _book("no room at that size", TIDES, size="44pt"),
    _book("tight", TIDES, size="11.8pt", orientation="transverse", lines="4"),
)
_ROUNDS = (
    _book("rise", "Parish Registers of Wrackness", "34mm", "240mm", rise="7mm"),
    _book("arc", "Parish Registers 1848–1870", "34mm", "297mm", arc="39mm", max_angle="30"),
    _book("radius", "Letters Home", "25mm", "203mm", back="rounded", radius="18mm"),
    _book("rounded by custom", "Letters Home", "30mm", "220mm", back="rounded"),
)
_BANDED = (
    _book("bands", CHARTS, "58mm", "420mm", bands="5", rise="14mm", band_height="4mm"),
    _book("title panel", "The Coasting Pilot", "38mm", "240mm", bands="5", title_panel="3"),
    _book("bands at", "Sailing Directions", "40mm", "230mm", bands_at="40,80,120,170mm"),
    _book("bands on a thin back", "The Coasting Pilot", "15mm", "210mm", bands="5"),
    _book("bands and lines asked", CHARTS, "50mm", "300mm", bands="4", lines="3"),
)
_TITLES = (
    _book("forced lines", FORCED, orientation="transverse"),
    _book("forced lines along", FORCED, "30mm", orientation="longitudinal"),
    _book("forced lines in a panel", "The Coasting / Pilot", "40mm", "250mm", bands="5"),
    _book("no-break space", "Letters to Vol.\u00a02 of the Harbour\u00a0Light", "30mm"),
    _book("brackets", "Currents [and Tides] (Revised)", "26mm"),
    _book("colon", "Harbour Dues: A History", "24mm"),
    _book("number sign", "Signal Book #3", "18mm"),
    _book("dashes", "The Pilot—Dues 1848–1870", "28mm"),
    _book("commas", "Ropes, Blocks, Sails, and Anchors", "32mm"),
    _book("Greek", "Ιστορίες του μικρού λιμανιού", market="GR", language="el"),
    _book("Cyrillic", "Повести старого порта, том 2", "26mm", "200mm", language="ru"),
    _book("accents", "La Gardienne du phare", "18mm", "185mm", market="FR"),
)
_MARKETS = (
    _book("German shelf", "Der Seezeichenwärter und seine Töchter", "15mm", market="DE"),
    _book("German forced", "Der Seezeichenwärter / und seine Töchter", "34mm", market="DE"),
    _book("French shelf", "Histoire du vieux port", "12mm", market="FR"),
    _book("Japanese shelf", "The Harbour Light", "12mm", market="JP"),
    Book("no market", TIDES, {"width": "14mm", "height": "210mm"}),
    _book("descending", TIDES, "14mm", reading="descending", market="FR"),
    _book("ascending", TIDES, "14mm", reading="ascending"),
)
_SETTINGS = (
    _book("across", ANNALS, "34mm", orientation="transverse"),
    _book("along", ANNALS, "34mm", orientation="longitudinal"),
    _book("pillar", "TIDES", "16mm", "190mm", orientation="pillar"),
    _book("size", ANNALS, "30mm", "230mm", size="9pt"),
    _book("drawer of sizes", ANNALS, "30mm", "230mm", sizes="8,10,12,14"),
    _book("lines", TIDES, "26mm", lines="3"),
    _book("lines and size", ANNALS, "32mm", "230mm", lines="3", size="9pt", centre="capitals"),
    _book("leading", TIDES, "26mm", leading="1.4", orientation="transverse"),
    _book("tracking", "Tide Tables", "22mm", tracking="60", case="capitals"),
    _book("capitals", TIDES, "24mm", case="capitals"),
    _book("small capitals", TIDES, "24mm", case="small-capitals"),
    _book("centre on capitals", "Quays and Jetties", "24mm", centre="capitals"),
    _book("centre on ink", "Quays and Jetties", "24mm", centre="ink"),
    _book("clearance", TIDES, clearance="1.5mm"),
    _book("edge", TIDES, edge="4mm"),
    _book("head and foot", TIDES, "22mm", "222mm", head="12mm", foot="30mm"),
    _book("from head", TIDES, "30mm", from_head="75mm", orientation="transverse"),
    _book("font", "Parish Registers", "30mm", font="Cinzel Bold"),
    _book("axes", "Parish Registers", "24mm", font="IBM Plex Sans Var", axes="wght=650"),
    _book("hyphens", "Harbourmastership", "18mm", orientation="transverse", break_words="hyphen"),
    _book("far shelf", TIDES, reading_distance="1500mm"),
    _book("small words alone", "The Harbour of the Winds", "26mm", small_words="alone"),
)
_METHODS = (
    _book("paper label", "Harbour Dues", "32mm", method="paper-label"),
    _book("leather label", "Harbour Dues", "36mm", "230mm", method="leather-label", bands="5"),
    _book("blocked case", TIDES, "28mm", method="blocked-case"),
    _book("vinyl", "Quays", "40mm", "260mm", method="transfer-vinyl"),
    _book("vinyl without room", TIDES, "28mm", method="transfer-vinyl"),
    _book("hand letters", "The Coasting Pilot", "31mm", "216mm", method="hand-letters",
          tools=str(BRASS), case="capitals", bands="5", rise="6mm"),
    _book("label on a round", "Harbour Dues", "42mm", "240mm", rise="9mm", method="paper-label",
          label_thickness="0.5mm"),
    _book("recess", "Harbour Dues", "42mm", "240mm", method="leather-label", recess=True,
          stiffener="1.5mm"),
    _book("old lettering", "Harbour Dues", "42mm", "240mm", rise="9mm", method="paper-label",
          old_lettering="31x14@48mm"),
    _book("overlap", "Harbour Dues", "44mm", "240mm", method="paper-label",
          old_lettering="28x12@60mm", overlap="3mm"),
)  # fmt: skip
_ELSEWHERE = (
    _elsewhere("panel", "Letters from the Custom House", panel="30x45mm", clearance="2mm"),
    _elsewhere("oval", "Tides", panel="40x28mm", panel_shape="oval"),
    _elsewhere("rounded panel", "Letters Home", panel="40x28mm", panel_shape="rounded",
               corner="4mm"),
    _elsewhere("device kept free", "Letters Home", panel="40x20mm", keep_free=["10x6@0,-6mm"]),
    _elsewhere("board", "Harbour Dues", front_board="138x214mm", leather_width="35mm",
               method="paper-label"),
    _elsewhere("recess in a board", "Harbour Dues", front_board="138x214mm", recess=True,
               method="paper-label"),
    _elsewhere("height left open", TIDES, width="20mm"),
    _elsewhere("height left open across", TIDES, width="24mm", orientation="transverse"),
)  # fmt: skip

BOOKS = (
    *_BACKS, *_ROUNDS, *_BANDED, *_TITLES, *_MARKETS, *_SETTINGS, *_METHODS, *_ELSEWHERE,
)  # fmt: skip
"""Every book that is asked for."""


class Volumes(NamedTuple):
    """Volumes that differ and stand together.

    Attributes:
        name: what is special about them.
        said: the fields that all of them share.
        volumes: of each its title, and the fields that are its own.
    """

    name: str
    said: Mapping[str, Value]
    volumes: tuple[tuple[str, Mapping[str, Value]], ...]


def _set(name: str, *volumes: tuple[str, str, str], title: str = "{}", **said: Value) -> Volumes:
    """Volumes of a word of the title, a width and a height each."""
    fields = {key.replace("_", "-"): value for key, value in said.items()}
    return Volumes(
        name,
        {"market": "GB", **fields},
        tuple((title.format(word), {"width": w, "height": h}) for word, w, h in volumes),
    )


_TWO = (("1", "22mm", "210mm"), ("2", "28mm", "210mm"))
_STEPPED = (("1", "24mm", "210mm"), ("2", "30mm", "216mm"), ("3", "34mm", "222mm"))

SETS = (
    _set("two widths", *_TWO, title="Tide Tables, Vol. {}"),
    _set("three heights", *_STEPPED, title="Tide Tables, Vol. {}"),
    _set("across", *_STEPPED, title="Tide Tables / Vol. {}", orientation="transverse"),
    _set("along", *_STEPPED, title="Tide Tables, Vol. {}", orientation="longitudinal"),
    _set("ascending", *_STEPPED, title="Les Marées, tome {}", market="FR",
         orientation="longitudinal"),
    _set("forced lines", *_STEPPED, title="Annals of the / Harbour Commissioners / Vol. {}"),
    _set("bands", *_STEPPED, title="Tide Tables, Vol. {}", bands="5"),
    _set("rounded", *_TWO, title="Tide Tables, Vol. {}", rise="4mm"),
    _set("size", *_STEPPED, title="Tide Tables / Vol. {}", size="9pt"),
    _set("lines", *_STEPPED, title="Tide Tables, Vol. {}", lines="2"),
    _set("from head", *_STEPPED, title="Tide Tables / Vol. {}", from_head="70mm",
         orientation="transverse"),
    _set("paper labels", *_STEPPED, title="Harbour Dues, Vol. {}", method="paper-label"),
    _set("drawer of sizes", *_STEPPED, title="Tide Tables / Vol. {}", sizes="8,10,12"),
    _set("other titles", ("Quays", "24mm", "210mm"), ("Harbourmastership", "30mm", "210mm")),
    _set("deep letters", ("Quays / gyp", "30mm", "210mm"), ("Ångström / ace", "30mm", "214mm")),
    _set("a thin one", ("1", "5mm", "210mm"), ("2", "32mm", "210mm"), title="Tide Tables, Vol. {}"),
    _set("no room", ("1", "3mm", "60mm"), ("2", "30mm", "210mm"), title=ANNALS + ", Vol. {}",
         orientation="transverse"),
)  # fmt: skip
"""Volumes that differ, asked for at every door of a set."""
