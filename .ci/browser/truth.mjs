// Is what the page shows what the files say? Asked of readers that are not
// ours: gcode-toolpath for programs, dxf-parser for drawings.

import fs from "node:fs";
import path from "node:path";

import { distance, near, random, replay, want, wantTrue } from "./bench.mjs";

const SEED = 20261125;
const POSITION = 0.0006; // mm: half of the last digit that the page shows, and rounding
const RULE_LEFT = 44, RULE_TOP = 24; // pixels that the rules take from the plan
const POSITION_IN = 0.00006; // in

// sameFiles: what the page holds is what lies in the packet now.
export async function sameFiles(p, dir) {
  const texts = await p.page.evaluate(() => JSON.parse(document.getElementById("data").textContent).programs.map((q) => [q.file, q.text]));
  for (const [file, text] of texts) {
    const disk = fs.readFileSync(path.join(dir, file), "utf8").replace(/\r?\n$/, "").replace(/\r\n/g, "\n");
    want(file + " in the page", text, disk);
  }
  for (const d of p.data.drawings) wantTrue(d.file + " is in the packet", fs.existsSync(path.join(dir, d.file)));
  return `${texts.length} programs, ${p.data.drawings.length} drawings`;
}

// positions: at chosen lines, by list and by stepping, the page shows where
// gcode-toolpath says the cutter is.
export async function positions(p, i, require) {
  const prog = p.data.programs[i];
  await p.choose(i);
  const { after } = replay(require, prog.lines);
  const known = firstKnown(prog.lines);
  const check = async (line) => {
    const got = await p.position(), scale = prog.unit === "in" ? 25.4 : 1, by = prog.unit === "in" ? POSITION_IN : POSITION;
    for (const axis of ["x", "y", "z"]) near(`line ${line} ${axis.toUpperCase()}`, got[axis], after[line - 1][axis] / scale, by);
  };
  const rnd = random(SEED + i), picks = new Set([known, prog.lines.length]);
  while (picks.size < Math.min(12, prog.lines.length - known)) picks.add(known + Math.floor(rnd() * (prog.lines.length - known)));
  for (const line of picks) {
    await p.toLine(line, prog.lines.length);
    want("the line marked", await p.line(), line);
    want("the block shown", await p.text("block-text"), prog.lines[line - 1]);
    await check(line);
  }
  // The slider: drag to somewhere, then step on block by block.
  await p.toTime(0.3 + 0.4 * rnd());
  await p.page.focus("#scrub");
  let steps = 0, last = 0;
  for (; steps < 15; steps++) {
    await p.page.keyboard.press("ArrowRight");
    await p.settled();
    const line = await p.line();
    wantTrue(`block after block: line ${line} after ${last}`, line >= last);
    last = line;
    await check(line);
  }
  return `${picks.size} lines and ${steps} blocks agree with gcode-toolpath`;
}

// firstKnown is the first line after which X, Y and Z have all been given.
function firstKnown(lines) {
  const seen = new Set();
  for (let i = 0; i < lines.length; i++) {
    const words = lines[i].replace(/\([^)]*\)/g, "");
    for (const axis of "XYZ") if (new RegExp(axis + "[-+.0-9]").test(words)) seen.add(axis);
    if (seen.size === 3) return i + 1;
  }
  return lines.length;
}

// between: wherever the slider is put, the cutter is on the way that
// gcode-toolpath gives for the block shown.
export async function between(p, i, require) {
  const prog = p.data.programs[i];
  await p.choose(i);
  const { pieces } = replay(require, prog.lines);
  const scale = prog.unit === "in" ? 25.4 : 1, box = await p.page.locator("#scrub").boundingBox();
  for (const part of [0.13, 0.37, 0.52, 0.78, 0.94]) {
    await p.page.mouse.click(box.x + 14 + part * (box.width - 28), box.y + 10);
    await p.settled();
    const line = await p.line(), at = await p.position();
    const of = pieces.filter((q) => q.line === line);
    const d = Math.min(...of.map((q) => distance(q, at.x * scale, at.y * scale)));
    wantTrue(`at ${part} of the time the cutter is ${d} mm off the way of line ${line}`, d < 0.01);
  }
  return "5 places of the slider";
}

// EDGE is how far from the edge of a cut, in pixels, a place may show the line
// that is drawn along it: that line is one pixel wide, on the side of the wood,
// and half a pixel's diagonal lies between a place and the middle of its pixel.
const EDGE = 1 + Math.SQRT2 / 2 + 0.04;

