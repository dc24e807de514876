// What is kept in the browser, under the address of this machine: jobs as typed, and opened files.

let opening;

function database() {
  opening ??= new Promise((done, failed) => {
    const request = indexedDB.open("spinefit", 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore("jobs");
      request.result.createObjectStore("files");
    };
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
  return opening;
}

async function through(store, mode, act) {
  const opened = await database();
  return new Promise((done, failed) => {
    const transaction = opened.transaction(store, mode);
    const request = act(transaction.objectStore(store));
    transaction.oncomplete = () => done(request.result);
    transaction.onerror = transaction.onabort = () => failed(transaction.error);
  });
}

export const keepJob = (id, job) => through("jobs", "readwrite", (store) => store.put(job, id));
export const keptJob = (id) => through("jobs", "readonly", (store) => store.get(id));
export const dropJob = (id) => through("jobs", "readwrite", (store) => store.delete(id));
export const keepFile = (digest, file) =>
  through("files", "readwrite", (store) => store.put(file, digest));
export const keptFile = (digest) => through("files", "readonly", (store) => store.get(digest));

// The jobs that are kept, the last changed first.
export async function keptJobs() {
  const ids = await through("jobs", "readonly", (store) => store.getAllKeys());
  const jobs = await through("jobs", "readonly", (store) => store.getAll());
  return jobs.map((job, at) => ({ id: ids[at], ...job })).sort((a, b) => b.changed - a.changed);
}

export async function digestOf(bytes) {
  const found = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...found].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
