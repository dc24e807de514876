"""Are random books answered as they were? A changed answer is a bug mended, or a bug made."""

from __future__ import annotations

import json

import pytest

from tests.agreement.doors import differences
from tests.agreement.recorded import RECORD, answer_to

ROWS = [json.loads(line) for line in RECORD.read_text(encoding="utf-8").splitlines()]


@pytest.mark.parametrize("row", ROWS, ids=[f"{at}" for at in range(len(ROWS))])
def test_a_book_is_answered_as_it_was(row, monkeypatch, request):
    monkeypatch.chdir(request.config.rootpath)  # where the tools stand that some rows name
    found = differences(row["answer"], answer_to(row["words"]))
    assert not found, f"{row['words']}: if it is right, python -m tests.agreement.recorded"
