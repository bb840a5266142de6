// The job that is on the desk: its text, what was typed and not yet worked out,
// and what the engine says of it. One call is under way at a time, and what is
// typed meanwhile goes with the next one, so nothing piles up and the newest
// wins.

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
    this.good = null;   // the last glance without errors
    this.whole = null;  // of the last text that could be planned
    this.stale = true;  // whole is not of this text
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

  // load puts a job on the desk.
  load({ name, source, tag = "" }) {
    Object.assign(this, { name, source, tag, savedSource: tag ? source : "", queue: [], done: [], undone: [], whole: null, good: null, glance: null });
    this.stale = true;
    this.run();
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
      const at = e.rename ? -1 : this.queue.findIndex((q) => !q.rename && q.path.join("\0") === e.path.join("\0"));
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
        const { result } = await this.host.call("glance", { name: this.name, source: text, shop: this.shop, edits });
        if (this.source !== text) { this.again = true; continue; } // undone or typed over meanwhile
        if (result.source !== text) {
          this.remember(edits.map((e) => e.path.join(".")).join(","));
          this.source = result.source;
        }
        this.glance = result;
        if (result.errors.length === 0) this.good = result;
        this.stale = true;
        this.revision++;
        this.tell("glance");
        this.tell("change");
      } catch (e) {
        this.queue = [...edits, ...this.queue];
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
    this.wholeTimer = setTimeout(() => this.runWhole(), pause);
  }

  stopWhole() {
    clearTimeout(this.wholeTimer);
    this.wholeAbort?.abort();
    this.wholeAbort = null;
  }

  async runWhole() {
    const abort = this.wholeAbort = new AbortController(), text = this.source;
    try {
      const { result } = await this.host.call("plan", { name: this.name, source: text, shop: this.shop }, { signal: abort.signal });
      if (abort.signal.aborted || this.source !== text) return;
      if (result.errors.length > 0) {
        this.glance = { ...this.glance, errors: result.errors };
        this.tell("glance");
      } else {
        this.whole = result;
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

  // value returns what the job file has at a path, null without one.
  value(path) {
    const key = path.join("\0");
    return this.glance?.values.find((v) => v.path.join("\0") === key) || null;
  }

  // errorsAt are the errors of one key.
  errorsAt(path) {
    const key = path.slice(0, 2).join(".");
    return (this.glance?.errors || []).filter((e) => e.path.join(".") === key);
  }

  // defaultOf is what is taken where the file lacks a key: {value, why}.
  defaultOf(path) {
    const key = path.join("."), last = this.good?.numbers;
    const kept = last?.from_shop.find((t) => t.key === key);
    return kept ? { value: kept.value.replace(/^"(.*)"$/, "$1"), why: "from the shop" } : last?.defaults.find((d) => d.key === key) || null;
  }
}
