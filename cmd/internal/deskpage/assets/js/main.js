// The desk: the head with the job's name, the screens, and what goes wrong.

import { questions, starPanel } from "./ask.js";
import { benchView } from "./bench.js";
import { checkView } from "./check.js";
import { costPanel } from "./cost.js";
import { button, fill, h, plural } from "./dom.js";
import { GROUPS } from "./fields.js";
import { Files } from "./files.js";
import { Field, group, showErrors } from "./form.js";
import { Model, formPath } from "./model.js";
import { packetView } from "./packet.js";
import { rackView } from "./rack.js";
import { choicesPanel } from "./route.js";
import { serverHost } from "./serverhost.js";
import { Shop } from "./shop.js";
import { textView } from "./textview.js";
import { workerHost } from "./workerhost.js";

class Desk extends EventTarget {
  constructor(host) {
    super();
    this.host = host;
    this.model = new Model(host);
    this.listing = { jobs: [], packets: [] };
    this.packet = null;
    this.files = new Files(this);
    this.shop = new Shop(this);
    this.notice = h("div", { class: "notice", role: "alert", hidden: true });
    this.status = h("p", { class: "status", role: "status", "aria-live": "polite" });
    this.model.addEventListener("error", (e) => this.trouble(e.detail));
  }

  tell(what) { this.dispatchEvent(new Event(what)); }
  say(words) { this.status.textContent = words; }

  // trouble says what went wrong, and stays until it is put away.
  trouble(e, more = null) {
    if (e.name === "AbortError") return;
    this.notice.hidden = false;
    fill(this.notice, (e.lines || [String(e.message || e)]).map((l) => h("p", {}, l)), more, button("Put this away", () => { this.notice.hidden = true; }));
    if (e.kind === "stopped") this.notice.append(button("Try again", () => { this.notice.hidden = true; this.model.run(true); }, { class: "main" }));
  }
}

const SCREENS = [["star", "Star"], ["rack", "Rack"], ["packet", "Packet"], ["bench", "At the machine"], ["check", "Check"], ["text", "Job file"], ["shop", "Shop"]];

function build(desk) {
  const { model } = desk;
  const asked = questions(model);
  const groups = GROUPS.map((g) => group(model, g, g.fields.map((spec) => new Field(model, spec))));
  const known = new Set([...asked.paths, "stock.boards", ...GROUPS.flatMap((g) => g.fields.map((f) => f.path.slice(0, 2).join(".")))]);
  const others = h("div", { class: "wrong others", id: "others" });
  model.addEventListener("glance", () => showErrors(model, others, model.glance.errors.filter((e) => !known.has(formPath(e.path).join("."))).map((e) => ({ ...e, why: e.line ? `Line ${e.line}: ${e.path.join(".") || "the file"}: ${e.why}` : `${e.path.join(".")}: ${e.why}` }))));
  const warnings = h("ul", { class: "warnings" });
  model.addEventListener("whole", () => fill(warnings, model.stale ? [] : model.whole.plan.warnings.map((w) => h("li", {}, h("strong", {}, w.key), " ", w.why))));
  const star = h("section", { class: "view star-view", id: "view-star" },
    starPanel(model),
    h("div", { class: "rail" }, others, asked.element, choicesPanel(model), costPanel(model), h("div", { class: "rest" }, h("h2", {}, "The rest, as usual unless you say otherwise"), groups),
      h("details", { class: "group" }, h("summary", {}, h("span", {}, "What to know before you cut"), h("span", { class: "note", id: "warning-count" })), warnings)));
  model.addEventListener("whole", () => { if (!model.stale) document.getElementById("warning-count").textContent = String(model.whole.plan.warnings.length || "nothing"); });
  const main = h("main", { id: "main" }, star), views = new Views(desk, main, star);
  const root = document.getElementById("desk");
  fill(root, head(desk), desk.notice, tabs(desk, views), main, h("footer", {}, desk.status,
    h("p", {}, "Wood, blades and cutters do harm. The machines' manuals, your local rules and a trained person's advice come before this page.")));
  root.classList.add("ready");
}

// Views are the screens. The star is there at once; the others are made when it is
// shown, or when somebody asks for one before.
class Views {
  constructor(desk, main, star) {
    Object.assign(this, { desk, main, made: { star } });
    this.waiting = { rack: () => rackView(desk), packet: () => packetView(desk), bench: () => benchView(desk),
      check: () => checkView(desk), text: () => textView(desk), shop: () => desk.shop.element };
    desk.model.addEventListener("glance", () => requestAnimationFrame(() => setTimeout(() => this.makeAll())), { once: true });
  }

  makeAll() {
    const { model } = this.desk, ids = Object.keys(this.waiting);
    for (const id of ids) {
      const v = this.made[id] = this.waiting[id]();
      v.hidden = true;
      this.main.append(v);
    }
    this.waiting = {};
    if (ids.length === 0) return;
    this.desk.tell("listed");
    if (model.glance) model.tell("glance");
  }

  show(id) {
    if (!this.made[id]) this.makeAll();
    for (const [name, v] of Object.entries(this.made)) v.hidden = name !== id;
  }
}

