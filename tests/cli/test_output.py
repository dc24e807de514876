"""How a finished text leaves."""

from __future__ import annotations

import io
import sys

import pytest

from spinefit.cli import output
from spinefit.say.screen import screen


class Terminal(io.TextIOWrapper):
    """Standard output in memory that claims to be a terminal."""

    def __init__(self, *, encoding: str = "utf-8") -> None:
        super().__init__(io.BytesIO(), encoding=encoding)

    def isatty(self) -> bool:
        """A terminal."""
        return True

    def written(self) -> bytes:
        """The bytes that were written."""
        self.flush()
        assert isinstance(self.buffer, io.BytesIO)
        return self.buffer.getvalue()


@pytest.mark.parametrize(
    ("encoding", "shown"),
    [
        ("ascii", b"| -> 1 x 2 - \\u706f"),
        ("latin-1", "| -> 1 × 2 - \\u706f".encode("latin-1")),
        ("utf-8", "│ -> 1 × 2 – 灯".encode()),
    ],
)
def test_what_a_terminal_lacks_is_written_plainer(
    monkeypatch: pytest.MonkeyPatch, encoding: str, shown: bytes
) -> None:
    """Strokes become bars, dashes hyphens, letters their escapes."""
    terminal = Terminal(encoding=encoding)
    monkeypatch.setattr(sys, "stdout", terminal)
    output.write_text("│ -> 1 × 2 – 灯")
    assert terminal.written() == shown


def test_half_characters_are_escaped(monkeypatch: pytest.MonkeyPatch) -> None:
    """Even UTF-8 has no bytes for them."""
    terminal = Terminal()
    monkeypatch.setattr(sys, "stdout", terminal)
    output.write_text("a\udce9")
    assert terminal.written() == b"a\\udce9"


def test_json_ignores_the_terminals_encoding(monkeypatch: pytest.MonkeyPatch) -> None:
    """Always UTF-8, always a newline at the end."""
    terminal = Terminal(encoding="ascii")
    monkeypatch.setattr(sys, "stdout", terminal)
    output.write_utf8('"灯"')
    assert terminal.written() == '"灯"\n'.encode()


@pytest.mark.parametrize(
    ("name", "value", "wanted"),
    [("NO_COLOR", "1", False), ("NO_COLOR", "", True), ("TERM", "dumb", False)],
)
def test_colour_follows_the_terminal(
    monkeypatch: pytest.MonkeyPatch, name: str, value: str, wanted: bool
) -> None:
    """NO_COLOR and a terminal without colours are honoured."""
    monkeypatch.setattr(sys, "stdout", Terminal())
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv(name, value)
    assert screen().has_colour is wanted


def test_a_pipe_is_80_columns_without_colour(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever COLUMNS says."""
    monkeypatch.setattr(sys, "stdout", io.StringIO())
    monkeypatch.setenv("COLUMNS", "200")
    assert screen() == (80, False)


def test_no_standard_output_is_no_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    """Closed before we began."""
    monkeypatch.setattr(sys, "stdout", None)
    output.write_text("a")
    output.write_utf8("{}")
    output.hush_stdout()
    assert screen() == (80, False)


def test_a_stream_without_bytes_takes_text(monkeypatch: pytest.MonkeyPatch) -> None:
    """As in a notebook."""
    sink = io.StringIO()
    monkeypatch.setattr(sys, "stdout", sink)
    output.write_text("灯\n")
    assert sink.getvalue() == "灯\n"


def test_a_complaint_is_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    """Whatever is in it."""
    output.complain("two\nlines\x1b[2J")
    assert capsys.readouterr().err == "spinefit: two\\nlines\\x1b[2J\n"


def test_a_complaint_does_not_repeat_a_page_of_what_was_typed(
    capsys: pytest.CaptureFixture[str],
) -> None:
    output.complain("got unexpected extra argument " + "x" * 5000)
    line = capsys.readouterr().err
    assert len(line) < 650 and line.endswith("…\n") and line.count("\n") == 1


def test_nobody_to_complain_to_is_no_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    """Standard error may be closed too."""
    monkeypatch.setattr(sys, "stderr", None)
    output.complain("unheard")
