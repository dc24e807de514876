// Fields of the job file, each with its words and, where it is at fault, the sentence beside it.

import { book, change, job } from "./job.js";
import { h } from "./dom.js";
import { isSaid } from "./toml.js";
import { WORDS } from "./words.js";

export const choices = { fields: [], sheet: [], methods: [], markets: [], fonts: [], roles: [] };
const OF_A_VOLUME = new Set(["width", "height", "arc", "rise", "extent"]);

export const isSet = () => job.draft.volumes.length > 1;
const OF_PLACE = {
  back: (one) => ["width", "extent", "bands"].some((name) => one.heading === described(name)?.heading)
    || one.name === "label-size" || one.name === "old-lettering",
  panel: (one) => one.name === "panel",
  board: (one) => one.heading === described("front-board")?.heading,
};
const GIVES = { panel: "panel", "front-board": "board" };
const SIDES = new Set(["panel", "label-size", "front-board", "board-label", "old-lettering"]);

export const described = (name) => choices.fields.find((field) => field.name === name);

export const valueOf = (name) => book().values[name] ?? job.draft.values[name];

export function setValue(name, value) {
  change(`field ${job.at} ${name}`, (draft) => {
    const own = draft.volumes[job.at].values;
    const there = isSet() && (name in own || (OF_A_VOLUME.has(name) && !(name in draft.values)));
    put(there ? own : draft.values, name, value);
  });
}

// What only another place of the book has says nothing here, and would be refused.
export function leaveOnly(draft, chosen) {
  const others = Object.keys(OF_PLACE).filter((place) => place !== chosen);
  for (const one of choices.fields.filter((field) => others.some((place) => OF_PLACE[place](field)))) {
    for (const values of [draft.values, draft.volumes[job.at].values]) delete values[one.name];
  }
}

// Make what a remedy or another setting asks for, in one step that can be undone.
export function apply(edit) {
  change(`edit ${JSON.stringify(edit)}`, (draft) => {
    const own = draft.volumes[job.at];
    for (const [name, value] of Object.entries(edit.values ?? {})) {
      if (name in GIVES) leaveOnly(draft, GIVES[name]);
      put(name in own.values ? own.values : draft.values, name, value);
    }
    for (const [at, volume] of draft.volumes.entries()) {
      const own = edit.volumes?.[at];
      volume.texts = volume.texts.filter((text) => edit.texts?.[text.role] !== null);
      for (const text of volume.texts) {
        const said = { ...edit.texts?.[text.role], ...edit.labels?.[text.label], ...own?.[text.role] };
        for (const [name, value] of Object.entries(said)) put(text, name, value);
        const lines = edit.breaks?.[text.role]; // just these: no other space breaks
        if (lines) text.text = broken(text.text, lines, "\u00a0");
        if (edit.free && isBound(text.text)) text.text = text.text.replaceAll(" / ", " ").replaceAll("\u00a0", " ");
      }
    }
    for (const [at, apart] of Object.entries(edit.apart ?? {})) draft.volumes[at].apart = apart;
  }, "whole");
}

// Whether a setting that was chosen has left no space free.
const isBound = (text) => text && !text.replaceAll(" / ", "").includes(" ");

// The words as typed, in the lines that are shown: those may be in other letters.
export function broken(typed, lines, space = " ") {
  const words = typed.replaceAll(" / ", " ").split(/[ \t\n]+/);
  const counts = lines.map((line) => line.split(" ").length);
  if (counts.reduce((a, b) => a + b) !== words.length) return lines.join(" / ");
  return counts.map((count) => words.splice(0, count).join(space)).join(" / ");
}

// The options of the command line are the fields of this page: their words, as they stand here.
export const labelOf = (name) => WORDS.measures[name] ?? WORDS.fields[name] ?? name.replaceAll("-", " ");
export const inWords = (text) => String(text ?? "").replace(/--([a-z][a-z-]*[a-z])/g,
  (option, name) => (described(name) || choices.sheet.some((one) => one.name === name) ? WORDS.quoted(labelOf(name)) : option));

export function put(values, name, value) {
  if (isSaid(value)) values[name] = value;
  else delete values[name];
}

const asTyped = (value) => (Array.isArray(value) ? value.join("; ") : String(value ?? ""));
const idOf = (name) => `field-${name}`;

// A labelled control with room for what is wrong beside it.
export function labelled(id, label, control, after = null) {
  control.id = id;
  control.setAttribute("aria-describedby", `${id}-fault`);
  const first = control.matches("input, select, button") ? id : control.querySelector("input")?.id;
  return h("div", { class: "field" },
    h("label", { for: first }, label), control, after,
    h("p", { class: "fault", id: `${id}-fault`, hidden: true }));
}

