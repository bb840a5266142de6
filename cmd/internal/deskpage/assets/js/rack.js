// The rack: boards as drawn bars with their knots and cuts.

import { button, fill, h, plural, s } from "./dom.js";
import { showErrors } from "./form.js";

const WIDE = 1000, TALL = 64; // of a bar, in the drawing's own unit

// rackView is the screen of the boards.
export function rackView(model) {
  const list = h("ol", { class: "boards" }), sum = h("p", { class: "sum", id: "rack-sum" }), wrong = h("div", { class: "wrong" });
  const length = h("input", { type: "text", id: "new-board", autocomplete: "off", placeholder: "as in 2.4 m or 96 in" });
  const add = () => {
    const text = length.value.trim();
    if (!text) { length.focus(); return; }
    const boards = rackOf(model);
    model.lastPath = "";
    model.edit(boards.length === 0 ? { path: BOARDS, value: `[${JSON.stringify(text)}]` } : { path: [...BOARDS, String(boards.length)], typed: text });
    length.value = "";
  };
  length.addEventListener("keydown", (e) => { if (e.key === "Enter") add(); });
  const view = h("section", { class: "view", id: "view-rack" },
    h("h2", {}, "The rack"),
    h("p", { class: "lead" }, "The boards that you own, drawn to one scale. Drag over a bar to mark a knot, or type where it is. The cuts go round it."),
    list, wrong,
    h("div", { class: "row add" }, h("label", { for: "new-board" }, "Add a board of"), length, button("Add", add, { class: "main", id: "add-board" })),
    sum);
  let shown = "";
  const show = () => {
    const boards = rackOf(model), plan = model.stale ? null : model.whole?.plan.stock;
    const key = JSON.stringify([boards, plan, model.good?.rack]);
    showErrors(model, wrong, model.errorsAt(BOARDS));
    if (key === shown || list.contains(document.activeElement) && document.activeElement.matches("input") && boards.length === list.children.length && !plan) return;
    shown = key;
    const focus = focusIn(list);
    const longest = Math.max(1, ...(model.good?.rack || []).map((b) => b.length_mm));
    fill(list, boards.map((b, i) => boardRow(model, b, i, plan, longest)));
    focusBack(list, focus);
    sum.textContent = boards.length === 0
      ? `No boards are named yet. The batch needs ${model.good ? model.good.says.run : "..."} of board, kerfs included.`
      : !plan ? "Working out the cuts..." : sumOf(plan);
  };
  model.addEventListener("glance", show);
  model.addEventListener("whole", show);
  return view;
}

const BOARDS = ["stock", "boards"];

function sumOf(plan) {
  const taken = plan.boards.filter((b) => b.taken).length;
  const short = plan.stars < plan.stars_wanted ? ` That is short of the ${plan.stars_wanted} you want.` : "";
  return `${plural(taken, "board")} of ${plan.boards.length} are cut into ${plural(plan.blanks, "blank")}: enough for ${plural(plan.stars, "star")}.${short} Waste: ${Math.round(plan.waste_percent)} %.`;
}

// rackOf reads the boards as they are written: {length, count, bad, whole}.
function rackOf(model) {
  const out = [];
  for (const v of model.glance?.values || []) {
    if (v.path[0] !== "stock" || v.path[1] !== "boards" || v.path.length < 3) continue;
    const i = Number(v.path[2]), b = (out[i] ||= { length: "", count: "", bad: [], whole: true });
    if (v.path.length === 3) b.length = v.says;
    else {
      b.whole = false;
      if (v.path[3] === "length") b.length = v.says;
      else if (v.path[3] === "count") b.count = v.says;
      else if (v.path[3] === "bad" && v.path.length === 6) (b.bad[Number(v.path[4])] ||= [])[Number(v.path[5])] = v.says;
    }
  }
  return out.filter(Boolean);
}

// written writes a board as TOML.
function writtenBoard(b) {
  const q = (t) => (/^\d+(\.\d+)?$/.test(t) ? t : JSON.stringify(t));
  if (!b.count && b.bad.length === 0) return q(b.length);
  const parts = [`length = ${q(b.length)}`];
  if (b.bad.length) parts.push(`bad = [${b.bad.map((k) => `[${k.map(q).join(", ")}]`).join(", ")}]`);
  if (b.count) parts.push(`count = ${q(b.count)}`);
  return `{ ${parts.join(", ")} }`;
}

