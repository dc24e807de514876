"""Can everybody use the page? Asked of axe-core, in a browser."""

from __future__ import annotations

import json
import re
from html import unescape
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from spinefit.batch.model import Row, Settings, Totals
from spinefit.batch.work import Unit, work
from spinefit.batch.writing import foot_of, head_of
from spinefit.drawing.html import to_html
from tests.browser import browsed, browser_marks

pytestmark = browser_marks

RUN = """
axe.run(document, {resultTypes: ["violations"]}).then(found => {
  const out = document.createElement("pre");
  out.id = "found";
  out.textContent = JSON.stringify({
    rules: found.passes.length,
    wrong: found.violations.map(
      v => ({id: v.id, impact: v.impact, nodes: v.nodes.map(n => n.html)})
    )
  });
  document.body.appendChild(out);
});
"""


def found_by_axe(page: str, folder: Path) -> Any:
    """What axe finds on a page, of which the policy that forbids scripts is taken off."""
    axe = files("axe_core_python").joinpath("axe.min.js").read_text(encoding="utf-8")
    page = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", page)
    page = page.replace("</body>", f"<script>{axe}</script><script>{RUN}</script></body>")
    path = folder / "page.html"
    path.write_text(page, encoding="utf-8")
    shown = browsed(path, "--virtual-time-budget=60000", "--dump-dom")
    match = re.search(r'<pre id="found">(.*?)</pre>', shown, re.DOTALL)
    assert match, shown[-2000:]
    return json.loads(unescape(match[1]))


@pytest.mark.parametrize("name", ["pamphlet", "over"])
def test_axe_finds_nothing_wrong(on: Any, name: str, tmp_path: Path) -> None:
    """No violation of any weight, of the rules that axe-core runs by default."""
    found = found_by_axe(to_html(on.subject(name)), tmp_path)
    assert found["rules"] > 10
    assert found["wrong"] == []


def test_axe_finds_nothing_wrong_with_an_overview_of_books(tmp_path: Path) -> None:
    """With books that fit and do not, rows at fault, and titles of every direction."""
    settings = Settings(form="html", kept=("id",))
    cells = [
        {"title": "Tide Tables", "width": 9, "height": 200},
        {"title": "Commissioners", "panel": "12x30", "size": 14},
        {"title": "Northern Roads", "author": "H. Quay", "width": 30, "height": 240},
        {"title": "Fog", "width": "9,500"},
        {"title": "", "width": 9},
    ]
    units = [Unit((Row(line, said, (str(line),)),)) for line, said in enumerate(cells, 2)]
    done = work(settings, units)
    counts = {"fits": 2, "tight": 0, "does not fit": 1, "": 2}
    page = head_of(settings) + done.text + foot_of(settings, Totals(counts))
    found = found_by_axe(page, tmp_path)
    assert found["rules"] > 10
    assert found["wrong"] == []


def test_axe_would_find_something(on: Any, tmp_path: Path) -> None:
    """A page without its language and with a box without its label is found out."""
    page = to_html(on.subject("tiny")).replace('<html lang="en">', "<html>")
    page = re.sub(r'<label for="part-1-task-1-1">(.*?)</label>', r"<span>\1</span>", page)
    found = {one["id"] for one in found_by_axe(page, tmp_path)["wrong"]}
    assert {"html-has-lang", "label"} <= found
