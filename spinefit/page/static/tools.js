// Hand letters by their widths: a file of tools, written as one measures them.

import { ask } from "./ask.js";
import { labelOf, setValue, valueOf } from "./fields.js";
import { book, job } from "./job.js";
import { h, show } from "./dom.js";
import { quoted } from "./toml.js";
import { WORDS } from "./words.js";

const NAME = "hand-letters.toml";
const blank = () => ({ face: "", e_row: "", e_count: "5", widths: {} });
let sizes = [blank()];
let of = null;
let keeping = Promise.resolve();

// The letters that the words need, as they are struck: capitals, unless small ones are typed so.
const needed = () => [...new Set(book().texts.map((text) => text.text ?? "").join("").replace(/\s|\//g, ""))].sort();

export async function showTools(place, lay, failed) {
  const named = valueOf("tools");
  const digest = named && job.files[named];
  if (digest && digest !== of) {
    const found = await ask("tools", { tools: named, files: { [named]: digest } }).catch(() => null);
    if (found?.fault) failed(found.fault.text);
    if (found?.sizes) sizes = found.sizes;
    of = digest;
  }
  draw(place, lay, failed);
}

function draw(place, lay, failed) {
  const again = () => draw(place, lay, failed);
  const keep = () => { // one after another, the last as all that is typed by then
    keeping = keeping.then(async () => {
      const text = written();
      if (text) of = await lay(new File([text], NAME));
      setValue("tools", text && NAME);
    });
  };
  show(place, h("fieldset", {}, h("legend", {}, labelOf("tools")),
    sizes.map((size, at) => one(size, at, keep)),
    h("button", { type: "button", id: "add-size", onclick: () => { sizes.push(blank()); again(); } }, WORDS.addSize)));
}

function one(size, at, keep) {
  const input = (key, label) => {
    const id = `tool-${at}-${key}`;
    return h("div", { class: "field" }, h("label", { for: id }, label),
      h("input", { id, value: size[key] ?? "", oninput: (event) => { size[key] = event.target.value; keep(); } }));
  };
  return h("div", { class: "tool-size" },
    input("face", WORDS.face), input("e_row", WORDS.eRow), input("e_count", WORDS.eCount),
    h("details", {}, h("summary", {}, WORDS.letterByLetter),
      h("div", { class: "widths" }, needed().map((letter) => {
        const id = `tool-${at}-${letter.codePointAt(0)}`;
        return h("label", { for: id }, letter, h("input", {
          id, value: size.widths[letter] ?? "",
          oninput: (event) => { size.widths[letter] = event.target.value; keep(); },
        }));
      }))));
}

// A size is written once its face is there, and either a row of E or widths.
function written() {
  const whole = sizes.filter((size) => size.face && (size.e_row || Object.values(size.widths).some(Boolean)));
  const lines = [`name = ${quoted(WORDS.ownLetters)}`];
  for (const size of whole) {
    lines.push("", "[[size]]");
    const typed = Object.entries(size.widths).filter(([, width]) => width);
    const widths = size.e_row && !needed().every((letter) => size.widths[letter]) ? [] : typed; // once they are all there
    for (const key of ["face", "body", "word_space", "letter_gap", "descent", "x_height", ...(widths.length ? [] : ["e_row", "e_count"])]) {
      if (size[key]) lines.push(`${key} = ${quoted(size[key])}`);
    }
    if (widths.length) lines.push("[size.widths]", ...widths.map(([letter, width]) => `${quoted(letter)} = ${quoted(width)}`));
  }
  return whole.length ? `${lines.join("\n")}\n` : "";
}
