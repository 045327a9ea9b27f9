// The files of the document: which is shown, what of each is saved, kept or changed by another program.

import { choose, difference, fill, find, make } from "./build.js";
import { ask, leave } from "./talk.js";

let text;
let word;
let turned = () => {};
const files = new Map();
const told = new Set();
let main = "";

/** `hooks` are the editor, `word(message, ...buttons)` and `turned()`, called when another file is shown. */
export function start(hooks) {
  ({ text, word, turned } = hooks);
  find("save").addEventListener("click", save);
  find("save-all").addEventListener("click", saveAll);
  find("differ").addEventListener("click", differ);
  window.addEventListener("pagehide", () => { if (unsaved().length) leave(texts()); });
  window.addEventListener("beforeunload", (event) => { if (unsaved().length) event.preventDefault(); });
}

export const mainFile = () => main;
export const isOpen = (name) => files.has(name);

const button = (words, press) => make("button", { type: "button", onclick: press }, words);
const dirty = (name) => !files.get(name).named || text.text(name) !== files.get(name).saved;
const unsaved = () => [...files.keys()].filter((name) => text.text(name) !== files.get(name).saved);

/** The texts the program does not have from the disk: every file that was changed in this window. */
export function texts() {
  const found = {};
  for (const [name, one] of files) if (one.touched) found[name] = text.text(name);
  return found;
}

/** A file was changed: kept in the browser at once; the program keeps it as well, with every check. */
export function changed(name) {
  const one = files.get(name);
  if (!one) return;
  one.touched = true;
  clearTimeout(one.keeping);
  if (text.doc(name).length < 100_000) keep(name);
  else one.keeping = setTimeout(() => keep(name), 150);
  state();
}

function keep(name) {
  const one = files.get(name);
  try {
    if (text.text(name) === one.saved) localStorage.removeItem(one.id);
    else localStorage.setItem(one.id, JSON.stringify({ text: text.text(name), when: new Date().toISOString(), based_on: one.digest }));
  } catch { /* no room: the program has it */ }
}

/** The text this browser kept, if it is later than the program's. */
function kept(got) {
  const draft = got.draft;
  try {
    const own = JSON.parse(localStorage.getItem(got.id));
    if (own && own.text !== got.text && (!draft || (own.text !== draft.text && Date.parse(own.when) + 1000 >= Date.parse(draft.when)))) {
      return { ...own, on_other: own.based_on !== got.digest };
    }
  } catch { /* none that can be read */ }
  return draft;
}

/** Open a file as the program told it, and ask what to do with a text that was not saved. */
async function open(got) {
  files.set(got.name, { saved: got.text, id: got.id, digest: got.digest, named: got.named, touched: !got.named });
  text.open(got.name, got.text);
  const draft = kept(got);
  if (!draft) return;
  const between = await ask("difference", { texts: { [got.name]: draft.text } });
  const chosen = await choose(`Text of ${got.name} that was not saved, of ${new Date(draft.when).toLocaleString()}`, [
    make("p", {}, draft.on_other ? "It was begun from another state of the file: look before you take it." : "From the file to that text:"), difference(between.differences[got.name] || "")],
  [["take", "Go on with it"], ["drop", "Drop it"]]);
  if (chosen === "drop") {
    localStorage.removeItem(got.id);
    await ask("forget", { file: got.name });
  } else text.become(got.name, draft.text);
}

/** Open the main file. */
export async function openMain(got) {
  main = got.name;
  await open(got);
  show(main);
}

/** The files the document has now: those that are new are opened, those that are gone are put away unless they are unsaved. */
export async function follow(names) {
  let more = false;
  for (const name of names) {
    if (files.has(name)) continue;
    const got = await ask("file", { file: name });
    if (got.refused || files.has(name)) continue;
    await open(got.file);
    more = true;
  }
  for (const name of [...files.keys()]) {
    if (names.includes(name) || name === main || dirty(name)) continue;
    if (name === text.current()) show(main);
    text.close(name);
    files.delete(name);
    more = true;
  }
  if (more) state();
}

/** Show a file; false if it is not open here. */
export function show(name) {
  if (!files.has(name)) return false;
  if (name !== text.current()) {
    text.turn(name);
    turned();
  }
  state();
  return true;
}

/** What is saved and what is not, in the head of the page and on the tabs. */
export function state() {
  const open = [...files.keys()];
  const left = open.filter(dirty);
  const now = text.current();
  find("name").textContent = main;
  find("saved").textContent = !left.length ? "saved" : open.length === 1 ? "not saved" : `not saved: ${left.join(", ")}`;
  document.title = `${left.length ? "* " : ""}${main} - installcheck`;
  find("save").disabled = !left.includes(now);
  find("save").textContent = open.length === 1 ? "Save" : `Save ${now}`;
  find("save-all").hidden = !left.some((name) => name !== now);
  find("save-all").textContent = `Save all ${left.length}`;
  find("differ").disabled = !unsaved().length;
  tabs(open, now);
}

