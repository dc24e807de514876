"""Which glyphs does the title become, and how far does their ink reach?

Stage two. `shape_titles` turns a resolved job's words into a `ShapedTitle` by HarfBuzz, or
into one for each size of a set of tools; all lengths are in em. Fonts are found and vetted in
`fontfile`, the one rim of this stage.
"""

from spinefit.shaping.fontfile import OpenFont, open_font
from spinefit.shaping.stack import shape_title, shape_titles
from spinefit.shaping.title import ShapedTitle

__all__ = ["OpenFont", "ShapedTitle", "open_font", "shape_title", "shape_titles"]