function tabs(desk, views) {
  const show = showScreen = (id) => {
    views.show(id);
    for (const b of bar.children) b.setAttribute("aria-current", b.dataset.view === id ? "page" : "false");
    bar.querySelector("[aria-current=page]").scrollIntoView({ block: "nearest", inline: "nearest" });
    desk.tell("screen");
  };
  const bar = h("nav", { class: "tabs", "aria-label": "Screens" }, SCREENS.map(([id, label]) => button(label, () => show(id), { "data-view": id })));
  queueMicrotask(() => show("star"));
  return bar;
}

let showScreen = () => {};

function head(desk) {
  const { model, files } = desk;
  const pick = h("select", { id: "job", "aria-label": "Job file", onchange: () => {
    const v = pick.value;
    if (v === "\0new") { pick.value = model.name; files.create(); } else if (v !== model.name) files.open(v);
  } });
  const list = () => {
    const names = [...new Set([...desk.listing.jobs, model.name])].filter(Boolean).sort();
    fill(pick, names.map((n) => h("option", { value: n }, n)), h("option", { value: "\0new" }, "A new job..."));
    pick.value = model.name;
  };
  desk.addEventListener("listed", list);
  desk.addEventListener("opened", list);
  const save = button("Save", () => files.save(), { id: "save", title: "Ctrl S" });
  const undo = button("Undo", () => model.undo(), { id: "undo", title: "Ctrl Z" }), redo = button("Redo", () => model.redo(), { id: "redo", title: "Ctrl Shift Z" });
  const mend = h("button", { type: "button", class: "mend-count", hidden: true, onclick: () => toWrong(model) });
  model.addEventListener("change", () => {
    save.disabled = !model.dirty && Boolean(model.tag);
    const word = model.dirty || !model.tag ? "Save" : "Saved", title = `${model.dirty ? "* " : ""}${model.name}, Starwright desk`;
    if (save.textContent !== word) save.textContent = word;
    undo.disabled = model.done.length === 0;
    redo.disabled = model.undone.length === 0;
    if (document.title !== title) document.title = title; // each time it is set the browser's window is told
  });
  model.addEventListener("glance", () => {
    const n = model.glance.errors.length;
    mend.hidden = n === 0;
    mend.textContent = `${plural(n, "thing")} to mend`;
  });
  document.addEventListener("keydown", (e) => {
    if (!(e.ctrlKey || e.metaKey) || e.altKey) return;
    const k = e.key.toLowerCase();
    if (k === "s") { e.preventDefault(); files.save(); }
    if (k === "z" && !e.shiftKey) { e.preventDefault(); model.undo(); }
    if (k === "y" || k === "z" && e.shiftKey) { e.preventDefault(); model.redo(); }
  });
  addEventListener("beforeunload", (e) => { if (model.dirty && model.name) e.preventDefault(); });
  return h("header", { class: "head" },
    h("div", { class: "name" }, h("h1", {}, "Starwright desk"), h("p", { id: "folder" })),
    h("div", { class: "row job" }, pick, save, undo, redo), mend, desk.host.kind === "page" ? files.exchange() : null);
}

// toWrong goes to what is wrong first, choosing the star of the order that it is of.
async function toWrong(model) {
  const [e] = model.glance.errors, own = e.path[0] === "star", place = (e.place || model.star + 1) - 1;
  if (model.stars.length > 0 && (place !== model.star || own !== model.alone)) {
    model.choose(place, own);
    await model.settled();
  }
  firstWrong()?.focus();
}

// firstWrong is the first field, or the first button, beside something wrong.
function firstWrong() {
  for (const e of document.querySelectorAll("[aria-invalid=true], .others .apply, .wrong .apply")) {
    e.closest("details")?.setAttribute("open", "");
    if (e.offsetParent) return e;
  }
  document.querySelector("[data-view=text]")?.click();
  return document.querySelector("#toml-errors button");
}

// theHost is the server that the page came from, or the engine in the page.
function theHost() {
  const packed = document.getElementById("engine"), script = document.getElementById("engine-worker");
  if (!packed) return serverHost();
  const host = workerHost(packed.textContent, script.textContent);
  packed.remove();
  script.remove();
  return host;
}

async function begin() {
  const desk = new Desk(theHost());
  globalThis.deskModel = desk.model; // for a look at the page from its console
  const begun = desk.host.begin(); // on its way while the page is built
  begun.catch(() => {});
  build(desk);
  const loading = desk.host.kind === "page" ? h("div", { class: "loading", role: "status" }, h("p", {}, "Getting the engine ready..."), h("progress", { "aria-label": "Getting ready" })) : null;
  if (loading) document.getElementById("star").append(loading);
  try {
    const { about, listing, shop, job, glance } = await begun, first = job?.name || listing.jobs[0];
    loading?.remove();
    Object.assign(desk, { listing });
    desk.model.about = about;
    document.getElementById("folder").textContent = listing.folder || "";
    const shown = desk.shop.load(listing.shop, listing.usual_shop, shop);
    if (job) desk.model.load(job, glance);
    else {
      await shown;
      if (first) await desk.files.open(first);
      else desk.model.load({ name: "job.toml", source: await desk.shop.starter(), tag: "" });
    }
    desk.tell("opened");
    if (!listing.shop && !listing.usual_shop && !first) desk.shop.invite(() => showScreen("shop"));
  } catch (e) { loading?.remove(); desk.trouble(e); }
}

begin();
