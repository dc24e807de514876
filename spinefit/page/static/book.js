// The book: what is lettered and how large it is, beside a drawn back that shows each measure.

import { choices, described, explained, field, isSet, leaveOnly, options, valueOf } from "./fields.js";
import { change } from "./job.js";
import { h, s, show } from "./dom.js";
import { WORDS } from "./words.js";

const OF_PLACE = {
  back: ["width", "height", "back", "bands"],
  panel: ["panel"],
  board: ["front-board", "board-label"],
};
const GIVES = { back: "width", panel: "panel", board: "front-board" };
let place = null;
let measured = "width";

const placeOf = () => place
  ?? (valueOf("panel") ? "panel" : valueOf("front-board") ? "board" : "back");

export const forget = () => { place = null; };

export function showBook(section) {
  const now = placeOf();
  const names = [...OF_PLACE[now]];
  if (now === "back" && valueOf("back") === "rounded") names.push("arc", "rise");
  if (now === "back" && Number(valueOf("bands")) > 0) names.push("band-height", "title-panel");
  if (now === "back") names.push("label-size");
  const figure = h("div", { class: "figure" });
  const focus = (name) => { measured = name; show(figure, drawn(now)); };
  show(section,
    h("h2", {}, WORDS.book),
    figure,
    isSet() ? null : choice(now, () => showBook(section)),
    names.map((name) => field(name, { focus })),
    now === "back" ? notMeasured() : null,
    ["covering-colour", "ink-colour", ...(now === "back" ? ["old-lettering"] : []), "market", "language"]
      .map((name) => field(name, { focus })));
  show(figure, drawn(now));
  // As it is typed, so that what it brings stands there before one goes on to it.
  section.querySelector("#field-back")?.addEventListener("change", () => showBook(section));
  section.querySelector("#field-bands")?.addEventListener("input", () => showBook(section));
}

// Letter another place, whose measure is to be given next.
export function letterPlace(chosen) {
  change("place", (draft) => leaveOnly(draft, chosen));
  place = chosen;
  showBook(document.getElementById("book"));
  document.getElementById(`field-${GIVES[chosen]}-0`)?.focus();
}

// A book that nobody could measure yet has the thickness of its leaves.
function notMeasured() {
  const heading = described("extent")?.heading;
  const own = choices.fields.filter((one) => one.heading === heading);
  return h("details", { open: own.some((one) => valueOf(one.name)) }, h("summary", {}, WORDS.notMeasured), own.map(explained));
}

export function redraw(section) {
  const figure = section.querySelector(".figure");
  if (figure) show(figure, drawn(placeOf()));
}

function choice(now, again) {
  const pairs = Object.entries(WORDS.places);
  const control = options(pairs, now, (chosen) => {
    change("place", (draft) => leaveOnly(draft, chosen));
    place = chosen;
    again();
  });
  control.id = "place";
  return h("div", { class: "field" }, h("label", { for: "place" }, WORDS.where), control);
}

const mm = (text, otherwise) => {
  const found = /(\d+(?:[.,]\d+)?)/.exec(String(text ?? ""));
  const unit = /in|"/.test(String(text)) ? 25.4 : /cm/.test(String(text)) ? 10 : 1;
  return found ? Number(found[1].replace(",", ".")) * unit : otherwise;
};

// A back as it lies before one, not to scale with what is judged: it says which measure is meant.
function drawn(now) {
  if (now !== "back") return flat(now);
  const wide = Math.min(90, Math.max(14, mm(valueOf("width"), 30) * 1.6));
  const left = 150 - wide / 2;
  const right = 150 + wide / 2;
  const round = valueOf("back") === "rounded";
  const bands = Math.min(9, Math.round(mm(valueOf("bands"), 0)));
  const top = 36;
  const tail = 168;
  return s("svg", { viewBox: "0 0 300 200", class: "measures", "aria-hidden": "true" },
    round
      ? s("path", { d: `M${left} 26 Q150 ${8} ${right} 26`, class: on("arc", "rise", "back") })
      : s("path", { d: `M${left} 26H${right}`, class: on("back") }),
    s("rect", { x: left, y: top, width: wide, height: tail - top, class: "back" }),
    Array.from({ length: bands }, (_, at) => s("rect", {
      x: left - 2, width: wide + 4, height: 4, class: `band ${on("bands", "band-height")}`,
      y: top + ((at + 1) * (tail - top)) / (bands + 1) - 2,
    })),
    measure(left, 178, right, 178, "width"),
    measure(right + 16, top, right + 16, tail, "height"));
}

function flat(now) {
  const name = GIVES[now];
  const [wide, high] = String(valueOf(name) ?? "").split(/[x×]/);
  return s("svg", { viewBox: "0 0 300 200", class: "measures", "aria-hidden": "true" },
    s("rect", { x: 100, y: 40, width: 100, height: 126, class: "back" }),
    measure(100, 178, 200, 178, name, wide), measure(216, 40, 216, 166, name, high));
}

const on = (...names) => (names.includes(measured) ? "measure on" : "measure");

function measure(x1, y1, x2, y2, name, said = valueOf(name)) {
  const across = y1 === y2;
  const ends = across
    ? `M${x1} ${y1 - 4}v8M${x2} ${y2 - 4}v8` : `M${x1 - 4} ${y1}h8M${x2 - 4} ${y2}h8`;
  const words = s("text", across
    ? { x: (x1 + x2) / 2, y: y1 + 15, "text-anchor": "middle" } : { x: x1 + 6, y: (y1 + y2) / 2 });
  words.textContent = String(said ?? "");
  return s("g", { class: on(name) }, s("path", { d: `M${x1} ${y1}L${x2} ${y2}${ends}` }), words);
}
