// The window: text, drawing and findings kept together.

import { choose, fill, find, make } from "./build.js";
import { add } from "./adding.js";
import * as drawing from "./drawing.js";
import * as files from "./files.js";
import * as findings from "./findings.js";
import { ask, onEnd } from "./talk.js";
import { editor } from "./text.js";
import { tour } from "./tour.js";
import { turning } from "./trying.js";

const SETTLED = 350; // ms after the last letter, before causes and sheets are asked for
let serial = Date.now(); // above those of this window before it was loaded anew
let asking = false;
let again = false;
let last = { problems: [], counts: null, verdicts: [], things: {}, missing: [], causes: [], failed: [], files: [] };
let pictured = -1;
let picturing = false;
let settling = 0;
let here = "";
let told = "";
let tables = "";
let keeping = 0;

const text = editor(find("editor"), { changed, moved, save: () => files.save(), hover });

function word(message, ...buttons) {
  const place = find("word");
  told = message;
  place.hidden = !message;
  fill(place, message ? make("span", {}, message) : null, ...buttons);
}

function button(words, press) {
  return make("button", { type: "button", onclick: press }, words);
}

const close = () => button("Close", () => word(""));

function changed(name) {
  files.changed(name);
  if (asking) {
    clearTimeout(keeping);
    keeping = setTimeout(() => ask("keep", { texts: files.texts() }).catch(() => {}), 60);
  }
  queueMicrotask(check);
}

/** Ask for verdicts of the texts as they are now; while one answer is awaited, only the newest are asked for next. */
async function check() {
  if (asking) {
    again = true;
    return;
  }
  asking = true;
  clearTimeout(settling);
  try {
    const answer = await ask("check", { texts: files.texts(), serial: ++serial });
    if (!answer.superseded) {
      display(answer);
      await files.follow(answer.files);
    }
  } catch {
    setTimeout(check, 1500);
  } finally {
    asking = false;
    if (again) {
      again = false;
      check();
    } else if (!last.problems.length) settling = setTimeout(settled, last.looked ? SETTLED : 0);
    else settling = setTimeout(() => { if (here) show(here, false); }, SETTLED);
  }
}

/** Typing rests: what takes longer is asked for. */
function settled() {
  if (here) show(here, false);
  picture();
}

function display(answer) {
  last = { ...last, ...answer, main: files.mainFile(), looking: true };
  if (answer.kept) word(`Your text cannot be kept on this machine: ${answer.kept}. Save it soon.`);
  mark();
  findings.show(last);
  const counts = last.counts;
  const words = answer.problems.length
    ? `cannot be read: ${answer.problems.length} ${answer.problems.length === 1 ? "problem" : "problems"}`
    : `${counts.discrepancy} discrepancies, ${counts.advisory} advisories, ${counts.undetermined} not judged, ${counts.meets} meet`;
  find("counts").textContent = words;
  document.body.dataset.serial = String(answer.serial);
  performance.mark(`verdicts-${answer.serial}`);
  aloud(words);
}

let speaking = 0;
/** Say what it comes to once typing rests; a reader aloud would else be interrupted at every letter. */
function aloud(words) {
  clearTimeout(speaking);
  speaking = setTimeout(() => { if (find("aloud").textContent !== words) find("aloud").textContent = words; }, 900);
}

function mark() {
  text.mark(last.problems, last.problems.length ? [] : last.verdicts);
}

