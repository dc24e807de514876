// The page: five places in the order of the bench, and one answer that follows every change.

import { Away, ask, given, live } from "./ask.js";
import { mainOf, showAnswer, showImprovements, showSettings } from "./answer.js";
import { forget, redraw, showBook } from "./book.js";
import { choices, inWords, setValue, showFault, valueOf } from "./fields.js";
import { begin, canRedo, canUndo, job, load, onChange, redo, replace, resume, title, undo } from "./job.js";
import { dropJob, keepFile, digestOf, keptFile, keptJobs } from "./keep.js";
import { FONT, lay, MOST_BYTES, sampleAgain, showLettering } from "./lettering.js";
import { give, showMake, showWishes } from "./make.js";
import { showScale } from "./scale.js";
import { showShelf } from "./shelf.js";
import { atTrueSize, setTrueSize, showScaleOfScreen, turnWhole } from "./size.js";
import { showTexts } from "./texts.js";
import { jobFile } from "./toml.js";
import { drawing, h, show } from "./dom.js";
import { WORDS } from "./words.js";

const place = (id) => document.getElementById(id);
const dialog = place("dialog");
const SPOKEN_MS = 1200;
let shown = null;

const about = () => ({ job: jobFile(job.draft), files: used() });

// Only files that the job names are given with it.
function used() {
  const text = JSON.stringify(job.draft);
  return Object.fromEntries(Object.entries(job.files).filter(([name]) => text.includes(JSON.stringify(name).slice(1, -1))));
}

const { refresh, drop } = live(about, told, showMore, failed);

let sampling;

function showMore(rest, found) {
  clearTimeout(sampling);
  sampling = setTimeout(sampleAgain, 600);
  const main = mainOf(found.texts.filter((text) => text.volume === job.at));
  const list = rest.fault ? null : rest.all ?? rest.texts[found.texts.indexOf(main)];
  showSettings(place("settings"), list);
}

// What is wrong in a file stands beside the field that names it.
function ofItsField({ where, text }) {
  const file = Object.keys(job.files).find((name) => where === name || where.startsWith(`${name}:`));
  const field = choices.fields.find((one) => file && valueOf(one.name) === file);
  return field ? [field.name, `${where}: ${text}`] : [where, text];
}

function told(found) {
  if (away || !found.fault) notice(""); // what is lacking is said until it is there
  away = false;
  if (found.fault) {
    const beside = showFault(...ofItsField(found.fault));
    const fault = [found.fault.where, inWords(found.fault.text)].filter(Boolean).join(": ");
    place("state").textContent = [beside ? WORDS.marked : `${fault}.`, shown && WORDS.older].filter(Boolean).join(" ");
    place("at-a-glance").textContent = WORDS.noAnswer;
    document.body.classList.add("stale");
    return;
  }
  shown = found;
  document.body.classList.remove("stale");
  showFault("", "");
  place("state").textContent = "";
  showAnswer(place("answer"), found, improve);
  if (improved.of === jobFile(job.draft)) showImprovements(place("answer"), improved.found);
  showScale(place("scale-of-sizes"), found.texts.filter((text) => text.volume === job.at));
  const leave = seen && !inkIsInView(); // who has scrolled away from the lettering looks at something else
  show(place("drawings"), found.drawings.map((svg) => atTrueSize(drawing(svg))));
  if (!leave) bringIntoView();
  seen = true;
  const { set_pt: size } = mainOf(found.texts.filter((text) => text.volume === job.at)) ?? {};
  place("at-a-glance").textContent = [found.verdict, size && WORDS.pt(size)].filter(Boolean).join(", ");
  place("at-a-glance").hidden = false;
  spoken(found);
}

let seen = false; // the lettering of this job, of this volume

// How far the middle of the lettering, of the volume that is worked on, lies from that of what is in view.
function offMiddle() {
  const box = place("drawings").getBoundingClientRect();
  const within = place("drawings").querySelectorAll(".volume")[job.at] ?? place("drawings");
  const inks = [...within.querySelectorAll(".lettering")].map((one) => one.getBoundingClientRect());
  if (!inks.length) return null;
  const middle = (low, high) => (Math.min(...inks.map((one) => one[low])) + Math.max(...inks.map((one) => one[high])) - box[low] - box[high]) / 2;
  const [x, y] = [middle("left", "right"), middle("top", "bottom")];
  return { x, y, isOut: { x: Math.abs(x) > box.width / 2, y: Math.abs(y) > box.height / 2 } };
}

function inkIsInView() {
  const off = offMiddle();
  return !off || !(off.isOut.x || off.isOut.y);
}

function bringIntoView() {
  const off = offMiddle();
  if (off?.isOut.x) place("drawings").scrollLeft += off.x;
  if (off?.isOut.y) place("drawings").scrollTop += off.y;
}

// Read out once who types has come to rest, not at every letter.
let speaking;

