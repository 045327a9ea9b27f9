// What is to be put right, what a thing is, and what cannot be judged.

import { fill, find, keep, make } from "./build.js";

let hooks = {};

/** `go(place)`, `thing(id)`, `cure(cause, way)`, `turning(card)`, `sheet(id)`, `again()`, `known()`. */
export function onChoice(told) {
  hooks = told;
}

const tabs = ["causes", "thing", "open"];

/** Bring one of the three to the front. */
export function front(name, focus = false) {
  for (const tab of tabs) {
    const button = find(`tab-${tab}`);
    const on = tab === name;
    button.setAttribute("aria-selected", on);
    button.tabIndex = on ? 0 : -1;
    find(tab).hidden = !on;
    if (on && focus) button.focus();
  }
}

/** The names that can be chosen, put there when they are asked for. */
function offerThings() {
  fill(find("things"), ...Object.keys(hooks.known()).map((value) => make("option", { value })));
}

export function start() {
  find("which").addEventListener("focus", offerThings);
  find("which").addEventListener("change", () => {
    if (!hooks.known()[find("which").value]) return;
    hooks.thing(find("which").value);
    find("which").value = "";
  });
  for (const [n, tab] of tabs.entries()) {
    const button = find(`tab-${tab}`);
    button.addEventListener("click", () => front(tab));
    button.addEventListener("keydown", (event) => {
      const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
      if (by) front(tabs[(n + by + tabs.length) % tabs.length], true);
    });
  }
}

const where = (one, file) => make("button", { type: "button", class: "place", onclick: () => hooks.go(one) }, one.file === file ? `line ${one.line}` : one.cell ? `${one.file} ${one.cell}` : `${one.file}:${one.line}`);

const things = (ids, known) => ids.filter((id) => known[id]).map((id) => make("button", { type: "button", class: "thing", onclick: () => hooks.thing(id) }, id));

function finding(one, answer) {
  return [`finding ${JSON.stringify(one)}`, () => make("li", { class: one.outcome, id: `finding-${one.number}` },
    make("span", { class: "label" }, one.label),
    make("p", {}, one.message),
    one.numbers ? make("p", { class: "numbers" }, one.numbers) : null,
    one.remedy ? make("p", { class: "untried" }, one.remedy) : null,
    make("p", { class: "places" }, where(one, answer.main), ...things(one.at, answer.things)),
  )];
}

const FIRST = 60;
const whole = new Set();

/** A list of one class, of items told by a key. */
function listOf(element, kind, items) {
  return [`list ${kind}`, () => make(element, { class: kind }), (list) => keep(list, items)];
}

const line = (element, words, kind = "note") => [`${element} ${words}`, () => make(element, element === "p" ? { class: kind } : {}, words)];

/** Findings as a list, the first of them until more are asked for. */
function listed(found, answer, which) {
  const shown = whole.has(which) ? found : found.slice(0, FIRST);
  const made = [listOf("ul", `findings ${which}`, shown.map((one) => finding(one, answer)))];
  if (found.length > shown.length) {
    made.push([`more ${which} ${found.length}`, () => make("button", { type: "button", onclick: () => {
      whole.add(which);
      hooks.again();
    } }, `Show ${found.length - FIRST} more`)]);
  }
  return made;
}

function problem(one, answer) {
  return [`problem ${JSON.stringify(one)}`, () => make("li", { class: "discrepancy" },
    make("span", { class: "label" }, "CANNOT BE READ"), make("p", {}, one.message), make("p", { class: "places" }, where(one, answer.main)))];
}

/** One thing to put right: what it makes wrong, and its cures, which can be taken. */
function cause(one, answer) {
  return [`cause ${JSON.stringify(one)}`, () => make("li", { class: "cause", id: `cause-${one.number}` },
    make("h3", {}, `${one.number}. ${one.heading}`),
    make("ul", { class: "makes" }, ...one.makes.map((told) => make("li", {}, told))),
    make("div", { class: "cure" },
      make("p", {}, one.cure),
      ...one.ways.map((words, way) => make("button", { type: "button", class: "do", "aria-label": `${way ? "Write the other" : "Write it into the text"}: ${words}`, onclick: () => hooks.cure(one, way) }, way ? `Write the other: ${words}` : "Write it into the text"))),
    make("p", { class: "places" }, where(one, answer.main), ...things(one.at, answer.things)),
  )];
}

/** Make a panel hold these; what is as it was is not made again. */
function lay(panel, items) {
  keep(panel, items);
  items.forEach(([, , then], n) => then?.(panel.children[n]));
}