// wood: at random places, half of them beside cuts, the wood is drawn as gone or
// standing as the ways that gcode-toolpath gives, swept by the cutter, say.
export async function wood(p, i, require) {
  const prog = p.data.programs[i];
  await p.choose(i);
  const known = firstKnown(prog.lines), rnd = random(SEED + 100 + i);
  const stop = Math.floor(known + (prog.lines.length - known) * (0.5 + 0.4 * rnd()));
  await p.toLine(stop, prog.lines.length);
  await p.switchAll(false);
  await p.page.locator("#key label", { hasText: "Wood removed" }).locator("input").check();
  await p.settled();
  const at = await p.position(), scale = prog.unit === "in" ? 25.4 : 1, v = await p.view(), r = prog.cutter / 2;
  const { pieces } = replay(require, prog.lines.slice(0, stop));
  const cut = pieces.filter((q) => Math.min(q.a.z, q.b.z) < -0.05);
  const stock = prog.shapes.find((s) => s.role === "facet" || s.role === "sheet").c;
  const xs = stock.map((c) => c[0]), ys = stock.map((c) => c[1]), px = EDGE / v.s;
  const asked = [];
  for (let n = 0; n < 20000 && asked.length < 400; n++) {
    let x = Math.min(...xs) + rnd() * (Math.max(...xs) - Math.min(...xs)), y = Math.min(...ys) + rnd() * (Math.max(...ys) - Math.min(...ys));
    if (n % 2 && cut.length) { // on a sheet the cuts are narrow
      const q = cut[Math.floor(rnd() * cut.length)];
      x = q.b.x + (rnd() - 0.5) * 4 * r;
      y = q.b.y + (rnd() - 0.5) * 4 * r;
    }
    if (Math.hypot(x - at.x * scale, y - at.y * scale) < r + 20 / v.s) continue; // under the sign of the cutter
    if (Math.min(x - Math.min(...xs), Math.max(...xs) - x, y - Math.min(...ys), Math.max(...ys) - y) < 26 / v.s) continue; // words and signs at the edge
    const d = cut.reduce((least, q) => Math.min(least, distance(q, x, y)), Infinity);
    if (Math.abs(d - r) > px) asked.push({ x, y, gone: d < r });
  }
  const colours = await p.pixels(asked.map((q) => [v.x + q.x * v.s, v.y - q.y * v.s]));
  const wrong = asked.filter((q, n) => (colours[n][2] < 156) !== q.gone);
  const gone = asked.filter((q) => q.gone).length;
  await p.switchAll(true);
  if (wrong.length) throw new Error(`${wrong.length} of ${asked.length} places are drawn wrong after line ${stop}, the first at X${wrong[0].x.toFixed(2)} Y${wrong[0].y.toFixed(2)}, which should be ${wrong[0].gone ? "gone" : "standing"} and has the colour ${colours[asked.indexOf(wrong[0])]}`);
  wantTrue("nothing was gone, or everything", gone >= 6 && gone < asked.length - 5);
  return `${asked.length} places, ${gone} of them gone, seed ${SEED}`;
}

// sameEitherWay: the picture of a moment does not depend on the way to it.
export async function sameEitherWay(p, i) {
  await p.choose(i);
  await p.toTime(0.62);
  const fresh = await p.picture();
  for (const part of [0.9, 0.1, 0.7, 0.3, 1, 0, 0.62]) await p.toTime(part);
  wantTrue("the picture differs after going to and fro", (await p.picture()) === fresh);
  await p.toTime(0.4);
  wantTrue("another moment gives the same picture", (await p.picture()) !== fresh);
}

// drawing: its layers switch, and the bar is measured.
export async function drawing(p, i, require, dir) {
  const d = p.data.drawings[i];
  await p.choose(p.data.programs.length + i);
  const before = await p.picture();
  const layers = [...new Set([...d.contours, ...d.lines, ...d.texts].map((e) => e.layer))];
  want("layers in the key", await p.page.locator("#key input").count(), layers.length);
  const box = p.page.locator("#key label", { hasText: "Layer OUTLINE" }).locator("input");
  await box.uncheck();
  await p.settled();
  wantTrue("the picture without OUTLINE is the same", (await p.picture()) !== before);
  await box.check();
  await p.settled();
  wantTrue("the picture is not the same again", (await p.picture()) === before);
  const bar = await p.text("bar");
  wantTrue("the check bar is not measured: " + bar, d.bar ? /says .* measures /.test(bar) : /none found/.test(bar));
  if (d.bar) {
    const long = Math.hypot(d.bar.b[0] - d.bar.a[0], d.bar.b[1] - d.bar.a[1]), agree = Math.abs(long - d.bar.stated) < 0.005;
    wantTrue("the bar's verdict: " + bar, bar.includes(agree ? "they agree" : "off by"));
  }
  if (!dir) return bar;
  const Parser = require("dxf-parser"), parsed = new (Parser.default || Parser)().parseSync(fs.readFileSync(path.join(dir, d.file), "utf8"));
  for (const l of layers) {
    const theirs = parsed.entities.filter((e) => e.layer === l && (e.type === "POLYLINE" || e.type === "LWPOLYLINE" || e.type === "CIRCLE")).length;
    want(`contours on ${l} by dxf-parser`, d.contours.filter((c) => c.layer === l).length, theirs);
  }
  return bar + "; contours as dxf-parser counts them";
}

// finding: it is listed, and leads to its line and place.
export async function finding(p, index) {
  const it = [...p.data.programs, ...p.data.drawings][index];
  await p.choose(index);
  const isProgram = index < p.data.programs.length;
  want("findings listed", await p.page.locator("#found li").count(), Math.min(200, it.findings.length));
  for (const [n, f] of it.findings.slice(0, 5).entries()) {
    const item = p.page.locator("#found li button").nth(n);
    wantTrue("the finding's words", (await item.textContent()).includes(f.what));
    await p.page.click("#fit");
    await item.click();
    await p.settled();
    if (isProgram && f.line) want("the line it jumps to", await p.line(), f.line);
    if (!f.at) continue;
    const v = await p.view(), box = await p.planBox();
    near("its place across the plan, pixels", v.x + f.at.X * v.s, (box.width + RULE_LEFT) / 2, 2);
    near("its place down the plan, pixels", v.y - f.at.Y * v.s, (box.height + RULE_TOP) / 2, 2);
    const [c] = await p.pixels([[(box.width + RULE_LEFT) / 2 - 10, (box.height + RULE_TOP) / 2 + 24]]);
    wantTrue(`no red sign at its place but ${c}`, c[0] > 120 && c[1] < 90 && c[2] < 70);
  }
  return `${it.name}: ${it.findings.length}`;
}
