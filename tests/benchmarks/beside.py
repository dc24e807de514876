"""How long does a check take beside other ways to an answer, on the same titles?

Every measurement is of a warm process and in turn with what it is compared with, so that a
passing load touches both; the least of several rounds counts.
"""

from __future__ import annotations

import base64
import http.server
import json
import shutil
import subprocess
import tempfile
import threading
import time
from collections.abc import Callable, Sequence
from typing import NamedTuple

from titles import Book, full_of_marks

from spinefit import Job, Panel, Spine, catalogue, check
from spinefit.job.model import Lettering
from spinefit.job.resolve import resolve
from spinefit.judgement.laying import layouts_of
from spinefit.judgement.verdict import panel_of
from spinefit.say.model import Report
from spinefit.say.remedies import remedies
from spinefit.shaping import shape_titles
from spinefit.units import pt_from_mm
from spinefit.vocabulary import Orientation

__all__ = [
    "BesideBrowser",
    "beside_browser",
    "beside_harfbuzz",
    "beside_pillow",
    "beside_plain",
    "everything",
    "least",
    "the_advised",
    "the_verdict",
]

PANEL = Panel(width_mm=28.0, height_mm=200.0)
_STEP_PT, _LEAST_PT, _MOST_PT = 0.01, 1.0, 200.0
_WAIT_FOR_BROWSER = 120


def least(rounds: int, *ways: Callable[[], object]) -> list[float]:
    """Least wall-clock time in seconds of each way, run in turn."""
    found = [float("inf")] * len(ways)
    for way in ways:
        way()  # opens fonts, fills caches
    for _ in range(rounds):
        for at, way in enumerate(ways):
            start = time.perf_counter()
            way()
            found[at] = min(found[at], time.perf_counter() - start)
    return found


def job_of(book: Book) -> Job:
    """A full check: every orientation, as many lines as there may be, judged, reported."""
    return Job(title=book.title, spine=Spine(width_mm=book.width_mm, height_mm=book.height_mm))


def the_advised(report: Report) -> object:
    """The verdict, the answer, and the advised setting with all that is found about it."""
    advised = report.shown
    assert advised is not None  # every title has a setting
    return report.verdict, report.answer, advised, tuple(advised.findings), tuple(report.findings)


def the_verdict(report: Report) -> object:
    """The verdict and the answer."""
    return report.verdict, report.answer


def everything(report: Report) -> object:
    """Every setting with all that is found about it, and the remedies."""
    return [tuple(one.findings) for one in report.layouts], remedies(report)


def beside_harfbuzz(
    books: Sequence[Book], rounds: int, *, read: Callable[[Report], object]
) -> tuple[float, float]:
    """Seconds a title of a full check, and of shaping it once with HarfBuzz alone.

    What is told of each setting is worked out when it is read, as ``read`` does it.
    """
    import uharfbuzz as hb

    row = catalogue.font_rows()[0]
    font = hb.Font(hb.Face(hb.Blob((catalogue.fonts_folder() / row.file).read_bytes())))

    def bare() -> None:
        for book in books:
            buffer = hb.Buffer()
            buffer.add_str(book.title)
            buffer.guess_segment_properties()
            hb.shape(font, buffer)
            _ = buffer.glyph_infos, buffer.glyph_positions

    def full_check() -> None:
        for book in books:
            read(check(job_of(book)))

    full, alone = least(rounds, full_check, bare)
    return full / len(books), alone / len(books)


def beside_plain(books: Sequence[Book], rounds: int) -> tuple[float, float]:
    """Seconds a title of a check of titles full of marks, and of plain ones of the same length."""
    with_marks = [book._replace(title=full_of_marks(book.title)) for book in books]

    def checked(some: Sequence[Book]) -> None:
        for book in some:
            the_advised(check(job_of(book)))

    full, plain = least(rounds, lambda: checked(with_marks), lambda: checked(books))
    return full / len(books), plain / len(books)


def beside_pillow(books: Sequence[Book], rounds: int) -> tuple[float, float]:
    """Seconds a title of the largest size on one line, ours and by bisecting with Pillow."""
    from PIL import ImageFont, features

    if not features.check("raqm"):
        raise RuntimeError("this Pillow has no Raqm, so it would not shape")
    row = catalogue.font_rows()[0]
    path = str(catalogue.fonts_folder() / row.file)
    font = ImageFont.truetype(path, 10, layout_engine=ImageFont.Layout.RAQM)
    wide, high = pt_from_mm(PANEL.width_mm), pt_from_mm(PANEL.height_mm)

    def fits(title: str, size_pt: float) -> bool:
        left, top, right, bottom = font.font_variant(size=size_pt).getbbox(title)
        return right - left <= wide and bottom - top <= high

    def bisected() -> None:
        for book in books:
            low, high_pt = _LEAST_PT, _MOST_PT
            while high_pt - low > _STEP_PT:
                middle = (low + high_pt) / 2
                low, high_pt = (middle, high_pt) if fits(book.title, middle) else (low, middle)

    lettering = Lettering(lines=1, orientation=Orientation.TRANSVERSE)

    def ours() -> None:
        for book in books:
            job = resolve(Job(title=book.title, panel=PANEL, lettering=lettering))
            layouts_of(job, shape_titles(job), panel_of(job))

    mine, theirs = least(rounds, ours, bisected)
    return mine / len(books), theirs / len(books)


