// The first screen: the star, large, the three questions beside it, and what a
// maker weighs.

import { button, duration, fill, h, plural, svgOf } from "./dom.js";
import { BOARD, HOW_MANY, NAME, POINTS, STAR_WIDTH } from "./fields.js";
import { costFigure } from "./cost.js";
import { Field, showErrors } from "./form.js";
import { starsPanel } from "./stars.js";

// starPanel is the drawing with the figures under it.
export function starPanel(model) {
  const drawing = h("div", { class: "drawing", id: "star", role: "img", "aria-label": "The star" });
  const figures = h("dl", { class: "figures", id: "figures" });
  const said = h("p", { class: "unseen", role: "status", "aria-live": "polite" });
  let quiet = 0;
  const show = () => {
    const g = model.good;
    if (!g) return;
    drawing.classList.toggle("old", model.glance.errors.length > 0);
    if (g === model.glance) {
      const svg = svgOf(g.star);
      if (svg) {
        svg.removeAttribute("width");
        svg.removeAttribute("height");
        svg.setAttribute("aria-hidden", "true");
        svg.setAttribute("viewBox", g.view);
        fill(drawing, svg);
      }
      drawing.setAttribute("aria-label", g.alt);
    }
    drawing.dataset.revision = String(model.revision);
    figure();
    clearTimeout(quiet); // a reader is told once when the typing is done
    quiet = setTimeout(() => {
      if (!model.glance) return; // another job is on its way
      const n = model.glance.errors.length;
      said.textContent = n ? `${plural(n, "thing")} to mend.` : `${g.says.width} wide, ${plural(g.says.blanks, "blank")} of ${g.says.blank}.`;
    }, 1200);
  };
  const figure = () => {
    const g = model.good, w = model.whole, order = g.stars.length > 0;
    const old = model.glance?.errors.length > 0;
    // What is not worked out yet stands as it was, pale: the page does not jump.
    const row = (id, name, value, more, now = !model.stale) => h("div", { id: "fig-" + id, class: now ? "" : "waits" }, h("dt", {}, name), h("dd", {}, value === null ? "..." : value, h("small", {}, more || "\u00a0")));
    const plan = w?.plan, stock = plan?.stock, sheets = (plan?.sheets || []).filter((x) => !x.program.includes("/segments-")), ofStar = `${plural(g.says.blanks, "blank")} of ${g.says.blank}, ${g.says.board_width} wide`;
    const runs = sheets.reduce((n, x) => n + x.runs, 0);
    const sizes = [...new Set(sheets.map((x) => `${Math.round(x.width_mm)} by ${Math.round(x.height_mm)} mm`))];
    fill(figures,
      row("width", order ? `Tip to tip, ${g.stars[model.star]?.name}` : "Tip to tip", g.says.width, g.numbers.offcut ? `and ${g.says.offcut_width} from the off-cuts` : `${g.numbers.star.points} points`, true),
      row("boards", "Boards", w === null && g.rack.length ? null : stock ? boardsTaken(stock) : order ? plural(g.says.blanks, "blank") : g.says.run, stock && w ? stockSays(stock, g) : ofStar),
      row("sheets", "Plywood sheets", w === null ? null : String(runs), w && runs ? sizes.slice(0, 2).join("; ") : w ? "none is needed" : ""),
      row("hours", "On the machine", w === null ? null : duration(w.hours.slots_minutes + w.hours.sheets_minutes), w ? `${duration(w.hours.slots_minutes)} slots, ${duration(w.hours.sheets_minutes)} sheets` : ""),
      costFigure(row, plan?.cost, order && g.stars[model.star]?.name));
    figures.classList.toggle("old", old);
  };
  model.addEventListener("glance", show);
  model.addEventListener("whole", () => model.good && figure());
  return h("section", { class: "sheet-star", "aria-label": "The star" }, drawing, figures, said);
}

// boardsTaken counts the boards of the plan: of an order those that are sawn, of a
// star those of the rack that are taken.
function boardsTaken(stock) {
  const n = stock.pieces ? stock.boards.length : stock.boards.filter((b) => b.taken).length;
  return plural(n, "board");
}

