// The job files of the folder: opening, saving, a new one, and what to do when
// an editor has changed a file meanwhile.

import { button, fill, h, saveAs } from "./dom.js";

// Files keeps the job on the desk and the one in the folder together.
export class Files {
  constructor(desk) {
    this.desk = desk;
    this.conflict = h("dialog", { class: "conflict", "aria-labelledby": "conflict-title" });
    document.body.append(this.conflict);
  }

  async list() {
    const { result } = await this.desk.host.call("list");
    this.desk.listing = result;
    this.desk.tell("listed");
    return result;
  }

  async open(name) {
    if (!(await this.leave())) return;
    try {
      const { result } = await this.desk.host.call("open", { name });
      this.desk.model.load(result);
      this.desk.tell("opened");
    } catch (e) { this.desk.trouble(e); }
  }

  // leave makes sure that nothing unsaved is left behind.
  async leave() {
    const { model } = this.desk;
    await model.settled();
    if (!model.name || !model.dirty || !model.tag && model.done.length === 0) return true; // the last is a new job that nobody has touched
    const answer = await this.ask(`${model.name} has changes that are not saved.`, [["Save them", "save", true], ["Leave them", "leave"], ["Stay here", "stay"]]);
    return answer === "leave" || answer === "save" && await this.save();
  }

  // save writes the job to the folder; true if it is there now.
  async save() {
    const { model, host } = this.desk;
    await model.settled();
    if (!model.dirty && model.tag) return true;
    const text = model.source;
    try {
      const { result } = await host.call("save", { name: model.name, source: text, tag: model.tag });
      if (result.theirs) return await this.settle(result.theirs);
      if (result.gone) return await this.bringBack(text);
      model.tag = result.tag;
      model.savedSource = text;
      model.tell("change");
      this.desk.say(`Saved ${model.name}.`);
      await this.list();
      return true;
    } catch (e) {
      this.desk.trouble(e, h("div", { class: "row" }, button("Save it to a file", () => saveAs(model.name, new TextEncoder().encode(text), "text/plain"))));
      return false;
    }
  }

  // settle asks what to do with a file that another program has changed.
  async settle(theirs) {
    const { model } = this.desk;
    const answer = await this.ask(`${model.name} was changed by another program since it was opened here. It is not overwritten.`,
      [["Take theirs", "theirs"], ["Keep mine, and overwrite theirs", "mine"], ["Save mine under another name", "other"], ["Decide later", "stay", true]],
      h("div", { class: "sides" }, side("Yours", model.source, theirs.source), side("Theirs", theirs.source, model.source)));
    if (answer === "theirs") { model.remember("\0theirs"); model.load({ ...theirs }); return false; }
    if (answer === "mine") { model.tag = theirs.tag; return this.save(); }
    if (answer === "other") return this.saveAsOther();
    return false;
  }

  async bringBack(text) {
    const { model } = this.desk;
    const answer = await this.ask(`${model.name} is not in the folder any more.`, [["Write it again", "again", true], ["Decide later", "stay"]]);
    if (answer !== "again") return false;
    model.tag = "";
    return this.save(text);
  }

  async saveAsOther() {
    const { model } = this.desk;
    const name = await this.askName(freeName(model.name, this.desk.listing.jobs));
    if (!name) return false;
    model.name = name;
    model.tag = "";
    return this.save();
  }

  // create begins a new job.
  async create(source, name) {
    if (!(await this.leave())) return;
    name ||= await this.askName(freeName("job.toml", this.desk.listing.jobs));
    if (!name) return;
    this.desk.model.load({ name, source: source ?? await this.desk.shop.starter(), tag: "" });
    this.desk.tell("opened");
  }

  // exchange is how jobs come and go where there is no folder.
  exchange() {
    const { model } = this.desk;
    const pick = h("input", { type: "file", accept: ".toml", id: "open-file", "aria-label": "Open a job from a file", onchange: async () => {
      const f = pick.files[0];
      if (!f) return;
      if (f.size > 1 << 20) { this.desk.trouble(new Error(`${f.name} is too large for a job file, which has at most 1 MB.`)); return; }
      if (await this.leave()) { model.load({ name: freeName(f.name, this.desk.listing.jobs), source: await f.text(), tag: "" }); this.desk.tell("opened"); }
      pick.value = "";
    } });
    return h("div", { class: "row exchange" }, h("label", { class: "from-file" }, "Open from a file ", pick),
      button("Save to a file", () => saveAs(model.name, new TextEncoder().encode(model.source), "text/plain"), { id: "save-file" }));
  }

  // ask shows a question with buttons and returns which was pressed.
  ask(words, choices, more = null) {
    return new Promise((resolve) => {
      const done = (v) => { this.conflict.close(); resolve(v); };
      fill(this.conflict, h("h2", { id: "conflict-title" }, words), more,
        h("div", { class: "row" }, choices.map(([label, v, main]) => button(label, () => done(v), { class: main ? "main" : "", "data-answer": v }))));
      this.conflict.oncancel = () => resolve("stay");
      this.conflict.showModal();
    });
  }

  askName(free) {
    return new Promise((resolve) => {
      const input = h("input", { type: "text", id: "new-name", value: free, autocomplete: "off" });
      const done = (v) => { this.conflict.close(); resolve(v); };
      const take = (e) => { e.preventDefault(); const v = input.value.trim(); if (v) done(v.endsWith(".toml") ? v : v + ".toml"); };
      fill(this.conflict, h("form", { onsubmit: take }, h("h2", { id: "conflict-title" }, "What is the job called?"),
        h("div", { class: "field" }, h("label", { for: "new-name" }, "File name"), input),
        h("div", { class: "row" }, h("button", { type: "submit", class: "main" }, "Begin"), button("Stay here", () => done("")))));
      this.conflict.oncancel = () => resolve("");
      this.conflict.showModal();
      input.select();
    });
  }
}

// side shows a text with the lines marked that the other does not have.
function side(name, text, other) {
  const theirs = new Set(other.split("\n"));
  return h("div", {}, h("h3", {}, name), h("pre", { tabindex: "0" }, text.split("\n").map((l) => [theirs.has(l) ? h("span", {}, l) : h("mark", {}, l || " "), "\n"])));
}

function freeName(name, taken = []) {
  if (!taken.includes(name)) return name;
  const stem = name.replace(/\.toml$/, "");
  for (let i = 2; ; i++) if (!taken.includes(`${stem}-${i}.toml`)) return `${stem}-${i}.toml`;
}
