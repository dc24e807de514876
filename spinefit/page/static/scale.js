// The scale of sizes beside the back: from the smallest that holds to the largest, live.

import { book, change, job } from "./job.js";
import { isSet, put, titleAt } from "./fields.js";
import { h, showAnew } from "./dom.js";
import { WORDS } from "./words.js";

const STEP_PT = 0.1;

// A plan gives each text its size; asked for is only what was typed.
const isAsked = () => Boolean(job.draft.values.size || book().texts[titleAt()]?.size);

export function showScale(section, text) {
  const least = text?.smallest_pt;
  if (!text || !text.largest_pt) return showAnew(section);
  const low = Math.min(least ?? text.set_pt, text.largest_pt, text.set_pt);
  const high = Math.max(text.largest_pt, text.set_pt, low + STEP_PT);
  const sizes = text.sizes_pt.filter((size) => size >= low - STEP_PT && size <= high * 1.5);
  const mark = (size, words, id) => size === null || size === undefined ? null
    : h("li", {}, h("button", { type: "button", id, onclick: () => setSize(size) }, `${WORDS.pt(size)} ${words}`));
  showAnew(section,
    h("label", { for: "scale" }, WORDS.size),
    h("input", {
      type: "range", id: "scale", min: low, max: high, step: sizes.length ? "any" : STEP_PT,
      list: "sizes", value: text.set_pt, "aria-valuetext": `${WORDS.pt(text.set_pt)}, ${text.verdict}`,
      oninput: (event) => setSize(nearest(Number(event.target.value), sizes)),
    }),
    h("datalist", { id: "sizes" }, sizes.map((size) => h("option", { value: size }))),
    h("ul", {},
      mark(text.largest_pt, WORDS.largest, "scale-largest"),
      h("li", { class: "now" }, `${WORDS.pt(text.set_pt)} ${isAsked() ? WORDS.asked : WORDS.advised}`),
      mark(least, WORDS.smallest, "scale-smallest"),
      isAsked() ? h("li", {}, h("button", { type: "button", id: "scale-advised", onclick: () => setSize(null) }, WORDS.asAdvised)) : null));
}

const nearest = (size, sizes) => sizes.length
  ? sizes.reduce((a, b) => (Math.abs(b - size) < Math.abs(a - size) ? b : a))
  : Number(size.toFixed(1));

function setSize(size) {
  const typed = size === null ? "" : String(Math.floor(size * 1000) / 1000);
  change("size", (draft) => {
    const texts = draft.volumes[job.at].texts;
    if (texts.length > 1 && !draft.values.panel && !draft.values["label-size"] && !isSet()) put(texts[titleAt()], "size", typed);
    else put(draft.values, "size", typed);
  });
}
