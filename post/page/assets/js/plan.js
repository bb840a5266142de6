// The plan: what lies on the bench, seen from above.

const plan = { canvas: $("plan"), view: null, over: new Still() };

function drawPlan(state) {
  const v = plan.view;
  const ctx = ready(plan.canvas, v.w, v.h);
  // Said in the page too, so that what is drawn can be checked from outside:
  // pixels a mm, and the pixel of X0 Y0.
  plan.canvas.dataset.view = [v.s, v.x(0), v.y(0)].join(" ");
  if (state.program) {
    onPaper(ctx, v, () => {
      ctx.imageSmoothingEnabled = !v.same(state.wood.pictureView);
      lay(ctx, state.wood.picture, state.wood.pictureView, v);
    });
  }
  plan.over.lay(ctx, v, state.edition, (c) => {
    onPaper(c, v, () => state.program ? drawOver(c, v, state) : drawDrawing(c, v, state));
    drawRules(c, v, state);
  });
  onPaper(ctx, v, () => {
    if (state.program) drawCutter(ctx, v, state);
    state.findings.forEach((f, i) => {
      if (f.at) triangle(ctx, v.x(f.at.X), v.y(f.at.Y), i + 1, i === state.finding);
    });
    if (state.measuring || state.taken.length) drawMeasure(ctx, v, state);
  });
  if (state.program && state.program.n && state.known) {
    ctx.fillStyle = MARK;
    const x = v.x(state.at.x), y = v.y(state.at.y);
    if (x > RULE_LEFT) head(ctx, x, RULE_TOP, Math.PI / 2, 9, true);
    if (y > RULE_TOP) head(ctx, RULE_LEFT, y, 0, 9, true);
  }
}

// onPaper draws within the rules.
function onPaper(ctx, v, draw) {
  ctx.save();
  ctx.beginPath();
  ctx.rect(RULE_LEFT, RULE_TOP, v.w - RULE_LEFT, v.h - RULE_TOP);
  ctx.clip();
  draw();
  ctx.restore();
}

// drawOver draws what lies over the wood: outlines, the path, words.
function drawOver(ctx, v, state) {
  const p = state.program, shown = state.shown;
  for (const role of ["screw zone", "tab", "hole", "part", "slot outline", "facet", "sheet"]) {
    if (shown[role] === false) continue;
    for (const s of p.shapes) if (s.role === role) drawShape(ctx, v, s);
  }
  state.path.lay(ctx, v);
  if (shown.part !== false) for (const s of p.shapes) if (s.role === "part" && s.name) nameShape(ctx, v, s);
  drawMarks(ctx, v, p);
  zeroSign(ctx, v.x(0), v.y(0), 7);
}

// drawStock lays the wood down, with a little grain along X.
function drawStock(ctx, v, p) {
  if (!p.stockShapes.length) return;
  ctx.save();
  traceAll(ctx, p.stockShapes.map((s) => s.c), v);
  ctx.fillStyle = WOOD;
  ctx.fill();
  ctx.clip("evenodd");
  const b = p.stockBox, tall = b.y1 - b.y0, wide = b.x1 - b.x0;
  ctx.strokeStyle = GRAIN;
  ctx.lineWidth = 1;
  ctx.beginPath();
  const lines = 26;
  for (let i = 0; i < lines; i++) {
    const spread = Math.sin(i * 12.9898) * 0.5; // even enough to be calm, uneven enough to be wood
    const y = b.y0 + tall * (i + 0.5 + spread * 0.8) / lines, sway = Math.min(tall * 0.012, wide * 0.003) * (1 + spread);
    for (let j = 0; j <= 16; j++) {
      const x = b.x0 + wide * j / 16, yy = y + sway * Math.sin(j * 0.55 + i);
      if (j === 0) ctx.moveTo(v.x(x), v.y(yy)); else ctx.lineTo(v.x(x), v.y(yy));
    }
  }
  ctx.stroke();
  ctx.restore();
}

function drawShape(ctx, v, s) {
  const style = lineOf(s.role);
  ctx.save();
  ctx.strokeStyle = INK;
  setLine(ctx, style);
  traceAll(ctx, [s.c], v);
  if (style.cover) {
    ctx.fillStyle = PAPER;
    ctx.fill();
  }
  ctx.stroke();
  if (style.hatch) {
    const b = boxOf(s.c);
    ctx.lineWidth = 0.8;
    ctx.setLineDash([]);
    hatch(ctx, { x0: v.x(b.x0), y0: v.y(b.y1), x1: v.x(b.x1), y1: v.y(b.y0) }, style.hatch, style.both);
  }
  if (style.cross) crossAt(ctx, v, s.c);
  ctx.restore();
}

