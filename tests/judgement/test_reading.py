"""When do small words join a neighbour? Settings made by hand, so that each rule stands alone."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from spinefit import Job, Spine
from spinefit.job.resolve import resolve
from spinefit.judgement.reading import GRAVE, joined

JOB = resolve(Job(title="The Harbour of the Winds", spine=Spine(width_mm=30.0, height_mm=210.0)))
GRAVE_PENALTY = JOB.rules.value(GRAVE)
PINCH = JOB.rules.value("legibility.failing_arcmin")


def a_setting(*, alone=False, grave=False, read=True, broken=False):
    penalty = GRAVE_PENALTY * (1 if grave else 0.5)
    return SimpleNamespace(
        layout=SimpleNamespace(
            group=SimpleNamespace(lines=SimpleNamespace(strands_small_words=alone), penalty=penalty)
        ),
        arcminutes=PINCH * (1 if read else 0.9),
        word_broken=broken,
    )


ALONE = a_setting(alone=True)
SOUND, UNREAD = a_setting(), a_setting(read=False)
BROKEN, GRAVE_ONE = a_setting(broken=True), a_setting(grave=True)
GRAVE_UNREAD = a_setting(grave=True, read=False)


@pytest.mark.parametrize(
    ("fitting", "wanted"),
    [
        ([SOUND, UNREAD], [SOUND, UNREAD]),  # no small word stands alone
        ([ALONE], [ALONE]),  # nothing to choose
        ([ALONE, SOUND], [SOUND]),
        ([ALONE, SOUND, UNREAD], [SOUND, UNREAD]),
        ([ALONE, SOUND, GRAVE_ONE], [SOUND]),  # those without a grave fault
        ([ALONE, GRAVE_ONE], [GRAVE_ONE]),  # if there are any
        ([ALONE, UNREAD, GRAVE_ONE], [UNREAD, GRAVE_ONE]),  # and can be read
        ([ALONE, UNREAD], [ALONE, UNREAD]),  # else small words stay alone
        ([ALONE, BROKEN], [ALONE, BROKEN]),  # a broken word is graver
        ([ALONE, BROKEN, UNREAD], [ALONE, BROKEN, UNREAD]),
        ([ALONE, BROKEN, SOUND], [BROKEN, SOUND]),
    ],
)
def test_small_words_join_where_that_can_be_read(fitting, wanted):
    assert joined(JOB, fitting) == wanted


def test_where_nothing_can_be_read_small_words_join_too():
    """Nothing is lost by it; those without a grave fault, if there are any."""
    unread = a_setting(alone=True, read=False)
    assert joined(JOB, [unread, UNREAD, GRAVE_UNREAD]) == [UNREAD]
    assert joined(JOB, [unread, GRAVE_UNREAD]) == [GRAVE_UNREAD]
