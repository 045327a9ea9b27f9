// A first look, in five steps.

import { fill, find, make } from "./build.js";

const STEPS = [
  ["text", null, "On the left is the installation, in words a mechanic writes on a drawing: senders, gauges, wires with their gauge and length. Type, and it is judged as you type. Ctrl+Space says what can be written at the cursor."],
  ["right", "causes", "On the right stands what is to be put right, each with what it makes wrong and a cure that was tried on a copy. A press on the line number brings you to its place in the text."],
  ["drawing", null, "The drawing follows the text. Press a wire or a gauge, and its line is shown; the numbered flags are the findings."],
  ["right", "thing", "The card of a thing gives its ohms, its drop, the error it makes and its margins. Try turns one figure, and every verdict follows; put it back when you have seen enough."],
  ["right", "causes", "Nothing is saved until you press Save. What you type is kept on this machine until then. This is an aid to a qualified person, and no approval of any kind. Now take the first cure, and look at what is left."],
];

/** Lead through the window; ends by its own button or Escape. */
export function tour({ part, front }) {
  const place = find("tour");
  let step = 0;
  const end = () => {
    place.hidden = true;
    localStorage.setItem("toured", "yes");
  };
  const show = () => {
    const [which, tab, words] = STEPS[step];
    part(which);
    if (tab) front(tab);
    fill(place,
      make("p", {}, `${step + 1} of ${STEPS.length}`),
      make("p", {}, words),
      make("div", { class: "buttons" },
        make("button", { type: "button", onclick: () => { if (step < STEPS.length - 1) { step += 1; show(); } else end(); } }, step < STEPS.length - 1 ? "Next" : "Begin"),
        make("button", { type: "button", onclick: end }, "Leave the tour")));
    place.hidden = false;
    place.querySelector("button").focus();
  };
  place.addEventListener("keydown", (event) => { if (event.key === "Escape") end(); });
  show();
}
