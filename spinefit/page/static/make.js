// What can be made: each by the command line, given as a file to keep or print.

import { ask, make } from "./ask.js";
import { choices, inWords, isSet, options, put, valueOf } from "./fields.js";
import { book, change, job, tick } from "./job.js";
import { h, show } from "./dom.js";
import { WORDS } from "./words.js";

const OF_ONE_TITLE = new Set(["trial", "sheet", "plot", "recess"]);
const OF_ONE_BOOK = new Set([...OF_ONE_TITLE, "worksheet"]);
const OF_A_METHOD = new Set(["sheet", "plot", "recess", "worksheet"]); // each takes one of its own where none is said

// Why that is not made of this job; "" where it is.
function notOf(what) {
  const isLabel = valueOf("panel") || valueOf("label-size");
  const isBack = book().texts.length > 1 && !isLabel;
  if ((isSet() && OF_ONE_BOOK.has(what)) || (isBack && OF_ONE_TITLE.has(what))) return WORDS.ofOneTitle;
  return OF_A_METHOD.has(what) && !valueOf("method") ? WORDS.methodFirst : "";
}

const OF_SHEET = ["sizes", "splits", "cases", "weights", "rules", "labels", "spares", "paper", "landscape"];

// `about` is the job as it stands, `stops` the failures that are known of it.
export function showMake(section, about, stops, dialog) {
  const said = h("div", { class: "said", role: "status" });
  const wishes = h("details", { id: "sheet-wishes" }, h("summary", {}, WORDS.sheetWishes));
  show(section, h("h2", {}, WORDS.make),
    h("div", { class: "row" }, Object.entries(WORDS.made).map(([what, words], at) =>
      h("button", { type: "button", class: at ? "" : "go", id: `make-${what}`, onclick: () => want(what) }, words))),
    wishes, said);

  async function want(what, force = false) {
    const why = force ? "" : notOf(what);
    if (why) return show(said, h("p", { class: "fault" }, why));
    const own = force ? [] : stops();
    if (own.length && choices.cut_by.includes(what)) {
      if (!(await acknowledged(dialog, own))) return;
      force = true;
    }
    show(said, h("p", {}, `${WORDS.made[what]}: ${WORDS.making} …`));
    try {
      if (what === "checklist") return showTasks(said, await ask("tasks", about()), () => file(what, false));
      await file(what, force);
    } catch (fault) {
      show(said, h("p", { class: "fault" }, fault.kind ? { gone: WORDS.gone, "turned away": WORDS.turnedAway }[fault.kind] : fault.message));
    }
  }

  async function file(what, force) {
    const found = await make(what, { ...about(), force });
    if (found.fault) return show(said, h("p", { class: "fault" }, inWords(found.fault.text)));
    if (found.withheld) {
      show(said);
      if (await acknowledged(dialog, [inWords(found.said.trim())])) await want(what, true);
      return;
    }
    for (const one of found.files) give(one.name, bytesOf(one.data));
    show(said, found.said.trim() ? h("pre", { tabindex: "0" }, inWords(found.said)) : null,
      found.files.map((one) => h("p", {}, one.name)));
  }
}

// What a sheet compares and how it is laid out, kept in the job file with the rest.
export function showWishes() {
  const place = document.getElementById("sheet-wishes");
  const fields = OF_SHEET.map((name) => choices.sheet.find((one) => one.name === name)).filter(Boolean);
  place.replaceChildren(place.firstElementChild, ...fields.map((one) => {
    const keep = (value) => change(`sheet ${one.name}`, (draft) => put(draft.sheet, one.name, value));
    const value = String(job.draft.sheet[one.name] ?? "");
    const id = `sheet-${one.name}`;
    const control = one.flag
      ? options([["", WORDS.unsaid], ["yes", WORDS.yes]], value && "yes", keep)
      : h("input", { value, autocomplete: "off", oninput: (event) => keep(event.target.value) });
    control.id = id;
    control.setAttribute("aria-describedby", `${id}-meaning`);
    return h("div", { class: "field" }, h("label", { for: id }, WORDS.sheet[one.name]), control,
      h("p", { class: "meaning", id: `${id}-meaning` }, inWords(one.meaning)));
  }));
}

function showTasks(place, found, file) {
  if (found.fault) return show(place, h("p", { class: "fault" }, inWords(found.fault.text)));
  show(place, h("div", { class: "row" },
    h("button", { type: "button", id: "give-checklist", onclick: file }, WORDS.giveIt),
    h("button", { type: "button", id: "print-checklist", onclick: () => print() }, WORDS.print)),
  found.groups.map((group, of) => [h("h3", {}, group.heading), h("ul", { class: "tasks" }, group.tasks.map(([done, text], at) => {
    const id = `task-${of}-${at}`;
    return h("li", {}, h("label", { for: id }, h("input", {
      type: "checkbox", id, checked: job.ticks[text] ?? done, onchange: (event) => tick(text, event.target.checked),
    }), inWords(text)));
  }))]).flat());
}

const bytesOf = (text) => Uint8Array.from(atob(text), (one) => one.charCodeAt(0));

export function give(name, data) {
  const address = URL.createObjectURL(new Blob([data]));
  const link = h("a", { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

function acknowledged(dialog, stops) {
  return new Promise((done) => {
    const go = h("button", { type: "button", class: "go", id: "give-it", disabled: true, onclick: () => { dialog.close("go"); } }, WORDS.giveIt);
    show(dialog, h("h2", { class: "stop", id: "not-safe" }, WORDS.notSafe),
      h("ul", {}, stops.map((text) => h("li", {}, text))),
      h("label", {}, h("input", { type: "checkbox", id: "acknowledge", onchange: (event) => { go.disabled = !event.target.checked; } }), WORDS.acknowledge),
      h("div", { class: "row" }, go, h("button", { type: "button", onclick: () => dialog.close("") }, WORDS.cancel)));
    dialog.setAttribute("aria-labelledby", "not-safe");
    dialog.returnValue = "";
    dialog.addEventListener("close", () => done(dialog.returnValue === "go"), { once: true });
    dialog.showModal();
  });
}
