// The page under the hand: mouse, fingers, keys, and those who see or hear it
// otherwise.

import { near, replay, distance, want, wantTrue } from "./bench.mjs";

// mouse: the wheel zooms about its place, dragging moves, a click on a piece
// of the path goes to its line, and Measure takes a dimension.
export async function mouse(p, require) {
  await p.choose(0);
  const box = await p.planBox(), v0 = await p.view(), mx = Math.round(box.width * 0.6), my = Math.round(box.height * 0.5);
  await p.page.mouse.move(box.x + mx, box.y + my);
  await p.page.mouse.wheel(0, -300);
  await p.settled();
  const v1 = await p.view();
  wantTrue("the wheel does not zoom in", v1.s > v0.s * 1.2);
  near("what is under the wheel stays, mm", (mx - v1.x) / v1.s, (mx - v0.x) / v0.s, 1 / v1.s);
  await p.page.mouse.down();
  await p.page.mouse.move(box.x + mx + 70, box.y + my + 30, { steps: 4 });
  await p.page.mouse.up();
  await p.settled();
  const v2 = await p.view();
  near("dragged across, pixels", v2.x - v1.x, 70, 1);
  near("dragged down, pixels", v2.y - v1.y, 30, 1);
  await p.page.click("#fit");
  await p.settled();
  near("Fit, pixels a mm", (await p.view()).s, v0.s, 0.001);

  const prog = p.data.programs[0], { pieces } = replay(require, prog.lines);
  const long = pieces.filter((q) => !q.rapid && q.a.z < 0).sort((a, b) => len(b) - len(a))[0];
  const x = long.a.x * 0.3 + long.b.x * 0.7, y = long.a.y * 0.3 + long.b.y * 0.7;
  await p.page.mouse.click(box.x + v0.x + x * v0.s, box.y + v0.y - y * v0.s);
  await p.settled();
  const line = await p.line(), of = pieces.filter((q) => q.line === line);
  wantTrue(`a click on the path went to line ${line}, which does not pass there`, Math.min(...of.map((q) => distance(q, x, y))) < 2 / v0.s);
  await p.page.mouse.click(box.x + v0.x + x * v0.s, box.y + v0.y - y * v0.s);
  await p.settled();
  wantTrue("the same place again gives the next pass", (await p.line()) > line);
  return `line ${line}, then ${await p.line()}`;
}

const len = (q) => Math.hypot(q.b.x - q.a.x, q.b.y - q.a.y);

// measure: two clicks near corners give the distance between the corners.
export async function measure(p) {
  await p.choose(0);
  const c = p.data.programs[0].shapes[0].c, v = await p.view(), box = await p.planBox();
  await p.page.click("#measure");
  for (const [x, y] of [c[0], c[2]]) await p.page.mouse.click(box.x + v.x + x * v.s + 3, box.y + v.y - y * v.s - 3);
  await p.settled();
  const told = await p.text("told"), dx = Math.abs(c[2][0] - c[0][0]), dy = Math.abs(c[2][1] - c[0][1]);
  for (const mm of [Math.hypot(dx, dy), dx, dy]) {
    const words = p.data.unit === "in" ? (mm / 25.4).toFixed(3).replace(/\.?0+$/, "") : mm.toFixed(2).replace(/\.?0+$/, "");
    wantTrue(`"${told}" does not say ${words}`, told.includes(words) || p.data.unit === "in");
  }
  await p.page.click("#measure");
  return told;
}

// touch: two fingers drawn apart zoom in, one finger moves.
export async function touch(p) {
  await p.choose(0);
  const box = await p.planBox(), v0 = await p.view(), cx = box.x + box.width / 2, cy = box.y + box.height / 2;
  const cdp = await p.context.newCDPSession(p.page);
  const fingers = (type, ...points) => cdp.send("Input.dispatchTouchEvent", { type, touchPoints: points.map(([x, y], id) => ({ x, y, id })) });
  await fingers("touchStart", [cx - 30, cy], [cx + 30, cy]);
  for (let i = 1; i <= 6; i++) await fingers("touchMove", [cx - 30 - 8 * i, cy], [cx + 30 + 8 * i, cy]);
  await fingers("touchEnd");
  await p.settled();
  const v1 = await p.view();
  near("pinched, times as large", v1.s / v0.s, 156 / 60, 0.15);
  await fingers("touchStart", [cx, cy]);
  for (let i = 1; i <= 5; i++) await fingers("touchMove", [cx + 10 * i, cy]);
  await fingers("touchEnd");
  await p.settled();
  near("moved by one finger, pixels", (await p.view()).x - v1.x, 50, 3);
  const small = await p.page.evaluate(() => [...document.querySelectorAll("button, select, #key label")]
    .filter((e) => e.offsetParent && e.getBoundingClientRect().height < 43.5).map((e) => e.id || e.textContent));
  want("controls too low for a thumb (44 pixels)", small.join(), "");
  const wide = await p.page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  wantTrue(`the page is ${wide} pixels wider than the phone`, wide <= 0);
}

