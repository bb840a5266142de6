// The job that is on the desk: its text, what was typed and not yet worked out,
// and what the engine says of it. One call is under way at a time, and what is
// typed meanwhile goes with the next one, so nothing piles up and the newest
// wins.

// OWN are the tables that a star of an order may have to itself.
const OWN = ["blank", "slot", "offcut_slot", "spline"];

// wholly reports whether a change is of more than one value.
const wholly = (e) => Boolean(e.rename || e.copy || e.list);

// formPath is how the form calls what the file has at a path.
export function formPath(path) {
  if (path[0] !== "star" || !/^\d+$/.test(path[1])) return path;
  return OWN.includes(path[2]) ? path.slice(2) : ["star", ...path.slice(2)];
}

// Model tells its listeners "change" (text or state), "glance" (numbers and
// star are new), "whole" (plan is new) and "error" (a call failed).
export class Model extends EventTarget {
  constructor(host) {
    super();
    this.host = host;
    this.name = "";
    this.tag = "";
    this.source = "";
    this.savedSource = "";
    this.shop = "";
    this.glance = null; // of the text as it is
    this.values = new Map(); // of the glance, by path
    this.stars = [];    // of the glance
    this.good = null;   // the last glance without errors
    this.whole = null;  // of the last text that could be planned
    this.stale = true;  // whole is not of this text
    this.wholeOf = "";  // the text and the shop that it is of
    this.star = 0;      // of an order: the star that is shown
    this.alone = true;  // of an order: slots, blanks and splines are those of this star alone
    this.revision = 0;
    this.undone = [];
    this.done = [];
    this.lastPath = "";
    this.lastTime = 0;
    this.queue = [];
    this.running = false;
    this.wholeTimer = 0;
    this.wholeAbort = null;
  }

  tell(what, detail) { this.dispatchEvent(new CustomEvent(what, { detail })); }

  get dirty() { return this.source !== this.savedSource || this.queue.length > 0; }

  // load puts a job on the desk, with what the engine says of it where that is known.
  load({ name, source, tag = "" }, glance = null) {
    Object.assign(this, { values: new Map(), stars: [], name, source, tag, savedSource: tag ? source : "", queue: [], done: [], undone: [], whole: null, wholeOf: "", good: null, glance: null, star: 0, alone: true });
    this.stale = true;
    if (!glance) { this.run(); return; }
    this.show(glance);
    this.soonWhole();
  }

  // show takes in what the engine says and tells it to those who show it.
  show(glance) {
    this.take(glance);
    this.star = Math.max(0, Math.min(this.star, this.stars.length - 1));
    this.stale = this.wholeOf !== glance.source + "\0" + this.shop;
    this.revision++;
    this.tell("glance");
    this.tell("change");
  }

  // setShop has the job worked out in another shop.
  setShop(text) {
    if (text === this.shop) return;
    this.shop = text;
    if (this.name) this.run(true);
  }

  // edit makes changes: typed, words, value, rename or none to take a key out.
  edit(...edits) {
    for (const e of edits) {
      const at = wholly(e) ? -1 : this.queue.findIndex((q) => !wholly(q) && q.path.join("\0") === e.path.join("\0"));
      if (at >= 0) this.queue[at] = e; else this.queue.push(e);
    }
    this.tell("change");
    this.run();
  }

  // setSource puts a whole text in the place of the job's.
  setSource(text) {
    if (text === this.source && this.queue.length === 0) return;
    this.remember("\0text");
    this.queue = [];
    this.source = text;
    this.tell("change");
    this.run(true);
  }

  // choose shows another star of the order.
  choose(star, alone = this.alone) {
    Object.assign(this, { star, alone, lastPath: "" });
    this.run(true);
  }

  // remember keeps the text for undo; typing on in one place is one step.
  remember(path) {
    const now = performance.now(), pause = 1500;
    if (path !== this.lastPath || now - this.lastTime > pause || this.done.length === 0) {
      this.done.push(this.source);
      if (this.done.length > 500) this.done.shift();
    }
    this.lastPath = path;
    this.lastTime = now;
    this.undone = [];
  }

  undo() { this.step(this.done, this.undone); }
  redo() { this.step(this.undone, this.done); }

  step(from, to) {
    if (this.running || this.queue.length > 0 || from.length === 0) return;
    to.push(this.source);
    this.source = from.pop();
    this.lastPath = "";
    this.tell("change");
    this.run(true);
  }

