"""What does the trade know, and who says so?

Loads the tables in ``spinefit/data`` into frozen rows, each at most once and only when asked
for. Every number is a `Sourced`; a row without unit, source or status is refused. Fonts are
listed here too. Files are read in `spinefit.catalogue.tables`.
"""

from spinefit.catalogue.fonts import (
    PLAIN_CHARACTERS,
    FontRow,
    default_font,
    font_named,
    font_rows,
    fonts_folder,
)
from spinefit.catalogue.method_table import (
    Method,
    blocked,
    fonts_by_strength,
    method,
    methods,
    sturdiest_fonts,
    usual_fonts,
)
from spinefit.catalogue.ruling import ruling_mm
from spinefit.catalogue.trade import (
    Market,
    Rules,
    country,
    iso_3166_codes,
    market,
    markets,
    rules,
    titles_of,
)
from spinefit.catalogue.words import (
    NumberWords,
    Shortening,
    TitleWords,
    number_words,
    shortenings,
    title_words,
)

__all__ = [
    "PLAIN_CHARACTERS",
    "FontRow",
    "Market",
    "Method",
    "NumberWords",
    "Rules",
    "Shortening",
    "TitleWords",
    "blocked",
    "country",
    "default_font",
    "font_named",
    "font_rows",
    "fonts_by_strength",
    "fonts_folder",
    "iso_3166_codes",
    "market",
    "markets",
    "method",
    "methods",
    "number_words",
    "rules",
    "ruling_mm",
    "shortenings",
    "sturdiest_fonts",
    "title_words",
    "titles_of",
    "usual_fonts",
]
