// At the machine: the page that stands in the packet as bench.html, one set-up a
// screen, and the gap seen at the test fit.

import { fill, h } from "./dom.js";

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
      const { result } = await host.call("fit", { name: model.name, source: model.source, shop: model.shop, star: model.star, gap: gap.value, at: at.value, test: test.value });
      fill(answer, h("pre", { tabindex: "0" }, result.page));
    } catch (err) { fill(answer, h("div", { class: "error" }, (err.lines || [err.message]).map((l) => h("p", {}, l)))); }
  };
  const view = h("section", { class: "view", id: "view-bench" },
    h("h2", {}, "At the machine"), walk(desk, () => !view.hidden),
    h("form", { class: "fit", onsubmit: ask },
      h("h3", {}, "A gap at the test fit"),
      h("p", { class: "lead" }, "Lay the segments of one star together without glue. Type the gap that you see, and the correction of the saw stands below."),
      h("div", { class: "field" }, h("label", { for: "gap" }, "How wide is the gap?"), gap),
      h("div", { class: "field" }, h("label", { for: "gap-at" }, "Where is it open?"), at),
      h("div", { class: "field" }, h("label", { for: "gap-test" }, "How did you look?"), test),
      h("button", { type: "submit", class: "main" }, "What closes it?")), answer);
  return view;
}

// walk shows the page for the machine, and works it out anew when somebody looks
// and the job has changed. It is the packet's own, with its drawings, the checks
// before a program and what is counted off; its ticks stay in this browser.
function walk(desk, seen) {
  const { model, host } = desk, box = h("div", { class: "walk", id: "walk" });
  let shown = null, abort = null;
  const wait = (words) => { shown = null; fill(box, h("p", { class: "lead" }, words)); };
  const show = async () => {
    if (!seen()) return;
    if (model.stale || !model.whole) {
      wait(model.glance?.errors.length ? "Mend the job first; then the route stands here." : "Working out the route...");
      return;
    }
    if (shown === model.whole) return;
    if (!box.querySelector("iframe")) wait("Working out the route...");
    shown = model.whole;
    abort?.abort();
    abort = new AbortController();
    try {
      const { files } = await host.call("bench", { name: model.name, source: model.source, shop: model.shop }, { signal: abort.signal });
      if (shown !== model.whole) return;
      fill(box, h("iframe", { title: "The route, one set-up a screen", srcdoc: new TextDecoder().decode(files.get("bench.html")) }));
    } catch (e) { if (e.name !== "AbortError") { wait("The route could not be worked out."); desk.trouble(e); } }
  };
  model.addEventListener("whole", show);
  model.addEventListener("glance", show);
  desk.addEventListener("screen", show);
  return box;
}
