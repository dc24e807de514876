"""How do many books stand on one page of HTML?

The one door to jinja2. In: answered rows. Out: a self-contained page in three parts, head, rows
and foot, so that rows can be written as they come: a table with a thumbnail a book that can be
sorted and searched, also while it is still incomplete. It asks nothing of a network; its policy
(W3C, Content Security Policy Level 3) lets its own style and script run, known by their
digests, and nothing else.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable, Mapping, Sequence

from jinja2 import DictLoader, Environment, StrictUndefined

from spinefit.batch.books import Answered
from spinefit.batch.text_table import figure, summary
from spinefit.batch.thumbnail import Picture, picture
from spinefit.errors import one_line

__all__ = ["foot", "head", "rows"]

_STYLE = """
:root{color-scheme:light dark}
body{font:16px/1.45 system-ui,sans-serif;margin:1.5rem auto;max-width:80rem;padding:0 1rem}
table{border-collapse:collapse;width:100%}
th,td{text-align:left;vertical-align:top;padding:.4rem .6rem;border-bottom:1px solid #8886}
th button{font:inherit;font-weight:600;background:none;border:0;padding:0;color:inherit}
th button{cursor:pointer}
th[aria-sort=ascending] button::after{content:" \\2191"}
th[aria-sort=descending] button::after{content:" \\2193"}
.figure{text-align:right;font-variant-numeric:tabular-nums}
.verdict{font-weight:600;white-space:nowrap}
.no .verdict{text-decoration:underline}
svg{background:#fff;border:1px solid #888;display:block}
path{fill:#111;fill-rule:nonzero}
input{font:inherit;padding:.3rem .5rem;width:min(30rem,100%);box-sizing:border-box}
[hidden]{display:none}
@media print{label{display:none}tr{break-inside:avoid}}
"""

_SCRIPT = """
addEventListener("DOMContentLoaded", () => {
  const body = document.querySelector("tbody"), shown = document.querySelector("output");
  const search = document.querySelector("input");
  const plain = (text) => text.normalize("NFKD").replace(/\\p{M}/gu, "").toLowerCase();
  const find = () => {
    const words = plain(search.value).split(/\\s+/).filter(Boolean);
    let count = 0;
    for (const row of body.rows) {
      row.said ??= plain(row.textContent);
      row.hidden = !words.every((word) => row.said.includes(word));
      count += !row.hidden;
    }
    shown.textContent = `${count} of ${body.rows.length} rows`;
  };
  search.addEventListener("input", find);
  find();
  document.querySelectorAll("th button").forEach((button) => {
    button.addEventListener("click", () => {
      const head = button.parentElement, at = head.cellIndex;
      const down = head.ariaSort === "ascending" ? -1 : 1;
      document.querySelectorAll("th").forEach((other) => other.removeAttribute("aria-sort"));
      head.setAttribute("aria-sort", down === 1 ? "ascending" : "descending");
      const figures = head.className === "figure";
      const key = (row) => row.cells[at].textContent.trim();
      const rows = [...body.rows].map((row) => [figures ? parseFloat(key(row)) : key(row), row]);
      const order = new Intl.Collator(document.documentElement.lang, {numeric: true});
      const empty = (value) => value === "" || Number.isNaN(value);
      rows.sort(([a], [b]) => empty(a) - empty(b)
        || down * (figures ? a - b : order.compare(a, b)) || 0);
      body.append(...rows.map(([, row]) => row));
    });
  });
});
"""

_HEAD = """<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{{ policy }}">
<meta name="viewport" content="width=device-width">
<title>Overview of the books</title>
<style>{{ style|safe }}</style>
<script>{{ script|safe }}</script>
</head>
<body>
<h1>Overview of the books</h1>
<p>Sizes in DTP points, the least spare in millimetres, negative where ink stands over.</p>
<p><label>Search <input type="search"></label> <output></output></p>
<table>
<thead><tr>
{%- for name, figure in columns %}<th scope="col"{% if figure %} class="figure"{% endif %}>
{%- if name == "Panel" %}{{ name }}{% else %}<button type="button">{{ name }}</button>{% endif -%}
</th>{% endfor %}</tr></thead>
<tbody>
"""

_ROWS = """
{%- for one in rows -%}
<tr{% if not one.fits %} class="no"{% endif %}><td class="figure">{{ one.line }}</td>
{%- for cell in one.kept %}<td>{{ cell }}</td>{% endfor -%}
<td>{{ one.title }}</td><td>
{%- for drawn in one.pictures -%}
<svg role="img" aria-label="{{ one.title }}"
{#- #} viewBox="0 0 {{ drawn.width_mm }} {{ drawn.height_mm }}"
{#- #} height="{{ (drawn.height_mm * one.scale) | round(1) }}">
{#- -#}<path d="{{ drawn.path }}"/></svg>{% endfor -%}
</td><td class="verdict">{{ one.verdict }}</td><td class="figure">{{ one.set_pt }}</td>
{#- -#}<td class="figure">{{ one.largest_pt }}</td><td>{{ one.reading }}</td>
{#- -#}<td class="figure">{{ one.spare_mm }}</td><td>{{ one.answer }}</td></tr>
{% endfor -%}
"""

_FOOT = """</tbody>
</table>
<p>{{ summary }}.</p>
</body>
</html>
"""


def _environment() -> Environment:
    return Environment(
        loader=DictLoader({"head": _HEAD, "rows": _ROWS, "foot": _FOOT}),
        autoescape=True,
        undefined=StrictUndefined,
        keep_trailing_newline=True,
    )


_TEMPLATES = _environment()


def _digest(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def head(kept: Sequence[str]) -> str:
    """The page as far as its first row.

    Args:
        kept: names of the columns carried along.
    """
    columns = [("Line", True), *((name, False) for name in kept), ("Title", False)]
    columns += [("Panel", False), ("Verdict", False), ("Set", True), ("Largest", True)]
    columns += [("Way", False), ("Spare", True), ("Answer", False)]
    return _TEMPLATES.get_template("head").render(
        policy=f"default-src 'none'; style-src {_digest(_STYLE)}; script-src {_digest(_SCRIPT)}; "
        "base-uri 'none'; form-action 'none'",
        style=_STYLE,
        script=_SCRIPT,
        columns=columns,
    )


def rows(answered: Iterable[Answered]) -> str:
    """The rows of the table."""
    return _TEMPLATES.get_template("rows").render(rows=map(_shown, answered))


def foot(counts: Mapping[str, int]) -> str:
    """The page from its last row on."""
    return _TEMPLATES.get_template("foot").render(summary=summary(counts))


def _shown(one: Answered) -> dict[str, object]:
    found = one.result
    drawn = [own for job, report in one.texts if (own := picture(job, report)) is not None]
    return {
        "line": found.line,
        "kept": [one_line(cell) for cell in one.row.kept],
        "title": one_line(found.title),
        "pictures": drawn,
        "scale": _scale(drawn),
        "fits": found.verdict in ("fits", "tight"),
        "verdict": found.verdict or "at fault",
        "set_pt": figure(found.set_pt),
        "largest_pt": figure(found.largest_pt),
        "reading": found.reading,
        "spare_mm": figure(found.spare_mm),
        "answer": found.answer if found.fault is None else one_line(found.fault.line),
    }


_TALL_PX, _WIDE_PX = 112.0, 160.0  # the pictures of a book stand in a thumb's room


def _scale(drawn: Sequence[Picture]) -> float:
    """Pixels a mm at which the pictures of a book, from head to tail, take no more room."""
    if not drawn:
        return 1.0
    tall = _TALL_PX / sum(one.height_mm for one in drawn)
    return min(tall, _WIDE_PX / max(one.width_mm for one in drawn))
