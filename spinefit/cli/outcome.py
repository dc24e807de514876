"""How does a finished answer leave?

In: a report of a title or of a plan, and how it is wanted. Out: what writes it, once files are
safe; the whole text is made before.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from spinefit.cli import output
from spinefit.say.screen import Screen, screen

if TYPE_CHECKING:
    from spinefit.cli.options import Wanted
    from spinefit.say.plan_model import AnyReport

__all__ = ["written_by"]


def written_by(
    report: AnyReport, wanted: Wanted, as_text: Callable[[Screen], str]
) -> Callable[[], None]:
    """What writes the finished answer.

    Args:
        report: the answer to a job, or a plan.
        wanted: in which form.
        as_text: gives its text for a screen.
    """
    if wanted.form == "json":
        from spinefit.say.as_json import to_json

        return partial(output.write_utf8, to_json(report))
    if wanted.form == "checklist":
        from spinefit.say.checklist import to_markdown

        return partial(output.write_text, to_markdown(report))
    if wanted.form == "junit":
        from spinefit.say.junit import to_junit

        return partial(output.write_utf8, to_junit(report, wanted.fail_on))
    return partial(output.write_text, as_text(screen()))
