"use strict";
(() => {
  const rows = [...document.querySelectorAll("#verdict-table tbody tr")];
  const outcome = document.getElementById("by-outcome");
  const rule = document.getElementById("by-rule");
  const text = document.getElementById("by-text");
  const shown = document.getElementById("shown");
  const filter = () => {
    const words = text.value.trim().toLowerCase();
    let count = 0;
    for (const row of rows) {
      const wanted = outcome.value ? row.dataset.outcome === outcome.value : row.dataset.outcome !== "meets";
      const keep = wanted && (!rule.value || row.dataset.rule === rule.value) && (!words || row.textContent.toLowerCase().includes(words));
      row.hidden = !keep;
      count += keep ? 1 : 0;
    }
    shown.textContent = `${count} of ${rows.length} shown`;
  };
  for (const field of [outcome, rule, text]) for (const event of ["input", "change"]) field.addEventListener(event, filter);
  filter();
  for (const table of document.querySelectorAll("table.sortable")) {
    [...table.tHead.rows[0].cells].forEach((cell, at) => {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = cell.textContent;
      cell.textContent = "";
      cell.append(button);
      button.addEventListener("click", () => {
        const up = cell.getAttribute("aria-sort") !== "ascending";
        for (const other of table.tHead.rows[0].cells) other.removeAttribute("aria-sort");
        cell.setAttribute("aria-sort", up ? "ascending" : "descending");
        const key = (row) => row.cells[at].dataset.key ?? row.cells[at].textContent.trim();
        const number = cell.dataset.sort === "number";
        const compare = (a, b) => {
          const x = key(a), y = key(b);
          if (x === "" || y === "") return x === y ? 0 : x === "" ? 1 : -1;
          return (number ? x - y : x.localeCompare(y)) * (up ? 1 : -1);
        };
        const body = table.tBodies[0];
        body.append(...[...body.rows].sort(compare));
      });
    });
  }
  const follow = () => {
    const row = location.hash.startsWith("#verdict-") && document.getElementById(location.hash.slice(1));
    if (row && row.hidden) row.hidden = false;
    if (row) row.scrollIntoView();
  };
  addEventListener("hashchange", follow);
  follow();
})();
