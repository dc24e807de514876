"""What does the trade say of the settings that are possible?

Stage five. `judge` picks the advised size of each layout, grades it, chooses between across
and along and names the verdict; `remedies` finds what could be changed. Every rule is a row of
data with its source.
"""

from spinefit.judgement.choice import choose
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.judgement.sizes import judge_layouts
from spinefit.judgement.verdict import Judgement, judge

__all__ = ["Finding", "Judged", "Judgement", "choose", "judge", "judge_layouts"]
