"""What does the trade say of the settings that are possible?

Stage five. `text.judge_text` takes a job through all stages: the advised size of each layout,
the choice between across and along, the verdict and the findings; `remedies` finds what could be
changed. Every rule is a row of data with its source.
"""

from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.judgement.text import JudgedText, judge_text
from spinefit.judgement.verdict import Judgement

__all__ = ["Finding", "Judged", "JudgedText", "Judgement", "judge_text"]
