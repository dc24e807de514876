// The lettering: the method and its cautions, the typeface, the drawer of sizes, and all the rest.

import { ask, giveFile } from "./ask.js";
import { choices, described, explained, field, labelled, labelOf, options, setValue, valueOf } from "./fields.js";
import { job, layBeside, title } from "./job.js";
import { digestOf, keepFile } from "./keep.js";
import { drawing, h, show } from "./dom.js";
import { showTools } from "./tools.js";
import { WORDS } from "./words.js";

export const MOST_BYTES = 20 * 1024 * 1024;
export const FONT = /\.(ttf|otf|ttc|otc|woff2?)$/i;
const SHOWN = new Set(["width", "height", "back", "arc", "rise", "bands", "band-height", "title-panel",
  "label-size", "panel", "front-board", "board-label", "covering-colour", "ink-colour",
  "old-lettering", "market", "language", "method", "font", "case", "tracking", "sizes", "customer",
  "job-number", "copies", "size", "tools"]);

export function showLettering(section, failed) {
  const again = () => showLettering(section, failed);
  const method = choices.methods.find((one) => one.name === valueOf("method"));
  const hand = h("div", {});
  show(section, h("h2", {}, WORDS.lettering),
    methods(again),
    method?.caution ? h("p", { class: "caution" }, method.caution) : null,
    method?.tools
      ? [hand, opening("tools", WORDS.ownTools, ".toml", again, failed)]
      : [typeface(), opening("font", WORDS.ownFont, ".ttf,.otf,.ttc,.otc,.woff,.woff2", again, failed)],
    field("case"),
    field("tracking", { example: "0" }),
    field("sizes"),
    h("details", { id: "more", open: document.getElementById("more")?.open ?? false }, h("summary", {}, WORDS.more), rest()));
  if (method?.tools) showTools(hand, lay, failed);
}

function methods(again) {
  const pairs = [["", WORDS.methodUnsaid], ...choices.methods.map((one) => [one.name, one.words])];
  const control = options(pairs, valueOf("method") ?? "", (chosen) => { setValue("method", chosen); again(); });
  return labelled("field-method", labelOf("method"), control);
}

// Each typeface with the words themselves set in it.
function typeface() {
  const own = Object.keys(job.files).filter((name) => FONT.test(name));
  const now = valueOf("font") ?? "";
  const names = ["", ...choices.fonts.map((one) => one.name), ...own];
  if (now && !names.includes(now)) names.push(now);
  const list = h("fieldset", { class: "samples" }, h("legend", {}, WORDS.typeface), names.map((name, at) =>
    h("label", { for: `font-${at}` },
      h("input", { type: "radio", name: "font", id: `font-${at}`, value: name, checked: name === now, onchange: () => setValue("font", name) }),
      h("span", {}, h("span", { class: "sample", "data-font": name }), h("span", { class: name ? "soft" : "" }, name || WORDS.typefaceUnsaid)))),
  h("p", { class: "fault", id: "field-font-fault", hidden: true }));
  list.id = "field-font";
  const scrolled = document.getElementById(list.id)?.scrollTop ?? 0;
  fill(list); // as they were last, until there are others
  setTimeout(() => {
    list.scrollTop = scrolled;
    showSamples(list, names.filter(Boolean));
  });
  return list;
}

let sampled = { words: null, fonts: "", samples: {} };

async function showSamples(list, fonts) {
  const words = title();
  if (sampled.words !== words || sampled.fonts !== fonts.join()) {
    const files = Object.fromEntries(Object.entries(job.files).filter(([name]) => fonts.includes(name)));
    const found = await ask("samples", { words, fonts, files }).catch(() => null);
    if (!found?.samples) return;
    sampled = { words, fonts: fonts.join(), samples: found.samples };
  }
  fill(list);
}

function fill(list) {
  for (const place of list.querySelectorAll(".sample")) {
    const svg = sampled.samples[place.dataset.font];
    if (!svg) continue;
    const made = drawing(svg);
    made.setAttribute("preserveAspectRatio", "xMinYMid");
    show(place, made);
  }
}

export function sampleAgain() {
  const list = document.getElementById("field-font");
  if (list) showSamples(list, [...list.querySelectorAll("input")].map((one) => one.value).filter(Boolean));
}

// A file of one's own lies beside the job, here as on the disk.
function opening(name, label, endings, again, failed) {
  const control = h("input", {
    type: "file", accept: endings,
    onchange: async (event) => {
      const [file] = event.target.files;
      if (!file) return;
      if (file.size > MOST_BYTES) return failed(WORDS.cannotOpen(file.name, WORDS.tooLarge));
      await lay(file);
      setValue(name, file.name);
      again();
    },
  });
  return labelled(`own-${name}`, label, control);
}

export async function lay(file) {
  const data = await file.arrayBuffer();
  const digest = await digestOf(data);
  await keepFile(digest, { name: file.name, data });
  layBeside(file.name, digest);
  giveFile(data).catch(() => {}); // asked for again with the next question
  return digest;
}

function rest() {
  const ofLeaves = described("extent").heading; // shown with the book
  const left = choices.fields.filter((one) => !SHOWN.has(one.name) && one.heading !== ofLeaves);
  return choices.headings.map((heading) => {
    const own = left.filter((one) => one.heading === heading);
    return own.length
      ? h("fieldset", {}, h("legend", {}, heading), own.map(explained))
      : null;
  });
}
