// True size on this screen: set once by a card or a ruler, and kept.

import { h, show } from "./dom.js";
import { WORDS } from "./words.js";

const CARD_MM = [85.6, 53.98]; // ID-1, ISO/IEC 7810
const RULER_MM = 100;
const PAPER_MM = [188, 250]; // what the usual papers, A4 and Letter, leave within the margins of a browser
const CSS_PX_PER_MM = 96 / 25.4; // what a browser takes a millimetre for
const FINE = 0.005; // px to the mm: less than half a px of a card
const KEY = "spinefit px per mm";
const WHOLE = "spinefit whole in view";

// How many px a millimetre is here; set by a page zoom of one, and so scaled with it by the browser.
export function pxPerMm() {
  const found = JSON.parse(localStorage.getItem(KEY) ?? "null");
  const now = window.devicePixelRatio || 1;
  return found ? (found.px * found.ratio) / now : CSS_PX_PER_MM;
}

function trueSizeInWords() {
  const found = JSON.parse(localStorage.getItem(KEY) ?? "null");
  const by = found && (found.by === "ruler" ? WORDS.trueSize.byRuler : WORDS.trueSize.byCard);
  return by ? WORDS.trueSize.set(by) : WORDS.trueSize.unset;
}

// Gives a drawing its size: so many millimetres, which are other px on paper than on this screen.
export function atTrueSize(svg) {
  const sides = ["width", "height"].map((side) => [side, parseFloat(svg.getAttribute(side))]);
  for (const [side, mm] of sides) svg.style.setProperty(`--${side}`, mm);
  svg.classList.toggle("larger-than-paper", sides.some(([, mm], at) => mm > PAPER_MM[at]));
  return svg;
}

// The whole of a drawing may be wanted in view, which is then not at true size.
export function showScaleOfScreen(state, whole, drawings) {
  const fitted = localStorage.getItem(WHOLE) === "yes";
  document.documentElement.style.setProperty("--mm", `${pxPerMm()}px`);
  drawings.classList.toggle("whole", fitted);
  whole.setAttribute("aria-pressed", String(fitted));
  state.textContent = fitted ? WORDS.trueSize.fitted : trueSizeInWords();
}

export function turnWhole() {
  localStorage.setItem(WHOLE, localStorage.getItem(WHOLE) === "yes" ? "no" : "yes");
}

export function setTrueSize(dialog, done) {
  let by = "card";
  let px = pxPerMm();
  const box = h("div", { class: "measure-box", "aria-hidden": "true" });
  const range = h("input", {
    type: "range", id: "true-size", min: 1.5, max: 12, step: FINE, value: px,
    oninput: (event) => { px = Number(event.target.value); resize(); },
  });
  const finer = (words, by) => h("button", { type: "button", onclick: () => {
    px = Number((px + by).toFixed(3));
    range.value = px;
    resize();
  } }, words);
  const resize = () => {
    const [wide, high] = by === "card" ? CARD_MM : [RULER_MM, 12];
    box.style.width = `${wide * px}px`;
    box.style.height = `${high * px}px`;
  };
  const choice = (own, words) => h("label", {}, h("input", {
    type: "radio", name: "true-size-by", checked: own === by, onchange: () => { by = own; resize(); },
  }), words);
  show(dialog, h("h2", { id: "true-size-title" }, WORDS.trueSize.title),
    choice("card", WORDS.trueSize.card), choice("ruler", WORDS.trueSize.ruler), box,
    h("label", { for: "true-size" }, WORDS.trueSize.wide), range,
    h("div", { class: "row" }, finer(WORDS.trueSize.narrower, -FINE), finer(WORDS.trueSize.wider, FINE)),
    h("div", { class: "row" },
      h("button", { type: "button", class: "go", id: "keep-size", onclick: () => {
        localStorage.setItem(KEY, JSON.stringify({ px, by, ratio: window.devicePixelRatio || 1 }));
        dialog.close();
        done();
      } }, WORDS.trueSize.keep),
      h("button", { type: "button", onclick: () => dialog.close() }, WORDS.cancel)));
  dialog.setAttribute("aria-labelledby", "true-size-title");
  resize();
  dialog.showModal();
}
