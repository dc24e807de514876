"""How is the answer said to people and machines?

Stage six. `build_report` gathers the stages' results into a `Report`; each writer (terminal,
as_json, checklist, junit) is a module loaded where it is used. A report computes nothing.
"""

from spinefit.say.build import build_report
from spinefit.say.model import Report

__all__ = ["Report", "build_report"]
