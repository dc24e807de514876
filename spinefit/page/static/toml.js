// A draft as the job file of the command line: fields one a line, then tables.

export function jobFile(draft) {
  const { values, sheet, volumes } = draft;
  const lines = [];
  const alone = volumes.length === 1;
  const only = alone ? { ...values, ...volumes[0].values } : values;
  const texts = alone ? volumes[0].texts : [];
  const title = alone && isTitleAlone(texts);
  if (title) lines.push(line("title", texts[0].text));
  lines.push(...fields(only));
  if (alone && !title) for (const text of texts) lines.push("", "[[text]]", ...fields(text));
  if (!alone) for (const one of volumes) lines.push("", "[[volume]]", ...volume(one));
  const wishes = fields(sheet);
  if (wishes.length) lines.push("", "[sheet]", ...wishes);
  return lines.join("\n") + "\n";
}

function volume(one) {
  const own = { label: one.label, apart: one.apart, ...one.values };
  if (isTitleAlone(one.texts)) return [line("title", one.texts[0].text), ...fields(own)];
  const texts = one.texts.flatMap((text) => ["", "[[volume.text]]", ...fields(text)]);
  return [...fields(own), ...texts];
}

function isTitleAlone(texts) {
  const own = texts.length === 1 && Object.keys(texts[0]).filter((key) => isSaid(texts[0][key]));
  return own && texts[0].role === "title" && own.length <= 2;
}

function fields(values) {
  return Object.entries(values).filter(([, value]) => isSaid(value)).map(([k, v]) => line(k, v));
}

export const isSaid = (value) =>
  value !== null && value !== undefined && value !== "" && !(Array.isArray(value) && !value.length);

const line = (name, value) => `${/^[\w-]+$/.test(name) ? name : quoted(name)} = ${written(value)}`;

function written(value) {
  if (typeof value === "boolean" || typeof value === "number") return String(value);
  if (Array.isArray(value)) return `[${value.map(written).join(", ")}]`;
  return quoted(value);
}

// TOML 1.0, basic strings: control characters as escapes, half characters as what stands for them.
export function quoted(text) {
  const whole = String(text ?? "").replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, "\ufffd");
  const escaped = whole.replace(/["\\]/g, "\\$&")
    .replace(/[\u0000-\u001f\u007f]/g, (one) => `\\u${one.charCodeAt(0).toString(16).padStart(4, "0")}`);
  return `"${escaped}"`;
}
