// The rack: boards as drawn bars with their knots and cuts.

import { button, fill, h, plural, s } from "./dom.js";
import { showErrors } from "./form.js";

const WIDE = 1000, TALL = 64; // of a bar, in the drawing's own unit

// rackView is the screen of the boards.
export function rackView(desk) {
  const { model } = desk;
  const buy = h("div", { class: "contents" }), key = h("ul", { class: "row tints", "aria-label": "Which blank is whose" }), list = h("ol", { class: "boards" }), sum = h("p", { class: "sum", id: "rack-sum" }), wrong = h("div", { class: "wrong" });
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
    key, list, wrong,
    h("div", { class: "row add" }, h("label", { for: "new-board" }, "Add a board of"), length, button("Add", add, { class: "main", id: "add-board" })),
    sum, buy);
  let shown = "";
  const show = () => {
    if (view.hidden) return;
    const boards = rackOf(model), plan = model.stale ? null : model.whole?.plan.stock;
    const state = JSON.stringify([boards, plan, model.good?.rack, woodsOf(model)]);
    showErrors(model, wrong, model.errorsAt(BOARDS));
    if (state === shown || list.contains(document.activeElement) && document.activeElement.matches("input") && boards.length === list.children.length && !plan) return;
    shown = state;
    const focus = focusIn(list);
    const longest = Math.max(1, ...(model.good?.rack || []).map((b) => b.length_mm));
    fill(list, boards.map((b, i) => boardRow(model, b, i, plan, longest)));
    fill(buy, plan?.pieces ? bought(model, plan) : null);
    fill(key, plan?.pieces ? plan.pieces.map((p) => h("li", {}, h("span", { class: "swatch " + tint(model, p.star), "aria-hidden": "true" }), `${[p.star, p.wood].filter(Boolean).join(", ") || (p.segments ? `piece with ${plural(p.segments, "segment")}` : "blank")}, ${sayMM(p.length_mm, unitOf(model))} by ${sayMM(p.width_mm, unitOf(model))}`)) : null);
    focusBack(list, focus);
    sum.textContent = boards.length === 0
      ? `No boards are named yet. The batch needs ${model.good ? model.good.says.run : "..."} of board, kerfs included.`
      : !plan ? "Working out the cuts..." : sumOf(plan);
  };
  model.addEventListener("glance", show);
  model.addEventListener("whole", show);
  desk.addEventListener("screen", show);
  return view;
}

const BOARDS = ["stock", "boards"];

function sumOf(plan) {
  if (plan.pieces) return sumOfOrder(plan);
  const taken = plan.boards.filter((b) => b.taken).length;
  const short = plan.stars < plan.stars_wanted ? ` That is short of the ${plan.stars_wanted} you want.` : "";
  return `${plural(taken, "board")} of ${plan.boards.length} are cut into ${plural(plan.blanks, "blank")}: enough for ${plural(plan.stars, "star")}.${short} Waste: ${Math.round(plan.waste_percent)} %.`;
}

// sumOfOrder says what boards of several widths give to all stars together.
function sumOfOrder(plan) {
  const cnc = plan.cut === "cnc"; // which takes whole segments from the boards
  const all = (key) => (cnc ? plan.wanted : plan.pieces).reduce((n, p) => n + (p[key] || 0), 0), short = all("short"), more = all("bought");
  return `${plural(all("from_rack"), cnc ? "segment" : "blank")} of ${all("wanted")} come from the rack.${more ? ` ${more} more from boards to buy.` : ""}${short ? ` ${plural(short, "blank")} short: add boards, or give the lengths that your yard sells.` : ""} Waste: ${Math.round(plan.waste_percent)} %.`;
}

// bought shows the boards that an order needs beside those of the rack.
function bought(model, plan) {
  const of = plan.boards.filter((b) => b.bought), longest = Math.max(1, ...plan.yard.map((b) => b.length_mm)), unit = unitOf(model);
  return of.length === 0 ? [] : [h("h3", {}, "To buy"), h("p", { class: "lead" }, plan.buy.map((b) => `${b.count} of ${sayMM(b.length_mm, unit)}, ${sayMM(b.width_mm, unit)} wide`).join("; ") + "."),
    of.map((b) => bar(model, sawn(b, plan), 0, longest, null))];
}

// tint is the class by which a star's blanks are told from those of the others.
function tint(model, name) { return `tint-${Math.max(0, model.stars.findIndex((t) => t.name === name)) % 4}`; }

