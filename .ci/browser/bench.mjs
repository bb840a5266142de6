// What every test of the page stands on: the browser, the count of what
// passed, and a reader of programs that is none of ours.

import { execFileSync, spawnSync } from "node:child_process";
import fs from "node:fs";
import { createRequire } from "node:module";
import os from "node:os";
import path from "node:path";
import { fileURLToPath } from "node:url";

const here = path.dirname(fileURLToPath(import.meta.url));

// options reads the command line: pages or packets, and --name value.
export function options(argv) {
  const o = { pages: [], out: path.join(here, "..", "out", "browser"), modules: "", sample: "" };
  for (let i = 0; i < argv.length; i++) {
    if (argv[i].startsWith("--")) {
      const name = argv[i].slice(2);
      if (!(name in o) || name === "pages" || i + 1 >= argv.length) throw new Error(`unknown or empty option ${argv[i]}`);
      o[name] = argv[++i];
    } else {
      o.pages.push(argv[i]);
    }
  }
  return o;
}

// finder loads npm modules: from --modules, else as node looks for them from
// this folder, NODE_PATH included.
export function finder(modules) {
  const base = modules ? path.resolve(modules, "..", "package.json") : fileURLToPath(import.meta.url);
  return createRequire(base);
}

// samplePage makes the page with a gouge and a program of 100,000 blocks.
export function samplePage() {
  const dir = fs.mkdtempSync(path.join(os.tmpdir(), "backplot-sample-"));
  execFileSync("go", ["test", "./post/page", "-run", "^TestSamplePage$", "-count=1", "-args", "-sample", dir],
    { cwd: path.join(here, "..", ".."), stdio: ["ignore", "ignore", "inherit"] });
  return path.join(dir, "backplot.html");
}

// browser starts Chromium; one that keeps nothing refuses every page its storage,
// as somebody sets it who blocks all cookies.
export async function browser(require, { keepNothing = false } = {}) {
  const { chromium } = require("playwright-core");
  const found = spawnSync("sh", ["-c", "command -v chromium || command -v chromium-browser"], { encoding: "utf8" }).stdout.trim();
  const executablePath = process.env.CHROMIUM || found;
  if (!executablePath) throw new Error("no chromium found: install it, or name it in CHROMIUM");
  const how = { executablePath, headless: true, args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync"] };
  if (!keepNothing) return chromium.launch(how);
  const profile = fs.mkdtempSync(path.join(os.tmpdir(), "chromium-")), block = 2;
  fs.mkdirSync(path.join(profile, "Default"));
  fs.writeFileSync(path.join(profile, "Default", "Preferences"), JSON.stringify({ profile: { default_content_setting_values: { cookies: block } } }));
  const context = await chromium.launchPersistentContext(profile, how);
  return {
    newContext: () => context,
    async close() {
      await context.close();
      fs.rmSync(profile, { recursive: true, force: true });
    },
  };
}

// Tally counts what passed and prints it.
export class Tally {
  constructor() { this.passed = 0; this.failed = 0; }

  async test(name, body) {
    try {
      const note = await body();
      this.passed++;
      console.log(`ok    ${name}${note ? ": " + note : ""}`);
    } catch (e) {
      this.failed++;
      console.log(`FAIL  ${name}: ${e.message.split("\n").slice(0, 6).join(" | ")}`);
    }
  }
}

export function want(what, got, expected) {
  if (got !== expected) throw new Error(`${what}: ${JSON.stringify(got)}, want ${JSON.stringify(expected)}`);
}

export function wantTrue(what, got) {
  if (!got) throw new Error(what);
}

export function near(what, got, expected, by) {
  if (!(Math.abs(got - expected) <= by)) throw new Error(`${what}: ${got}, want ${expected} within ${by}`);
}

// random is a small generator with a seed, so that a failure can be run again
// (xorshift32; G. Marsaglia, Xorshift RNGs, 2003).
export function random(seed) {
  let s = seed >>> 0 || 1;
  return () => {
    s ^= s << 13; s >>>= 0;
    s ^= s >>> 17;
    s ^= s << 5; s >>>= 0;
    return s / 4294967296;
  };
}

// replay reads a program with gcode-toolpath and returns for each line where
// the cutter is after it, in mm, and the pieces that it was moved along.
export function replay(require, lines) {
  const module = require("gcode-toolpath"), Toolpath = module.default || module;
  const pieces = [];
  let line = 0;
  const copy = (p) => ({ x: p.x, y: p.y, z: p.z });
  const arc = (modal, a, b, o) => {
    const cw = modal.motion === "G2", r = Math.hypot(a.x - o.x, a.y - o.y);
    const from = Math.atan2(a.y - o.y, a.x - o.x);
    let turn = Math.atan2(b.y - o.y, b.x - o.x) - from;
    if (cw && turn >= -1e-9) turn -= 2 * Math.PI;
    if (!cw && turn <= 1e-9) turn += 2 * Math.PI;
    const n = 64;
    let last = copy(a);
    for (let i = 1; i <= n; i++) {
      const t = from + turn * i / n;
      const q = i === n ? copy(b) : { x: o.x + r * Math.cos(t), y: o.y + r * Math.sin(t), z: a.z + (b.z - a.z) * i / n };
      pieces.push({ line, rapid: false, a: last, b: q });
      last = q;
    }
  };
  const t = new Toolpath({
    addLine: (modal, a, b) => pieces.push({ line, rapid: modal.motion === "G0", a: copy(a), b: copy(b) }),
    addArcCurve: arc,
  });
  const after = lines.map((text, i) => {
    line = i + 1;
    t.loadFromStringSync(text);
    const p = t.getPosition();
    return { x: p.x, y: p.y, z: p.z };
  });
  return { after, pieces };
}

// distance of a place from a piece seen from above.
export function distance(p, x, y) {
  const dx = p.b.x - p.a.x, dy = p.b.y - p.a.y, l2 = dx * dx + dy * dy;
  const t = l2 > 0 ? Math.min(1, Math.max(0, ((x - p.a.x) * dx + (y - p.a.y) * dy) / l2)) : 0;
  return Math.hypot(x - p.a.x - t * dx, y - p.a.y - t * dy);
}
