// The shop: asked once, kept in shop.toml, and taken for what a job leaves out.

import { button, fill, h, newID, s } from "./dom.js";
import { showErrors } from "./form.js";

// MACHINES are what a shop can have, drawn.
const MACHINES = [
  ["mitre saw", "Mitre saw", "Cuts the segments.", () => [s("rect", { class: "w", x: 8, y: 44, width: 84, height: 8 }), s("path", { d: "M4 52H96M50 44V30M34 34 66 22" }), s("circle", { class: "p", cx: 54, cy: 24, r: 15 }), s("path", { d: "M54 24h13M54 24v13" })]],
  ["router table", "Router table", "Cuts slots along a fence.", () => [s("path", { d: "M4 44H96M14 44V60M86 44V60" }), s("rect", { class: "p", x: 12, y: 18, width: 76, height: 26 }), s("rect", { class: "w", x: 20, y: 34, width: 44, height: 10 }), s("path", { d: "M74 44V30M70 44V30M70 30h4" })]],
  ["cnc", "CNC router", "Cuts slots, jigs and splines from programs.", () => [s("rect", { class: "w", x: 10, y: 48, width: 80, height: 8 }), s("path", { d: "M10 48V12H90V48M44 12V22M56 12V22" }), s("rect", { class: "p", x: 42, y: 20, width: 16, height: 16 }), s("path", { d: "M50 36V46M47 46h6" })]],
  ["laser", "Laser", "Cuts jigs and templates from thin sheet.", () => [s("rect", { class: "p", x: 10, y: 14, width: 80, height: 40 }), s("path", { d: "M20 24H80M50 24V40M42 48 50 40 58 48M50 40V48" })]],
];

const entry = (path, label, hint = "", words = false) => ({ path: path.split("."), label, hint, words });
const SHOP_FIELDS = [
  { needs: "mitre saw", name: "The mitre saw", fields: [entry("saw.kerf", "Kerf", "Cut into scrap and measure the slot."), entry("saw.max_miter", "Largest angle", "From a square cut, as in 50 deg."), entry("saw.reach", "Longest cut", "How wide a board it cuts through at square.")] },
  { needs: "router table", name: "The router table", fields: [entry("router_table.fence_height", "Height of the fence"), entry("router_table.fence_length", "Length of the fence")] },
  { needs: "cnc", name: "The CNC router", fields: [entry("machine.travel.0", "Travel along X"), entry("machine.travel.1", "Travel along Y"), entry("machine.travel.2", "Travel up and down"), entry("machine.room", "Room under the spindle", "From the table to the bit at its highest.")] },
  { needs: "", name: "Cutter and sheet", fields: [entry("cutter.diameter", "Straight bit, diameter"), entry("cutter.cut_length", "Its cutting length"), entry("sheet.width", "Plywood for jigs, width"), entry("sheet.height", "Its height"), entry("sheet.thickness", "Its thickness")] },
  { needs: "laser", name: "The laser", fields: [entry("laser.kerf", "Kerf", "As in 0.2 mm.")] },
  { needs: "", name: "What things cost", fields: [entry("cost.currency", "Currency", "As you write it. Left empty, no money is worked out.", true), entry("cost.hour", "An hour of your work"), entry("cost.machine_hour", "An hour of the CNC"),
    entry("cost.wood", "Wood", "For one board foot, unless wood_per in the file says otherwise."), entry("cost.sheet", "A sheet of plywood"), entry("cost.glue", "A kilogram of glue"), entry("cost.finish", "Finish for a square metre"),
    entry("cost.fees", "Fees, % of the price"), entry("cost.margin", "Margin, % of the price")] },
];

const HEAD = "# The shop: what stands in it. Every job takes from here what it does not say itself.\n\n";

// Shop is the shop file on the desk and its screen.
export class Shop {
  constructor(desk) {
    this.desk = desk;
    this.source = HEAD;
    this.tag = "";
    this.values = [];
    this.begun = ""; // the text that the last new job began with
    this.queue = Promise.resolve();
    this.inputs = [];
    this.parts = h("div", { class: "contents" });
    this.wrong = h("div", { class: "wrong" });
    this.done = h("p", { class: "what", role: "status", "aria-live": "polite" });
    this.element = h("section", { class: "view", id: "view-shop" },
      h("h2", {}, "The shop"),
      h("p", { class: "lead" }, "Asked once. It is kept in shop.toml beside your jobs. Every job takes from it what it does not say itself, here and on the command line. Leave empty what you do not know."),
      this.parts, this.wrong,
      h("div", { class: "row" }, button("Keep the shop", () => this.save(), { class: "main big", id: "shop-save" })), this.done);
    this.draw();
  }

  value(path) { return this.values.find((v) => v.path.join(".") === path.join("."))?.says ?? ""; }

  has() {
    const given = this.values.filter((v) => v.path[0] === "shop" && v.path[1] === "has").map((v) => v.says);
    return this.values.length && given.length ? given : ["mitre saw", "router table", "cnc"];
  }

