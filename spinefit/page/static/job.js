// The job at hand: what was typed, with undo and redo, kept at every change.

import { keepJob, keptJob, keptJobs } from "./keep.js";

const MOST_STEPS = 300;
const ONE_STEP_MS = 900; // letters typed into one field within that are one step

const blank = () => ({
  values: {},
  sheet: {},
  volumes: [{ label: "", apart: null, values: {}, texts: [{ role: "title", text: "" }] }],
});

const listeners = new Set();
let id = "";
let past = [];
let future = [];
let last = { place: "", at: 0 };
const channel = new BroadcastChannel("spinefit");

// The job of this tab, whatever place of the page its address names.
const own = { get: () => sessionStorage.getItem("spinefit job"), set: (one) => sessionStorage.setItem("spinefit job", one) };

export const job = { draft: blank(), files: {}, at: 0, name: "", ticks: {}, isKept: true };

export const onChange = (listener) => listeners.add(listener);
const tell = (why) => listeners.forEach((listener) => listener(why));
const copy = (value) => structuredClone(value);

// Change the draft; changes of one place in quick succession are undone together, of none each by itself.
// `why` is "whole" where fields have to show what they did not change themselves.
export function change(place, act, why = "draft") {
  const before = copy({ draft: job.draft, files: job.files, at: job.at });
  act(job.draft);
  const said = ({ draft, files }) => JSON.stringify([draft, files]);
  if (said(before) === said(job)) return;
  const now = Date.now();
  if (!place || place !== last.place || now - last.at > ONE_STEP_MS || !past.length) {
    past.push(before);
    past.splice(0, past.length - MOST_STEPS);
  }
  last = { place, at: now };
  future = [];
  kept();
  tell(why);
}

function step(from, to) {
  if (!from.length) return;
  to.push(copy({ draft: job.draft, files: job.files, at: job.at }));
  Object.assign(job, from.pop());
  last = { place: "", at: 0 };
  kept();
  tell("whole");
}
export const undo = () => step(past, future);
export const redo = () => step(future, past);
export const canUndo = () => past.length > 0;
export const canRedo = () => future.length > 0;

export function choose(at) {
  job.at = at;
  kept();
  tell("whole");
}

// A file that was opened lies beside the job from then on.
export const layBeside = (name, digest) => change(`file ${name}`, () => { job.files = { ...job.files, [name]: digest }; });

// A task of the checklist, done or not; one whose figures change is another task.
export function tick(task, done) {
  job.ticks[task] = done;
  kept();
}

// Another job altogether, which can be undone too.
export function replace(draft, files = {}, name = "") {
  past.push(copy({ draft: job.draft, files: job.files, at: job.at }));
  Object.assign(job, { draft, files, at: 0, name, ticks: {} });
  future = [];
  kept();
  tell("whole");
}

export function begin() {
  id = crypto.randomUUID();
  own.set(id);
  past = [];
  future = [];
  Object.assign(job, { draft: blank(), files: {}, at: 0, name: "", ticks: {} });
  tell("whole");
}

export async function load(wanted) {
  const found = wanted && (await keptJob(wanted));
  if (!found) return false;
  id = wanted;
  own.set(id);
  past = [];
  future = [];
  Object.assign(job, { draft: found.draft, files: found.files, at: found.at, name: found.name, ticks: found.ticks ?? {} });
  tell("whole");
  return true;
}

// The job of this tab, else the one that was changed last, else a blank one.
export async function resume() {
  try {
    if (await load(own.get())) return;
    const [newest] = own.get() ? [] : await keptJobs();
    if (newest && (await load(newest.id))) return;
  } catch {
    job.isKept = false; // a browser that keeps nothing
  }
  begin();
}

export const title = (draft = job.draft) =>
  draft.volumes[0]?.texts.find((text) => text.role === "title")?.text ?? "";

function kept() {
  const state = copy({ draft: job.draft, files: job.files, at: job.at, name: job.name, ticks: job.ticks });
  keepJob(id, { ...state, changed: Date.now(), title: title() })
    .then(() => { job.isKept = true; }, () => { job.isKept = false; });
  channel.postMessage({ id, state });
}

// The same job in another tab is one job: what is typed there stands here too.
channel.onmessage = ({ data }) => {
  if (data.id !== id) return;
  Object.assign(job, data.state);
  tell("whole");
};

export const book = () => job.draft.volumes[job.at] ?? job.draft.volumes[0];
