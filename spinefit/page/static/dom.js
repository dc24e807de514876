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

export function show(place, ...children) {
  place.replaceChildren(...children.flat().filter(Boolean));
}

// Shows anew without taking the focus from who types: the element of the same id keeps it.
export function showAnew(place, ...children) {
  const id = document.activeElement?.id;
  const within = id && place.contains(document.activeElement);
  show(place, ...children);
  if (within) (document.getElementById(id) ?? place).focus({ preventScroll: true });
}
