// The route: which ways were chosen and why, and one set-up a screen for the
// machine, its numbers large, with ticks that outlast a reload.

import { button, fill, h, plural } from "./dom.js";

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

// routeWalk shows one set-up at a time.
export function routeWalk(model) {
  const box = h("div", { class: "walk", id: "walk" });
  let at = 0, job = "";
  const show = () => {
    const route = model.stale ? null : model.whole?.plan.route;
    if (!route?.length) { fill(box, h("p", { class: "lead" }, model.glance?.errors.length ? "Mend the job first; then the route stands here." : "Working out the route...")); return; }
    if (job !== model.name) { job = model.name; at = Number(recall("at", "0")); }
    at = Math.max(0, Math.min(route.length - 1, at));
    const s = route[at];
    const go = (to) => { at = to; keep("at", String(at)); show(); box.querySelector("h3").focus(); };
    fill(box,
      h("div", { class: "row walk-head" },
        button("\u25c0 Back", () => go(at - 1), { disabled: at === 0, id: "walk-back" }),
        h("label", { class: "unseen", for: "walk-pick" }, "Set-up"),
        h("select", { id: "walk-pick", onchange: (e) => go(Number(e.target.value)) }, route.map((r, i) => h("option", { value: String(i) }, `${i + 1}. ${r.name}`))),
        button("Next \u25b6", () => go(at + 1), { disabled: at === route.length - 1, id: "walk-next", class: "main" })),
      h("h3", { tabindex: "-1" }, `${at + 1} of ${route.length}: ${s.name}`),
      h("p", { class: "note" }, [s.machine === "hand" ? "by hand" : s.machine, `${s.count} ${s.of || ""}`].join(", ")),
      (s.cautions || []).length ? h("ul", { class: "cautions" }, s.cautions.map((c) => h("li", {}, c))) : null,
      h("dl", { class: "readings" }, s.readings.filter((r) => r.set).map((r) => h("div", {}, h("dt", {}, r.name), h("dd", {}, r.printed)))),
      lines("Turn", s.turn_before ? [s.turn_before] : []),
      lines("Set up", s.set_up), lines("Work", s.steps), lines("Measure", s.measure),
      rest(s), counter(model, at, s));
    box.querySelector("select").value = String(at);
  };
  const keyOf = (what) => `starwright-walk/${model.name}/${what}`;
  const keep = (what, v) => { try { localStorage.setItem(keyOf(what), v); } catch { /* then it lasts as long as the page */ } memory.set(keyOf(what), v); };
  const recall = (what, other) => { try { return localStorage.getItem(keyOf(what)) ?? memory.get(keyOf(what)) ?? other; } catch { return memory.get(keyOf(what)) ?? other; } };
  const counter = (m, i, s) => {
    const n = Number(recall(`done-${i}-${s.name}`, "0"));
    const put = (v) => { keep(`done-${i}-${s.name}`, String(Math.max(0, Math.min(s.count, v)))); show(); };
    return h("div", { class: "row counter" }, button("\u2212", () => put(n - 1), { class: "sign", "aria-label": "One fewer done", disabled: n === 0 }),
      h("output", { id: "walk-count", "aria-live": "polite" }, `${n} of ${s.count} done`), button("One more done", () => put(n + 1), { class: "main big", id: "walk-more", disabled: n >= s.count }));
  };
  model.addEventListener("whole", show);
  model.addEventListener("glance", show);
  return box;
}

const memory = new Map();

function lines(title, list) {
  return list?.length ? h("div", {}, h("h4", {}, title), list.length === 1 ? h("p", {}, list[0]) : h("ol", { class: "steps" }, list.map((l) => h("li", {}, l)))) : null;
}

function rest(s) {
  const list = s.readings.filter((r) => !r.set);
  return list.length || s.jigs?.length ? h("p", { class: "note" }, [...list.map((r) => `${r.name} ${r.printed}`), s.jigs?.length ? plural(s.jigs.length, "jig") + ": " + s.jigs.map((j) => j.slice(4, -4)).join(", ") : ""].filter(Boolean).join("; ")) : null;
}