  // run asks for numbers and star of what is typed now.
  async run(again = false) {
    if (again) this.again = true;
    if (this.running) { this.again = true; return; }
    this.running = true;
    this.stopWhole();
    do {
      this.again = false;
      const edits = this.queue, text = this.source;
      this.queue = [];
      try {
        const { result } = await this.host.call("glance", { name: this.name, source: text, shop: this.shop, edits, star: this.star });
        if (this.source !== text) { this.again = true; continue; } // undone or typed over meanwhile
        if (result.source !== text) {
          this.remember(edits.map((e) => e.path.join(".")).join(","));
          this.source = result.source;
        }
        this.show(result);
      } catch (e) {
        if (!edits.some(wholly)) this.queue = [...edits, ...this.queue];
        this.running = false;
        this.tell("error", e);
        return;
      }
    } while (this.queue.length > 0 || this.again);
    this.running = false;
    this.soonWhole();
  }

  // soonWhole has the rest worked out when nobody types any more.
  soonWhole() {
    const pause = 250; // ms, longer than between two keys of one number
    clearTimeout(this.wholeTimer);
    if (this.glance?.errors.length > 0) { this.stopWhole(); return; }
    if (!this.stale) { this.tell("whole"); return; } // another star of the same order
    this.wholeTimer = setTimeout(() => this.runWhole(), pause);
  }

  stopWhole() {
    clearTimeout(this.wholeTimer);
    this.wholeAbort?.abort();
    this.wholeAbort = null;
  }

  async runWhole() {
    const abort = this.wholeAbort = new AbortController(), text = this.source, { shop } = this;
    try {
      const { result } = await this.host.call("plan", { name: this.name, source: text, shop, star: this.star }, { signal: abort.signal });
      if (abort.signal.aborted || this.source !== text) return;
      if (result.errors.length > 0) {
        this.glance = { ...this.glance, errors: result.errors };
        this.tell("glance");
      } else {
        this.whole = result;
        this.wholeOf = text + "\0" + shop;
        this.stale = false;
      }
      this.tell("whole");
    } catch (e) {
      if (e.name !== "AbortError" && e.kind !== "gone") this.tell("error", e);
    }
  }

  // settled waits until nothing is under way.
  async settled() {
    while (this.running || this.queue.length > 0) await new Promise((r) => setTimeout(r, 10));
  }

  // take takes in what the engine says, its values by their paths, and the stars of
  // an order as the file has them, none of a single star.
  take(glance) {
    this.glance = glance;
    this.values = new Map();
    this.stars = [];
    for (const v of glance.values) {
      const { path } = v;
      this.values.set(path.join("\0"), v);
      if (path[0] !== "star" || path.length < 3 || !/^\d+$/.test(path[1])) continue;
      const one = (this.stars[Number(path[1])] ||= { name: "" });
      if (path[2] === "name") one.name = v.says;
    }
    if (glance.errors.length === 0) this.good = glance;
  }

  // at is where the file has what the form calls by a path: of an order below the
  // star that is shown.
  at(path) {
    if (this.stars.length === 0) return path;
    const one = ["star", String(this.star)];
    if (path[0] === "star") return [...one, ...path.slice(1)];
    return OWN.includes(path[0]) && this.alone ? [...one, ...path] : path;
  }

  // value returns what the job file has at a path of the form, null without one.
  value(path) { return this.written(this.at(path)); }

  written(path) { return this.values.get(path.join("\0")) || null; }

  // errorsAt are the errors of one key of the form: of the star that is shown, and
  // of what the file says for all.
  errorsAt(path) {
    const key = path.slice(0, 2), here = this.at(key).join("."), all = key.join(".");
    return (this.glance?.errors || []).filter((e) => {
      const at = e.path.join(".");
      return at === here || at === all && (!this.alone || !e.place || e.place - 1 === this.star);
    });
  }

  // defaultOf is what is taken where the file lacks a key: {value, why}.
  defaultOf(path) {
    const key = path.join("."), last = this.good?.numbers;
    const said = this.at(path) !== path && this.written(path);
    if (said) return { value: said.says, why: "as for all stars" };
    const kept = last?.from_shop.find((t) => t.key === key);
    return kept ? { value: kept.value.replace(/^"(.*)"$/, "$1"), why: "from the shop" } : last?.defaults.find((d) => d.key === key && (!d.star || d.star === this.stars[this.star]?.name)) || null;
  }
}
