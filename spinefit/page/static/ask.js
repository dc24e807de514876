// Questions to the server: one at a time, the newest always the one that counts.

import { keptFile } from "./keep.js";
import { WORDS } from "./words.js";

const TAB = crypto.randomUUID();
const HURRY_MS = 250;
const REST_MS = 300; // who types is not made to wait for what comes after the answer
let turn = 0;

export class Away extends Error {
  constructor(kind) {
    super(kind);
    this.kind = kind; // "turned away", or "gone"
  }
}

async function post(path, body, type) {
  let reply;
  try {
    reply = await fetch(path, { method: "POST", body, headers: { "Content-Type": type } });
  } catch {
    throw new Away("gone");
  }
  if (reply.status === 403) throw new Away("turned away");
  if (!reply.ok) throw new Error((await reply.text()).trim() || reply.statusText);
  const told = await reply.json();
  return told?.overtaken ? null : told; // a newer question has taken its place
}

// Ask, and give first the files that the server lacks since it was started.
async function asked(path, about) {
  const body = JSON.stringify(about);
  let told = await post(path, body, "application/json");
  if (told?.needs) {
    for (const digest of told.needs) {
      const file = await keptFile(digest);
      if (file) await giveFile(file.data);
    }
    told = await post(path, body, "application/json");
    if (told?.needs) throw new Error(WORDS.noLongerKept);
  }
  return told;
}

export const ask = (question, about) => asked(`ask/${question}`, about);
export const make = (what, about) => asked(`make/${what}`, about);
export const giveFile = (data) => post("file", data, "application/octet-stream");

export async function given(path) {
  let reply;
  try {
    reply = await fetch(path);
  } catch {
    throw new Away("gone");
  }
  if (reply.status === 403) throw new Away("turned away");
  return reply.json();
}

// Keeps asking for the newest state; what was overtaken is dropped.
// `told` gets the answer; `more` what is asked after it, once nothing newer has come for a while.
export function live(about, told, more, failed) {
  let running = 0;
  let waiting = false;
  let since = 0;
  let timer;
  let resting;

  async function go() {
    clearTimeout(timer);
    clearTimeout(resting);
    waiting = false;
    const own = ++turn;
    running += 1;
    since = Date.now();
    const now = about();
    try {
      const found = await asked(`ask/answer?tab=${TAB}&turn=${own}`, now);
      if (!found || own !== turn) return;
      told(found);
      if (!found.fault) resting = setTimeout(() => rest(own, now, found), REST_MS);
    } catch (fault) {
      if (own === turn) failed(fault);
    } finally {
      running -= 1;
      if (waiting) go();
    }
  }

  async function rest(own, now, found) {
    try {
      const told = await asked(`ask/settings?tab=${TAB}&turn=${own}`, now);
      if (told && own === turn) more(told, found);
    } catch (fault) {
      if (own === turn) failed(fault);
    }
  }

  function refresh() {
    if (!running) return void go();
    waiting = true;
    clearTimeout(timer);
    timer = setTimeout(() => waiting && go(), Math.max(0, since + HURRY_MS - Date.now()));
  }

  // What is still on its way is wanted no more.
  function drop() {
    turn += 1;
    waiting = false;
    clearTimeout(timer);
    clearTimeout(resting);
  }

  return { refresh, drop };
}
