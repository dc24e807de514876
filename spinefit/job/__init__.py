"""What is to be lettered, on what, and for whom?

Stage one. `Job` is what a person said; `resolve` checks it once and completes it. Parsing
of texts, files and options lives in `lengths`, `fields` and `read`.
"""

from spinefit.job.model import Job, Lettering, Shape, Spine
from spinefit.job.resolve import resolve
from spinefit.job.resolved import ResolvedJob, ResolvedLettering, ResolvedSpine
from spinefit.job.values import KeepFree, Panel, Part

__all__ = [
    "Job",
    "KeepFree",
    "Lettering",
    "Panel",
    "Part",
    "ResolvedJob",
    "ResolvedLettering",
    "ResolvedSpine",
    "Shape",
    "Spine",
    "resolve",
]