function spoken(found) {
  clearTimeout(speaking);
  const text = `${found.verdict}: ${inWords(found.answer)}`;
  speaking = setTimeout(() => { if (place("spoken").textContent !== text) place("spoken").textContent = text; }, SPOKEN_MS);
}

// What must not be cut unasked, though it fits.
function stops() {
  if (!shown || shown.verdict === "does not fit") return [];
  const failures = [...shown.findings, ...shown.texts.flatMap((text) => text.findings)].filter((one) => one.level === "failure");
  return [...new Set(failures.map((one) => inWords(one.text)))];
}

let away = false;

function failed(fault) {
  if (!(fault instanceof Away)) return notice(fault.message);
  away = true;
  notice(fault.kind === "gone" ? WORDS.gone : WORDS.turnedAway);
  if (fault.kind === "gone") setTimeout(refresh, 2000);
}

function notice(said) {
  const text = said || (job.isKept ? "" : WORDS.unkept);
  const where = place("notice");
  where.hidden = !text;
  where.textContent = text;
}

// What was found stays in view when the answer of the same job is shown anew.
let improved = { of: null, found: null };

async function improve() {
  const now = { of: jobFile(job.draft), found: null };
  improved = now;
  showImprovements(place("answer"), null);
  try {
    const found = await ask("improve", about());
    if (now !== improved || now.of !== jobFile(job.draft)) return;
    if (found.fault) throw new Error(inWords(found.fault.text));
    now.found = found;
    showImprovements(place("answer"), found);
  } catch (fault) {
    if (now !== improved) return;
    improved.of = null;
    showImprovements(place("answer"), undefined, improve);
    failed(fault);
  }
}

function draw(why) {
  place("undo").disabled = !canUndo();
  place("redo").disabled = !canRedo();
  document.title = title() ? `${title()} · spinefit` : "spinefit";
  if (why === "whole") {
    seen = false;
    forget();
    showBook(place("book"));
    showTexts(place("words"));
    showLettering(place("lettering"), notice);
    showWishes();
  }
  redraw(place("book"));
  if (!place("shelf").contains(document.activeElement) || why === "whole") showShelf(place("shelf"));
  if (isBlank()) {
    drop();
    shown = null;
    document.body.classList.remove("stale");
    place("state").textContent = "";
    place("at-a-glance").hidden = true;
    showFault("", "");
    show(place("drawings"));
    show(place("scale-of-sizes"));
    show(place("answer"), h("h2", {}, WORDS.answer), h("p", { class: "say" }, WORDS.waiting));
    return;
  }
  refresh();
}

// Nothing is wrong with what has hardly been begun.
const isBlank = () => !["width", "panel", "label-size", "front-board", "extent", "leaves"].some((name) => valueOf(name))
  || !job.draft.volumes.every((one) => one.texts.some((text) => text.text));

async function openFiles(list) {
  const files = [...list];
  const large = files.find((one) => one.size > MOST_BYTES);
  if (large) return notice(WORDS.cannotOpen(large.name, WORDS.tooLarge));
  const odd = files.find((one) => !KNOWN.test(one.name));
  if (odd) return notice(WORDS.cannotOpen(odd.name, WORDS.noneOfThese));
  const texts = new Map();
  for (const file of files.filter((one) => one.name.toLowerCase().endsWith(".toml"))) texts.set(file, await file.text());
  const known = JSON.stringify(job.draft);
  const jobs = [...texts.keys()].find((one) => OF_A_JOB.test(texts.get(one)))
    ?? [...texts.keys()].find((one) => !known.includes(one.name)); // whatever it is, it is told
  const table = files.find((file) => /\.(csv|tsv|tab|jsonl|ndjson|xlsx|xlsm)$/i.test(file.name));
  for (const file of files) if (file !== jobs) await lay(file);
  if (jobs) return openText(jobs.name, texts.get(jobs), job.files);
  if (table) return openTable(table.name);
  const [font] = files;
  if (files.length === 1 && FONT.test(font.name) && !known.includes(font.name)) setValue("font", font.name);
  draw("whole"); // the job may have waited for what lies beside it
}

const KNOWN = /\.(toml|csv|tsv|tab|jsonl|ndjson|xlsx|xlsm|ttf|otf|ttc|otc|woff2?)$/i;

