// The drawing: one sheet at a time, moved and enlarged, its things and flags joined to the text.

import { ask } from "./talk.js";
import { find, make } from "./build.js";

const parser = new DOMParser();
const held = new Map();
let sheets = [];
let current = "";
let scale = null; // steps of size over the whole sheet; null until it is chosen
let known = {};
let elements = new Map();
let hooks = { thing() {}, flag() {} };

const slug = (name) => name.replace(/[^\p{L}\p{N}_.+-]+/gu, "-");

/** What to do when a thing or a numbered flag is pressed. */
export function onPress(told) {
  hooks = told;
}

/** Fetch the sheets of the last check; a sheet that is as it was is not drawn again. */
export async function redraw(things, serial) {
  const answer = await ask("sheets", { serial });
  if (answer.superseded) return;
  known = things;
  sheets = answer.sheets;
  const select = find("sheet");
  const titles = sheets.map((one) => one.title.replace(/^.*?: /, ""));
  const before = select.value;
  if (titles.join("\n") !== [...select.options].map((one) => one.text).join("\n")) {
    select.replaceChildren(...titles.map((title) => make("option", { value: title }, title)));
    if (titles.includes(before)) select.value = before;
  }
  for (const digest of held.keys()) if (!sheets.some((one) => one.digest === digest)) held.delete(digest);
  await display();
}

async function display() {
  const index = find("sheet").selectedIndex;
  const sheet = sheets[index];
  if (!sheet) return;
  if (sheet.digest === current) return index_();
  if (!held.has(sheet.digest)) {
    const answer = await ask("sheet", { digest: sheet.digest });
    if (answer.gone) return;
    held.set(sheet.digest, answer.svg);
  }
  if (sheets[find("sheet").selectedIndex] !== sheet) return;
  const svg = document.importNode(parser.parseFromString(held.get(sheet.digest), "image/svg+xml").documentElement, true);
  for (const style of svg.querySelectorAll("style")) style.remove();
  svg.setAttribute("focusable", "false");
  const paper = find("paper");
  const [left, top] = [paper.scrollLeft, paper.scrollTop];
  paper.replaceChildren(svg);
  current = sheet.digest;
  size();
  paper.scrollTo(left, top);
  index_();
}

/** Which element of the sheet is which thing of the document, told by its id. */
function index_() {
  elements = new Map();
  const svg = find("paper").firstElementChild;
  if (!svg) return;
  const named = new Map(Object.keys(known).map((ident) => [slug(ident), ident]));
  for (const group of svg.querySelectorAll("g[id]")) {
    const ident = thingOf(group.id.replace(/^s\d+-/, ""), named);
    if (ident === undefined) continue;
    if (!elements.has(ident)) elements.set(ident, []);
    elements.get(ident).push(group);
  }
}

/** `run-W1` and `run-W1-a` are of W1, `at-...-gauge` is of the gauge; the longest name that fits is meant. */
function thingOf(id, named) {
  const parts = id.split("-");
  if (parts[0] === "run") {
    for (let n = parts.length; n > 1; n -= 1) {
      const ident = named.get(parts.slice(1, n).join("-"));
      if (ident !== undefined) return ident;
    }
  } else if (["at", "zone", "line", "device"].includes(parts[0])) {
    for (let n = 1; n < parts.length; n += 1) {
      const ident = named.get(parts.slice(n).join("-"));
      if (ident !== undefined) return ident;
    }
  }
  return undefined;
}

/** On a phone a whole sheet could not be read: it begins larger. */
const steps = () => scale ?? (matchMedia("(max-width: 760px)").matches ? 3 : 0);

function size() {
  const paper = find("paper");
  const svg = paper.firstElementChild;
  if (!svg) return;
  const box = svg.viewBox.baseVal;
  const fit = Math.min(paper.clientWidth / box.width, paper.clientHeight / box.height) || 1;
  const now = fit * 1.25 ** steps();
  svg.setAttribute("width", `${box.width * now}`);
  svg.setAttribute("height", `${box.height * now}`);
}

function zoom(by) {
  const paper = find("paper");
  const middle = [(paper.scrollLeft + paper.clientWidth / 2) / (paper.scrollWidth || 1), (paper.scrollTop + paper.clientHeight / 2) / (paper.scrollHeight || 1)];
  scale = by === 0 ? 0 : Math.min(12, Math.max(-2, steps() + by));
  size();
  paper.scrollTo(middle[0] * paper.scrollWidth - paper.clientWidth / 2, middle[1] * paper.scrollHeight - paper.clientHeight / 2);
}

/** Show a thing: mark it on the sheet; turn to the first sheet that has it only when `turn` is set. */
export async function showThing(ident, turn = false) {
  for (const marked of find("paper").querySelectorAll(".here")) marked.classList.remove("here");
  let found = elements.get(ident);
  if (!found && turn) {
    for (const [n, sheet] of sheets.entries()) {
      if (!held.has(sheet.digest)) {
        const answer = await ask("sheet", { digest: sheet.digest });
        if (answer.gone) return;
        held.set(sheet.digest, answer.svg);
      }
      const name = slug(ident);
      if (held.get(sheet.digest).includes(`-run-${name}"`) || held.get(sheet.digest).includes(`-device-${name}"`)) {
        find("sheet").selectedIndex = n;
        await display();
        found = elements.get(ident);
        break;
      }
    }
  }
  for (const group of found || []) group.classList.add("here");
  if (found) found[0].scrollIntoView({ block: "center", inline: "center" });
}

function pressed(event) {
  const link = event.target.closest("a");
  const flag = link && /verdict-(\d+)$/.exec(link.getAttribute("href") || "");
  if (link) event.preventDefault();
  if (flag) return hooks.flag(Number(flag[1]));
  const group = event.target.closest("g[id]");
  for (const [ident, groups] of elements) if (groups.includes(group)) return hooks.thing(ident);
  const number = group && /verdict-(\d+)$/.exec(group.id);
  if (number) hooks.flag(Number(number[1]));
}

export function start() {
  const paper = find("paper");
  let from = null;
  find("sheet").addEventListener("change", display);
  find("smaller").addEventListener("click", () => zoom(-1));
  find("larger").addEventListener("click", () => zoom(1));
  find("whole").addEventListener("click", () => zoom(0));
  paper.addEventListener("click", (event) => { if (!from?.moved) pressed(event); });
  paper.addEventListener("pointerdown", (event) => { if (event.pointerType === "mouse") from = { x: event.clientX, y: event.clientY, left: paper.scrollLeft, top: paper.scrollTop, moved: false }; });
  paper.addEventListener("pointermove", (event) => {
    if (!from || !(event.buttons & 1)) return;
    const [x, y] = [event.clientX - from.x, event.clientY - from.y];
    if (Math.hypot(x, y) > 4) from.moved = true;
    if (from.moved) paper.scrollTo(from.left - x, from.top - y);
  });
  paper.addEventListener("wheel", (event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    zoom(event.deltaY < 0 ? 1 : -1);
  }, { passive: false });
  paper.addEventListener("keydown", (event) => {
    if (event.key === "+" || event.key === "=") zoom(1);
    else if (event.key === "-") zoom(-1);
    else if (event.key === "0") zoom(0);
  });
  new ResizeObserver(size).observe(paper);
}
