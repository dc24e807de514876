"""Which drawings were asked for, and how do they reach their files?

In: the paths of ``--drawing`` and a job's answer or a plan. Out: the files, all or none. A name
is refused before anything is worked out; each kind's library is loaded where it is asked for.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import PurePath

from spinefit.cli.files import Finished, refuse_existing, refuse_same
from spinefit.drawing.plate import Subject
from spinefit.errors import OutputError

__all__ = ["OPTION", "drawn", "refuse_names"]

OPTION = "--drawing"
_KINDS = (".svg", ".pdf", ".html")


def refuse_names(paths: Sequence[str], others: Sequence[tuple[str, str]], *, force: bool) -> None:
    """Refuse names under which no drawing can be written.

    Args:
        paths: of ``--drawing``.
        others: other files that are to be written, with their options.
        force: whether what stands there may be replaced.

    Raises:
        OutputError: an unknown kind, a name given twice, no such folder, or a file there.
    """
    for path in paths:
        if _kind(path) not in _KINDS:
            raise OutputError(
                "no such kind of drawing", value=path, where=OPTION,
                remedy="let the name end in .svg, .pdf or .html",
            )  # fmt: skip
    refuse_same([*others, *((path, OPTION) for path in paths)])
    for path in paths:
        folder = os.path.dirname(path) or "."
        if "\0" in path or not os.path.isdir(folder):
            raise OutputError("no such folder", value=folder, where=OPTION, remedy="make it first")
        if not force:
            refuse_existing(path, OPTION)


def drawn(subject: Subject, paths: Sequence[str]) -> list[Finished]:
    """Every drawing asked for, complete.

    Args:
        subject: what to draw.
        paths: of ``--drawing``, each of a known kind.
    """
    return [Finished(path, _data(subject, _kind(path)), OPTION) for path in paths]


def _data(subject: Subject, kind: str) -> str | bytes:
    if kind == ".html":
        from spinefit.drawing.html import to_html

        return to_html(subject)
    from spinefit.drawing.plate import plates, stacked

    scenes = plates(subject)
    if kind == ".svg":
        from spinefit.drawing.svg import to_svg

        return to_svg(stacked(scenes))
    from spinefit.drawing.pdf import to_pdf

    return to_pdf(scenes)


def _kind(path: str) -> str:
    return PurePath(path).suffix.lower()