/** Find the causes of what was checked last, and draw it, when nothing else is asked for. */
async function picture() {
  if (picturing) return;
  picturing = true;
  try {
    while (pictured !== serial && !asking) {
      pictured = serial;
      const answer = await ask("causes", { serial });
      if (answer.failed) word(`The causes could not be found: ${answer.failed}. The verdicts stand.`, close());
      else if (!answer.superseded && answer.serial === serial) {
        last = { ...last, ...answer, looking: false, looked: true };
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
  const name = text.current();
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
  if (front) {
    findings.front("thing");
    part("right");
  }
  if (find("thing").hidden) return;
  const mine = ++showing;
  const answer = await ask("card", { section: one.section, id }).catch(() => ({ gone: true }));
  if (mine === showing && !answer.gone) findings.card(answer.card, last);
}

/** Bring a place of a file to sight. */
function go(one) {
  if (one.file && !files.show(one.file)) return word(`That stands in ${one.file}${one.cell ? `, ${one.cell}` : ""}: change it there with its own program; what is judged follows.`, close());
  part("text");
  text.show(one.line, true, one.column);
}

/** Show the line of a thing, if it stands in a file that is open here. */
function showLine(id) {
  const one = last.things[id];
  if (one && files.show(one.file)) text.show(one.line, false);
}

/** Fill the help of a word under the pointer; false if there is none. */
function hover(answer, dom) {
  const ident = answer.path[1];
  const verdicts = last.verdicts.filter((one) => one.at.includes(ident) && one.outcome !== "meets").slice(0, 3);
  if (!answer.help && !verdicts.length) return false;
  fill(dom, answer.path.length ? make("strong", {}, answer.path.filter((step) => typeof step === "string").join(" > ")) : null, answer.help ? make("p", {}, answer.help) : null,
    answer.figures ? make("p", { class: "numbers" }, answer.figures) : null,
    ...verdicts.map((one) => make("p", { class: one.outcome }, `${one.label}: ${one.message}`)));
  if (last.things[ident]) dom.append(button(`Card of ${ident}`, () => show(ident, true)));
  return true;
}

/** Whether a file was changed by another program, and whether the program behind this page still runs. */
async function watch() {
  try {
    const answer = await ask("disk");
    if (!told) files.changedOutside(answer.changed);
    const now = JSON.stringify(answer.tables);
    if (tables && now !== tables) check();
    tables = now;
  } catch { /* told by onEnd */ }
  setTimeout(watch, 2000);
}

onEnd((now, why) => {
  if (!now) return word("");
  word(why === "key" ? "This window has no key: open the address the terminal shows." : "Ended: the program behind this page has stopped. Your text stays here; start it again and open its address.");
});

/** Write a cure into the texts it falls in, as one change of each that can be undone. */
async function cure(one, way) {
  const answer = await ask("cure", { texts: files.texts(), number: one.number, way }).catch((bad) => ({ refused: bad.message }));
  if (answer.refused) return word(answer.refused, close());
  write(answer);
}

function write(answer) {
  const names = Object.keys(answer.texts);
  for (const name of names) text.become(name, answer.texts[name]);
  const others = names.filter((name) => name !== text.current());
  word(`Written${others.length ? ` in ${names.join(" and ")}` : ""}: ${answer.words}.`, button("Undo", () => { for (const name of names) text.undo(name); word(""); }), close());
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
  find("caution").textContent = `${got.caution} installcheck ${got.version}`;
  await files.openMain(got.main);
  await check();
  if (got.tour && !localStorage.getItem("toured")) tour({ part, front: findings.front });
}

find("undo").addEventListener("click", () => text.undo(text.current()));
find("redo").addEventListener("click", () => text.redo(text.current()));
find("keys").addEventListener("click", keys);
find("adding").addEventListener("click", () => add({ ask, texts: files.texts, write }));
for (const one of find("shown").children) one.addEventListener("click", () => part(one.dataset.part));
document.addEventListener("keydown", turnPart);

files.start({ text, word, turned: mark });
findings.start();
findings.onChoice({
  go, cure,
  again: () => findings.show(last),
  known: () => last.things,
  thing: (id) => { show(id, true); showLine(id); drawing.showThing(id, true); },
  turning: (one) => (files.isOpen(one.file) ? turning(one, last.things, text) : null),
  sheet: (id) => { part("drawing"); drawing.showThing(id, true); },
});
find("tab-thing").addEventListener("click", () => { if (here) show(here, true); });
drawing.start();
drawing.onPress({
  thing: (id) => { showLine(id); show(id, true); },
  flag: (number) => { part("right"); findings.flagged(number, last); },
});
open().then(watch, () => {});
