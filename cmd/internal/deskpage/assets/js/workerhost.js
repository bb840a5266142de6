// The engine in the page as host: two workers, one for what is asked at each
// keystroke, one for what takes longer. Jobs are kept in the browser.

import { makeStore } from "./store.js";
import { CallError, ReplyReader, packCall } from "./wire.js";

const LONG = new Set(["plan", "compare", "bench", "make", "check", "zip"]);
const NEWEST = new Set(["plan", "compare", "bench"]); // of these only the newest is of use
const STOPPED = new Set(["make"]); // takes long enough to be worth a new worker

// workerHost is the host of the page that is one file.
export function workerHost(packed, script) {
  const store = makeStore(), url = URL.createObjectURL(new Blob([script], { type: "text/javascript" }));
  const quick = new Engine(url), long = new Engine(url);
  quick.start({ packed }).then((module) => long.start({ module }), () => {});
  return {
    kind: "page",
    async begin() {
      const listing = store.list(), { jobs } = listing, first = jobs.includes("job.toml") ? "job.toml" : jobs[0];
      return { about: (await quick.call("about", {}, {})).result, listing, shop: listing.shop ? store.open("shop.toml") : null, job: first ? store.open(first) : null, glance: null };
    },
    async call(name, args = {}, { files, signal, tell } = {}) {
      if (name === "list") return { result: store.list(), files: new Map() };
      if (name === "open") return { result: store.open(args.name), files: new Map() };
      if (name === "save") return { result: store.save(args), files: new Map() };
      return (LONG.has(name) ? long : quick).call(name, args, { files, signal, tell });
    },
  };
}

// Engine is one worker; it carries out one call after the other.
class Engine {
  constructor(url) {
    this.url = url;
    this.waiting = [];
    this.running = null;
    this.ended = "";
    this.begin();
  }

  begin() {
    const worker = this.worker = new Worker(this.url);
    this.ready = false;
    this.started = new Promise((resolve, reject) => { this.startedOK = resolve; this.startedNot = reject; });
    worker.onmessage = ({ data }) => { if (worker === this.worker) this.take(data); };
    worker.onerror = (e) => { if (worker === this.worker) this.take({ ended: e.message || "the engine did not start" }); };
  }

  start(what) {
    this.worker.postMessage(what);
    return this.started;
  }

  // stop ends the call that runs, with its worker, which hears nothing while it
  // works. Another takes the place; the engine is compiled already.
  stop() {
    this.worker.terminate();
    this.running = null;
    this.begin();
    this.start({ module: this.module }).catch(() => {});
  }

  take(data) {
    if (data.ended) {
      this.ended = data.ended;
      this.startedNot(new Error(data.ended));
      for (const c of [this.running, ...this.waiting].filter(Boolean)) c.reject(this.fault());
      this.running = null;
      this.waiting = [];
    } else if (data.module) {
      this.ready = true;
      this.module = data.module;
      this.startedOK(data.module);
      this.next();
    } else if (this.running && data.id === this.running.id) {
      this.running.reader.take(data.bytes);
      if (!data.end) return;
      const c = this.running;
      this.running = null;
      try { c.resolve(c.reader.end()); } catch (e) { c.reject(e); }
      this.next();
    }
  }

  fault() { return new CallError("io", ["The engine in this page has stopped. Save your job to a file, then load the page again.", this.ended]); }

  call(name, args, { files, signal, tell }) {
    return new Promise((resolve, reject) => {
      if (this.ended) { reject(this.fault()); return; }
      const c = { id: ++callID, name, kind: name + (args.whole ? "+" : "") + (args.variants?.[0]?.name || ""), parts: () => packCall(name, args, files), reader: new ReplyReader(tell), resolve, reject };
      if (NEWEST.has(name)) {
        for (const old of this.waiting.filter((w) => w.kind === c.kind)) old.reject(new DOMException("newer", "AbortError"));
        this.waiting = this.waiting.filter((w) => w.kind !== c.kind);
      }
      signal?.addEventListener("abort", () => {
        this.waiting = this.waiting.filter((w) => w !== c);
        reject(new DOMException("aborted", "AbortError"));
        if (this.running === c && STOPPED.has(name)) this.stop(); // any other goes on, and nobody waits for it
      });
      this.waiting.push(c);
      this.next();
    });
  }

  next() {
    if (this.running || !this.ready || this.waiting.length === 0) return;
    this.running = this.waiting.shift();
    const parts = this.running.parts(), call = new Uint8Array(parts.reduce((n, p) => n + p.byteLength, 0));
    let at = 0;
    for (const p of parts) { call.set(p instanceof Uint8Array ? p : new Uint8Array(p), at); at += p.byteLength; }
    this.worker.postMessage({ id: this.running.id, call }, [call.buffer]);
  }
}

let callID = 0;
