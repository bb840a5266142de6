// Tests of the back-plot page in a real browser, from disk, with the network
// off.
//
//   node .ci/browser/test.mjs PACKET_OR_PAGE... [--out DIR] [--modules NODE_MODULES] [--sample PAGE]
//
// A packet is a folder with pictures/backplot.html; its files are then held
// against the page too. The sample is a page with a gouge and a program of
// 100,000 blocks; without one it is made by go test. The last line printed is
// "N passed, N failed"; the exit status is 1 if any failed.

import fs from "node:fs";
import os from "node:os";
import path from "node:path";

import { browser, finder, options, samplePage, Tally, want, wantTrue } from "./bench.mjs";
import * as hands from "./hands.mjs";
import { DESK, Page, PHONE } from "./page.mjs";
import * as truth from "./truth.mjs";

const LARGE = 100_000; // moves from which the frames are counted
const LEAST_FRAMES = 30; // a second, in the slowest second
const CODE_LIMIT = 400 * 1024; // bytes of page beside its data

async function main() {
  const o = options(process.argv.slice(2)), require = finder(o.modules);
  if (!o.pages.length && !o.sample) throw new Error("no page: give a packet's folder or a page");
  fs.mkdirSync(o.out, { recursive: true });
  const tally = new Tally(), chromium = await browser(require);
  const done = { large: 0, findings: 0 };
  try {
    for (const arg of o.pages) await testPage(tally, chromium, require, arg, o.out, done);
    const sample = o.sample || samplePage();
    await testPage(tally, chromium, require, sample, o.out, done, "sample");
    await tally.test("hostile words and empty programs", () => hostile(chromium, path.join(path.dirname(sample), "hostile.html")));
  } finally {
    await chromium.close();
  }
  await tally.test("a program of 100,000 blocks was among them", () => wantTrue("none was", done.large > 0));
  await tally.test("a finding was among them", () => wantTrue("none was", done.findings > 0));
  console.log(`${tally.passed} passed, ${tally.failed} failed`);
  process.exitCode = tally.failed ? 1 : 0;
}

async function testPage(tally, chromium, require, arg, out, done, as = "") {
  const dir = fs.statSync(arg).isDirectory() ? arg : "", file = dir ? path.join(dir, "pictures", "backplot.html") : arg;
  const name = as || path.basename(path.resolve(arg), ".html"), test = (what, body) => tally.test(`${name}: ${what}`, body);
  const p = await Page.open(chromium, file, DESK);
  const programs = p.data.programs, all = [...programs, ...p.data.drawings];
  await test("size without data", () => weight(file));
  if (dir) await test("holds the files of the packet", () => truth.sameFiles(p, dir));
  await test("everything can be chosen", () => chooseAll(p, all));
  for (const [i, q] of programs.entries()) {
    await test(`${q.name}: positions`, () => truth.positions(p, i, require));
    await test(`${q.name}: slider`, () => truth.between(p, i, require));
    if (q.count < LARGE) await test(`${q.name}: wood removed`, () => truth.wood(p, i, require));
  }
  for (const [i, d] of p.data.drawings.entries()) await test(`${d.name}: layers and check bar`, () => truth.drawing(p, i, require, dir));
  for (const [i, q] of all.entries()) {
    if (!q.findings.length) continue;
    done.findings++;
    await test(`${q.name}: findings`, () => truth.finding(p, i));
  }
  if (programs.length) {
    await test("mouse", () => hands.mouse(p, require));
    await test("measure", () => hands.measure(p));
    await test("keyboard alone", () => hands.keyboard(p));
    await test("run", () => hands.run(p));
    await test("the picture is the same either way", () => truth.sameEitherWay(p, 0));
    await test("print", () => hands.paper(p, path.join(out, name + "-print.pdf")));
  }
  for (const i of views(p)) await test(`${all[i].name}: accessible on a desk`, () => hands.accessible(p, require, i));
  for (const [i, q] of programs.entries()) {
    if (q.count < LARGE) continue;
    done.large++;
    await test(`${q.name}: the picture is the same either way`, () => truth.sameEitherWay(p, i));
    await test(`${q.name}: frames a second while scrubbing ${q.count} moves`, () => frames(p, i));
  }
  await shoot(p, all, out, name + "-desk");
  await test("no complaint, no request, on a desk", () => quiet(p));
  await p.close();
  const phone = await Page.open(chromium, file, PHONE);
  if (programs.length) await test("touch", () => hands.touch(phone));
  for (const i of views(phone)) await test(`${all[i].name}: accessible on a phone`, () => hands.accessible(phone, require, i));
  await shoot(phone, all, out, name + "-phone");
  await test("no complaint, no request, on a phone", () => quiet(phone));
  await phone.close();
}

// hostile: words that would be code stay words, and programs and drawings with
// nothing in them, or far too much, break nothing.
async function hostile(chromium, file) {
  const p = await Page.open(chromium, file, DESK), n = p.data.programs.length + p.data.drawings.length;
  for (let i = 0; i < n; i++) {
    await p.choose(i);
    await p.page.click("#closer");
    await p.page.locator("#plan").click();
    if (i < p.data.programs.length) {
      await p.page.click("#play");
      await p.page.click("#block-on");
      await p.page.focus("#scrub");
      for (const key of ["End", "ArrowLeft", "PageDown", "Home"]) await p.page.keyboard.press(key);
      await p.page.focus("#lines");
      for (const key of ["End", "PageUp"]) await p.page.keyboard.press(key);
    }
    for (const item of await p.page.locator("#found li button").all()) await item.click();
    await p.page.click("#measure");
    await p.page.locator("#plan").click();
    await p.page.click("#measure");
    await p.settled();
  }
  want("words that ran", await p.page.evaluate(() => String(window.broken)), "undefined");
  quiet(p);
  await p.close();
  return `${n} entries`;
}