/** Everything of a check, in the three lists. */
export function show(answer) {
  const items = [];
  if (answer.problems.length) {
    items.push(line("p", "The text cannot be read as an installation; what follows below is of the text before."),
      listOf("ul", "findings problems", answer.problems.map((one) => problem(one, answer))));
  }
  if (answer.counts) {
    const causes = answer.causes;
    const explained = new Set(answer.looking ? [] : causes.flatMap((one) => one.verdicts));
    const rest = answer.verdicts.filter((one) => one.outcome !== "undetermined" && !explained.has(one.number) && !(answer.looking && causes.length && one.outcome === "discrepancy"));
    items.push(line("h2", causes.length ? `${causes.length} ${causes.length === 1 ? "thing" : "things"} to put right` : rest.some((one) => one.outcome === "discrepancy") ? "Discrepancies" : "No discrepancy"));
    if (answer.looking && answer.counts.discrepancy) items.push(line("p", causes.length ? "Of the text before; the cures are being tried again." : "The cures are being tried."));
    if (answer.failed.length) items.push(line("p", `The checker itself failed in ${answer.failed.join(", ")}; what these would find is not told.`));
    if (causes.length) items.push(listOf("ol", "causes", causes.map((one) => cause(one, answer))));
    if (rest.length) {
      if (causes.length) items.push(line("h2", "Beside them"));
      items.push(...listed(rest, answer, "rest"));
    }
    const left = answer.counts.discrepancy + answer.counts.advisory + answer.counts.accepted - answer.verdicts.filter((one) => one.outcome !== "undetermined").length;
    if (left > 0) items.push(line("p", `${left} more are not listed here; they come up as these are put right.`));
    showOpen(answer);
  }
  lay(find("causes"), items);
  for (const one of find("causes").querySelectorAll(".do")) one.disabled = answer.looking;
}

/** What cannot be judged, and what to add first. */
function showOpen(answer) {
  const open = answer.verdicts.filter((one) => one.outcome === "undetermined");
  const all = answer.counts.undetermined;
  const items = [line("h2", all ? `${all} not judged` : "Everything was judged")];
  if (answer.missing.length) items.push(line("p", "What to add, what settles most first:"));
  items.push(listOf("ol", "missing", answer.missing.map((one) => [JSON.stringify(one), () => make("li", {}, `${one.what}; then judged: ${one.settles}`)])));
  items.push(...listed(open, answer, "open"));
  if (all > open.length) items.push(line("p", `${all - open.length} more are not listed here; they come up as these are answered.`));
  lay(find("open"), items);
}

/** The card of a thing. `turn(word, value)` is offered for figures that can be tried. */
export function card(one, answer) {
  const rows = (list) => make("table", {}, make("tbody", {}, ...list.map(([label, value]) => make("tr", {}, make("th", { scope: "row" }, label), make("td", {}, value)))));
  fill(find("card"),
    make("h2", {}, one.id, one.title && one.title !== one.id ? make("small", {}, ` ${one.title}`) : null),
    make("p", { class: "places" }, where(one, answer.main), make("button", { type: "button", class: "place", onclick: () => hooks.sheet(one.id) }, "on the drawing")),
    hooks.turning(one),
    rows(one.figures),
    ...one.causes.flatMap((of) => [make("h3", {}, `Error of ${of.of}`), rows(of.rows)]),
    make("h3", {}, "Judged"),
    make("ul", { class: "findings" }, ...one.verdicts.map((v) => make("li", { class: v.outcome },
      make("span", { class: "label" }, v.label), make("p", {}, v.message),
      v.to_its_limit ? make("p", { class: "numbers" }, v.to_its_limit) : null,
      v.outcome !== "meets" && v.remedy ? make("p", { class: "untried" }, v.remedy) : null,
      make("p", { class: "source" }, v.source)))),
    ...(one.tests.length ? [make("h3", {}, "On the bench"), ...one.tests.map(rows)] : []),
  );
}

/** Show the flagged finding a number on the drawing stands for. */
export function flagged(number, answer) {
  front("causes");
  const verdict = (answer.flags || [])[number - 1];
  const cause = (answer.causes || []).find((one) => one.verdicts.includes(verdict));
  const found = (cause && find(`cause-${cause.number}`)) || find(`finding-${verdict}`);
  if (!found) return;
  found.scrollIntoView({ block: "center" });
  for (const marked of document.querySelectorAll("#right .here")) marked.classList.remove("here");
  found.classList.add("here");
}
