"""How heavy is the page of a batch, and how fast in a browser?

    python tests/benchmarks/overview.py [--rows 2000]

Invented books, answered and written as ``spinefit batch`` does; then Debian's Chromium opens the
page and says, in milliseconds as its own clock has them, how long it took to load, to search, to
tick a verdict, to sort. Layout is waited for. Each figure is the middle of several.
"""

from __future__ import annotations

import argparse
import json
import re
import sys
import tempfile
from html import unescape
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from spinefit.batch.model import Row, Settings, Totals
from spinefit.batch.overview import once
from spinefit.batch.work import Unit, work
from spinefit.batch.writing import foot_of, head_of
from tests.benchmarks.titles import books
from tests.browser import browsed

SCRIPT = """addEventListener("load", () => {
  const loaded = Math.round(performance.now());
  const middle = (times) => Math.round(times.sort((a, b) => a - b)[times.length >> 1]);
  const timed = (act) => {
    const begin = performance.now();
    act();
    document.body.offsetHeight;
    return performance.now() - begin;
  };
  const search = document.querySelector("[type=search]");
  const type = (words) => timed(() => {
    search.value = words;
    search.dispatchEvent(new Event("input"));
  });
  const first = type("t");
  const found = {
    load: loaded,
    "first letter of a search": Math.round(first),
    search: middle(["tide", "", "harbour", "", "fog x", "", "coast"].map(type)),
    verdict: middle([...document.querySelectorAll("[type=checkbox]")].flatMap((tick) =>
      [0, 1].map(() => timed(() => tick.click())))),
    sort: (type(""), middle([...document.querySelectorAll("th button")].map((head) =>
      timed(() => head.click())))),
    elements: document.querySelectorAll("*").length,
  };
  const said = document.createElement("pre");
  said.id = "found";
  said.textContent = JSON.stringify(found);
  document.body.append(said);
});"""


def page(rows: int) -> str:
    """The page of so many books."""
    settings = Settings(form="html", kept=("shelf",))
    units = [
        Unit((Row(at + 2, {"title": one.title, "width": one.width_mm, "height": one.height_mm},
                  (f"W {at:04}",)),))
        for at, one in enumerate(books(rows))
    ]  # fmt: skip
    done = work(settings, units)
    counts = {verdict: done.verdicts.count(verdict) for verdict in set(done.verdicts)}
    return head_of(settings) + once(done.text, {})[0] + foot_of(settings, Totals(counts))


def main() -> None:
    """Measure, and print a line a figure."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--rows", type=int, default=2000)
    rows = asked.parse_args().rows
    text = page(rows)
    size = len(text.encode())
    sys.stdout.write(f"{rows} rows: {size / 1e6:.2f} MB, {size / rows:.0f} bytes a row\n")
    text = re.sub('<meta http-equiv="Content-Security-Policy"[^>]*>', "", text)
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "books.html"
        file.write_text(text.replace("</body>", f"<script>{SCRIPT}</script></body>"), "utf-8")
        shown = browsed(file, "--window-size=1280,900", "--dump-dom")
    found = re.search('<pre id="found">(.*?)</pre>', shown)
    if found is None:
        sys.exit("the browser ended before it had measured")
    for name, value in json.loads(unescape(found[1])).items():
        unit = "" if name == "elements" else " ms"
        sys.stdout.write(f"{name}: {value}{unit}\n")


if __name__ == "__main__":
    main()
