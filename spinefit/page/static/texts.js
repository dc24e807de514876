// The words: each text of the back or label, with breaks chosen between its words.

import { choices, labelled, labelOf, options, put, titleAt, valueOf } from "./fields.js";
import { book, change, job } from "./job.js";
import { h, show } from "./dom.js";
import { WORDS } from "./words.js";

const ORDER = ["author", "rule", "title", "subtitle", "volume", "date", "call-number", "imprint"];
const NO_BREAK = "\u00a0";

const textsOf = (draft) => draft.volumes[job.at].texts;
const words = (role) => choices.roles.find((one) => one.name === role)?.words ?? role;

export function showTexts(section) {
  const again = () => showTexts(section);
  show(section, h("h2", {}, WORDS.text),
    h("ol", { class: "texts" }, book().texts.map((text, at) => one(text, at, again))),
    adding(again),
    ["customer", "job-number", "copies"].map(commission));
}

function commission(name) {
  const control = h("input", {
    value: job.draft.values[name] ?? "", autocomplete: "off",
    oninput: (event) => change(name, (draft) => put(draft.values, name, event.target.value)),
  });
  return labelled(`field-${name}`, labelOf(name), control);
}

function one(text, at, again) {
  const many = book().texts.length > 1;
  const tools = many ? h("span", { class: "tools" },
    small(`up-${at}`, "↑", `${WORDS.up}: ${words(text.role)}`, at > 0, () => move(at, at - 1, again)),
    small(`down-${at}`, "↓", `${WORDS.down}: ${words(text.role)}`, at < book().texts.length - 1, () => move(at, at + 1, again)),
    small(`remove-${at}`, "×", `${WORDS.removeText}: ${words(text.role)}`, true, () => {
      change("", (draft) => textsOf(draft).splice(at, 1));
      again();
      document.getElementById("add-text").focus();
    })) : null;
  if (text.role === "rule") return h("li", {}, ruled(text, at, tools));
  const breaks = h("p", { class: "breaks" });
  const control = h("input", {
    class: "words", value: shownWords(text.text), autocomplete: "off", dir: "auto",
    oninput: (event) => {
      change(`text ${job.at} ${at}`, (draft) => { textsOf(draft)[at].text = event.target.value; });
      show(breaks, between(at));
    },
  });
  show(breaks, between(at));
  const label = words(text.role);
  return h("li", {}, labelled(`text-${at}-text`, label.charAt(0).toUpperCase() + label.slice(1), control, tools), breaks);
}

const shownWords = (text) => String(text ?? "");

function ruled(text, at, tools) {
  const control = options(choices.rules.map((rule) => [rule, rule]), text.rule ?? "thin", (chosen) =>
    change(`text ${at} rule`, (draft) => { textsOf(draft)[at].rule = chosen; }));
  return labelled(`text-${at}-rule`, WORDS.rule, control, tools);
}

// A button between each two words: free, always a break, never a break.
function between(at) {
  const typed = book().texts[at]?.text ?? "";
  const parts = typed.split(/( \/ |\u00a0|[ \t\n]+)/).filter((part) => part !== "");
  if (parts.length < 3) return [];
  return parts.map((part, place) => {
    if (place % 2 === 0) return h("b", {}, part);
    const state = part === " / " ? "broken" : part === NO_BREAK ? "kept" : "free";
    return h("button", {
      type: "button", class: `break ${state}`, id: `break-${at}-${place}`,
      "aria-label": WORDS.breaks[state](parts[place - 1], parts[place + 1]),
      onclick: () => turn(at, parts, place, state),
    }, { broken: "|", kept: "‿", free: "·" }[state]);
  });
}

const NEXT = { free: " / ", broken: NO_BREAK, kept: " " };

function turn(at, parts, place, state) {
  const made = parts.with(place, NEXT[state]).join("");
  change(`break ${at} ${place}`, (draft) => { textsOf(draft)[at].text = made; });
  const control = document.getElementById(`text-${at}-text`);
  control.value = shownWords(made);
  const breaks = control.closest("li").querySelector(".breaks");
  show(breaks, between(at));
  document.getElementById(`break-${at}-${place}`)?.focus();
}

function small(id, sign, name, able, act) {
  return h("button", { type: "button", id, class: "small", "aria-label": name, title: name, disabled: !able, onclick: act }, sign);
}

function move(from, to, again) {
  change("", (draft) => {
    const texts = textsOf(draft);
    texts.splice(to, 0, ...texts.splice(from, 1));
  });
  again();
  const [same, other] = to < from ? ["up", "down"] : ["down", "up"];
  const further = document.getElementById(`${same}-${to}`);
  (further.disabled ? document.getElementById(`${other}-${to}`) : further).focus();
}

function adding(again) {
  const there = new Set(book().texts.map((text) => text.role));
  const isBack = valueOf("width") && !valueOf("label-size"); // a rule stands on a label
  const left = ORDER.filter((role) => (role === "rule" ? !isBack : !there.has(role)));
  const control = options([["", `${WORDS.addText} …`], ...left.map((role) => [role, words(role)])], "", (role) => {
    if (!role) return;
    const at = placeFor(role);
    change("", (draft) => {
      textsOf(draft).splice(at, 0, role === "rule" ? { role, rule: "thin" } : { role, text: "" });
    });
    again();
    document.getElementById(role === "rule" ? `text-${at}-rule` : `text-${at}-text`)?.focus();
  });
  control.id = "add-text";
  return h("div", { class: "field" }, h("label", { for: "add-text" }, WORDS.addText), control);
}

// Where it stands by custom among those that are there; a rule stands above the title.
function placeFor(role) {
  if (role === "rule") return titleAt();
  const rank = ORDER.indexOf(role);
  const at = book().texts.findIndex((text) => text.role !== "rule" && ORDER.indexOf(text.role) > rank);
  return at < 0 ? book().texts.length : at;
}