function stockSays(stock, g) {
  if (stock.pieces) {
    const short = stock.pieces.reduce((n, p) => n + p.short, 0), bought = stock.boards.filter((b) => b.bought).length;
    if (short) return `your rack is ${plural(short, "blank")} short`;
    return `${bought ? `${bought} of them to buy; ` : ""}${Math.round(stock.waste_percent)} % waste`;
  }
  if (stock.stars < stock.stars_wanted) return `your rack gives ${stock.stars} of ${stock.stars_wanted} stars`;
  return `${plural(g.says.blanks, "blank")} of ${g.says.blank}; ${Math.round(stock.waste_percent)} % waste`;
}

// questions are the three questions and the decisions that follow from them.
export function questions(model) {
  const board = new Field(model, BOARD), width = new Field(model, STAR_WIDTH), count = new Field(model, HOW_MANY), points = new Field(model, POINTS);
  const stars = starsPanel(model);
  return {
    element: h("section", { class: "ask", "aria-label": "What to make" },
      stars.element,
      howBig(model, board, width),
      h("fieldset", {}, h("legend", {}, "How many?"), stepper(model, count), h("div", { class: "beside" }, points.element), stars.begin),
      joint(model),
      offcut(model)),
    paths: [BOARD, STAR_WIDTH, HOW_MANY, POINTS, NAME].map((f) => f.path.join(".")).concat("star.joint", "slot.make", "star.offcut_star"),
  };
}

// howBig asks for the size one way or the other.
function howBig(model, board, width) {
  const name = "size-by", ways = [["star.board_width", "From my boards", board], ["star.star_width", "By the star's width", width]];
  const radios = ways.map(([path, label, field]) => {
    const radio = h("input", { type: "radio", name, value: path, onchange: () => swap(path) });
    return { path, radio, field, label: h("label", { class: "way" }, radio, h("span", {}, label)) };
  });
  const swap = (path) => {
    const other = path === "star.board_width" ? "star.star_width" : "star.board_width";
    const says = model.good?.says, v = path === "star.board_width" ? says?.board_width : says?.width;
    if (model.value(path.split("."))) return;
    model.lastPath = "";
    model.edit({ path: model.at(other.split(".")) }, { path: model.at(path.split(".")), typed: v || "100 mm" });
  };
  const near = h("div", { class: "near" });
  model.addEventListener("glance", () => {
    const by = model.value(["star", "star_width"]) && !model.value(["star", "board_width"]) ? "star.star_width" : "star.board_width";
    for (const r of radios) {
      r.radio.checked = r.path === by;
      r.field.element.hidden = r.path !== by && model.errorsAt(r.path.split(".")).length === 0;
    }
  });
  const box = h("details", { class: "choose", ontoggle: () => box.open && nearest(model, near) }, h("summary", {}, "Stars from the boards that the yard sells"), near);
  model.addEventListener("whole", () => box.open && nearest(model, near));
  return h("fieldset", {}, h("legend", {}, "How big?"), h("div", { class: "ways" }, radios.map((r) => r.label)), board.element, width.element, box);
}

// nearest lists what star each common board gives, the nearest to the present
// one first.
async function nearest(model, into) {
  const names = model.about.boards, size = model.good?.numbers.star.width_mm;
  if (!size) return;
  const key = (k) => model.at(["star", k]);
  const variants = names.map((n) => ({ name: n, edits: [{ path: key("star_width") }, { path: key("thickness") }, { path: key("board_width"), words: n }] }));
  try {
    const { result } = await model.host.call("compare", { name: model.name, source: model.source, shop: model.shop, star: model.star, variants });
    const sound = result.filter((r) => !r.error).sort((a, b) => Math.abs(a.numbers.star.width_mm - size) - Math.abs(b.numbers.star.width_mm - size));
    fill(into, sound.length === 0 ? h("p", {}, "None of the usual boards gives a star with these settings.") : h("ul", { class: "offers" }, sound.map((r) => h("li", {},
      button([h("strong", {}, r.says.width), ` from ${r.name}, ${r.says.board_width} by ${r.says.thickness}`], () => {
        model.lastPath = "";
        model.edit(...variants.find((v) => v.name === r.name).edits);
      })))));
  } catch (e) { model.tell("error", e); }
}

// stepper puts a minus and a plus beside a count.
function stepper(model, field) {
  const by = (d) => {
    const n = Math.max(1, (parseInt(field.input.value, 10) || model.good?.numbers.count || 1) + d);
    field.input.value = String(n);
    model.edit({ path: model.at(field.spec.path), typed: String(n) });
  };
  field.input.before(button("\u2212", () => by(-1), { class: "sign", "aria-label": "One star fewer" }));
  field.input.after(button("+", () => by(1), { class: "sign", "aria-label": "One star more" }));
  field.element.classList.add("stepper");
  return field.element;
}