// views picks one program, one drawing, and one of each with findings.
function views(p) {
  const n = p.data.programs.length, picks = new Set();
  const add = (i) => i >= 0 && picks.add(i);
  if (n) add(0);
  add(p.data.programs.findIndex((q) => q.findings.length));
  if (p.data.drawings.length) add(n);
  const d = p.data.drawings.findIndex((q) => q.findings.length);
  if (d >= 0) add(n + d);
  return picks;
}

function weight(file) {
  const page = fs.readFileSync(file, "utf8"), data = /<script type="application\/json" id="data">(.*?)<\/script>/s.exec(page);
  wantTrue("no data found", data);
  const bytes = Buffer.byteLength(page) - Buffer.byteLength(data[1]);
  wantTrue(`${bytes} bytes`, bytes < CODE_LIMIT);
  return `${Math.round(bytes / 1024)} KB, and ${Math.round(Buffer.byteLength(data[1]) / 1024)} KB of data`;
}

async function chooseAll(p, all) {
  want("entries", await p.page.locator("#pick option").count(), all.length);
  const pictures = new Set();
  for (let i = 0; i < all.length; i++) {
    await p.choose(i);
    pictures.add(await p.picture());
    wantTrue(`${all[i].name} is not what is shown`, (await p.page.locator("#pick option:checked").textContent()).includes(all[i].name));
  }
  wantTrue(`${pictures.size} different pictures of ${all.length}`, pictures.size > all.length / 2);
  return `${all.length}`;
}

function quiet(p) {
  want("complaints", p.complaints.join(" | "), "");
  want("requests", p.requests.filter((u) => u !== p.url).join(" "), "");
}

// frames drags the slider to and fro, with jumps, and counts frames. Another
// job on the machine can spoil one try, so there are three.
async function frames(p, i) {
  await p.choose(i);
  let best = 0, note = "";
  for (let n = 0; n < 3 && best < LEAST_FRAMES; n++) {
    const cpu = await cpuSeconds(p), times = await p.page.evaluate(scrub, 4000);
    const work = ((await cpuSeconds(p)) - cpu) / times.length * 1000;
    let slowest = Infinity;
    for (let a = 0, b = 0; b < times.length; b++) {
      while (times[b] - times[a] > 1000) a++;
      if (times[b] - times[0] > 1000) slowest = Math.min(slowest, b - a + 1);
    }
    const gaps = times.slice(1).map((t, k) => t - times[k]).sort((a, b) => a - b);
    // On a machine that is busy with other things the clock says nothing of
    // the page: there the time that all of the browser worked on a frame counts.
    const frames = busy() ? Math.max(slowest, Math.floor(1000 / work)) : slowest;
    if (frames > best) {
      best = frames;
      note = `${((times.length - 1) / (times.at(-1) - times[0]) * 1000).toFixed(1)} on average, ${slowest} in the slowest second, 95 of 100 within ${gaps[Math.floor(gaps.length * 0.95)].toFixed(1)} ms; ${work.toFixed(1)} ms of processor a frame${busy() ? ", on a busy machine" : ""}`;
    }
  }
  await p.settled();
  wantTrue(note, best >= LEAST_FRAMES);
  return note;
}

// busy: more wants to run than the machine has cores, the page left out.
const busy = () => os.loadavg()[0] > os.availableParallelism() + 1;

// cpuSeconds is the processor time that all of the browser has used.
async function cpuSeconds(p) {
  const cdp = await p.context.browser().newBrowserCDPSession();
  const { processInfo } = await cdp.send("SystemInfo.getProcessInfo");
  await cdp.detach();
  return processInfo.reduce((sum, q) => sum + q.cpuTime, 0);
}

// scrub runs in the page: each frame the slider is somewhere else.
function scrub(ms) {
  return new Promise((resolve) => {
    const s = document.getElementById("scrub"), total = Number(s.max), times = [], from = performance.now();
    let n = 0;
    const frame = (now) => {
      times.push(now);
      const t = (now - from) / ms;
      if (t >= 1) return resolve(times);
      // Two sweeps there and back, and every tenth frame a leap.
      const sweep = 1 - Math.abs(((t * 4) % 2) - 1), leap = (n++ * 0.618034) % 1;
      s.value = String(total * (n % 10 === 0 ? leap : sweep));
      s.dispatchEvent(new Event("input", { bubbles: true }));
      requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  });
}

async function shoot(p, all, out, name) {
  for (const i of views(p)) {
    await p.choose(i);
    if (i < p.data.programs.length) await p.toTime(0.55);
    if (all[i].findings.length) await p.page.locator("#found li button").first().click();
    await p.settled();
    await p.page.evaluate(() => window.scrollTo(0, 0));
    await p.page.screenshot({ path: path.join(out, `${name}-${all[i].name}.png`) });
  }
}

await main();