function boxOf(c) {
  const b = noBox();
  growBy(b, c);
  return b;
}

// crossAt marks the middle of a hole, as one is pricked for drilling.
function crossAt(ctx, v, c) {
  const b = boxOf(c), x = v.x((b.x0 + b.x1) / 2), y = v.y((b.y0 + b.y1) / 2);
  const r = Math.min(7, (b.x1 - b.x0) * v.s * 0.3);
  if (r < 2) return;
  ctx.lineWidth = 1;
  ctx.setLineDash([]);
  line(ctx, x - r, y, x + r, y);
  line(ctx, x, y - r, x, y + r);
}

// nameShape writes a part's name where there is room for it: on the wood, not
// on what is cut out of it. Where there is none it writes the part's number; the
// key has the names.
function nameShape(ctx, v, s) {
  const b = boxOf(s.c);
  const [x, y, room] = s.at || [(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2, (b.x1 - b.x0) / 2];
  const write = (text, style) => words(ctx, text, v.x(x), v.y(y), { align: "center", base: "middle", halo: true, ...style });
  if (2 * room * v.s >= s.name.length * 7) return write(s.name, { size: 12 });
  const text = String(s.number);
  if (room * v.s >= 9 + 3 * text.length) write(text, { size: 13, weight: "600" });
}

// drawMarks writes what an edge of the wood is, outside of it.
function drawMarks(ctx, v, p) {
  const b = p.stockBox;
  for (const m of p.marks) {
    const [x, y] = m.at;
    const off = [[x - b.x0, 0], [b.x1 - x, 1], [y - b.y0, 2], [b.y1 - y, 3]].sort((a, c) => a[0] - c[0])[0][1];
    const px = v.x(x), py = clearOfZero(ctx, v, m.text, off, v.x(x), v.y(y)), style = { size: 12.5, align: "center", halo: true };
    if (off === 0) words(ctx, m.text, px - 9, py, { ...style, turn: -Math.PI / 2 });
    else if (off === 1) words(ctx, m.text, px + 18, py, { ...style, turn: -Math.PI / 2 });
    else if (off === 2) words(ctx, m.text, px, py + 20, style);
    else words(ctx, m.text, px, py - 9, style);
  }
}

// clearOfZero moves words along an upright edge up, where they would lie over
// the sign of X0 Y0.
function clearOfZero(ctx, v, text, side, px, py) {
  if (side > 1 || Math.abs(px - v.x(0)) > 20) return py;
  ctx.font = `12.5px ${LETTERS}`;
  const half = ctx.measureText(text).width / 2, low = v.y(0) - 14 - half;
  return py > low && py < v.y(0) + 14 + half ? low : py;
}

function drawCutter(ctx, v, state) {
  const p = state.program;
  if (!p.n || !state.known) return;
  const at = state.at, x = v.x(at.x), y = v.y(at.y), r = Math.max(5, p.cutter / 2 * v.s);
  ctx.save();
  // The line of section, with the letters of the side view.
  const ys = v.y(state.sectionY);
  if (ys > RULE_TOP && ys < v.h) {
    ctx.strokeStyle = INK;
    ctx.lineWidth = 1;
    ctx.setLineDash([14, 3, 3, 3]);
    const reach = 26;
    line(ctx, RULE_LEFT + 4, ys, RULE_LEFT + 4 + reach, ys);
    line(ctx, v.w - 4 - reach, ys, v.w - 4, ys);
    ctx.setLineDash([]);
    ctx.fillStyle = INK;
    for (const ex of [RULE_LEFT + 8, v.w - 8]) {
      line(ctx, ex, ys, ex, ys - 9);
      head(ctx, ex, ys - 15, -Math.PI / 2, 8, true);
      words(ctx, "A", ex, ys + 13, { size: 13, align: "center", weight: "700", halo: true });
    }
  }
  ctx.strokeStyle = PAPER;
  ctx.lineWidth = 5;
  ring(ctx, x, y, r);
  ctx.stroke();
  ctx.fillStyle = "rgba(255,255,255,.45)";
  ctx.fill();
  ctx.strokeStyle = MARK;
  ctx.lineWidth = 2.4;
  ctx.setLineDash(at.z >= 0 ? [4, 3] : []);
  ctx.stroke();
  ctx.setLineDash([]);
  ctx.lineWidth = 1.4;
  const c = r + 7;
  line(ctx, x - c, y, x + c, y);
  line(ctx, x, y - c, x, y + c);
  ctx.restore();
}

// drawRules draws the rules along the top and the left edge.
function drawRules(ctx, v, state) {
  const unit = state.ruleUnit, per = unit === "in" ? MM_PER_INCH : 1;
  ctx.save();
  ctx.lineCap = "butt";
  ctx.strokeStyle = INK;
  ctx.lineWidth = 1;
  line(ctx, RULE_LEFT, crisp(RULE_TOP), v.w, crisp(RULE_TOP));
  line(ctx, crisp(RULE_LEFT), RULE_TOP, crisp(RULE_LEFT), v.h);
  const big = ruleStep(v.s * per, 64, unit === "in"), small = big / (unit === "in" ? 4 : 5);
  const label = (u) => trim((Math.round(u * 1e4) / 1e4 + 0).toFixed(4));
  const first = (px) => Math.ceil(px / per / small) * small;
  for (let i = 0, u = first(v.mmX(RULE_LEFT)); i < 2000; i++, u += small) {
    const x = v.x(u * per);
    if (x > v.w) break;
    const isBig = Math.abs(u / big - Math.round(u / big)) < 1e-6;
    line(ctx, crisp(x), RULE_TOP, crisp(x), RULE_TOP - (isBig ? 8 : 4));
    if (isBig && x > RULE_LEFT + 12) words(ctx, label(u), x, RULE_TOP - 11, { size: 11, ink: SOFT, align: "center" });
  }
  for (let i = 0, u = first(v.mmY(v.h)); i < 2000; i++, u += small) {
    const y = v.y(u * per);
    if (y < RULE_TOP) break;
    const isBig = Math.abs(u / big - Math.round(u / big)) < 1e-6;
    line(ctx, RULE_LEFT, crisp(y), RULE_LEFT - (isBig ? 8 : 4), crisp(y));
    if (isBig && y > RULE_TOP + 8) words(ctx, label(u), RULE_LEFT - 10, y, { size: 11, ink: SOFT, align: "right", base: "middle" });
  }
  words(ctx, unit, 5, RULE_TOP - 8, { size: 12, weight: "700" });
  ctx.restore();
}

// drawDrawing draws a DXF by its layers, parts first so that holes show.
function drawDrawing(ctx, v, state) {
  const d = state.drawing, on = (layer) => state.shown[layer] !== false;
  const order = { OUTLINE: 0, HOLE: 1 };
  const contours = d.contours.filter((c) => on(c.layer)).sort((a, b) => (order[a.layer] ?? 2) - (order[b.layer] ?? 2));
  ctx.strokeStyle = INK;
  for (const c of contours) {
    const style = lineOf(c.layer);
    ctx.save();
    setLine(ctx, style);
    traceAll(ctx, [c.c], v);
    if (style.fill) {
      ctx.fillStyle = style.fill;
      ctx.fill();
    }
    ctx.stroke();
    if (style.cross) crossAt(ctx, v, c.c);
    ctx.restore();
  }
  for (const l of d.lines) {
    if (!on(l.layer)) continue;
    setLine(ctx, lineOf(l.layer));
    line(ctx, v.x(l.a[0]), v.y(l.a[1]), v.x(l.b[0]), v.y(l.b[1]));
  }
  ctx.setLineDash([]);
  for (const t of d.texts) {
    if (on(t.layer)) words(ctx, t.text, v.x(t.at[0]), v.y(t.at[1]), { size: Math.max(9, t.height * v.s * 1.4), turn: -t.turn, halo: true });
  }
  if (d.bar && on("GUIDE")) drawBar(ctx, v, d, state.unit);
}

// drawBar sets the check bar off and says what it measures.
function drawBar(ctx, v, d, unit) {
  const [ax, ay] = d.bar.a, [bx, by] = d.bar.b;
  const long = Math.hypot(bx - ax, by - ay);
  ctx.save();
  ctx.strokeStyle = INK;
  ctx.fillStyle = INK;
  ctx.lineWidth = 3;
  ctx.setLineDash([]);
  line(ctx, v.x(ax), v.y(ay), v.x(bx), v.y(by));
  const x = Math.max(v.x(Math.min(ax, bx)), RULE_LEFT + 8), y = v.y((ay + by) / 2);
  words(ctx, "check bar measures " + size(long, unit), x, y + 18, { size: 12.5, halo: true, weight: "600" });
  ctx.restore();
}
