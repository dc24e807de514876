"""How soon is a changed letter drawn in the page?

    python tests/benchmarks/page.py [--letters 20] [METHOD ...]

Debian's Chromium shows the page; the last letter of a title is changed, and the clock of the
browser says how long it was until the back was drawn anew, once at rest and once while letters
follow each other as they are typed. For a back in each method, and for one of four texts.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from playwright.sync_api import Page as Tab
from playwright.sync_api import sync_playwright

from spinefit.catalogue.method_table import methods
from spinefit.vocabulary import Letters
from tests.browser import CHROMIUM
from tests.page.conftest import OPTIONS
from tests.page.served import served
from tests.page.walking import answered, opened

AT_REST_MS, TYPING_MS = 1500, 160  # between a letter that is drawn and the next
TITLE = "The Harbour Ligh"
SCRIPT = """async ([field, letters, rest]) => {
  const at = document.querySelector(field);
  const place = document.querySelector("#drawings");
  const times = [];
  for (const letter of letters) {
    await new Promise((done) => setTimeout(done, rest));
    const begun = performance.now();
    const drawn = new Promise((done) => {
      const seen = new MutationObserver(() => {
        seen.disconnect();
        requestAnimationFrame(() => done(performance.now() - begun));
      });
      seen.observe(place, {childList: true});
    });
    at.value = at.value.slice(0, -1) + letter;
    at.dispatchEvent(new Event("input", {bubbles: true}));
    times.push(await drawn);
  }
  return times;
}"""


def begin(tab: Tab, method: str) -> None:
    """A back in a method."""
    tab.fill("#field-width", "25")
    tab.fill("#field-height", "210")
    tab.select_option("#field-method", method)
    if methods()[method].letters is Letters.TOOLS:
        tab.select_option("#field-case", "capitals")
        tab.fill("#tool-0-face", "3.2")
        tab.fill("#tool-0-e_row", "15.5")
    tab.fill("#text-0-text", TITLE)
    answered(tab)


def begin_four(tab: Tab) -> None:
    """A back of four texts."""
    tab.fill("#field-width", "34")
    tab.fill("#field-height", "230")
    tab.fill("#text-0-text", TITLE)
    for role, words in (("author", "J. Penwarne"), ("volume", "2"), ("date", "1889")):
        tab.select_option("#add-text", role)
        tab.keyboard.type(words)
    answered(tab)


def main() -> None:
    """Measure, and print a row for each."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--letters", type=int, default=20)
    asked.add_argument("names", nargs="*", help="methods, or 'four texts'; all where none")
    given = asked.parse_args()
    letters = ("abcdefghijklmnopqrstuvwxyz" * 9)[: given.letters]
    jobs: dict[str, tuple[Callable[[Tab], None], str]] = {
        method: (lambda tab, method=method: begin(tab, method), "#text-0-text")
        for method in methods()
    }
    jobs["four texts"] = (begin_four, "#text-1-text")
    sys.stdout.write("| drawn after a letter, ms | at rest | worst | typing | worst |\n")
    sys.stdout.write("| --- | ---: | ---: | ---: | ---: |\n")
    with (
        tempfile.TemporaryDirectory() as folder,
        served(Path(folder)) as page,
        sync_playwright() as driver,
    ):
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=OPTIONS)
        for name, (begun, field) in jobs.items():
            if given.names and name not in given.names:
                continue
            context = browser.new_context(viewport={"width": 1440, "height": 900})
            tab = opened(context, page.address)
            begun(tab)
            found = [
                tab.evaluate(SCRIPT, [field, letters, rest]) for rest in (AT_REST_MS, TYPING_MS)
            ]
            cells = " | ".join(f"{statistics.median(one):.0f} | {max(one):.0f}" for one in found)
            sys.stdout.write(f"| {name} | {cells} |\n")
            sys.stdout.flush()
            context.close()
        browser.close()


if __name__ == "__main__":
    main()