// Tools and methods are told from a job by what only that says.
const OF_A_JOB = /^\s*(?:title\b|\[\[?\s*(?:text|volume)\b)/m;

// A table is a list of books: each is a job of its own.
async function openTable(name) {
  const found = await ask("table", { table: name, files: { [name]: job.files[name] } }).catch(failed);
  if (!found) return;
  if (found.fault) return notice(WORDS.cannotOpen(name, found.fault.text));
  notice(found.notes.join(" "));
  const { [name]: _, ...files } = job.files;
  const one = (book) => h("li", {}, book.draft
    ? h("button", { type: "button", onclick: () => { dialog.close(); begin(); replace(book.draft, files); } }, `${WORDS.line(book.line)}: ${book.name}`)
    : h("span", { class: "fault" }, `${WORDS.line(book.line)}: ${book.name} ${book.fault}`));
  show(dialog, h("h2", { id: "books-title" }, WORDS.books(name)), h("ul", { class: "kept" }, found.books.map(one)),
    found.more ? h("p", {}, WORDS.moreBooks) : null,
    h("button", { type: "button", onclick: () => dialog.close() }, WORDS.cancel));
  dialog.setAttribute("aria-labelledby", "books-title");
  dialog.showModal();
}

async function openText(name, text, files) {
  try {
    const found = await ask("open", { job: text, files });
    if (found.fault) return notice(WORDS.cannotOpen(name, found.fault.text));
    replace(found.draft, files, name);
    notice(found.lacking.length ? WORDS.lacking(found.lacking) : "");
  } catch (fault) {
    failed(fault);
  }
}

async function save() {
  const name = job.name || `${title().replace(/[^\p{L}\p{N}]+/gu, "-").slice(0, 40) || "job"}.toml`;
  give(name, new TextEncoder().encode(jobFile(job.draft)));
  for (const [own, digest] of Object.entries(used())) {
    const file = await keptFile(digest);
    if (file) give(own, file.data);
  }
}

async function showKept() {
  const jobs = await keptJobs();
  show(dialog, h("h2", { id: "kept-title" }, WORDS.kept), h("ul", { class: "kept" }, jobs.map((one) => h("li", {},
    h("button", { type: "button", onclick: () => { dialog.close(); load(one.id); } }, `${one.title || WORDS.untitled}, ${new Date(one.changed).toLocaleString()}`),
    h("button", { type: "button", class: "small", "aria-label": `${WORDS.removeText}: ${one.title || WORDS.untitled}`, onclick: async () => { await dropJob(one.id); showKept(); } }, "×")))),
  h("button", { type: "button", onclick: () => dialog.close() }, WORDS.cancel));
  dialog.setAttribute("aria-labelledby", "kept-title");
  if (!dialog.open) dialog.showModal();
}

const showTrueSize = () => showScaleOfScreen(place("true-size-state"), place("whole"), place("drawings"));

async function openGiven() {
  const found = await given("opened");
  const key = found && (await digestOf(new TextEncoder().encode(found.text)));
  if (!found || sessionStorage.getItem("spinefit opened") === key) return;
  sessionStorage.setItem("spinefit opened", key);
  for (const [name, file] of Object.entries(found.files)) {
    const data = Uint8Array.from(atob(file.data), (one) => one.charCodeAt(0)).buffer;
    await keepFile(file.sha256, { name, data });
  }
  begin();
  await openText(found.name, found.text, Object.fromEntries(Object.entries(found.files).map(([name, file]) => [name, file.sha256])));
}

function keys(event) {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  const act = { z: event.shiftKey ? redo : undo, y: redo, s: save }[key];
  if (!act) return;
  event.preventDefault();
  act();
}

async function begun() {
  try {
    Object.assign(choices, await ask("choices", {}));
    notice("");
  } catch (fault) {
    notice(fault.kind === "turned away" ? WORDS.turnedAway : WORDS.gone);
    await new Promise((done) => setTimeout(done, 2000));
    await begun();
  }
}

// Nothing can be typed until what was kept is there, lest it be overwritten.
async function start() {
  for (const [id, act] of Object.entries({ undo, redo, save, fresh: begin, kept: showKept })) {
    place(id).textContent = WORDS[id];
    place(id).addEventListener("click", () => act());
  }
  place("open").addEventListener("change", (event) => openFiles(event.target.files).then(() => { event.target.value = ""; }));
  for (const one of document.querySelectorAll("[data-words]")) one.textContent = WORDS[one.dataset.words];
  for (const one of document.querySelectorAll("[data-name]")) one.setAttribute("aria-label", WORDS[one.dataset.name]);
  place("whole").addEventListener("click", () => { turnWhole(); showTrueSize(); });
  place("true-size-state").addEventListener("click", () => setTrueSize(dialog, showTrueSize));
  window.addEventListener("resize", showTrueSize);
  window.addEventListener("keydown", keys);
  window.addEventListener("dragover", (event) => event.dataTransfer?.types.includes("Files") && event.preventDefault());
  window.addEventListener("drop", (event) => {
    if (!event.dataTransfer?.files.length) return;
    event.preventDefault();
    openFiles(event.dataTransfer.files);
  });
  showMake(place("make"), about, stops, dialog);
  showTrueSize();
  await begun();
  show(place("markets"), choices.markets.map((one) => h("option", { value: one.name }, one.words)));
  onChange(draw);
  await resume();
  await openGiven();
  for (const part of document.querySelectorAll("[inert]")) part.removeAttribute("inert");
  document.body.classList.remove("starting");
}

start();
