addEventListener("DOMContentLoaded", () => {
  const body = document.querySelector("tbody"), shown = document.querySelector("output");
  const search = document.querySelector("input");
  const plain = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
  const find = () => {
    const words = plain(search.value).split(/\s+/).filter(Boolean);
    let count = 0;
    for (const row of body.rows) {
      row.said ??= plain(row.textContent);
      row.hidden = !words.every((word) => row.said.includes(word));
      count += !row.hidden;
    }
    shown.textContent = `${count} of ${body.rows.length} rows`;
  };
  search.addEventListener("input", find);
  find();
  document.querySelectorAll("th button").forEach((button) => {
    button.addEventListener("click", () => {
      const head = button.parentElement, at = head.cellIndex;
      const down = head.ariaSort === "ascending" ? -1 : 1;
      document.querySelectorAll("th").forEach((other) => other.removeAttribute("aria-sort"));
      head.setAttribute("aria-sort", down === 1 ? "ascending" : "descending");
      const figures = head.className === "figure";
      const key = (row) => row.cells[at].textContent.trim();
      const rows = [...body.rows].map((row) => [figures ? parseFloat(key(row)) : key(row), row]);
      const order = new Intl.Collator(document.documentElement.lang, {numeric: true});
      const empty = (value) => value === "" || Number.isNaN(value);
      rows.sort(([a], [b]) => empty(a) - empty(b)
        || down * (figures ? a - b : order.compare(a, b)) || 0);
      body.append(...rows.map(([, row]) => row));
    });
  });
  const large = document.createElement("dialog"), close = document.createElement("button");
  close.textContent = "Close";
  close.addEventListener("click", () => large.close());
  document.body.append(large);
  body.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    const drawn = button.firstElementChild.cloneNode(true), box = drawn.viewBox.baseVal;
    const words = document.createElement("p");
    words.textContent = button.closest("tr").lastElementChild.textContent;
    drawn.setAttribute("width", `${box.width}mm`);
    drawn.setAttribute("height", `${box.height}mm`);
    large.setAttribute("aria-label", drawn.getAttribute("aria-label"));
    large.replaceChildren(close, drawn, words);
    large.showModal();
  });
});