// sawn is a board of an order's plan as one that is drawn: its blanks across it too.
// For the CNC it is cut to pieces as wide as it is.
function sawn(b, plan) {
  const board = (b.bought ? plan.yard : plan.rack)[b.board - 1];
  const strips = b.strips || [{ from_mm: 0, to_mm: board.width_mm, cuts: b.cuts }];
  return { length_mm: board.length_mm, copy: b.copy, stretches: [
    ...strips.flatMap((t) => t.cuts.map((c) => ({ ...c, what: "blank", low: t.from_mm / board.width_mm, high: t.to_mm / board.width_mm }))),
    ...(board.bad_mm || []).map(([from_mm, to_mm]) => ({ what: "bad", from_mm, to_mm }))] };
}

// rackOf reads the boards as they are written: {length, width, wood, count, bad, whole}.
function rackOf(model) {
  const out = [];
  for (const v of model.glance?.values || []) {
    if (v.path[0] !== "stock" || v.path[1] !== "boards" || v.path.length < 3) continue;
    const i = Number(v.path[2]), b = (out[i] ||= { length: "", width: "", wood: "", count: "", bad: [], whole: true });
    if (v.path.length === 3) b.length = v.says;
    else {
      b.whole = false;
      if (["length", "width", "wood", "count"].includes(v.path[3])) b[v.path[3]] = v.says;
      else if (v.path[3] === "bad" && v.path.length === 6) (b.bad[Number(v.path[4])] ||= [])[Number(v.path[5])] = v.says;
    }
  }
  return out.filter(Boolean);
}

// written writes a board as TOML.
function writtenBoard(b) {
  const q = (t) => (/^\d+(\.\d+)?$/.test(t) ? t : JSON.stringify(t));
  if (!b.count && !b.width && !b.wood && b.bad.length === 0) return q(b.length);
  const parts = [`length = ${q(b.length)}`];
  if (b.width) parts.push(`width = ${q(b.width)}`);
  if (b.wood) parts.push(`wood = ${JSON.stringify(b.wood)}`);
  if (b.bad.length) parts.push(`bad = [${b.bad.map((k) => `[${k.map(q).join(", ")}]`).join(", ")}]`);
  if (b.count) parts.push(`count = ${q(b.count)}`);
  return `{ ${parts.join(", ")} }`;
}