_PAGE = """<!doctype html><meta charset="utf-8">
<style>@font-face{font-family:"Letters";src:url(data:font/otf;base64,%(font)s)}
#block{font-family:"Letters";line-height:1.2;overflow:hidden}
</style><div id="block"></div><script>
(async () => {
  await document.fonts.load('20px "Letters"');
  const titles = %(titles)s, block = document.getElementById("block");
  const fits = (pt) => {
    block.style.fontSize = `${pt}pt`;
    return block.scrollHeight <= block.clientHeight && block.scrollWidth <= block.clientWidth;
  };
  const bisected = () => {
    let low = %(least)g, high = %(most)g;
    while (high - low > %(step)g) {
      const middle = (low + high) / 2;
      if (fits(middle)) low = middle; else high = middle;
    }
    return low;
  };
  const shrunk = () => {
    let pt = %(start)g;
    while (pt > %(least)g && !fits(pt)) pt -= %(shrink)g;
    return pt;
  };
  const across = [%(wide)g, %(high)g], along = [%(high)g, %(wide)g];
  const inBlocks = (largest, blocks) => (title) => {
    block.textContent = title;
    for (const [wide, high] of blocks) {
      block.style.width = `${wide}px`;
      block.style.height = `${high}px`;
      largest();
    }
  };
  const timed = (way) => {
    titles.slice(0, 20).forEach(way);
    const times = [];
    for (let round = 0; round < %(rounds)d; round++) {
      const start = performance.now();
      titles.forEach(way);
      times.push((performance.now() - start) / 1000);
    }
    return Math.min(...times);
  };
  const found = [
    timed(inBlocks(bisected, [across])),
    timed(inBlocks(bisected, [across, along])),
    timed(inBlocks(shrunk, [across])),
  ];
  await fetch("/done", {method: "POST", body: JSON.stringify(found)});
})();
</script>"""
_CSS_PX_A_PT = 4 / 3  # CSS Values and Units, Level 4: 96 px and 72 pt an inch
_START_PT, _SHRINK_PT = 72.0, 0.5  # a script that shrinks: from large display type, by halves


class BesideBrowser(NamedTuple):
    """Seconds a title of a full check in a panel, and of a block in a browser.

    Attributes:
        check: the full check, both ways up, 1 to 6 lines, judged.
        bisected: the block as wide and high as the panel, bisected to a hundredth of a point.
        both_ways: the same, and again turned along the back.
        shrunk: the block across, from 72 pt by half points until it fits.
    """

    check: float
    bisected: float
    both_ways: float
    shrunk: float


def beside_browser(books: Sequence[Book], rounds: int) -> BesideBrowser:
    """What `BesideBrowser` holds.

    The browser's time is taken inside its page: its own start does not count.
    """
    jobs = [Job(title=book.title, panel=PANEL) for book in books]
    (mine,) = least(rounds, lambda: [the_verdict(check(job)) for job in jobs])
    return BesideBrowser(*(one / len(books) for one in (mine, *_in_browser(books, rounds))))


def _in_browser(books: Sequence[Book], rounds: int) -> Sequence[float]:
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    if program is None:
        raise RuntimeError("there is no Chromium to compare with")
    row = catalogue.font_rows()[0]
    page = _PAGE % {
        "font": base64.b64encode((catalogue.fonts_folder() / row.file).read_bytes()).decode(),
        "wide": pt_from_mm(PANEL.width_mm) * _CSS_PX_A_PT,
        "high": pt_from_mm(PANEL.height_mm) * _CSS_PX_A_PT,
        "titles": json.dumps([book.title for book in books]),
        "least": _LEAST_PT,
        "most": _MOST_PT,
        "step": _STEP_PT,
        "start": _START_PT,
        "shrink": _SHRINK_PT,
        "rounds": rounds,
    }
    found: list[Sequence[float]] = []
    heard = threading.Event()

    class Server(http.server.BaseHTTPRequestHandler):
        """Gives the page and hears its answer."""

        def do_GET(self) -> None:
            self.send_response(200 if self.path == "/" else 404)
            self.send_header("Content-Type", "text/html; charset=utf-8")
            self.end_headers()
            if self.path == "/":
                self.wfile.write(page.encode())

        def do_POST(self) -> None:
            found.append(json.loads(self.rfile.read(int(self.headers["Content-Length"]))))
            self.send_response(204)
            self.end_headers()
            heard.set()

        def log_message(self, format: str, *args: object) -> None:
            """Nothing."""

    with (
        http.server.ThreadingHTTPServer(("127.0.0.1", 0), Server) as server,
        tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder,
    ):
        threading.Thread(target=server.serve_forever, daemon=True).start()
        address = f"http://127.0.0.1:{server.server_address[1]}/"
        options = ["--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={folder}"]
        options += ["--disable-dev-shm-usage", "--disable-background-networking"]
        with subprocess.Popen(
            [program, *options, "--remote-debugging-port=0", address],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        ) as browser:
            try:
                if not heard.wait(_WAIT_FOR_BROWSER):
                    raise RuntimeError("the browser did not answer")
            finally:
                browser.terminate()
                server.shutdown()
    return found[0]
