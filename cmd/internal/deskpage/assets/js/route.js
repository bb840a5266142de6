// The route: which ways were chosen, why, and what another way would need.

import { fill, h } from "./dom.js";

// choicesPanel says how each piece of work is done, why, and what another way
// would need.
export function choicesPanel(model) {
  const list = h("ul", { class: "choices", id: "choices" });
  model.addEventListener("whole", () => {
    if (model.stale) return;
    fill(list, (model.whole.plan.choices || []).map((c) => h("li", {},
      h("strong", {}, [c.star, c.operation].filter(Boolean).join(": ")), " ", c.method, ".",
      c.why && h("span", { class: "brings" }, ` ${c.why.charAt(0).toUpperCase()}${c.why.slice(1)}.`),
      c.next_needs && h("span", { class: "brings" }, ` Another way needs: ${c.next_needs}.`))));
  });
  return h("details", { class: "group" }, h("summary", {}, h("span", {}, "How each piece is cut, and why"), h("span", { class: "note" }, "ways and jigs")), list);
}