// decision is a question of a few ways, with what each way brings; edits are what
// each changes, paths the keys that it is about.
function decision(model, { legend, name, paths, edits, ways, taken, compare }) {
  const wrong = h("div", { class: "wrong" });
  const rows = ways.map(([value, label, about]) => {
    const id = `${name}-${value}`, brings = h("span", { class: "brings", id: id + "-brings" }, about);
    const radio = h("input", { type: "radio", name, id, value, "aria-describedby": id + "-brings", onchange: () => {
      model.lastPath = "";
      model.edit(...edits(value));
    } });
    return { value, radio, brings, about, element: h("label", { class: "way card", for: id }, radio, h("span", {}, h("strong", {}, label), brings)) };
  });
  model.addEventListener("glance", () => {
    const now = taken();
    for (const r of rows) r.radio.checked = r.value === now;
    showErrors(model, wrong, paths.flatMap((p) => model.errorsAt(p)));
  });
  let abort = null;
  model.addEventListener("whole", async () => {
    if (model.stale) return;
    abort?.abort();
    abort = new AbortController();
    const revision = model.revision;
    try {
      const { result } = await model.host.call("compare", { name: model.name, source: model.source, shop: model.shop, star: model.star, whole: compare === "whole",
        variants: ways.map(([value]) => ({ name: value, edits: edits(value) })) }, { signal: abort.signal });
      if (revision !== model.revision) return;
      for (const r of rows) {
        const got = result.find((x) => x.name === r.value);
        r.brings.textContent = got.error ? `${r.about} Not with this job: ${got.error}.` : `${r.about} ${r.says(got)}`;
      }
    } catch (e) { if (e.name !== "AbortError" && e.kind !== "gone") model.tell("error", e); }
  });
  return { rows, element: h("fieldset", { class: "decision", "data-path": paths[0].join(".") }, h("legend", {}, legend), rows.map((r) => r.element), wrong) };
}

function joint(model) {
  const edits = (joint) => { // slot.make says it too, where it is written
    const own = (path) => (model.stars.length ? ["star", String(model.star), ...path] : path), make = own(["slot", "make"]), slots = String(joint === "spline");
    const said = model.written(make) || model.written(["slot", "make"]);
    return [{ path: model.at(["star", "joint"]), words: joint }, ...(said && said.says !== slots ? [{ path: make, value: slots }] : [])];
  };
  const d = decision(model, { legend: "Which joint?", name: "joint", paths: [["star", "joint"], ["slot", "make"]], edits, compare: "whole",
    ways: [["spline", "Splines", "A loose tongue in each joint: the tips stay level while the glue sets."], ["plain", "Plain glue", "Facet against facet: quick, and enough for small stars indoors."],
      ["plate", "A plate on the back", "Plain glue, and a plate screwed over the joints, with a keyhole to hang the star by."]],
    taken: () => model.good?.numbers.joint });
  d.rows[0].says = (v) => `${plural(v.numbers.spline?.count ?? 0, "spline")}, ${duration(v.hours.slots_minutes)} of slots on the machine${model.stars.length ? ", in the whole order" : ""}.`;
  d.rows[1].says = (v) => `No slots to cut; ${plural(v.numbers.sheets.length, "sheet program")} instead of what splines need.`;
  d.rows[2].says = (v) => `${plural(v.numbers.plate?.count ?? 0, "plate")} from the sheet; ${plural(v.numbers.sheets.length, "sheet program")} in all.`;
  return d.element;
}

function offcut(model) {
  const d = decision(model, { legend: "A second star from the off-cuts?", name: "offcut", paths: [["star", "offcut_star"]], edits: (value) => [{ path: model.at(["star", "offcut_star"]), value }],
    ways: [["true", "Yes", "The tips that the saw takes off become a smaller star."], ["false", "No", "The off-cuts are waste, or kindling."]],
    taken: () => (model.good?.numbers.offcut ? "true" : "false") });
  d.rows[0].says = (v) => `${plural(v.numbers.count, "more star")}, ${v.says.offcut_width} wide, ${plural(2 * v.numbers.star.points * v.numbers.count, "more piece")} to joint.`;
  d.rows[1].says = () => "";
  return d.element;
}
