// The scale of sizes over the back: from the smallest that holds to the largest, live.

import { book, change, job } from "./job.js";
import { isSet, options, put } from "./fields.js";
import { h, show } from "./dom.js";
import { WORDS } from "./words.js";

const STEP_PT = 0.1;
let chosen = "title"; // whose size it is, where there are several texts

// Where the size of a text is said: of a title alone, and of a label, for the whole job.
function placesOf(draft, text) {
  const own = draft.volumes.flatMap((volume) => volume.texts.filter((one) => one.role === text.name));
  return text.name && own.length ? own : [draft.values];
}

// A plan gives each text its size; asked for is only what was typed.
const sizeAsked = (text) => placesOf(job.draft, text)[0].size ?? (text.name === "title" || !text.name ? job.draft.values.size : "");

export function showScale(section, texts) {
  const several = texts.filter((one) => one.largest_pt && (!one.name || book().texts.some((own) => own.role === one.name)));
  const text = several.find((one) => one.name === chosen) ?? several.find((one) => one.name === "title") ?? several[0];
  if (!text) return show(section);
  const again = (name) => { chosen = name; showScale(section, texts); };
  const asked = Boolean(sizeAsked(text));
  const least = text.smallest_pt;
  const low = Math.min(least ?? text.set_pt, text.largest_pt, text.set_pt);
  const high = Math.max(text.largest_pt, text.set_pt, low + STEP_PT);
  const sizes = text.sizes_pt.filter((size) => size >= low - STEP_PT && size <= high * 1.5);
  const offered = sizes.filter((size) => size >= (least ?? 0) && size <= text.largest_pt);
  const ends = sizes.length ? [offered[0], offered.at(-1)] : [least, text.largest_pt];
  const beside = (by) => sizes[sizes.indexOf(nearest(text.set_pt, sizes)) + by];
  const mark = (size, words, id) => size === null || size === undefined ? null
    : h("li", {}, h("button", { type: "button", id, onclick: () => setSize(text, size) }, `${WORDS.pt(size)} ${words}`));
  const of = options(several.map((one) => [one.name, one.name]), text.name, again);
  of.id = "scale-of";
  show(section,
    several.length > 1 ? [h("label", { for: "scale-of" }, WORDS.sizeOf), of] : null,
    h("label", { for: "scale" }, isSet() ? WORDS.sizeOfAll : WORDS.size),
    h("input", {
      type: "range", id: "scale", min: low, max: high, step: sizes.length ? "any" : STEP_PT,
      list: "sizes", value: text.set_pt, "aria-valuetext": `${WORDS.pt(text.set_pt)}, ${text.verdict}`,
      oninput: (event) => setSize(text, nearest(Number(event.target.value), sizes)),
      onkeydown: (event) => { // from one size of the drawer to the next
        const by = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[event.key];
        if (!sizes.length || !by) return;
        event.preventDefault();
        if (beside(by)) setSize(text, beside(by));
      },
    }),
    h("datalist", { id: "sizes" }, sizes.map((size) => h("option", { value: size }))),
    h("ul", {},
      mark(ends[0], WORDS.smallest, "scale-smallest"),
      h("li", { class: "now" }, `${WORDS.pt(text.set_pt)} ${asked ? WORDS.asked : WORDS.advised}, ${text.verdict}`),
      mark(ends[1], WORDS.largest, "scale-largest"),
      asked ? h("li", {}, h("button", { type: "button", id: "scale-advised", onclick: () => setSize(text, null) }, WORDS.asAdvised)) : null));
}

const nearest = (size, sizes) => sizes.length
  ? sizes.reduce((a, b) => (Math.abs(b - size) < Math.abs(a - size) ? b : a))
  : Number(size.toFixed(1));

// Volumes share the size of a text, so it is said in each.
function setSize(text, size) {
  const typed = size === null ? "" : String(Math.floor(size * 1000) / 1000);
  change(`size ${text.name}`, (draft) => {
    if (size === null && text.name === "title") put(draft.values, "size", "");
    for (const place of placesOf(draft, text)) put(place, "size", typed);
  });
}
