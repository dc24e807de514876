"""The command: files, exit codes, interruption and going on."""

from __future__ import annotations

import csv
import io
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

SPINEFIT = [sys.executable, "-m", "spinefit"]
HEADING = "id,title,width,height\n"
GOOD = "1,Tides,12,200\n2,Quay,14,200\n"


def run(*words: str, stdin: str | bytes = "") -> subprocess.CompletedProcess[str]:
    raw = stdin.encode() if isinstance(stdin, str) else stdin
    done = subprocess.run(
        [*SPINEFIT, "batch", *map(str, words)], input=raw, capture_output=True, check=False
    )
    return subprocess.CompletedProcess(
        done.args, done.returncode, done.stdout.decode(), done.stderr.decode()
    )


def table(folder: Path, text: str = HEADING + GOOD, name: str = "books.csv") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def said_in_the_end(
    fit: int, out: Path | None = None, *, not_fit: str = "0 do", bad: str = "no row"
) -> str:
    """The last line on standard error, where so many books fit."""
    books, written = fit + int(not_fit[0]), f"; written to {out}" if out else ""
    return (
        f"spinefit: {books} books: {fit} fit, 0 tight, {not_fit} not fit; {bad} at fault{written}\n"
    )


def read_csv(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_every_book_fits(tmp_path) -> None:
    """A pipe gets CSV, a row a book."""
    done = run(table(tmp_path))
    assert (done.returncode, done.stderr) == (0, said_in_the_end(2))
    assert [(row["id"], row["title"], row["verdict"]) for row in read_csv(done.stdout)] == [
        ("1", "Tides", "fits"), ("2", "Quay", "fits"),
    ]  # fmt: skip


def test_a_book_that_does_not_fit_is_code_1(tmp_path) -> None:
    done = run(table(tmp_path, HEADING + GOOD + "3,The Wreck Register of the Coast,5,20\n"))
    assert (done.returncode, done.stderr) == (1, said_in_the_end(2, not_fit="1 does"))


def test_a_bad_row_is_code_2_and_one_line(tmp_path) -> None:
    """The others go on, before it and after."""
    path = table(
        tmp_path, HEADING + '1,Tides,12,200\n2,Quay,"9,500",200\n3,Fog,5,2\n4,Lamp,12,200\n'
    )
    done = run(path)
    assert done.returncode == 2
    assert done.stderr == (
        f"spinefit: {path}:3: column 'width': a comma in a number: '9,500'; "
        "write 9.500 or 9500, whichever is meant\n"
        f"{said_in_the_end(2, not_fit='1 does', bad='1 row')}"
    )
    assert [row["verdict"] for row in read_csv(done.stdout)] == ["fits", "", "does not fit", "fits"]


def test_standard_input_and_defaults() -> None:
    """What a row does not say, the command line does."""
    done = run("-", "--width", "12", "--format", "jsonl", "--case", "capitals",
               stdin="title,width,case\nTides,,\nQuay,20,as-typed\n")  # fmt: skip
    first, second = [json.loads(line)["report"] for line in done.stdout.splitlines()]
    assert (first["title"], second["title"]) == ("TIDES", "Quay")
    assert first["panel"]["width_mm"] < second["panel"]["width_mm"]


def test_a_mark_on_the_table_is_a_mark_on_the_results() -> None:
    """A spreadsheet that writes one needs one to know UTF-8."""
    done = run("-", stdin=("\ufeff" + HEADING + GOOD))
    assert done.stdout.startswith("\ufeffline,")
    assert run("-", stdin=HEADING + GOOD).stdout.startswith("line,")


def test_slashes_break_only_where_asked() -> None:
    stdin = "title,width,height\nTides / Quay,40,200\n"
    for words, lines in ((), {"Tides / Quay"}), (("--slash-breaks",), {"Tides", "Quay"}):
        done = run("-", "--format", "jsonl", *words, stdin=stdin)
        layouts = json.loads(done.stdout)["report"]["layouts"]
        assert lines in [set(layout["lines"]) for layout in layouts]


@pytest.mark.parametrize("form", ["csv", "jsonl", "text", "html"])
def test_the_same_bytes_whatever_the_number_of_jobs(tmp_path, form) -> None:
    rows = "".join(f"{n},Tide Tables {n},{12 + n % 20},{180 + n}\n" for n in range(80))
    path = table(tmp_path, HEADING + rows + "x,Bad,wide,1\n")
    written = []
    for jobs in ("1", "3"):
        file = tmp_path / f"{jobs}.out"
        run(path, "--format", form, "--output", file, "--jobs", jobs)
        written.append(file.read_bytes())
    assert written[0] == written[1]
    lines = written[0].count(b"\n")
    assert lines >= 81


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "no table given"),
        (("missing.csv",), "the table cannot be read (No such file"),
        (("-", "--jobs", "0"), "--jobs: not a number of processes"),
        (("-", "--jobs", "many"), "--jobs: not a number of processes"),
        (("-", "--jobs", "257"), "give 1 to 256"),
        (("-", "--output", "found.pdf"), "--output: no results of such an ending: 'found.pdf'"),
        (("-", "--lines", "99"), "spinefit: --lines: no number of lines"),
        (("-", "--leading", "0"), "spinefit: --leading: 0 is out of bounds"),
        (("-", "--tracking", "99999"), "spinefit: --tracking: 99999 is out of bounds"),
        (("-", "--force"), "--force: no file to go with it"),
        (("-", "--resume"), "--resume: no file to go with it"),
        (("-", "--format", "jsno"), "did you mean 'json"),
        (("-", "--width", "9,500"), "--width: a comma in a number"),
        (("-", "--market", "ZZ"), "--market"),
        (("-", "--font", "Garamont"), "--font"),
        (("-", "--keep", "cloth"), "--keep: no such column"),
        (("-", "--output", "missing/x.csv"), "--output: the file cannot be written"),
        (("-", "--bogus"), "no such option"),
    ],
)
def test_bad_input_is_one_line_and_nothing_else(words, said) -> None:
    done = run(*words, stdin=HEADING + GOOD)
    assert (done.returncode, done.stdout) == (2, "")
    assert said in done.stderr
    assert done.stderr.count("\n") == 1
    assert "Traceback" not in done.stderr


