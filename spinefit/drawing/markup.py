"""How is a template filled, so that nothing of the binder's is taken for markup?

The one door to jinja2: every value is escaped, a missing one is a fault. Templates lie in the
folder ``templates`` of the room whose pages they are. A page names its own style and script by
their digests, so that its Content-Security-Policy (W3C, level 3) lets nothing else run.
"""

from __future__ import annotations

import base64
import hashlib
from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined

from spinefit.say import phrasing as say

__all__ = ["digest", "filled", "plain"]


def filled(package: str, name: str, **values: object) -> str:
    """A template of a room with its values.

    Args:
        package: the room, such as ``spinefit.drawing``.
        name: the template's file.
        values: what it asks for.
    """
    return _environment(package).get_template(name).render(**values)


def plain(package: str, name: str) -> str:
    """A file of a room's templates that asks for no values: a style, a script."""
    return f"\n{filled(package, name)}"


def digest(text: str) -> str:
    """A style or script as a policy names it."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


@cache
def _environment(package: str) -> Environment:
    found = Environment(
        loader=PackageLoader(package, "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    found.filters |= {"visible": say.visible, "figure": _figure}
    return found


def _figure(value: float | str | None, unit: str) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return say.visible(value)
    return f"{say.figure(value)} {unit}".rstrip()
