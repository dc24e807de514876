// The answer: the sentence, what to mind, the settings side by side, and what could be done.

import { letterPlace } from "./book.js";
import { apply, broken, inWords, isSet, valueOf } from "./fields.js";
import { book, job } from "./job.js";
import { drawing, h, show } from "./dom.js";
import { WORDS } from "./words.js";

const WEIGHTS = ["failure", "warning", "note", "good"];
const MOST_WAYS = 6; // seen at once
const NUDGE_MM = 0.1;
const NUDGE_TRACKING = 5;

export function showAnswer(section, found, look) {
  const texts = found.texts.filter((text) => !isSet() || text.volume === job.at);
  const main = mainOf(texts);
  show(section,
    h("h2", {}, WORDS.answer),
    h("p", { class: `say ${kind(found.verdict)}` }, h("strong", { class: "verdict" }, found.verdict), " ", inWords(found.answer)),
    minding(found, texts),
    h("div", { id: "settings", "data-older": true }, [...(document.querySelector("#settings")?.childNodes ?? [])]),
    h("div", { class: "improve" }, lookFor(look)),
    main ? byHand(main) : null,
    why(found, texts),
    assumed(found, texts));
}

export const mainOf = (texts) => texts.find((text) => !text.name || text.name === "title") ?? texts[0];
const kind = (verdict) => verdict.replaceAll(" ", "-");

function minding(found, texts) {
  const all = [
    ...found.findings.map((one) => ({ ...one, of: "" })),
    ...texts.flatMap((text) => text.findings.map((one) => ({ ...one, of: texts.length > 1 ? text.name : "" }))),
  ].filter((one) => one.level === "failure" || one.level === "warning");
  all.sort((a, b) => WEIGHTS.indexOf(a.level) - WEIGHTS.indexOf(b.level));
  if (!all.length && !found.cautions.length) return null;
  return h("div", { class: "minding" }, h("h3", {}, WORDS.mind),
    h("ul", {}, all.map((one) => h("li", { class: one.level },
      h("b", {}, WORDS.levels[one.level]), " ", one.of ? `${one.of}: ` : "", inWords(one.text))),
    found.cautions.slice(0, 1).map((line) => h("li", { class: "caution" }, line))));
}

// The settings come after the answer, since their pictures take longer.
export function showSettings(place, list) {
  place.removeAttribute("data-older");
  const asked = valueOf("orientation") || valueOf("lines") || valueOf("shape");
  if (!list || (list.length < 2 && !asked)) return show(place);
  const ways = list.map((one, at) => h("li", {},
    h("button", {
      type: "button", class: "way", id: `way-${at}`, "aria-pressed": String(one.advised), disabled: !one.edit,
      onclick: (event) => event.currentTarget.closest("[data-older]") || apply(one.edit), // of an older job they wait
    }, picture(one.picture), h("span", {}, one.name), h("span", { class: "soft" }, one.verdict,
      ", ", one.facts.find(([name]) => name === "Size")?.[1] ?? ""))));
  const seen = (one, at) => at < MOST_WAYS || one.advised;
  const others = ways.filter((_, at) => !seen(list[at], at));
  // What is drawn in a closed place has no extent to be cropped by: first open, then as it was.
  const rest = h("details", { id: "other-ways", open: true }, h("summary", {}, WORDS.otherWays(others.length)), h("ul", { class: "ways" }, others));
  const open = isOpen("other-ways");
  show(place, h("h3", {}, WORDS.settings),
    h("ul", { class: "ways" }, ways.filter((_, at) => seen(list[at], at))),
    others.length ? rest : null,
    asked
      ? h("button", { type: "button", id: "as-advised", onclick: () => apply({ values: { orientation: "", lines: "", shape: "" }, free: list.some((one) => one.edit?.breaks) }) }, WORDS.asAdvised)
      : null);
  for (const svg of place.querySelectorAll("svg")) crop(svg);
  rest.open = open;
}

// What is lettered fills the picture: a back is much longer than its lettering.
function crop(svg) {
  const of = svg.querySelector(".volume") ?? svg; // of a set the first says enough
  const inks = [...of.querySelectorAll(".lettering")].map((one) => one.getBBox()).filter((one) => one.height);
  if (!inks.length) return;
  const x = Math.min(...inks.map((one) => one.x));
  const y = Math.min(...inks.map((one) => one.y));
  const width = Math.max(...inks.map((one) => one.x + one.width)) - x;
  const height = Math.max(...inks.map((one) => one.y + one.height)) - y;
  const around = Math.max(1.5, 0.06 * height);
  svg.setAttribute("viewBox", `${x - around} ${y - around} ${width + 2 * around} ${height + 2 * around}`);
}

function picture(svg) {
  const made = drawing(svg);
  made.removeAttribute("width");
  made.removeAttribute("height");
  made.setAttribute("aria-hidden", "true");
  return made;
}

const lookFor = (look) => h("button", { type: "button", id: "look", onclick: look }, WORDS.look);

