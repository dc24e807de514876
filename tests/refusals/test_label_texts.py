"""A job file of one label that cannot be: one line with the text's number, and code 2."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from spinefit import Job, Panel, Part, SpinefitError, check
from spinefit.cli.main import main
from spinefit.vocabulary import Role

LABEL = 'panel = "30x40mm"\nmethod = "paper-label"\n'
TITLE = '[[text]]\nrole = "title"\ntext = "The Harbour Light"\n'
AUTHOR = '[[text]]\nrole = "author"\ntext = "Ebenezer Quillfeather"\n'
RULE = '[[text]]\nrole = "rule"\n'

BAD: dict[str, tuple[str, str]] = {
    "rules alone": (RULE + RULE, "add a [[text]] with words"),
    "a rule with a text": (f'{RULE}text = "x"\n{TITLE}', "text 1: 'text' belongs to a text"),
    "a rule with a size": (f"{RULE}size = 9\n{TITLE}", "text 1: 'size' belongs to a text"),
    "a text with a rule": (f'{TITLE}rule = "thin"\n{AUTHOR}', "text 1: 'rule' belongs to a rule"),
    "a text with a measure": (f'{TITLE}measure = "full"\n{AUTHOR}', "'measure' belongs to a rule"),
    "no such line": (
        f'{RULE}rule = "thcik"\n{TITLE}',
        "rule: no such choice: 'thcik'; did",
    ),
    "no such measure": (f'{RULE}measure = "long"\n{TITLE}', "choose from short, full"),
    "no such role": ('[[text]]\nrole = "autor"\ntext = "x"\n' + TITLE, "text 1: role"),
    "no role": ('[[text]]\ntext = "x"\n' + TITLE, "text 1: no role given"),
    "no text": ('[[text]]\nrole = "author"\n' + TITLE, "text 1: no text given"),
    "a text without words": (f'{TITLE}[[text]]\nrole = "author"\ntext = " "\n', "text 2: text"),
    "a text without ink": (f'{TITLE}[[text]]\nrole = "date"\ntext = "a /  / b"\n', "text 2: text"),
    "a panel between bands": (
        f"{TITLE}panel = 2\n{AUTHOR}",
        "'panel' belongs to the texts",
    ),
    "a weight": (f"{TITLE}weight = 2\n{AUTHOR}", "text 1: 'weight' belongs to the texts of a back"),
    "a shared label": (
        f'{TITLE}label = "piece"\n{AUTHOR}',
        "'label' belongs to the texts",
    ),
    "an unknown key": (f"{TITLE}colour = 2\n{AUTHOR}", "text 1: no such key of a text: 'colour'"),
    "a unit mistyped": (f'{TITLE}size = "9ptt"\n{AUTHOR}', "text 1: size"),
    "a ratio of the title": (f"{TITLE}ratio = 0.8\n{AUTHOR}", "text 1: ratio: the other sizes are"),
    "a ratio of nothing": (f"{TITLE}{AUTHOR}ratio = 0\n", "text 2: ratio"),
    "a ratio in words": (f'{TITLE}{AUTHOR}ratio = "small"\n', "text 2: ratio: not a number"),
    "a size and a ratio": (f"{TITLE}{AUTHOR}size = 9\nratio = 0.8\n", "both a size and a ratio"),
    "a font that is none": (f'{TITLE}{AUTHOR}font = "No Such"\n', "text 2: no font of that name"),
    "a letter that is missing": (
        f'{TITLE}{AUTHOR}font = "Cinzel"\n'.replace("Ebe", "早"),
        "text 2",
    ),
    "a title beside": (f'title = "Tides"\n{TITLE}{AUTHOR}', "a title beside several texts"),
    "two sizes of the title": (f"size = 10\n{TITLE}size = 9\n{AUTHOR}", "a size beside that"),
    "a pillar": (f'orientation = "pillar"\n{TITLE}{AUTHOR}', "several texts are no pillar"),
    "capitals centred": (f'centre = "capitals"\n{TITLE}{AUTHOR}', "are centred on their ink"),
    "more lines than words": (f"lines = 5\n{TITLE}{AUTHOR}", "3 pieces at most"),
    "too many": (TITLE * 21, "too many texts for one label"),
}


@pytest.mark.parametrize("name", BAD)
def test_one_line_says_what_was_wrong(name: str, tmp_path: Path) -> None:
    texts, part = BAD[name]
    file = tmp_path / "label.toml"
    file.write_text(LABEL + texts, encoding="utf-8")
    done = CliRunner().invoke(main, ["check", "--job", str(file)])
    assert (done.exit_code, done.stdout) == (2, "")
    assert len(done.stderr.splitlines()) == 1, done.stderr
    assert part in done.stderr and "label.toml" in done.stderr


def test_a_title_typed_beside_the_file(tmp_path: Path) -> None:
    file = tmp_path / "label.toml"
    file.write_text(LABEL + TITLE + AUTHOR, encoding="utf-8")
    done = CliRunner().invoke(main, ["check", "Tides", "--job", str(file)])
    assert done.exit_code == 2 and "a title beside a job file with several texts" in done.stderr


@pytest.mark.parametrize(
    ("part", "words"),
    [
        (Part(role=Role.RULE, text="x"), "a rule has neither text nor size"),
        (Part(role=Role.AUTHOR, text=""), "text 2: text: no letters"),
        (Part(role="author", text="x"), "text 2: role"),  # type: ignore[arg-type]
        (Part(role=Role.AUTHOR, text="x", size_pt=-1), "text 2: size"),
    ],
)
def test_parts_made_in_python_are_held_to_the_same(part: Part, words: str) -> None:
    title = Part(role=Role.TITLE, text="Tides")
    with pytest.raises(SpinefitError, match=words):
        check(Job(parts=(title, part), panel=Panel(width_mm=30, height_mm=40)))
