// Try: a figure of a thing turned by keys or a slider while every verdict follows; kept, or put back.

import { find, make } from "./build.js";

const UNITS = new Set("% AWG ft in yd m cm mm A mA kA V mV W mW ohm milliohm kohm Ah s min h psi kPa bar inHg degF degC K rpm Hz gal lb kg".split(" "));

/** The figures written in the lines of a thing: word, value, unit and where the value stands. */
function figuresOf(doc, first, end) {
  const found = [];
  for (let n = first; n <= doc.lines && n < end; n += 1) {
    const line = doc.line(n);
    const told = line.text.replace(/(^|\s)#.*/, "");
    for (const one of told.matchAll(/(?<![\w./-])(\d+(?:\.\d+)?)(?![\w.-]|\/)(?:\s*(%|[A-Za-z]+(?:\/[A-Za-z]+)?))?/g)) {
      const before = told.slice(0, one.index);
      const worded = /([A-Za-z_][A-Za-z_ ]*):\s*["'[]?$/.exec(before);
      const unit = UNITS.has((one[2] || "").split("/")[0]) ? one[2] : "";
      if (!worded && !unit) continue;
      const word = worded ? worded[1] : (/([A-Za-z][A-Za-z ]*) $/.exec(before) || ["", unit === "AWG" ? "gauge" : "length"])[1];
      found.push({ word: word.trim().replaceAll("_", " "), value: Number(one[1]), unit, from: line.from + one.index, length: one[1].length });
    }
  }
  return found;
}

/** The slider of a thing; `null` where it writes no figure. It stays as it is while it is used. */
export function turning(thing, known, text) {
  const now = find("try");
  if (now && now.dataset.thing === thing.id && now.contains(document.activeElement)) return now;
  const file = thing.file;
  const doc = text.doc(file);
  const next = Object.values(known).filter((one) => one.file === file && one.line > thing.line).map((one) => one.line);
  const figures = figuresOf(doc, thing.line, Math.min(thing.line + 60, ...next));
  if (!figures.length) return null;
  const before = text.text(file);
  const chosen = make("select", { "aria-label": "figure to try" }, ...figures.map((f, n) => make("option", { value: n }, `${f.word} ${f.value} ${f.unit}`)));
  const slider = make("input", { type: "range", "aria-label": "value to try" });
  const out = make("output", {});
  const back = make("button", { type: "button", onclick: () => text.become(file, before) }, "Put it back");
  let at = null;
  const tell = (value) => {
    out.textContent = `${value} ${at.unit}`;
    slider.setAttribute("aria-valuetext", `${at.word} ${value} ${at.unit}`);
  };
  const pick = () => {
    at = figures[Number(chosen.value)];
    at.digits ??= Math.max((String(at.value).split(".")[1] || "").length, at.value < 10 && !["AWG", "ft"].includes(at.unit) ? 1 : 0);
    Object.assign(slider, { min: "0", max: String(at.value ? at.value * 3 : 10), step: String(10 ** -at.digits), value: String(at.value) });
    tell(at.value);
  };
  slider.addEventListener("input", () => {
    const value = Number(slider.value).toFixed(at.digits);
    text.change(file, { changes: { from: at.from, to: at.from + at.length, insert: value }, userEvent: "input.try" });
    for (const one of figures) if (one.from > at.from) one.from += value.length - at.length;
    Object.assign(at, { length: value.length, value: Number(value) });
    tell(value);
  });
  chosen.addEventListener("change", pick);
  pick();
  return make("fieldset", { class: "try", id: "try", "data-thing": thing.id }, make("legend", {}, "Try"), chosen, slider, out, back);
}
