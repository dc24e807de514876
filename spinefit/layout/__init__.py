"""In which lines, running which way, and how large can the title be set?

Stage four. `search` gives a `Layout` for every orientation and number of lines, with its
exact largest size; which of them is advised is for the judgement stage to say.
"""

from spinefit.layout.group import placed_outlines
from spinefit.layout.search import search
from spinefit.layout.standing import Layout

__all__ = ["Layout", "placed_outlines", "search"]