  draw() {
    const units = h("select", { id: "shop-units", onchange: () => this.edit({ path: ["units"], words: units.value }) }, h("option", { value: "mm" }, "millimetres"), h("option", { value: "in" }, "inches"));
    this.units = units;
    this.boxes = MACHINES.map(([name, title, about, drawing]) => {
      const box = h("input", { type: "checkbox", value: name, onchange: () => this.edit({ path: ["shop", "has"], value: JSON.stringify(this.boxes.filter((b) => b.checked).map((b) => b.value)).replaceAll(",", ", ") }) });
      box.label = h("label", { class: "machine" }, box, s("svg", { viewBox: "0 0 100 66", "aria-hidden": "true" }, drawing()), h("span", {}, h("strong", {}, title), h("small", {}, about)));
      return box;
    });
    this.groups = SHOP_FIELDS.map((g) => {
      const box = h("fieldset", {}, h("legend", {}, g.name), h("div", { class: "fields" }, g.fields.map((spec) => {
        const id = newID("shop"), input = h("input", { type: "text", id, autocomplete: "off", "aria-describedby": id + "-hint", oninput: () => this.typed(spec, input.value) });
        this.inputs.push({ spec, input });
        return h("div", { class: "field" }, h("label", { for: id }, spec.label), input, h("p", { class: "hint", id: id + "-hint" }, spec.hint));
      })));
      return { needs: g.needs, box };
    });
    fill(this.parts,
      h("div", { class: "field" }, h("label", { for: "shop-units" }, "You measure in"), units),
      h("fieldset", {}, h("legend", {}, "Which machines?"), h("div", { class: "machines" }, this.boxes.map((b) => b.label))),
      this.groups.map((g) => g.box));
    this.show();
  }

  typed(spec, text) {
    const [table, key, i] = spec.path;
    if (i === undefined) { this.edit(spec.words ? { path: spec.path, words: text } : { path: spec.path, typed: text }); return; }
    const all = this.inputs.filter((x) => x.spec.path[0] === table && x.spec.path[1] === key).map((x) => x.input.value.trim());
    if (all.every(Boolean)) this.edit({ path: [table, key], value: `[${all.map((t) => JSON.stringify(t)).join(", ")}]` });
    else if (!all.some(Boolean)) this.edit({ path: [table, key] });
  }

  // edit makes changes one after the other.
  edit(...edits) {
    this.done.textContent = "";
    this.queue = this.queue.then(async () => {
      try {
        const { result } = await this.desk.host.call("shop", { name: "shop.toml", source: this.source, edits });
        Object.assign(this, { source: result.source, values: result.values });
        showErrors({ edit: (...e) => this.edit(...e) }, this.wrong, result.errors.map((e) => ({ ...e, why: `${e.path.join(" ")}: ${e.why}` })));
        this.show();
      } catch (e) { this.desk.trouble(e); }
    });
    return this.queue;
  }

  show() {
    const has = this.has();
    this.units.value = this.value(["units"]) || "mm";
    for (const b of this.boxes) b.checked = has.includes(b.value);
    for (const g of this.groups) g.box.hidden = Boolean(g.needs) && !has.includes(g.needs);
    for (const { spec, input } of this.inputs) if (document.activeElement !== input && (this.value(spec.path) || spec.path.length === 2)) input.value = this.value(spec.path);
  }

  // load opens the folder's shop; where it has none, the user's own serves, which
  // is kept in the folder only if somebody says so.
  async load(there, usual, opened = null) {
    if (!there && usual) {
      this.source = usual.source;
      this.desk.model.setShop(usual.source);
      await this.edit();
      this.done.textContent = `From ${usual.name}. Kept here, it is this folder's own.`;
      return;
    }
    if (!there) return;
    try {
      const result = opened || (await this.desk.host.call("open", { name: "shop.toml" })).result;
      Object.assign(this, { source: result.source, tag: result.tag });
      this.desk.model.setShop(result.source);
      await this.edit();
    } catch (e) { this.desk.trouble(e); }
  }

  async save() {
    await this.queue;
    try {
      const { result } = await this.desk.host.call("save", { name: "shop.toml", source: this.source, tag: this.tag });
      if (result.theirs || result.gone) {
        const answer = await this.desk.files.ask("shop.toml was changed by another program meanwhile. It is not overwritten.", [["Take theirs", "theirs"], ["Keep mine", "mine"], ["Decide later", "stay", true]]);
        if (answer === "theirs" && result.theirs) { Object.assign(this, { source: result.theirs.source, tag: result.theirs.tag }); this.desk.model.setShop(this.source); await this.edit(); }
        if (answer === "mine") { this.tag = result.theirs?.tag || ""; await this.save(); }
        return;
      }
      this.tag = result.tag;
      this.done.textContent = "Kept in shop.toml.";
      this.desk.model.setShop(this.source);
      const { model } = this.desk;
      await model.settled();
      if (!model.tag && model.source === this.begun) model.load({ name: model.name, source: await this.starter() }); // a new job that nobody has touched yet
    } catch (e) { this.desk.trouble(e); }
  }

  // starter is the text of a new job, which measures as the shop does.
  async starter() {
    const { model, host } = this.desk, source = model.about.starter, units = this.value(["units"]);
    if (!units) return (this.begun = source);
    const { result } = await host.call("glance", { name: "job.toml", source, edits: [{ path: ["units"], words: units }] });
    return (this.begun = result.source);
  }

  // invite asks for the shop the first time.
  invite(go) {
    const note = h("div", { class: "notice first-time" }, h("p", {}, h("strong", {}, "First, your shop. "), "Which machines stand in it, and what they reach: asked once, then kept."),
      h("div", { class: "row" }, button("Say what is in the shop", () => { note.remove(); go(); }, { class: "main" }), button("Later: a usual small shop will do", () => note.remove())));
    this.desk.notice.after(note);
  }
}
