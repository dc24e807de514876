"""Does some test fail when a module reads otherwise?

The tests are collected once; for each trial this process forks, puts the changed functions in
place of the old ones, and runs the tests that were chosen until one fails. A trial so costs
its tests and nothing more, and no file is touched.
"""

from __future__ import annotations

import functools
import gc
import importlib
import json
import os
import resource
import signal
import sys
import tempfile
import time
import warnings
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from types import FunctionType
from typing import Any

import pytest

from tests.mutation.mutants import ROOT, path_of

__all__ = ["Session", "in_fork", "swap", "with_tests"]

MOST_EXAMPLES = 25  # of one property, whatever its own settings say
_MEMORY = 3 * 2**30  # bytes; a changed step may count up without end


class Session:
    """The collected tests, to be run one by one.

    Attributes:
        items: pytest's items by their names.
        failed: the first test that failed, or None.
    """

    def __init__(self, work: Callable[[Session], None]) -> None:
        self._work = work
        self.items: dict[str, pytest.Item] = {}
        self.failed: str | None = None
        self.seconds: dict[str, float] = {}

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Hand over to the work instead of running all tests."""
        self.items = {item.nodeid: item for item in session.items}
        for item in session.items:
            _few_examples(item)
        for each in _own_caches():
            each.cache_clear()
        gc.freeze()
        self._work(self)
        return True

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Note the time of every test, and the first that fails."""
        self.seconds[report.nodeid] = self.seconds.get(report.nodeid, 0.0) + report.duration
        if report.failed and self.failed is None:
            self.failed = report.nodeid

    def run(self, names: Sequence[str]) -> str | None:
        """Run tests in this order until one fails; the name of that one."""
        items = [self.items[name] for name in names if name in self.items]
        for item, after in zip(items, [*items[1:], None], strict=True):
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
            if self.failed is not None:
                return self.failed
        return None


def with_tests(paths: Sequence[str], work: Callable[[Session], None]) -> None:
    """Collect tests, then do some work with them."""
    arguments = ["-q", "-s", "-p", "no:cacheprovider", "-p", "no:randomly", "-p", "no:xdist"]
    arguments += ["--no-header", "--tb=no", "-rN", "--hypothesis-profile=mutation"]
    arguments += ["-m", "not browser"]  # which needs more memory than a trial has
    with tempfile.TemporaryDirectory() as folder:
        arguments += [f"--rootdir={ROOT}", f"--basetemp={folder}/tests"]
        code = pytest.main([*arguments, *(str(ROOT / path) for path in paths)], [Session(work)])
    assert code == 0, f"pytest stopped with {code}"


def _few_examples(item: pytest.Item) -> None:
    from hypothesis import settings

    test = getattr(item, "obj", None)
    own = getattr(test, "_hypothesis_internal_use_settings", None)
    if own is not None and own.max_examples > MOST_EXAMPLES:
        function = getattr(test, "__func__", test)
        function._hypothesis_internal_use_settings = settings(own, max_examples=MOST_EXAMPLES)


def swap(module: str, text: str) -> None:
    """Let the functions and constants of a loaded module be those of another text of it."""
    name = "spinefit." + module.replace("/", ".")
    old = importlib.import_module(name)
    fresh: dict[str, Any] = {"__name__": name, "__file__": old.__file__}
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # "is" with a literal, and the like
        exec(compile(text, str(path_of(module)), "exec"), fresh)
    for key, value in fresh.items():
        if not key.startswith("__"):
            _replace(old, key, getattr(old, key, None), value, name)


def _replace(owner: object, key: str, old: Any, new: Any, module: str) -> None:
    """Change a function in place, since others may hold it by name; anything else is put anew."""
    if isinstance(old, FunctionType) and isinstance(new, FunctionType):
        if old.__module__ == module or getattr(owner, "__module__", None) == module:
            old.__code__ = new.__code__
            old.__defaults__ = new.__defaults__
            old.__kwdefaults__ = new.__kwdefaults__
    elif isinstance(old, property) and isinstance(new, property):
        _replace(owner, key, old.fget, new.fget, module)
    elif isinstance(old, functools.cached_property) and type(old) is type(new):
        _replace(owner, key, old.func, new.func, module)
    elif isinstance(old, staticmethod | classmethod) and type(old) is type(new):
        _replace(owner, key, old.__func__, new.__func__, module)
    elif isinstance(old, functools._lru_cache_wrapper) and type(old) is type(new):
        _replace(owner, key, old.__wrapped__, new.__wrapped__, module)
    elif isinstance(old, type) and isinstance(new, type):
        if new.__module__ == module:
            for name, value in vars(new).items():
                if name in ("__dict__", "__weakref__", "__doc__", "__module__"):
                    continue
                _replace(old, name, vars(old).get(name), value, module)
    elif not isinstance(owner, type) or callable(new):
        setattr(owner, key, new)


def _own_caches() -> Iterator[Any]:
    for each in gc.get_objects():
        if isinstance(each, functools._lru_cache_wrapper):
            where = getattr(each, "__module__", "") or ""
            if where.startswith("spinefit") and not where.startswith(
                ("spinefit.catalogue", "spinefit.shaping", "spinefit.job")
            ):
                yield each


def in_fork(work: Callable[[], Any], *, cpu_s: float) -> tuple[str, Any]:
    """Do some work in a fork that may use so many seconds of processor time.

    Returns:
        "done" and what the work returned, "late", or "died".
    """
    sys.stdout.flush()
    with tempfile.NamedTemporaryFile("r", suffix=".json") as answer:
        child = os.fork()
        if child == 0:
            _work_and_leave(work, Path(answer.name), cpu_s)
        status = _wait(child, wall_s=10 * cpu_s + 60)
        if status is None or (os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGXCPU):
            return "late", None
        if not (os.WIFEXITED(status) and os.WEXITSTATUS(status) == 0):
            return "died", answer.read()
        return "done", json.load(answer)


def _work_and_leave(work: Callable[[], Any], answer: Path, cpu_s: float) -> None:
    code = 1
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (int(cpu_s) + 1, int(cpu_s) + 5))
        resource.setrlimit(resource.RLIMIT_AS, (_MEMORY, _MEMORY))
        nowhere = os.open(os.devnull, os.O_RDWR)
        for stream in (0, 1, 2):
            os.dup2(nowhere, stream)
        answer.write_text(json.dumps(work()))
        code = 0
    except BaseException as error:  # the parent reports it
        answer.write_text(repr(error))
    finally:
        os._exit(code)


def _wait(child: int, *, wall_s: float) -> int | None:
    until = time.monotonic() + wall_s
    while time.monotonic() < until:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return status
        time.sleep(0.01)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return None
