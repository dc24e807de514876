addEventListener("DOMContentLoaded", () => {
  const body = document.querySelector("tbody"), rows = [...body.rows];
  const heads = [...document.querySelectorAll("thead th")];
  const search = document.querySelector("[type=search]"), shown = document.querySelector("output");
  const ticks = [...document.querySelectorAll("[type=checkbox]")];
  const place = (kind) => heads.findIndex((head) => head.dataset.kind === kind);
  const [drawn, title, verdict, answer] = ["drawn", "title", "verdict", "answer"].map(place);
  const plain = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();

  const outlines = new Map();
  for (const one of body.querySelectorAll("template"))
    for (const said of one.content.textContent.split(",")) {
      const at = said.indexOf(" ");
      outlines.set(said.slice(0, at), said.slice(at + 1));
    }
  const space = document.querySelector("svg").namespaceURI;
  const made = (name, values, ...children) => {
    const element = document.createElementNS(space, name);
    for (const [key, value] of Object.entries(values)) element.setAttribute(key, value);
    element.append(...children);
    return element;
  };
  const letters = ([matrix, ...glyphs]) => made("path", {
    transform: `matrix(${matrix})`,
    d: glyphs.map((said) => {
      const [name, ...places] = said.split(" ");
      let path = "";
      for (let at = 0; at < places.length; at += 2)
        path += `M${places[at]} ${places[at + 1]}${outlines.get(name)}`;
      return path;
    }).join(""),
  });
  const draw = (row) => {
    const cell = row.cells[drawn], said = cell.dataset.drawn;
    if (!said || cell.firstChild) return;
    const [turn, view, whole, ground, bands, head, paper, ink, ...lines] = said.split(";");
    const inked = made("g", {class: "ink"}, ...lines.map((line) => letters(line.split(","))));
    const parts = [[ground, "ground"], [bands, "band"]]
      .map(([d, name]) => made("path", {class: name, d}));
    if (paper) parts[0].style.fill = paper;
    if (ink) inked.style.fill = ink;
    parts.push(inked, made("path", {class: "head", d: head}));
    const level = made("g", {transform: `rotate(${turn})`}, ...parts);
    const label = [...row.cells[title].children].map((one) => one.textContent).join("; ");
    const button = document.createElement("button");
    button.type = "button";
    button.append(made("svg", {role: "img", "aria-label": label, viewBox: view}, level));
    button.addEventListener("click", () => enlarge(row, whole));
    cell.append(button);
  };
  const seen = new IntersectionObserver((found) => {
    for (const one of found)
      if (one.isIntersecting) {
        draw(one.target);
        seen.unobserve(one.target);
      }
  }, {rootMargin: "400px"});
  rows.forEach((row) => seen.observe(row));
  addEventListener("beforeprint", () => rows.forEach((row) => row.hidden || draw(row)));

  const join = () => {
    let before = "";
    for (const row of body.rows) {
      if (row.hidden) continue;
      const own = row.dataset.set ?? "";
      if (own || row.classList.contains("joined"))
        row.classList.toggle("joined", own !== "" && own === before);
      before = own;
    }
  };
  const said = new Map();
  const sayable = (row) => plain([...row.cells].slice(0, answer)
    .map((cell) => [...cell.childNodes].map((node) => node.textContent).join(" ")).join(" "));
  const find = () => {
    const words = plain(search.value).split(/\s+/).filter(Boolean);
    const wanted = ticks.filter((tick) => tick.checked).map((tick) => tick.value);
    let count = 0;
    for (const row of rows) {
      if (words.length && !said.has(row)) said.set(row, sayable(row));
      const is = words.every((word) => said.get(row).includes(word))
        && (!wanted.length || wanted.includes(row.cells[verdict].textContent));
      if (row.hidden === is) row.hidden = !is;
      count += is;
    }
    join();
    shown.textContent = `${count} of ${rows.length} rows`;
  };
  for (const tick of ticks) {
    const count = rows.filter((row) => row.cells[verdict].textContent === tick.value).length;
    tick.parentElement.lastElementChild.textContent = count;
    tick.addEventListener("change", find);
  }
  search.addEventListener("input", find);
  find();

  const order = new Intl.Collator(document.documentElement.lang, {numeric: true});
  const gravity = ticks.map((tick) => tick.value);
  const keys = {
    figure: (cell) => parseFloat(cell.textContent),
    title: (cell) => cell.firstChild.textContent,
    verdict: (cell) => gravity.indexOf(cell.textContent),
  };
  heads.forEach((head, at) => head.querySelector("button")?.addEventListener("click", () => {
    const down = head.ariaSort === "ascending" ? -1 : 1;
    heads.forEach((other) => other.removeAttribute("aria-sort"));
    head.setAttribute("aria-sort", down === 1 ? "ascending" : "descending");
    const key = keys[head.dataset.kind] ?? ((cell) => cell.textContent.trim());
    const empty = (value) => value === "" || Number.isNaN(value);
    const found = rows.map((row) => [key(row.cells[at]), row]);
    found.sort(([a], [b]) => empty(a) - empty(b)
      || down * (typeof a === "number" ? a - b : order.compare(a, b)) || 0);
    body.append(...found.map(([, row]) => row));
    join();
  }));

  const large = document.createElement("dialog"), close = document.createElement("button");
  close.textContent = "Close";
  close.addEventListener("click", () => large.close());
  document.body.append(large);
  const enlarge = (row, whole) => {
    const picture = row.querySelector("svg").cloneNode(true), [, , wide, high] = whole.split(" ");
    picture.setAttribute("viewBox", whole);
    picture.setAttribute("width", `${wide}mm`);
    picture.setAttribute("height", `${high}mm`);
    large.setAttribute("aria-label", picture.getAttribute("aria-label"));
    const words = [title, answer].flatMap((at) => [...row.cells[at].cloneNode(true).childNodes]);
    large.replaceChildren(close, picture, ...words);
    large.showModal();
  };
});