// keyboard: every control is reached by Tab and shows that it is, and the
// whole page can be worked without a mouse.
export async function keyboard(p) {
  await p.page.reload();
  await p.settled();
  const seen = new Set(), blind = [];
  for (let i = 0; i < 60; i++) {
    await p.page.keyboard.press("Tab");
    const f = await p.page.evaluate(() => {
      const e = document.activeElement, s = getComputedStyle(e);
      return { id: e.id || e.closest("[id]")?.id || e.tagName, body: e === document.body, shown: s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2 };
    });
    if (f.body) break;
    seen.add(f.id);
    if (!f.shown) blind.push(f.id);
  }
  want("controls whose focus is not seen", blind.join(), "");
  for (const id of ["pick", "fit", "measure", "plan", "play", "block-on", "pace", "scrub", "lines", "key"]) wantTrue(`Tab never reaches ${id}`, seen.has(id));

  const key = async (id, ...keys) => {
    await p.page.focus("#" + id);
    for (const k of keys) await p.page.keyboard.press(k);
    await p.page.waitForTimeout(30);
  };
  const v0 = await p.view();
  await key("plan", "+", "+", "ArrowLeft");
  await p.settled();
  const v1 = await p.view();
  wantTrue("plus does not zoom in", v1.s > v0.s * 1.5);
  await key("plan", "0");
  await p.settled();
  near("0 fits, pixels a mm", (await p.view()).s, v0.s, 0.001);
  await key("plan", "m", "Enter", "ArrowRight", "ArrowRight", "ArrowRight", "Enter");
  wantTrue("measuring by keys: " + (await p.text("told")), /apart/.test(await p.text("told")));
  await key("plan", "Escape");
  await key("lines", "End");
  await p.settled();
  want("End in the list", await p.line(), p.data.programs[0].lines.length);
  await key("lines", "Home", "ArrowDown", "ArrowDown");
  await p.settled();
  want("Home and twice down in the list", await p.line(), 3);
  await key("scrub", "Home", "Space");
  await p.page.waitForTimeout(400);
  want("Space runs the program", await p.page.getAttribute("#play", "aria-pressed"), "true");
  await key("scrub", "Space");
  want("Space pauses it", await p.page.getAttribute("#play", "aria-pressed"), "false");
  const at = await p.position(), shown = await p.page.getAttribute("#scrub", "aria-valuetext");
  wantTrue("the slider says where it is: " + shown, /line \d+ of \d+/.test(shown));
  wantTrue("the cutter has not moved", Object.values(at).every(Number.isFinite));
  const other = p.data.programs.length + p.data.drawings.length > 1;
  await key("pick", "ArrowDown");
  await p.settled();
  if (other) want("Down in the choice", await p.page.locator("#pick").inputValue(), "1");
  return `${seen.size} stops`;
}

// run: it goes on by itself, halts at a stop and comes to the end.
export async function run(p) {
  const i = p.data.programs.findIndex((q) => q.stops.length), prog = p.data.programs[Math.max(0, i)];
  await p.choose(Math.max(0, i));
  await p.page.selectOption("#pace", "x64");
  await p.page.click("#play");
  await p.page.waitForFunction(() => document.getElementById("play").getAttribute("aria-pressed") === "false", null, { timeout: 60000 });
  await p.settled();
  if (i >= 0) {
    want("the line of the stop", await p.line(), prog.stops[0]);
    wantTrue("the stop is said: " + (await p.text("told")), /stops for the operator/.test(await p.text("told")));
    for (let n = 0; n < prog.stops.length; n++) {
      await p.page.click("#play");
      await p.page.waitForFunction(() => document.getElementById("play").getAttribute("aria-pressed") === "false", null, { timeout: 60000 });
    }
  }
  await p.settled();
  want("remaining at the end", await p.text("remaining"), "0:00");
  return `${prog.name}, ${prog.stops.length} stops`;
}

// accessible: axe-core finds nothing serious, nor anything about contrast.
export async function accessible(p, require, index) {
  await p.choose(index);
  await p.page.evaluate(require("axe-core").source);
  const found = await p.page.evaluate(async () => (await window.axe.run(document)).violations
    .map((v) => ({ id: v.id, impact: v.impact, where: v.nodes.map((n) => n.target.join(" ")).slice(0, 3) })));
  const grave = found.filter((f) => f.impact === "serious" || f.impact === "critical");
  want("faults", JSON.stringify(grave), "[]");
  return found.length ? "lesser: " + found.map((f) => f.id).join(", ") : "none at all";
}

// paper: printed, the page is white and holds the views and the block, not
// the controls.
export async function paper(p, out) {
  await p.choose(0);
  await p.toTime(0.5);
  await p.page.emulateMedia({ media: "print" });
  const s = await p.page.evaluate(() => {
    const shown = (id) => document.getElementById(id).getClientRects().length > 0;
    return { ground: getComputedStyle(document.querySelector(".paper")).backgroundColor, plan: shown("plan"), side: shown("side"), block: shown("block-text"), play: shown("play"), lines: shown("lines") };
  });
  await p.page.emulateMedia({ media: null });
  want("on paper", JSON.stringify(s), JSON.stringify({ ground: "rgb(255, 255, 255)", plan: true, side: true, block: true, play: false, lines: false }));
  await p.page.waitForTimeout(200);
  await p.settled();
  const before = await p.picture();
  const pdf = await p.page.pdf({ path: out, format: "A4", printBackground: true });
  const pages = (pdf.toString("latin1").match(/\/Type\s*\/Page\b/g) || []).length;
  wantTrue(`${pages} pages of paper, want 1 or 2`, pages >= 1 && pages <= 2);
  await p.page.waitForTimeout(200);
  await p.settled();
  wantTrue("after printing the screen shows something else", (await p.picture()) === before);
  return `${pages} pages`;
}
