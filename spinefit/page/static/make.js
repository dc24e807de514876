// What can be made: each by the command line, given as a file to keep or print.

import { make } from "./ask.js";
import { h, show } from "./dom.js";
import { WORDS } from "./words.js";

const CUTTING = new Set(["sheet", "plot", "worksheet", "recess", "artwork"]);

export function showMake(section, about, state) {
  const said = h("div", { class: "said", role: "status" });
  show(section, h("h2", {}, WORDS.make),
    h("div", { class: "row" }, Object.entries(WORDS.made).map(([what, words], at) =>
      h("button", { type: "button", class: at ? "" : "go", id: `make-${what}`, onclick: () => want(what) }, words))),
    said);

  async function want(what) {
    const { fits, dialog } = state();
    if (!fits && CUTTING.has(what) && !(await acknowledged(dialog))) return;
    show(said, h("p", {}, `${WORDS.made[what]}: ${WORDS.making} …`));
    try {
      const found = await make(what, { ...about(), force: !fits });
      if (found.fault) return show(said, h("p", { class: "fault" }, found.fault.text));
      for (const file of found.files) give(file.name, bytesOf(file.data));
      show(said, found.said.trim() ? h("pre", { tabindex: "0" }, found.said) : null,
        found.files.map((file) => h("p", {}, file.name)));
    } catch (fault) {
      show(said, h("p", { class: "fault" }, fault.kind === "gone" ? WORDS.gone : fault.message));
    }
  }
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

function acknowledged(dialog) {
  return new Promise((done) => {
    const go = h("button", { type: "button", class: "go", id: "give-it", disabled: true, onclick: () => { dialog.close("go"); } }, WORDS.giveIt);
    show(dialog, h("p", { class: "stop", id: "not-safe" }, WORDS.notSafe),
      h("label", {}, h("input", { type: "checkbox", id: "acknowledge", onchange: (event) => { go.disabled = !event.target.checked; } }), WORDS.acknowledge),
      h("div", { class: "row" }, go, h("button", { type: "button", onclick: () => dialog.close("") }, WORDS.cancel)));
    dialog.setAttribute("aria-labelledby", "not-safe");
    dialog.returnValue = "";
    dialog.addEventListener("close", () => done(dialog.returnValue === "go"), { once: true });
    dialog.showModal();
  });
}