function tabs(open, now) {
  const bar = find("files");
  bar.hidden = open.length < 2;
  const names = open.map((name) => `${dirty(name) ? "* " : ""}${name}`);
  if (names.join("\n") !== [...bar.children].map((one) => one.textContent).join("\n")) {
    const focused = bar.contains(document.activeElement) && document.activeElement.dataset.file;
    fill(bar, ...open.map((name, n) => make("button", { type: "button", role: "tab", "aria-controls": "editor", "data-file": name, "aria-label": `${name}${dirty(name) ? ", not saved" : ""}`, onclick: () => show(name), onkeydown: turnTab }, names[n])));
    if (focused) bar.querySelector(`[data-file="${CSS.escape(focused)}"]`)?.focus();
  }
  for (const one of bar.children) {
    const on = one.dataset.file === now;
    one.setAttribute("aria-selected", on);
    one.tabIndex = on ? 0 : -1;
  }
}

function turnTab(event) {
  const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
  if (!by) return;
  const all = [...find("files").children];
  const next = all[(all.indexOf(event.target) + by + all.length) % all.length].dataset.file;
  show(next);
  [...find("files").children].find((one) => one.dataset.file === next).focus();
}

/** Save the file that is shown. */
export function save() {
  return write(text.current(), {});
}

/** Save every file that is not, each whole or not at all, the one shown last; ends at the first that cannot be. */
export async function saveAll() {
  for (const name of [...files.keys()].filter(dirty)) if (!(await write(name, {}))) return;
}

async function write(name, more) {
  const one = files.get(name);
  const now = text.text(name);
  let as = "";
  if (!one.named) {
    const input = make("input", { id: "file-name", value: name, autocomplete: "off" });
    const chosen = await choose("Save", [make("label", { for: "file-name" }, "File name, in this folder"), input], [["save", "Save"], ["", "Cancel"]]);
    if (chosen !== "save") return false;
    as = input.value;
  }
  let answer;
  try {
    answer = await ask("save", { file: name, text: now, name: as, ...more });
  } catch (bad) {
    word(`${name} is not saved: ${bad.message}.`);
    return false;
  }
  if (answer.saved) {
    localStorage.removeItem(one.id);
    Object.assign(one, { named: true, saved: now, digest: answer.digest, id: answer.id });
    if (answer.name !== name) renamed(name, answer.name);
    told.delete(answer.name);
    if (text.text(answer.name) !== now) keep(answer.name);
    word("");
    state();
    return true;
  }
  if (answer.refused) {
    word(`${name} is not saved: ${answer.refused}.`);
    return false;
  }
  const chosen = await choose(`${name} was changed by another program`, [make("p", {}, "Nothing was saved. From the file to your text:"), difference(answer.conflict.difference)],
    [["mine", "Save mine over it"], ["theirs", "Take the file's text"], ["", "Leave both as they are"]]);
  if (chosen === "mine") return write(name, { ...more, over: answer.conflict.digest });
  if (chosen === "theirs") return take(name);
  return false;
}

function renamed(old, name) {
  const all = [...files];
  files.clear();
  for (const [key, one] of all) files.set(key === old ? name : key, one);
  text.rename(old, name);
  if (main === old) main = name;
  turned();
}

/** The file's text in place of this one, as a change that can be undone. */
async function take(name) {
  const answer = await ask("theirs", { file: name, text: text.text(name), take: true });
  if (answer.refused) {
    word(answer.refused);
    return false;
  }
  Object.assign(files.get(name), { saved: answer.text, digest: answer.digest, touched: true });
  text.become(name, answer.text);
  told.delete(name);
  word("");
  state();
  return true;
}

async function differ() {
  const answer = await ask("difference", { texts: Object.fromEntries(unsaved().map((name) => [name, text.text(name)])) });
  const parts = Object.values(answer.differences).map(difference);
  if (!parts.length) parts.push(make("p", {}, "Every text is as it is in its file."));
  const changes = make("div", { role: "status" }, make("p", { class: "note" }, "What that changes is being worked out."));
  parts.push(changes);
  ask("changes", { texts: texts() }).then((told) => fill(changes, ...(told.changes.length
    ? [make("h3", {}, "What that changes"), make("pre", { class: "difference", tabindex: "0" }, told.changes.join("\n"))]
    : [make("p", { class: "note" }, told.unread ? "What that changes can be told once the text can be read." : "It changes nothing in the installation.")]))).catch(() => {});
  const chosen = await choose("Not saved yet", parts, [["", "Keep"], ["drop", files.size > 1 ? "Go back to the files" : "Go back to the file"]]);
  if (chosen === "drop") for (const name of unsaved()) text.become(name, files.get(name).saved);
}

/** Tell once of each file that was changed by another program. */
export function changedOutside(names) {
  for (const name of told) if (!names.includes(name)) told.delete(name);
  const one = names.find((name) => files.has(name) && !told.has(name));
  if (!one) return;
  told.add(one);
  word(`${files.size > 1 ? one : "The file"} was changed by another program.`, button("Show", async () => {
    const theirs = await ask("theirs", { file: one, text: text.text(one) });
    const chosen = await choose(`${one} was changed by another program`, [make("p", {}, "From the file to your text:"), difference(theirs.refused || theirs.difference || "no difference")],
      [["theirs", "Take the file's text"], ["", "Keep mine"]]);
    if (chosen === "theirs") await take(one);
    else word("");
  }));
}