def test_a_file_is_whole_and_never_replaced_unasked(tmp_path) -> None:
    """By its ending the format is known; nothing is left beside it."""
    path, out = table(tmp_path), tmp_path / "found.jsonl"
    assert run(path, "--output", out).returncode == 0
    before = out.read_bytes()
    assert [json.loads(line)["line"] for line in before.splitlines()] == [2, 3]
    done = run(path, "--output", out, "--width", "9")
    assert (done.returncode, out.read_bytes()) == (2, before)
    assert "there is such a file already" in done.stderr
    assert run(path, "--output", out, "--force").returncode == 0
    assert sorted(one.name for one in tmp_path.iterdir()) == ["books.csv", "found.jsonl"]


def test_the_table_is_never_replaced(tmp_path) -> None:
    path = table(tmp_path)
    done = run(path, "--output", path, "--force")
    assert done.returncode == 2
    assert "would replace the table" in done.stderr
    assert path.read_text(encoding="utf-8") == HEADING + GOOD


def test_a_reader_that_goes_away_ends_it_quietly(tmp_path) -> None:
    """But not as if every book fitted: most were never looked at."""
    rows = "".join(f"{n},Tides {n},12,200\n" for n in range(100_000))
    path = table(tmp_path, HEADING + rows)
    with subprocess.Popen(
        [*SPINEFIT, "batch", str(path)], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        assert process.stdout is not None and process.stderr is not None
        process.stdout.readline()
        process.stdout.close()
        assert process.stderr.read() == b""
        assert process.wait(timeout=60) == 2


MANY = HEADING + "".join(f"{n},Tide Tables {n},{12 + n % 20},{180 + n % 60}\n" for n in range(1500))


def interrupted(
    path: Path, out: Path, number: int = signal.SIGINT, *words: str, piped: bool = False
) -> tuple[int, str]:
    """Run until some rows are written, then send a signal.

    A terminal sends an interrupt to every process of the group, a service that is ended its
    request to end; whoever kills means one.
    """
    partial = Path(f"{out}.partial")
    before = partial.stat().st_size if partial.exists() else 0
    with path.open("rb") as stream:
        process = subprocess.Popen(
            [*SPINEFIT, "batch", "-" if piped else str(path), "--output", str(out), "--jobs", "2",
             *words],
            stdin=stream, stderr=subprocess.PIPE, text=True, start_new_session=True,
        )  # fmt: skip
    deadline = time.monotonic() + 60
    while not (partial.exists() and partial.stat().st_size > before + 2000):
        assert process.poll() is None, process.communicate()
        assert time.monotonic() < deadline
        time.sleep(0.02)
    if number == signal.SIGKILL:
        process.send_signal(number)
    else:
        os.killpg(process.pid, number)
    _, said = process.communicate(timeout=60)
    return process.returncode, said


@pytest.mark.skipif(os.name == "nt", reason="signals of Unix")
@pytest.mark.parametrize(
    ("ending", "number", "piped"),
    [
        ("csv", "SIGINT", False),
        ("jsonl", "SIGINT", True),
        ("html", "SIGINT", False),
        ("xml", "SIGINT", True),
        ("csv", "SIGTERM", True),
        ("html", "SIGTERM", False),
        ("csv", "SIGKILL", False),
        ("jsonl", "SIGKILL", False),
        ("html", "SIGKILL", True),
    ],
)
def test_what_was_interrupted_goes_on_to_the_same_bytes(tmp_path, ending, number, piped) -> None:
    """Ctrl-C, a request to end, and even a death without a word; from a file or a pipe, twice."""
    path, out, whole = table(tmp_path, MANY), tmp_path / f"a.{ending}", tmp_path / f"b.{ending}"
    code, said = interrupted(path, out, getattr(signal, number), piped=piped)
    partial = Path(f"{out}.partial")
    assert partial.exists()
    assert not out.exists()
    if number != "SIGKILL":
        assert code == 2
        assert said.startswith("spinefit: stopped after ")
        assert said.count("\n") == 1
        assert "--resume goes on" in said
        assert partial.read_bytes().endswith(b"\n")
    name, stdin = ("-", MANY) if piped else (path, "")
    again = run(name, "--output", out, stdin=stdin)
    assert again.returncode == 2
    assert "an interrupted run has left a partial result" in again.stderr
    interrupted(path, out, getattr(signal, number), "--resume", piped=piped)
    assert not out.exists()
    done = run(name, "--output", out, "--resume", "--jobs", "1", stdin=stdin)
    own, text = (name, stdin) if ending == "xml" else (path, "")  # which names its table
    assert run(own, "--output", whole, stdin=text).returncode == done.returncode
    assert out.read_bytes() == whole.read_bytes()
    assert not partial.exists()
    assert not Path(f"{partial}.json").exists()


def test_a_run_that_ended_before_its_first_row_is_begun_again(tmp_path) -> None:
    """It may have been killed between the two files; what has rows needs its record."""
    path, out = table(tmp_path), tmp_path / "a.csv"
    partial = Path(f"{out}.partial")
    partial.write_bytes(b"")
    done = run(path, "--output", out, "--resume")
    assert (done.returncode, done.stderr) == (0, said_in_the_end(2, out))
    partial.write_bytes(b"line,title\n")
    done = run(path, "--output", tmp_path / "a.csv", "--resume", "--force")
    assert "begun afresh and resumed at once" in done.stderr
    out.unlink()
    done = run(path, "--output", out, "--resume")
    assert done.returncode == 2
    assert "a partial result without its record" in done.stderr
    assert done.stderr.count("\n") == 1
    assert partial.read_bytes() == b"line,title\n"


@pytest.mark.skipif(os.name == "nt", reason="signals of Unix")
def test_going_on_with_another_table_or_other_options_is_refused(tmp_path) -> None:
    path, out = table(tmp_path, MANY), tmp_path / "a.csv"
    interrupted(path, out)
    partial = Path(f"{out}.partial").read_bytes()
    other = run(path, "--output", out, "--resume", "--case", "capitals")
    assert "other options" in other.stderr
    table(tmp_path, MANY.replace("Tide", "Fog"))
    changed = run(path, "--output", out, "--resume")
    assert "the table has changed" in changed.stderr
    piped = run("-", "--output", out, "--resume", stdin=MANY.replace("Tide", "Fog"))
    assert "standard input: the table has changed" in piped.stderr
    assert (other.returncode, changed.returncode, piped.returncode) == (2, 2, 2)
    assert Path(f"{out}.partial").read_bytes() == partial
    assert run(path, "--output", out, "--force").returncode in (0, 1)


PEAK = """
import resource, sys
from spinefit.cli.main import status
code = status(sys.argv[1:])
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, file=sys.stderr)
"""


@pytest.mark.skipif(sys.platform != "linux", reason="memory as Linux counts it")
def test_memory_does_not_grow_with_the_rows(tmp_path) -> None:
    """Twenty times as many rows, faulty ones since those are quick, take no more of it."""

    def peak_kb(count: int) -> int:
        rows = "".join(
            f"{n},Tide Tables of the Northern Coast {n},wide,200\n" for n in range(count)
        )
        done = subprocess.run(
            [sys.executable, "-c", PEAK, "batch", str(table(tmp_path, HEADING + rows)), "--output",
             str(tmp_path / f"{count}.csv")],
            capture_output=True, check=True,
        )  # fmt: skip
        lines = done.stderr.decode().splitlines()
        assert len(lines) == 6  # three of them, how many in all, how the whole ended, and this
        assert f": {count} rows, lines 2, 3, " in lines[3]
        return int(lines[-1])

    assert peak_kb(40_000) < peak_kb(2_000) + 3_000


def test_resuming_what_was_never_begun_begins(tmp_path) -> None:
    """So that the same command line can be given until it ends well."""
    out = tmp_path / "a.csv"
    assert run(table(tmp_path), "--output", out, "--resume").returncode == 0
    assert out.exists()


def test_no_bar_where_nobody_looks(tmp_path) -> None:
    done = run(table(tmp_path), "--output", tmp_path / "a.csv")
    assert (done.stdout, done.stderr) == ("", said_in_the_end(2, tmp_path / "a.csv"))


@pytest.mark.skipif(os.name == "nt", reason="terminals of Unix")
def test_a_terminal_gets_a_bar_and_a_table(tmp_path) -> None:
    """With rows, rate and the time left on it; the table where no file is asked for."""
    import pty

    def on_terminal(*words: str) -> str:
        ours, theirs = pty.openpty()
        process = subprocess.Popen(
            [*SPINEFIT, "batch", str(table(tmp_path, MANY)), *words],
            stdout=theirs, stderr=theirs, env={**os.environ, "TERM": "xterm", "COLUMNS": "90"},
        )  # fmt: skip
        os.close(theirs)
        said = b""
        while True:
            try:
                more = os.read(ours, 65536)
            except OSError:
                break
            if not more:
                break
            said += more
        os.close(ours)
        process.wait(timeout=60)
        return said.decode()

    bar = on_terminal("--output", str(tmp_path / "a.csv"))
    assert "a second" in bar
    assert "1500 rows" in bar
    shown = on_terminal()
    assert "1500 books:" in shown
    assert "a second" not in shown
