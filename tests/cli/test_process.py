"""A process of its own: how it begins, and how Ctrl-C ends it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time

import pytest

STOPPED = b"spinefit: stopped before there was an answer\n"
CHECK = ("check", "The Harbour Light", "--width", "9mm", "--height", "210mm")
# Python's own start cannot be provided for, so the signal comes from inside: from the first
# import of ours that takes time, or while an engine is half loaded.
INTERRUPTED = """
import builtins, os, signal, sys
from spinefit.__main__ import run
load, doomed = builtins.__import__, sys.argv.pop(1)
def interrupted(name, *args, **kwargs):
    if name == doomed:
        os.kill(os.getpid(), signal.SIGINT)
    return load(name, *args, **kwargs)
builtins.__import__ = interrupted
run()
"""
# Says when it has begun; until `run` provides for Ctrl-C, which is its first act, none is heard.
TOLD = """
import os, signal, sys
from spinefit.__main__ import run
signal.signal(signal.SIGINT, signal.SIG_IGN)
os.write(int(sys.argv.pop(1)), b".")
run()
"""


@pytest.mark.skipif(os.name == "nt", reason="signals of Unix")
@pytest.mark.parametrize(
    "doomed", ["spinefit.cli.main", "click", "spinefit.job.fields", "uharfbuzz", "numpy._core"]
)
def test_ctrl_c_while_loading_is_one_line(doomed: str) -> None:
    """However early, and inside a library that would swallow an exception."""
    words = [sys.executable, "-c", INTERRUPTED, doomed, *CHECK]
    done = subprocess.run(words, capture_output=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (2, b"", STOPPED)


@pytest.fixture(scope="module")
def whole() -> bytes:
    """The answer of a check that nobody stops."""
    words = [sys.executable, "-m", "spinefit", *CHECK]
    return subprocess.run(words, capture_output=True, check=True).stdout


@pytest.mark.skipif(os.name == "nt", reason="signals of Unix")
@pytest.mark.parametrize("after_s", [0.0, 0.03, 0.06, 0.1, 0.15, 0.25])
def test_ctrl_c_whenever_it_comes_leaves_an_answer_or_one_line(
    after_s: float, whole: bytes
) -> None:
    """Never half an answer, never a traceback; counted from where Python's own start ends."""
    begun, tell = os.pipe()
    process = subprocess.Popen(
        [sys.executable, "-c", TOLD, str(tell), *CHECK],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, pass_fds=[tell],
    )  # fmt: skip
    os.close(tell)
    assert os.read(begun, 1) == b"."
    os.close(begun)
    time.sleep(after_s)
    process.send_signal(signal.SIGINT)
    answer, said = process.communicate()
    if process.returncode == 0:
        assert (answer, said) == (whole, b"")
    else:
        assert (process.returncode, said) == (2, STOPPED)
        assert answer in (b"", whole)


def test_the_linear_algebra_of_numpy_starts_no_threads() -> None:
    """Nothing here uses it; a number that the person set is left alone."""
    script = "import os, sys; from spinefit.__main__ import run; sys.argv[1:] = ['--version']\n"
    script += "try: run()\nfinally: print(os.environ['OPENBLAS_NUM_THREADS'])"
    for given, kept in ((None, b"1"), ("3", b"3")):
        env = {name: value for name, value in os.environ.items() if "OPENBLAS" not in name}
        done = subprocess.run(
            [sys.executable, "-c", script],
            env=env if given is None else {**env, "OPENBLAS_NUM_THREADS": given},
            capture_output=True,
            check=True,
        )
        assert done.stdout.splitlines()[-1] == kept