function boardRow(model, b, i, plan, longest) {
  const at = [...BOARDS, String(i)], n = i + 1;
  const step = () => { model.lastPath = ""; };
  const setLength = (e) => model.edit({ path: b.whole ? at : [...at, "length"], typed: e.target.value });
  const setCount = (e) => (b.whole ? e.target.value.trim() && model.edit({ path: at, value: writtenBoard({ ...b, count: e.target.value.trim() }) }) : model.edit({ path: [...at, "count"], typed: e.target.value }));
  const mark = (from, to) => {
    step();
    if (b.whole) model.edit({ path: at, value: writtenBoard({ ...b, bad: [[from, to]] }) });
    else if (b.bad.length === 0) model.edit({ path: [...at, "bad"], value: `[[${JSON.stringify(from)}, ${JSON.stringify(to)}]]` });
    else model.edit({ path: [...at, "bad", String(b.bad.length)], value: `[${JSON.stringify(from)}, ${JSON.stringify(to)}]` });
  };
  const copies = (plan?.boards || []).filter((x) => x.board === n);
  const sound = model.good?.rack?.[i];
  const knots = (sound?.bad || []).map(([from_mm, to_mm]) => ({ what: "bad", from_mm, to_mm }));
  const bars = copies.length ? copies.map((c) => bar(model, c.taken ? c : { ...c, stretches: knots }, n, longest, mark)) : sound ? [bar(model, { length_mm: sound.length_mm, stretches: knots, copy: 1 }, n, longest, mark)] : [];
  const from = h("input", { type: "text", class: "short", autocomplete: "off", "aria-label": `Board ${n}: knot from`, "data-key": `from-${i}`, placeholder: "from" });
  const to = h("input", { type: "text", class: "short", autocomplete: "off", "aria-label": `Board ${n}: knot to`, "data-key": `to-${i}`, placeholder: "to" });
  const typedKnot = () => { if (from.value.trim() && to.value.trim()) mark(from.value.trim(), to.value.trim()); else from.focus(); };
  to.addEventListener("keydown", (e) => { if (e.key === "Enter") typedKnot(); });
  return h("li", { class: "board" },
    h("div", { class: "row board-head" },
      h("span", { class: "number", "aria-hidden": "true" }, String(n)),
      h("label", {}, "Length ", h("input", { type: "text", class: "short", value: b.length, autocomplete: "off", "aria-label": `Board ${n}: length`, "data-key": `length-${i}`, oninput: setLength })),
      h("label", {}, "How many ", h("input", { type: "text", inputmode: "numeric", class: "tiny", value: b.count, placeholder: "1", autocomplete: "off", "aria-label": `Board ${n}: how many alike`, "data-key": `count-${i}`, oninput: setCount })),
      copies.length && copies.every((c) => !c.taken) ? h("span", { class: "note" }, "not needed") : null,
      button("Copy", () => { step(); model.edit({ path: [...BOARDS, String(rackOf(model).length)], value: writtenBoard(b) }); }, { "aria-label": `Copy board ${n}` }),
      button("Remove", () => { step(); model.edit({ path: rackOf(model).length === 1 ? BOARDS : at }); }, { "aria-label": `Remove board ${n}` })),
    bars,
    h("div", { class: "row knots" },
      b.bad.map((k, m) => h("span", { class: "knot" }, `Knot ${k[0]} to ${k[1]} `, button("\u00d7", () => { step(); model.edit({ path: b.bad.length === 1 ? [...at, "bad"] : [...at, "bad", String(m)] }); }, { class: "sign", "aria-label": `Board ${n}: take out the knot from ${k[0]} to ${k[1]}` }))),
      h("span", { class: "knot-new" }, "Knot ", from, to, button("Mark", typedKnot, { "aria-label": `Mark the knot on board ${n}` }))));
}

// bar draws one board with its cuts. Dragging marks a knot.
function bar(model, c, n, longest, mark) {
  const k = WIDE / longest, w = c.length_mm * k;
  const unit = model.good?.numbers.units || "mm";
  const words = c.stretches.filter((x) => x.what !== "kerf").map((x) => `${x.what} ${sayMM(x.from_mm, unit)} to ${sayMM(x.to_mm, unit)}`);
  const copy = c.copy > 1 ? `, copy ${c.copy}` : "";
  const svg = s("svg", { class: "bar", viewBox: `0 0 ${WIDE} ${TALL}`, role: "img", preserveAspectRatio: "none",
    "aria-label": `Board ${n}${copy}, ${sayMM(c.length_mm, unit)} long${c.taken === false ? ", not taken" : ""}: ${words.join(", ") || "uncut"}` });
  svg.append(s("rect", { class: "wood", x: 0, y: 4, width: w, height: TALL - 8 }));
  for (const x of c.stretches) {
    svg.append(s("rect", { class: "cut-" + x.what, x: x.from_mm * k, y: 4, width: Math.max(0.5, (x.to_mm - x.from_mm) * k), height: TALL - 8 }));
  }
  const pull = s("rect", { class: "pull", x: 0, y: 0, width: 0, height: TALL });
  svg.append(s("rect", { class: "edge", x: 0, y: 4, width: w, height: TALL - 8 }), pull);
  let start = null;
  const place = (e) => {
    const box = svg.getBoundingClientRect();
    return Math.min(c.length_mm, Math.max(0, (e.clientX - box.left) / box.width * WIDE / k));
  };
  svg.addEventListener("pointerdown", (e) => { start = place(e); svg.setPointerCapture(e.pointerId); });
  svg.addEventListener("pointermove", (e) => {
    if (start === null) return;
    const to = place(e);
    pull.setAttribute("x", Math.min(start, to) * k);
    pull.setAttribute("width", Math.abs(to - start) * k);
  });
  svg.addEventListener("pointercancel", () => { start = null; pull.setAttribute("width", 0); });
  svg.addEventListener("pointerup", (e) => {
    if (start === null) return;
    const [a, b] = [start, place(e)].sort((p, q) => p - q);
    start = null;
    pull.setAttribute("width", 0);
    const least = 4; // mm, less is a click
    if (b - a >= least) mark(rounded(a, unit, Math.floor), rounded(b, unit, Math.ceil));
  });
  return svg;
}

// rounded writes a place on a board, no knot made smaller.
function rounded(mm, unit, round) {
  if (unit === "in") return `${round(mm / 25.4 * 4) / 4} in`;
  return `${round(mm / 5) * 5} mm`;
}

function sayMM(mm, unit) { return unit === "in" ? `${Math.round(mm / 25.4 * 16) / 16} in` : `${Math.round(mm)} mm`; }

// focusIn and focusBack keep the cursor where it was when rows are drawn anew.
function focusIn(list) {
  const e = document.activeElement;
  return list.contains(e) && e.dataset.key ? { key: e.dataset.key, at: e.selectionStart, text: e.value } : null;
}

function focusBack(list, f) {
  const e = f && list.querySelector(`[data-key="${f.key}"]`);
  if (!e) return;
  e.value = f.text;
  e.focus();
  e.setSelectionRange(f.at, f.at);
}