export function field(name, { label = labelOf(name), example, focus } = {}) {
  const known = described(name);
  const words = known?.words ?? [];
  const control = SIDES.has(name) ? sides(name, label)
    : words.length || known?.flag ? chooser(name, words, known) : typed(name, example);
  if (focus) control.addEventListener("focusin", () => focus(name));
  const shared = isSet() && OF_A_VOLUME.has(name) ? forAll(name) : null;
  return labelled(idOf(name), label, control, shared);
}

// One of the many that are seldom said, with what it means.
export function explained(one) {
  const made = field(one.name, { example: one.metavar });
  made.append(h("p", { class: "meaning" }, inWords(one.meaning)));
  return made;
}

function typed(name, example = WORDS.examples[name] ?? WORDS.unknown) {
  return h("input", {
    list: name === "market" ? "markets" : null,
    value: asTyped(valueOf(name)), placeholder: example, autocomplete: "off", spellcheck: "false",
    oninput: (event) => setValue(name, many(name, event.target.value)),
  });
}

// Width and height, and of old lettering how far from the head, each in a field of its own.
function sides(name, label) {
  const [extents, from] = asTyped(valueOf(name)).split("@");
  const parts = [...extents.split(/[x×]/), "", ""].slice(0, 2);
  if (name === "old-lettering") parts.push(from ?? "");
  const keep = (at, text) => {
    parts[at] = text.trim();
    const [wide, high, down] = parts;
    setValue(name, parts.every((part) => !part) ? "" : `${wide}x${high}${down ? `@${down}` : ""}`);
  };
  return h("span", { class: "sides", role: "group", "aria-label": label }, parts.map((part, at) => h("input", {
    id: `${idOf(name)}-${at}`, value: part, placeholder: WORDS.sides[at], "aria-label": `${label}: ${WORDS.sides[at]}`,
    autocomplete: "off", spellcheck: "false", oninput: (event) => keep(at, event.target.value),
  })));
}

function many(name, text) {
  if (!described(name)?.many || !text.includes(";")) return text;
  return text.split(";").map((part) => part.trim()).filter(Boolean);
}

function chooser(name, words, known) {
  const usual = /\[([^\]]*)\]\s*$/.exec(known?.meaning ?? "")?.[1] ?? WORDS.unknown;
  const value = valueOf(name) === true ? "yes" : asTyped(valueOf(name));
  const unsaid = words.includes(usual) ? `${usual}, ${WORDS.unsaid}` : usual;
  return options([["", unsaid], ...(known?.flag ? ["yes", "no"] : words).map((word) => [word, word])],
    value, (chosen) => setValue(name, chosen));
}

export function options(pairs, value, chosen) {
  const all = pairs.some(([own]) => own === value) ? pairs : [...pairs, [value, value]];
  return h("select", { onchange: (event) => chosen(event.target.value) },
    all.map(([own, words]) => h("option", { value: own, selected: own === value }, words)));
}

function forAll(name) {
  const id = `${idOf(name)}-all`;
  return h("label", { class: "for-all", for: id },
    h("input", {
      type: "checkbox", id, checked: name in job.draft.values && !(name in book().values),
      onchange: (event) => change(`all ${name}`, (draft) => shareOrPart(draft, name, event.target.checked)),
    }), WORDS.forAll);
}

function shareOrPart(draft, name, share) {
  const value = valueOf(name);
  for (const one of draft.volumes) {
    if (share) delete one.values[name];
    else put(one.values, name, one.values[name] ?? value);
  }
  if (share) put(draft.values, name, value);
  else delete draft.values[name];
}

// Say what is wrong beside the field that caused it; true where there is such a field.
export function showFault(where, text) {
  for (const one of document.querySelectorAll(".fault")) one.hidden = true;
  for (const one of document.querySelectorAll("[aria-invalid]")) one.removeAttribute("aria-invalid");
  if (!text) return true;
  const named = placeOf(where);
  const others = [named?.replace(/^field-/, "own-"), named?.replace(/-text$/, "-rule")];
  const id = [named, ...others].find((one) => document.getElementById(`${one}-fault`));
  if (!id) return false;
  const place = document.getElementById(`${id}-fault`);
  place.textContent = inWords(text);
  place.hidden = false;
  place.closest("details")?.setAttribute("open", "");
  document.getElementById(id).setAttribute("aria-invalid", "true");
  return true;
}

// The id of the control that a fault is about: "width", "text 2: size", "volume 1: width".
function placeOf(where) {
  const [, volume, rest] = /^(?:volume (\d+)(?:: )?)?(.*)$/.exec(where);
  if (volume && Number(volume) - 1 !== job.at) return null;
  const text = /^text (\d+)(?:: (.*))?$/.exec(rest);
  if (text) return `text-${Number(text[1]) - 1}-${text[2] ?? "text"}`;
  if (rest === "title") return `text-${titleAt()}-text`;
  return idOf(rest);
}

export const titleAt = () => Math.max(0, book().texts.findIndex((text) => text.role === "title"));
