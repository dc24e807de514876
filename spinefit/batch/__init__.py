"""How are many books checked, one row each?

The room between `plan` and the command line: rows come in as a stream, each is checked as
`spinefit.pipeline` or `spinefit.plan` would, and finished text goes out in the same order.
Nothing here opens a file.
"""

from spinefit.batch.books import check_row
from spinefit.batch.heading import Columns
from spinefit.batch.model import Result, Settings

__all__ = ["Columns", "Result", "Settings", "check_row"]