function boardRow(model, b, i, plan, longest) {
  const at = [...BOARDS, String(i)], n = i + 1;
  const step = () => { model.lastPath = ""; };
  const setLength = (e) => model.edit({ path: b.whole ? at : [...at, "length"], typed: e.target.value });
  const set = (key) => (e) => (b.whole ? e.target.value.trim() && model.edit({ path: at, value: writtenBoard({ ...b, [key]: e.target.value.trim() }) }) : model.edit({ path: [...at, key], typed: e.target.value }));
  const mark = (from, to) => {
    step();
    if (b.whole) model.edit({ path: at, value: writtenBoard({ ...b, bad: [[from, to]] }) });
    else if (b.bad.length === 0) model.edit({ path: [...at, "bad"], value: `[[${JSON.stringify(from)}, ${JSON.stringify(to)}]]` });
    else model.edit({ path: [...at, "bad", String(b.bad.length)], value: `[${JSON.stringify(from)}, ${JSON.stringify(to)}]` });
  };
  const setWood = (e) => { // a name, with quotes whatever it is
    if (b.whole) set("wood")(e);
    else model.edit(e.target.value ? { path: [...at, "wood"], words: e.target.value } : { path: [...at, "wood"] });
  };
  const woods = woodsOf(model, b.wood);
  const copies = plan?.pieces ? plan.boards.filter((x) => x.board === n && !x.bought).map((x) => sawn(x, plan)) : (plan?.boards || []).filter((x) => x.board === n);
  const sound = model.good?.rack?.[i];
  const knots = (sound?.bad || []).map(([from_mm, to_mm]) => ({ what: "bad", from_mm, to_mm }));
  const bars = copies.length ? copies.map((c) => bar(model, c.taken !== false ? c : { ...c, stretches: knots }, n, longest, mark)) : sound ? [bar(model, { length_mm: sound.length_mm, stretches: knots, copy: 1 }, n, longest, mark)] : [];
  const from = h("input", { type: "text", class: "short", autocomplete: "off", "aria-label": `Board ${n}: knot from`, "data-key": `from-${i}`, placeholder: "from" });
  const to = h("input", { type: "text", class: "short", autocomplete: "off", "aria-label": `Board ${n}: knot to`, "data-key": `to-${i}`, placeholder: "to" });
  const typedKnot = () => { if (from.value.trim() && to.value.trim()) mark(from.value.trim(), to.value.trim()); else from.focus(); };
  to.addEventListener("keydown", (e) => { if (e.key === "Enter") typedKnot(); });
  return h("li", { class: "board" },
    h("div", { class: "row board-head" },
      h("span", { class: "number", "aria-hidden": "true" }, String(n)),
      h("label", {}, "Length ", h("input", { type: "text", class: "short", value: b.length, autocomplete: "off", "aria-label": `Board ${n}: length`, "data-key": `length-${i}`, oninput: setLength })),
      h("label", {}, "How many ", h("input", { type: "text", inputmode: "numeric", class: "tiny", value: b.count, placeholder: "1", autocomplete: "off", "aria-label": `Board ${n}: how many alike`, "data-key": `count-${i}`, oninput: set("count") })),
      model.stars.length > 0 && h("label", {}, "Width ", h("input", { type: "text", class: "short", value: b.width, placeholder: model.value(["stock", "board_width"])?.says || "as the star's", autocomplete: "off", "aria-label": `Board ${n}: width`, "data-key": `width-${i}`, oninput: set("width") })),
      woods.length > 0 && h("label", {}, "Wood ", h("select", { "aria-label": `Board ${n}: wood`, "data-key": `wood-${i}`, onchange: setWood }, ["", ...woods].map((w) => h("option", { value: w, selected: w === b.wood }, w || "which?")))),
      plan && (plan.pieces ? copies.length === 0 : copies.length && copies.every((c) => !c.taken)) ? h("span", { class: "note" }, "not needed") : null,
      button("Copy", () => { step(); model.edit({ path: at, copy: true }); }, { "aria-label": `Copy board ${n}` }),
      button("Remove", () => { step(); model.edit({ path: rackOf(model).length === 1 ? BOARDS : at }); }, { "aria-label": `Remove board ${n}` })),
    bars,
    h("div", { class: "row knots" },
      b.bad.map((k, m) => h("span", { class: "knot" }, `Knot ${k[0]} to ${k[1]} `, button("\u00d7", () => { step(); model.edit({ path: b.bad.length === 1 ? [...at, "bad"] : [...at, "bad", String(m)] }); }, { class: "sign", "aria-label": `Board ${n}: take out the knot from ${k[0]} to ${k[1]}` }))),
      h("span", { class: "knot-new" }, "Knot ", from, to, button("Mark", typedKnot, { "aria-label": `Mark the knot on board ${n}` }))));
}

// woodsOf are the woods of the job's stars, and of a board that says another.
function woodsOf(model, own) {
  const out = [];
  for (const v of model.glance?.values || []) if (v.path[0] === "star" && v.path.at(-2) === "woods") out.push(v.says);
  if (own) out.push(own);
  return [...new Set(out)];
}

// bar draws one board with its cuts. Dragging marks a knot.
function bar(model, c, n, longest, mark) {
  const k = WIDE / longest, w = c.length_mm * k;
  const unit = unitOf(model);
  const words = c.stretches.filter((x) => x.what !== "kerf").map((x) => `${x.star || x.what} ${sayMM(x.from_mm, unit)} to ${sayMM(x.to_mm, unit)}`);
  const copy = c.copy > 1 ? `, copy ${c.copy}` : "";
  const svg = s("svg", { class: "bar", viewBox: `0 0 ${WIDE} ${TALL}`, role: "img", preserveAspectRatio: "none",
    "aria-label": `${n ? `Board ${n}` : "A board to buy"}${copy}, ${sayMM(c.length_mm, unit)} long${c.taken === false ? ", not taken" : ""}: ${words.join(", ") || "uncut"}` });
  svg.append(s("rect", { class: "wood", x: 0, y: 4, width: w, height: TALL - 8 }));
  for (const x of c.stretches) {
    const low = x.low ?? 0, high = x.high ?? 1, tall = TALL - 8; // of the width, from the edge towards the operator
    svg.append(s("rect", { class: `cut-${x.what}${x.star ? " " + tint(model, x.star) : ""}`, x: x.from_mm * k, y: 4 + (1 - high) * tall, width: Math.max(0.5, (x.to_mm - x.from_mm) * k), height: (high - low) * tall }, x.star ? [s("title", {}, x.star)] : []));
  }
  const pull = s("rect", { class: "pull", x: 0, y: 0, width: 0, height: TALL });
  svg.append(s("rect", { class: "edge", x: 0, y: 4, width: w, height: TALL - 8 }), pull);
  if (!mark) return svg;
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

const unitOf = (model) => model.good?.numbers.units || "mm";

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