// What was found; null while it is looked for, undefined where it has to be asked for again.
export function showImprovements(section, found, look) {
  const place = section.querySelector(".improve");
  if (!place) return;
  if (found === undefined) return show(place, lookFor(look));
  if (!found) return show(place, h("p", { class: "soft" }, WORDS.looking));
  const shapes = found.shapes.length ? [h("h3", {}, WORDS.shapes), h("ul", { class: "ways" },
    found.shapes.map((one) => h("li", {}, h("button", {
      type: "button", class: "way", id: `shape-${one.shape.replaceAll(" ", "-")}`, onclick: () => apply({ values: { shape: one.shape } }),
    }, h("span", { class: "lines" }, one.lines.flatMap((line) => [line, h("br")])), h("span", {}, one.shape),
    h("span", { class: "soft" }, WORDS.pt(one.set_pt))))))] : [];
  const remedies = h("ul", { class: "remedies" }, found.remedies.map((one, at) => h("li", {}, one.edit
    ? h("button", { type: "button", id: `remedy-${at}`, onclick: () => (one.edit.place ? letterPlace(one.edit.place) : apply(one.edit)) }, inWords(one.text))
    : inWords(one.text))));
  show(place, shapes, h("h3", {}, WORDS.remedies), found.remedies.length ? remedies : h("p", { class: "soft" }, WORDS.nothingBetter));
}

// Lines moved by hand are lines that stay as they are: their breaks are made the words' own.
// Of several texts each says by how much its own lines are moved.
function byHand(text) {
  const parts = text.parts.length ? text.parts : [{ role: text.name || "title", lines: text.lines }];
  const moving = parts.filter(({ role, lines }) => lines.length > 1 && lines.length <= 8 && wordsOf(role));
  if (isSet() || !moving.length) return null;
  const nothing = { "lines-up": "", "lines-tracking": "" };
  const all = { values: nothing, texts: Object.fromEntries(moving.map(({ role }) => [role, nothing])) };
  return h("details", { id: "by-hand", open: isOpen("by-hand") }, h("summary", {}, WORDS.nudge),
    h("ul", { class: "by-hand" }, parts.flatMap((part, at) => {
      const before = parts.slice(0, at).reduce((count, { lines }) => count + lines.length, 0);
      return moving.includes(part) ? linesOf(part, before) : [];
    })),
    h("button", { type: "button", id: "by-rule", onclick: () => apply(all) }, WORDS.byRule));
}

const wordsOf = (role) => book().texts.find((one) => one.role === role);

function linesOf({ role, lines }, before) {
  const several = book().texts.length > 1;
  const said = (name) => figures(several ? wordsOf(role)[name] : valueOf(name), lines.length);
  const [up, tracking] = [said("lines-up"), said("lines-tracking")];
  const button = (sign, name, act) => h("button", { type: "button", class: "small", id: name.replaceAll(" ", "-"), "aria-label": name, title: name, onclick: act }, sign);
  const moved = (name, old, at, by) => () => {
    const value = { [name]: old.with(at, Number((old[at] + by).toFixed(2))).join(", ") };
    const text = forced(role, lines);
    apply(several ? { texts: { [role]: { ...value, ...text } } } : { values: value, texts: { [role]: text } });
  };
  return lines.map((line, at) => h("li", {}, h("span", {}, line),
    button("↑", WORDS.nudgeUp(before + at + 1), moved("lines-up", up, at, NUDGE_MM)),
    button("↓", WORDS.nudgeDown(before + at + 1), moved("lines-up", up, at, -NUDGE_MM)),
    button("↔", WORDS.looser(before + at + 1), moved("lines-tracking", tracking, at, NUDGE_TRACKING)),
    button("⇥", WORDS.closer(before + at + 1), moved("lines-tracking", tracking, at, -NUDGE_TRACKING)),
    h("span", { class: "soft" }, `${up[at]} mm, ${tracking[at]}`)));
}

const figures = (typed, count) => {
  const found = String(typed ?? "").split(",").map((one) => parseFloat(one) || 0);
  return Array.from({ length: count }, (_, at) => found[at] ?? 0);
};

function forced(role, lines) {
  const { text } = wordsOf(role);
  return text.split(" / ").length === lines.length ? {} : { text: broken(text, lines) };
}

// What was opened stays open when the answer is shown anew.
const isOpen = (id) => document.getElementById(id)?.open ?? false;

function why(found, texts) {
  return h("details", { id: "why", open: isOpen("why") }, h("summary", {}, WORDS.why),
    texts.map((text) => h("div", {}, texts.length > 1 ? h("h4", {}, text.name) : null,
      h("p", {}, inWords(text.answer)), h("p", {}, `${text.font}. ${text.method}.`), h("p", {}, inWords(text.convention)),
      h("ul", {}, text.findings.map((one) => h("li", {}, h("b", {}, WORDS.levels[one.level]), " ", inWords(one.text),
        one.source ? h("span", { class: "soft" }, ` [${inWords(one.source)}]`) : null))))),
    h("ul", {}, found.cautions.map((line) => h("li", {}, line))));
}

function assumed(found, texts) {
  const all = [...new Set([...found.assumed, ...texts.flatMap((text) => text.assumed)])];
  return all.length
    ? h("details", { id: "assumed", open: isOpen("assumed") }, h("summary", {}, WORDS.assumed(all.length)), h("ul", {}, all.map((line) => h("li", {}, inWords(line)))))
    : null;
}
