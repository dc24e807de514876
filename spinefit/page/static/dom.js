// Elements in few words. Nothing here, and nothing of a title, is ever read as markup.

export function h(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
    else if (name === "value") made.value = value;
    else made.setAttribute(name, value === true ? "" : value);
  }
  made.append(...children.flat().filter((one) => one !== null && one !== undefined));
  return made;
}

const SVG = "http://www.w3.org/2000/svg";

export function s(tag, attributes = {}, ...children) {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children.flat());
  return made;
}

// A drawing that the server made, as an element; its words stay words.
export function drawing(text) {
  const found = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  return document.importNode(found, true);
}

// Shows anew without taking the focus from who types: the element of the same id keeps it, and its caret.
export function show(place, ...children) {
  const { activeElement: before } = document;
  const within = before?.id && place.contains(before);
  const caret = within && before.selectionStart;
  place.replaceChildren(...children.flat().filter(Boolean));
  if (!within || place.contains(before)) return;
  const after = document.getElementById(before.id) ?? place;
  after.focus({ preventScroll: true });
  if (Number.isInteger(caret) && Number.isInteger(after.selectionStart)) after.setSelectionRange(caret, caret);
}
