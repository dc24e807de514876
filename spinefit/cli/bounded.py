"""Which process makes a file for the page?

In: words of the command line. Out: what that command does, by itself: the page makes nothing in
another way than the command line does. Memory is bounded where the system keeps to bounds.
"""

from __future__ import annotations

import sys


def run() -> None:
    """Run the command line with its memory bounded."""
    from spinefit.cli.main import status
    from spinefit.page.child import bound_memory

    bound_memory()
    sys.exit(status(sys.argv[1:]))


if __name__ == "__main__":
    run()
