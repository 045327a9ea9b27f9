// The window: text, drawing and findings kept together.

import { choose, difference, fill, find, make } from "./build.js";
import * as drawing from "./drawing.js";
import * as findings from "./findings.js";
import { ask, leave, onEnd } from "./talk.js";
import { editor } from "./text.js";
import { add } from "./adding.js";
import { tour } from "./tour.js";

let name = "";
let named = false;
let saved = "";
let serial = 0;
let asking = false;
let again = false;
let last = { problems: [], verdicts: [], things: {}, missing: [], causes: [], failed: [], name: "" };
let pictured = -1;
let picturing = false;
let here = "";
let told = "";
let id = "";
let digest = "";
let keeping = 0;

const text = editor(find("editor"), { changed, moved, save, hover });

function word(message, ...buttons) {
  const place = find("word");
  told = message;
  place.hidden = !message;
  fill(place, message ? make("span", {}, message) : null, ...buttons);
}

function button(words, press) {
  return make("button", { type: "button", onclick: press }, words);
}

function state() {
  const dirty = text.text() !== saved || !named;
  find("saved").textContent = dirty ? "not saved" : "saved";
  document.title = `${dirty ? "* " : ""}${name} - installcheck`;
  find("save").disabled = !dirty;
  find("differ").disabled = text.text() === saved;
}

/** Keep the text in the browser at once; the program keeps it as well, with every check. */
function keep() {
  try {
    if (text.text() === saved) localStorage.removeItem(id);
    else localStorage.setItem(id, JSON.stringify({ text: text.text(), when: new Date().toISOString(), based_on: digest }));
  } catch { /* no room: the program has it */ }
  if (asking) {
    clearTimeout(keeping);
    keeping = setTimeout(() => ask("keep", { text: text.text() }).catch(() => {}), 60);
  }
}

/** The text this browser kept, if it is later than the program's. */
function kept(draft) {
  try {
    const own = JSON.parse(localStorage.getItem(id));
    if (own && own.text !== saved && (!draft || Date.parse(own.when) > Date.parse(draft.when) + 1000 || own.text.length !== draft.text.length)) {
      return !draft || Date.parse(own.when) + 1000 >= Date.parse(draft.when) ? { ...own, on_other: own.based_on !== digest } : draft;
    }
  } catch { /* none that can be read */ }
  return draft;
}

function changed() {
  state();
  keep();
  queueMicrotask(check);
}

/** Ask for verdicts of the text as it is now; while one answer is awaited, only the newest text is asked for next. */
async function check() {
  if (asking) {
    again = true;
    return;
  }
  asking = true;
  const asked = text.text();
  try {
    const answer = await ask("check", { text: asked, serial: ++serial });
    if (!answer.superseded) display(answer, asked);
  } catch {
    setTimeout(check, 1500);
  } finally {
    asking = false;
    if (again) {
      again = false;
      check();
    } else if (!last.problems.length) picture();
  }
}

function display(answer, of) {
  last = { ...last, ...answer, name, looking: true };
  if (answer.kept) word(`Your text cannot be kept on this machine: ${answer.kept}. Save it soon.`);
  text.mark(answer.problems, answer.problems.length ? [] : last.verdicts, name);
  findings.show(last);
  const counts = last.counts;
  find("counts").textContent = answer.problems.length
    ? `cannot be read: ${answer.problems.length} ${answer.problems.length === 1 ? "problem" : "problems"}`
    : `${counts.discrepancy} discrepancies, ${counts.advisory} advisories, ${counts.undetermined} not judged, ${counts.meets} meet`;
  document.body.dataset.serial = String(answer.serial);
  performance.mark(`verdicts-${answer.serial}`);
  if (here) show(here, false);
}

/** Draw what was checked last, when nothing else is asked for. */
async function picture() {
  if (picturing) return;
  picturing = true;
  try {
    while (pictured !== serial && !asking) {
      pictured = serial;
      const answer = await ask("causes", { serial });
      if (!answer.superseded) {
        last = { ...last, ...answer, looking: false };
        findings.show(last);
        document.body.dataset.causes = String(answer.serial);
      }
      if (!asking) await drawing.redraw(last.things, serial);
    }
    if (here) drawing.showThing(here);
  } catch {
    pictured = -1;
  } finally {
    picturing = false;
  }
}

/** The thing whose lines the cursor is in. */
function moved(line) {
  let found = "";
  let best = 0;
  for (const [id, one] of Object.entries(last.things)) {
    if (one.file === name && one.line <= line && one.line > best) [found, best] = [id, one.line];
  }
  if (found && found !== here) show(found, false);
}

let showing = 0;
async function show(id, front) {
  here = id;
  const one = last.things[id];
  if (!one) return;
  drawing.showThing(id);
  if (front) findings.front("thing");
  if (find("thing").hidden && !front) return;
  const mine = ++showing;
  const answer = await ask("card", { section: one.section, id }).catch(() => ({ gone: true }));
  if (mine === showing && !answer.gone) findings.card(answer.card, last);
}

