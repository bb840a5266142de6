// A desk under test: the program that serves it or the one file, and the page
// in the browser.

import { execFileSync, spawn } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";

export const DESK = { viewport: { width: 1360, height: 860 } };
export const PHONE = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };

// Bench starts desks: of the program in a folder of their own, or of the file.
export class Bench {
  constructor(chromium, { program, file }) {
    Object.assign(this, { chromium, program, file });
  }

  // open opens a desk on a folder with these files; the one file from another
  // address or in another browser where they are given.
  async open(files = {}, look = DESK, { address = "", chromium = this.chromium } = {}) {
    const dir = fs.mkdtempSync(path.join(os.tmpdir(), "desk-"));
    for (const [name, text] of Object.entries(files)) fs.writeFileSync(path.join(dir, name), text);
    const d = new DeskUnderTest(this, dir, chromium);
    d.address = address;
    this.last = d;
    await d.blank(look);
    await d.start();
    await d.show();
    if (this.file) for (const name of Object.keys(files)) await d.fromFile(path.join(dir, name));
    return d;
  }

  // run runs the program and returns what it prints.
  run(...args) { return execFileSync(this.program, args, { encoding: "utf8", maxBuffer: 1 << 28 }); }
}

class DeskUnderTest {
  constructor(bench, dir, chromium) {
    Object.assign(this, { bench, dir, chromium, complaints: [], foreign: [], calls: 0, flying: 0, mostFlying: 0 });
  }

  get served() { return !this.bench.file; }

  async start() {
    if (!this.served) { this.address ||= "file://" + path.resolve(this.bench.file); return; }
    const began = performance.now();
    this.server = spawn(this.bench.program, ["desk", this.dir, "--no-open"], { stdio: ["ignore", "pipe", "inherit"] });
    this.address = await new Promise((resolve, reject) => {
      let text = "";
      this.server.stdout.on("data", (d) => { text += d; if (text.includes("\n")) resolve(text.split("\n")[0]); });
      this.server.on("exit", (code) => reject(new Error(`the desk ended with ${code}`)));
    });
    this.startedAt = began;
  }

  // fromFile opens a job from a file, as one does where there is no folder.
  async fromFile(file) {
    await this.page.setInputFiles("#open-file", file);
    const text = fs.readFileSync(file, "utf8");
    await this.page.waitForFunction((t) => globalThis.deskModel.source === t, text, { timeout: 20000 });
    await this.settled();
  }

  async stop() {
    if (!this.server || this.server.exitCode !== null || this.server.signalCode) return;
    const gone = new Promise((r) => this.server.on("exit", r));
    this.server.kill("SIGINT");
    await gone;
  }

  // blank opens a window of the browser, before the desk is started.
  async blank(look = DESK) {
    // A context is a private window: it starts with nothing and leaves nothing.
    this.context = await this.chromium.newContext({ ...look, acceptDownloads: true });
    this.page = await this.context.newPage();
    await this.page.goto("about:blank");
  }

  async show() {
    const own = this.address.split("#")[0];
    this.page.on("console", (m) => { if (m.type() === "error" || m.type() === "warning") this.complaints.push(m.text()); });
    this.page.on("pageerror", (e) => this.complaints.push(String(e)));
    this.page.on("request", (r) => {
      if (!r.url().startsWith(own) && !r.url().startsWith("blob:") && !r.url().startsWith("data:")) this.foreign.push(r.url());
      if (r.url().endsWith("/call")) { this.calls++; this.mostFlying = Math.max(this.mostFlying, ++this.flying); }
    });
    const landed = (r) => { if (r.url().endsWith("/call")) this.flying--; };
    this.page.on("requestfinished", landed);
    this.page.on("requestfailed", landed);
    await this.page.goto(this.address);
    await this.page.waitForSelector("#star[data-revision] svg", { timeout: 60000 });
  }

  async close() {
    await this.context?.close();
    await this.stop();
    fs.rmSync(this.dir, { recursive: true, force: true });
  }

  field(key) { return this.page.locator(`[data-path='${key}'] input, [data-path='${key}'] select`).first(); }

  // type puts a text into a field, opening the part that it is folded into.
  async type(key, text) {
    const f = this.field(key);
    await f.evaluate((e) => e.closest("details")?.setAttribute("open", ""));
    await f.fill(text);
    await this.settled();
  }

  // settled waits until numbers, star and plan are those of what was typed.
  async settled(whole = false) {
    await this.page.waitForFunction((all) => {
      const m = globalThis.deskModel;
      return m && !m.running && m.queue.length === 0 && (!all || !m.stale || m.glance.errors.length > 0);
    }, whole, { timeout: 60000 });
  }

  view(name) { return this.page.click(`[data-view=${name}]`); }

  source() { return this.page.evaluate(() => globalThis.deskModel.source); }
  numbers() { return this.page.evaluate(() => globalThis.deskModel.whole.plan); }
  text(selector) { return this.page.locator(selector).first().innerText(); }

  disk(name) { return fs.readFileSync(path.join(this.dir, name), "utf8"); }

  async save() {
    await this.page.click("#save");
    await this.page.waitForFunction(() => document.querySelector("#save").textContent === "Saved", null, { timeout: 10000 });
  }

  // make makes the packet and returns the zip's path.
  async make() {
    await this.page.click("#make");
    await this.page.waitForSelector("#zip", { timeout: 120000 });
    return this.zip();
  }

  async zip() {
    const [download] = await Promise.all([this.page.waitForEvent("download"), this.page.click("#zip")]);
    const at = path.join(this.dir, "..", path.basename(this.dir) + "-" + download.suggestedFilename());
    await download.saveAs(at);
    return at;
  }
}
