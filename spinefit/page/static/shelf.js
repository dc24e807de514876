// The shelf: the books that stand together, side by side, one chosen to work on.

import { options } from "./fields.js";
import { change, choose, job } from "./job.js";
import { h, show } from "./dom.js";
import { WORDS } from "./words.js";

let dragged = null;

export function showShelf(section) {
  const { volumes } = job.draft;
  const many = volumes.length > 1;
  show(section,
    h("ol", { class: "books" }, volumes.map((one, at) => h("li", {
      draggable: String(many), ondragstart: () => { dragged = at; }, ondragover: (event) => event.preventDefault(),
      ondrop: () => dragged !== null && move(dragged, at),
    }, back(one, at))),
    h("li", {}, h("button", { type: "button", id: "add-volume", class: "book add", "aria-label": WORDS.addVolume, title: WORDS.addVolume, onclick: add }, "+"))),
    h("div", { class: "about" },
      h("p", {}, many ? WORDS.manyBooks(volumes.length) : WORDS.oneBook),
      many ? tools() : null));
}

const titleOf = (one) => one.texts.find((text) => text.role === "title")?.text ?? "";

function back(one, at) {
  const width = parseFloat(String(one.values.width ?? job.draft.values.width ?? "").replace(",", "."));
  const made = h("button", {
    type: "button", class: `book ${one.apart ? "apart" : ""}`, "aria-pressed": String(at === job.at), id: `book-${at}`,
    "aria-label": `${one.label || WORDS.volume(at + 1)}: ${titleOf(one)}`, onclick: () => choose(at),
  }, h("span", {}, (one.label || titleOf(one)).slice(0, 26)));
  if (width) made.style.width = `${Math.min(72, 18 + width)}px`;
  return made;
}

function tools() {
  const { volumes } = job.draft;
  const one = volumes[job.at];
  const button = (id, sign, name, able, act) => h("button", { type: "button", id, class: "small", "aria-label": name, title: name, disabled: !able, onclick: act }, sign);
  return h("div", { class: "row" },
    h("label", { for: "volume-label" }, WORDS.volumeLabel),
    h("input", { id: "volume-label", value: one.label, oninput: (event) => change("label", (draft) => { draft.volumes[job.at].label = event.target.value; }) }),
    apart(one),
    button("earlier", "←", WORDS.earlier, job.at > 0, () => move(job.at, job.at - 1)),
    button("later", "→", WORDS.later, job.at < volumes.length - 1, () => move(job.at, job.at + 1)),
    button("remove-volume", "×", WORDS.removeVolume, true, remove));
}

// A thin volume goes its own way where that is better, unless somebody says what it does.
function apart(one) {
  const control = options(Object.entries(WORDS.apart), String(one.apart ?? ""), (chosen) =>
    change("apart", (draft) => { draft.volumes[job.at].apart = { true: true, false: false }[chosen] ?? null; }));
  Object.assign(control, { id: "apart", ariaLabel: WORDS.apartOf });
  return control;
}

// A first neighbour makes the book a volume: what differs between books becomes its own.
function add() {
  change("", (draft) => {
    if (draft.volumes.length === 1) {
      const first = draft.volumes[0];
      first.label ||= WORDS.volume(1);
      for (const name of ["width", "arc", "rise"]) {
        if (name in draft.values) {
          first.values[name] = draft.values[name];
          delete draft.values[name];
        }
      }
    }
    const like = structuredClone(draft.volumes.at(-1));
    const taken = new Set(draft.volumes.map((one) => one.label));
    let number = draft.volumes.length + 1;
    while (taken.has(WORDS.volume(number))) number += 1;
    const old = like.label;
    Object.assign(like, { label: WORDS.volume(number), apart: null });
    for (const text of like.texts) {
      if (text.role === "volume" || text.text?.endsWith(old)) text.text = text.text.replace(/\d+$/, String(number));
    }
    draft.volumes.push(like);
  });
  choose(job.draft.volumes.length - 1);
  document.querySelector("#field-width, #field-panel-0")?.focus(); // what it has of its own comes next
}

function move(from, to) {
  dragged = null;
  if (from === to) return;
  change("", (draft) => draft.volumes.splice(to, 0, ...draft.volumes.splice(from, 1)));
  goTo(to);
}

function remove() {
  change("", (draft) => {
    draft.volumes.splice(job.at, 1);
    if (draft.volumes.length === 1) {
      const [last] = draft.volumes;
      Object.assign(draft.values, last.values);
      draft.volumes[0] = { ...last, label: "", apart: null, values: {} };
    }
  });
  goTo(Math.max(0, job.at - 1));
}

// Who works by keys stays on the shelf where the button of that moment is there no more.
function goTo(at) {
  choose(at);
  if (document.activeElement === document.body) document.getElementById(`book-${at}`)?.focus();
}
