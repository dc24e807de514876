"""The page as it is served: a process of its own, and what is asked of it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple

__all__ = ["Served", "served"]

ROOT = Path(__file__).parents[2]


class Served(NamedTuple):
    """A page that is served."""

    address: str
    process: subprocess.Popen[str]

    @property
    def host(self) -> str:
        return self.address.split("/")[2]

    def reply(
        self,
        path: str,
        body: bytes | None = None,
        headers: Mapping[str, str] | None = None,
        *,
        whole: str | None = None,
    ) -> tuple[int, Mapping[str, str], bytes]:
        """Code, headers and body of a reply; ``whole`` is an address in place of the page's."""
        request = urllib.request.Request(whole or self.address + path, body, dict(headers or {}))
        try:
            with urllib.request.urlopen(request, timeout=120) as found:
                return found.status, found.headers, found.read()
        except urllib.error.HTTPError as fault:
            return fault.code, fault.headers, fault.read()

    def ask(self, path: str, about: Mapping[str, Any]) -> Any:
        """What is told to a question."""
        code, _, body = self.reply(path, json.dumps(about).encode())
        assert code == 200, body
        return json.loads(body)


@contextmanager
def served(folder: Path, *words: str, port: int = 0) -> Iterator[Served]:
    """Serve the page while it lasts, its secret kept in a folder.

    Args:
        folder: in place of the user's own.
        words: more of the command line.
        port: 0 for any.
    """
    env = {
        **os.environ,
        "XDG_STATE_HOME": str(folder),
        "HOME": str(folder),
        "PYTHONPATH": str(ROOT),
    }
    command = [sys.executable, "-m", "spinefit", "page", "--no-open", "--port", str(port), *words]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=env, cwd=ROOT
    ) as process:
        assert process.stdout is not None
        address = process.stdout.readline().strip()
        assert address.startswith("http://127.0.0.1:"), process.stderr and process.stderr.read()
        try:
            yield Served(address, process)
        finally:
            if process.poll() is None:
                process.terminate()
                process.wait(30)
