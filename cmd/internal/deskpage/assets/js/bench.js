// At the machine: the packet's route on this screen, and the gap seen at the
// test fit.

import { button, fill, h } from "./dom.js";
import { routeWalk } from "./route.js";
import { openFile } from "./viewer.js";

const TESTS = [["last-joint", "at the last joint, all others closed"], ["halves", "between two glued halves"], ["one-joint", "at one joint, two segments together"], ["straightedge", "under a straightedge along a half"]];

// benchView is the screen for work at the machine.
export function benchView(desk) {
  const { model, host } = desk;
  const gap = h("input", { type: "text", class: "short", id: "gap", autocomplete: "off", placeholder: "as in 0.5 mm" });
  const at = h("select", { id: "gap-at" }, h("option", { value: "valley" }, "at the valley, outside"), h("option", { value: "centre" }, "at the star's centre"));
  const test = h("select", { id: "gap-test" }, TESTS.map(([v, t]) => h("option", { value: v }, t)));
  const answer = h("div", { class: "answer", role: "status", "aria-live": "polite", id: "fit-answer" });
  const ask = async (e) => {
    e?.preventDefault();
    try {
      const { result } = await host.call("fit", { name: model.name, source: model.source, shop: model.shop, gap: gap.value, at: at.value, test: test.value });
      fill(answer, h("pre", { tabindex: "0" }, result.page));
    } catch (err) { fill(answer, h("div", { class: "error" }, (err.lines || [err.message]).map((l) => h("p", {}, l)))); }
  };
  const route = h("div", { class: "row", id: "route" });
  const show = () => {
    const page = desk.packet?.files.get("bench.html");
    fill(route, page ? button("Open the packet's page for a phone", () => openFile("bench.html", page)) : null);
  };
  desk.addEventListener("packet", show);
  show();
  return h("section", { class: "view", id: "view-bench" },
    h("h2", {}, "At the machine"), routeWalk(model), route,
    h("form", { class: "fit", onsubmit: ask },
      h("h3", {}, "A gap at the test fit"),
      h("p", { class: "lead" }, "Lay the segments of one star together without glue. Type the gap that you see, and the correction of the saw stands below."),
      h("div", { class: "field" }, h("label", { for: "gap" }, "How wide is the gap?"), gap),
      h("div", { class: "field" }, h("label", { for: "gap-at" }, "Where is it open?"), at),
      h("div", { class: "field" }, h("label", { for: "gap-test" }, "How did you look?"), test),
      h("button", { type: "submit", class: "main" }, "What closes it?")), answer);
}
