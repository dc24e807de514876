"""Job files: what is read, and how each fault is said."""

from __future__ import annotations

from pathlib import Path

import pytest

from spinefit.errors import JobError
from spinefit.job.fields import assemble
from spinefit.job.files import once_a_change
from spinefit.job.read import read_job_file


def written(folder: Path, text: str | bytes) -> Path:
    """A job file with this text."""
    path = folder / "book.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def test_a_job_file_gives_title_and_values(tmp_path: Path) -> None:
    """Keys are the names of the options; values stand as TOML gives them."""
    path = written(
        tmp_path, 'title = "Tide Tables"\nwidth = "13..15mm"\nheight = 198\nbands-at = [40, 80]\n'
    )
    title, values = read_job_file(path)
    assert title == "Tide Tables"
    assert values == {"width": "13..15mm", "height": 198, "bands-at": [40, 80]}
    assert assemble(title, values).spine is not None


def test_a_job_file_may_lack_a_title(tmp_path: Path) -> None:
    """The title may then be typed."""
    assert read_job_file(written(tmp_path, "width = 9")) == (None, {"width": 9})


def test_a_byte_order_mark_is_forgiven(tmp_path: Path) -> None:
    """Some editors write one."""
    assert read_job_file(written(tmp_path, b"\xef\xbb\xbfwidth = 9\r\n"))[1] == {"width": 9}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("width = ", "book.toml:1:9: not a job file"),
        ("width = 9\nheight 198\n", "book.toml:2:8: not a job file"),
        ('title = "open', "book.toml"),
        ("width = 9\nwidth = 10", "book.toml:2"),
        ("width = 9,5", "book.toml:1:10"),
        ("widht = 9", "no field of that name: 'widht'; did you mean 'width'?"),
        ('format = "json"', "no field of that name: 'format'"),
        ("title = 1984", "book.toml: title: the title must be a text: '1984'"),
        ("[spine]\nwidth = 9", "a job file has no such table: 'spine'; write one"),
        ("width = {mm = 9}", "a job file has no such table: 'width'"),
        ("[texts]\nrole = 1", "a job file has no such table: 'texts'; did you mean [[text]]?"),
        (b"title = 'Caf\xe9'", "book.toml:1: not UTF-8 text"),
        (b"\xff\xfew\x00", "book.toml:1: not UTF-8 text"),
        ("width = " + "9" * 5000, "a number too long"),
        ("bands-at = " + "[" * 5000, "not a job file"),
        (b"#" * 1_000_001, "too large for a job file"),
    ],
)
def test_a_fault_in_a_job_file_is_one_line_with_its_place(
    tmp_path: Path, text: str | bytes, said: str
) -> None:
    """The line names the file, and line and column where there are any."""
    with pytest.raises(JobError) as caught:
        read_job_file(written(tmp_path, text))
    line = str(caught.value)
    assert said in line
    assert line.isprintable()


def test_a_missing_file_is_said(tmp_path: Path) -> None:
    """So are a folder and no name at all."""
    for path, said in (
        (tmp_path / "no.toml", "no such job file"),
        (tmp_path, "a folder, not a job file"),
        (tmp_path / "no.toml" / "x", "no such job file"),
        ("", "no job file named"),
        ("a\0b", "cannot be read"),
    ):
        with pytest.raises(JobError, match=said):
            read_job_file(path)


@pytest.mark.parametrize(
    "line", ["width = true", "width = 2026-01-01", "width = [9]", "market = 1", "lines = 1.5"]
)
def test_a_value_of_the_wrong_kind_is_said_with_the_files_name(tmp_path: Path, line: str) -> None:
    """The wrong kind of value is found when the job is assembled, and named as the file's."""
    _, values = read_job_file(written(tmp_path, line))
    values = {"width": 9, **values}
    with pytest.raises(JobError, match=r"book\.toml: ") as caught:
        assemble("Tides", values, place=lambda name: f"book.toml: {name}")
    assert str(caught.value).isprintable()


def test_a_file_that_every_row_names_is_read_once_until_it_changes(tmp_path: Path) -> None:
    """And a fault as often as it is met, so that what was mended is seen to be."""
    asked: list[str] = []

    @once_a_change
    def reader(path: str) -> str:
        asked.append(path)
        text = Path(path).read_text(encoding="utf-8")
        if not text:
            raise JobError("empty")
        return text

    file = written(tmp_path, "brass")
    assert [reader(file), reader(str(file))] == ["brass", "brass"]
    assert len(asked) == 1
    file.write_text("a longer name", encoding="utf-8")
    assert reader(file) == "a longer name"
    file.write_text("", encoding="utf-8")
    for _ in range(2):
        with pytest.raises(JobError, match="empty"):
            reader(file)
    assert len(asked) == 4
    with pytest.raises(FileNotFoundError):
        reader(tmp_path / "none")


def test_a_file_of_one_text_is_that_title(tmp_path):
    """With what its table says of it; only what several texts have makes it more than a title."""
    file = tmp_path / "job.toml"
    text = '[[text]]\nrole = "title"\ntext = "Tides"\nsize = 9\npanel = 3\n'
    file.write_text(f'width = 30\nheight = 210\nbands = 5\norder = "as-typed"\n{text}', "utf-8")
    title, values = read_job_file(file)
    assert title == "Tides"
    assert values == {"width": 30, "height": 210, "bands": 5, "size": 9, "title-panel": 3}
    file.write_text(f'width = 30\nheight = 210\n{text}label = "piece"\n', "utf-8")
    with pytest.raises(JobError, match="one title"):
        read_job_file(file)
