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
      const wanted = outcome.value === "all" || (outcome.value ? row.dataset.outcome === outcome.value : row.dataset.outcome !== "meets" || words);
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
          const unit = (row) => row.cells[at].dataset.unit ?? "";
          if (number && unit(a) !== unit(b)) return unit(a).localeCompare(unit(b));
          return (number ? x - y : x.localeCompare(y)) * (up ? 1 : -1);
        };
        const body = table.tBodies[0];
        body.append(...[...body.rows].sort(compare));
      });
    });
  }
  const follow = () => {
    const there = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (!there) return;
    const folded = there.closest("details");
    if (folded) folded.open = true;
    if (there.hidden) there.hidden = false;
    there.scrollIntoView();
  };
  addEventListener("hashchange", follow);
  follow();
  const form = document.getElementById("decisions");
  const said = (id) => document.getElementById(id).value.trim();
  const decided = () => {
    const ticked = (row) => ({
      decision: row.querySelector("input[type=radio]:checked")?.value ?? "",
      comment: row.querySelector("input[type=text]").value.trim(),
    });
    const made = (one) => one.decision || one.comment;
    const rows = [...form.querySelectorAll(".decide tbody tr")].map((row, at) => ({
      cause: at + 1, words: row.dataset.words, verdicts: JSON.parse(row.dataset.keys), ...ticked(row),
    }));
    const open = [...form.querySelectorAll("tr.open")].map((row) => ({
      key: row.dataset.key, words: row.dataset.words, ...ticked(row),
    }));
    return {
      decisions: 1,
      installation: form.dataset.name, revision: form.dataset.revision, file: form.dataset.file, digest: form.dataset.digest,
      reviewer: said("reviewer"), date: said("on-date"), data: said("on-data"), until: said("until"),
      whole: ticked(document.getElementById("whole")),
      causes: rows.filter(made),
      open: open.filter(made),
    };
  };
  document.getElementById("save").addEventListener("click", () => {
    const body = decided();
    const shown = document.getElementById("saved");
    const accepts = body.causes.some((one) => one.decision === "accept");
    const whole = body.whole.decision || body.whole.comment;
    const lacking = [["reviewer", "who reviewed"], ...(whole ? [["date", "the date"]] : []), ...(accepts ? [["data", "the data relied on"], ["until", "a last day"]] : [])].filter(([key]) => !body[key]);
    const count = body.causes.length + body.open.length + (whole ? 1 : 0);
    if (!count) { shown.textContent = "Nothing is decided yet."; return; }
    if (lacking.length) { shown.textContent = `Give ${lacking.map(([, words]) => words).join(", ")} first.`; return; }
    const link = document.createElement("a");
    link.download = form.dataset.file.replace(/^.*[\\/]/, "").replace(/\.ya?ml$/, "") + ".decisions.json";
    link.href = URL.createObjectURL(new Blob([JSON.stringify(body, null, 1) + "\n"], { type: "application/json" }));
    link.click();
    URL.revokeObjectURL(link.href);
    shown.textContent = `${count} decided; keep ${link.download} beside the document.`;
  });
})();