function go(one) {
  if (one.file && one.file !== name) return word(`That stands in ${one.file}, which is not open here.`, button("Close", () => word("")));
  part("text");
  text.show(one.line, true, one.column);
}

/** Fill the help of a word under the pointer; false if there is none. */
function hover(answer, dom) {
  const ident = answer.path[1];
  const verdicts = last.verdicts.filter((one) => one.at.includes(ident) && one.outcome !== "meets").slice(0, 3);
  if (!answer.help && !verdicts.length) return false;
  fill(dom, answer.path.length ? make("strong", {}, answer.path.filter((step) => typeof step === "string").join(" > ")) : null, answer.help ? make("p", {}, answer.help) : null,
    ...verdicts.map((one) => make("p", { class: one.outcome }, `${one.label}: ${one.message}`)));
  if (last.things[ident]) dom.append(make("button", { type: "button", onclick: () => show(ident, true) }, `Card of ${ident}`));
  return true;
}

/** Keys and a slider for a figure of a thing: every verdict follows, and the text can go back. */
function turning(one) {
  const doc = text.view.state.doc;
  const lines = [];
  const next = Object.values(last.things).filter((t) => t.file === name && t.line > one.line).map((t) => t.line);
  for (let n = one.line; n <= doc.lines && n < Math.min(one.line + 60, ...next); n += 1) lines.push(doc.line(n));
  const figures = [];
  for (const line of lines) {
    for (const found of line.text.replace(/(^|\s)#.*/, "").matchAll(/([a-z_]+):\s*["']?(\d+(?:\.\d+)?)(\s*[A-Za-z/]+)?/g)) {
      figures.push({ word: found[1], value: Number(found[2]), unit: (found[3] || "").trim(), from: line.from + found.index + found[0].indexOf(found[2], found[1].length + 1), length: found[2].length });
    }
  }
  if (!figures.length) return null;
  const before = text.text();
  const chosen = make("select", { "aria-label": "figure to try" }, ...figures.map((f, n) => make("option", { value: n }, `${f.word.replaceAll("_", " ")} ${f.value} ${f.unit}`)));
  const slider = make("input", { type: "range", "aria-label": "value to try" });
  const out = make("output", {});
  const back = button("Put it back", () => { text.become(before); });
  let at = null;
  const pick = () => {
    const f = figures[Number(chosen.value)];
    const digits = Math.max((String(f.value).split(".")[1] || "").length, f.value < 10 && f.unit !== "AWG" ? 1 : 0);
    Object.assign(slider, { min: "0", max: String(f.value ? f.value * 3 : 10), step: String(10 ** -digits), value: String(f.value) });
    at = { ...f, digits };
    out.textContent = `${f.value} ${f.unit}`;
  };
  slider.addEventListener("input", () => {
    const now = Number(slider.value).toFixed(at.digits);
    text.view.dispatch({ changes: { from: at.from, to: at.from + at.length, insert: now }, userEvent: "input.try" });
    for (const f of figures) if (f.from > at.from) f.from += now.length - at.length;
    figures[Number(chosen.value)].length = at.length = now.length;
    out.textContent = `${now} ${at.unit}`;
  });
  chosen.addEventListener("change", pick);
  pick();
  return make("fieldset", { class: "try", id: "try" }, make("legend", {}, "Try"), chosen, slider, out, back);
}

async function save() {
  await write({});
}

async function write(more) {
  const now = text.text();
  let file = "";
  if (!named) {
    const input = make("input", { id: "file-name", value: name, autocomplete: "off" });
    const chosen = await choose("Save", [make("label", { for: "file-name" }, "File name, in this folder"), input], [["save", "Save"], ["", "Cancel"]]);
    if (chosen !== "save") return;
    file = input.value;
  }
  let answer;
  try {
    answer = await ask("save", { text: now, name: file, ...more });
  } catch {
    return;
  }
  if (answer.saved) {
    [name, named, saved, digest] = [answer.name, true, now, answer.digest];
    localStorage.removeItem(id);
    id = answer.id;
    find("name").textContent = name;
    word("");
    return state();
  }
  if (answer.refused) return word(`Not saved: ${answer.refused}.`);
  const chosen = await choose("The file was changed by another program", [make("p", {}, "Nothing was saved. From the file to your text:"), difference(answer.conflict.difference)],
    [["mine", "Save mine over it"], ["theirs", "Take the file's text"], ["", "Leave both as they are"]]);
  if (chosen === "mine") await write({ ...more, over: answer.conflict.digest });
  if (chosen === "theirs") await take();
}

/** The file's text in place of this one, as a change that can be undone. */
async function take() {
  const answer = await ask("theirs", { text: text.text(), take: true });
  if (answer.refused) return word(answer.refused);
  [saved, digest] = [answer.text, answer.digest];
  text.become(answer.text);
  word("");
  state();
}

async function differ() {
  const answer = await ask("difference", { text: text.text() });
  const parts = [difference(answer.difference || "The text is as it is in the file.")];
  if (answer.changes.length) parts.push(make("h3", {}, "What that changes"), make("pre", { class: "difference", tabindex: "0" }, answer.changes.join("\n")));
  const chosen = await choose("Not saved yet", parts, [["", "Keep"], ["drop", "Go back to the file"]]);
  if (chosen === "drop") text.become(saved);
}

/** Whether the file was changed by another program, and whether the program behind this page still runs. */
async function watch() {
  try {
    const answer = await ask("disk");
    if (answer.changed && !told) {
      word("The file was changed by another program.", button("Show", async () => {
        const theirs = await ask("theirs", { text: text.text() });
        const chosen = await choose("The file was changed by another program", [make("p", {}, "From the file to your text:"), difference(theirs.refused || theirs.difference || "no difference")],
          [["theirs", "Take the file's text"], ["", "Keep mine"]]);
        if (chosen === "theirs") await take();
      }));
    }
  } catch { /* told by onEnd */ }
  setTimeout(watch, 2000);
}

onEnd((now, why) => {
  if (!now) return word("");
  word(why === "key" ? "This window has no key: open the address the terminal shows." : "Ended: the program behind this page has stopped. Your text stays here; start it again and open its address.");
});

async function cure(one) {
  const answer = await ask("cure", { text: text.text(), number: one.number }).catch((bad) => ({ refused: bad.message }));
  if (answer.refused) return word(answer.refused, button("Close", () => word("")));
  text.become(answer.text);
  word(`Written: ${answer.words}.`, button("Undo", () => { text.undo(); word(""); }), button("Close", () => word("")));
}

/** On a small screen, one part at a time. */
function part(which) {
  document.querySelector("main").dataset.part = which;
  for (const one of find("shown").children) one.setAttribute("aria-pressed", one.dataset.part === which);
}

const KEYS = [
  ["Ctrl+S", "save"], ["Ctrl+Z, Ctrl+Y", "undo, redo"], ["Ctrl+Space", "what can be written here"], ["Alt+Up, Alt+Down", "step the number at the cursor and watch the verdicts; with Shift by ten"],
  ["Ctrl+F", "find"], ["F8", "next mark"], ["Ctrl+Shift+M", "all marks"], ["F6", "next part: text, drawing, findings"], ["+ - 0", "on the drawing: larger, smaller, whole"], ["Esc, then Tab", "leave the text by Tab"],
];

function keys() {
  choose("Keys", [make("table", {}, make("tbody", {}, ...KEYS.map(([key, what]) => make("tr", {}, make("th", { scope: "row" }, key), make("td", {}, what)))))], [["", "Close"]]);
}

function turnPart(event) {
  if (event.key !== "F6") return;
  event.preventDefault();
  const places = [find("text"), find("drawing"), find("right")];
  const now = places.findIndex((one) => one.contains(document.activeElement));
  const next = (now + (event.shiftKey ? 2 : 1)) % 3;
  part(["text", "drawing", "right"][next]);
  [() => text.view.focus(), () => find("paper").focus(), () => document.querySelector("#right [role=tab][aria-selected=true]").focus()][next]();
}

async function open() {
  const got = await ask("open");
  [name, named, saved, id, digest] = [got.name, got.named, got.text, got.id, got.digest];
  find("name").textContent = name;
  find("caution").textContent = `${got.caution} installcheck ${got.version}`;
  text.open(got.text);
  const draft = kept(got.draft);
  if (draft) {
    const between = await ask("difference", { text: draft.text });
    const chosen = await choose(`Text that was not saved, of ${new Date(draft.when).toLocaleString()}`, [
      make("p", {}, draft.on_other ? "It was begun from another state of the file: look before you take it." : "From the file to that text:"), difference(between.difference)],
    [["take", "Go on with it"], ["drop", "Drop it"]]);
    if (chosen === "drop") {
      localStorage.removeItem(id);
      await ask("forget");
    } else text.become(draft.text);
  }
  state();
  await check();
  if (got.tour && !localStorage.getItem("toured")) tour({ part, front: findings.front });
}

find("save").addEventListener("click", save);
find("undo").addEventListener("click", () => text.undo());
find("redo").addEventListener("click", () => text.redo());
find("differ").addEventListener("click", differ);
find("keys").addEventListener("click", keys);
find("adding").addEventListener("click", () => add({ ask, text, word }));
for (const one of find("shown").children) one.addEventListener("click", () => part(one.dataset.part));
document.addEventListener("keydown", turnPart);
window.addEventListener("pagehide", () => { if (text.text() !== saved) leave(text.text()); });
window.addEventListener("beforeunload", (event) => { if (text.text() !== saved) event.preventDefault(); });

findings.start();
findings.onChoice({ go, thing: (id) => { show(id, true); const one = last.things[id]; if (one && one.file === name) text.show(one.line, false); drawing.showThing(id, true); }, cure, turning, sheet: (id) => { part("drawing"); drawing.showThing(id, true); } });
find("tab-thing").addEventListener("click", () => { if (here) show(here, true); });
drawing.start();
drawing.onPress({
  thing: (id) => { const one = last.things[id]; if (one && one.file === name) text.show(one.line, false); show(id, true); },
  flag: (number) => { part("right"); findings.flagged(number, last); },
});
open().then(watch, () => {});
