// The side view: a section through the wood at the cutter, along the line A-A
// of the plan, with the same X straight above it. Cut wood is hatched, as in
// any drawing; what is gone is left blank.

const side = { canvas: $("side"), view: null, under: new Still(), over: new Still() };

const SIDE_ROOM = 13; // pixels above and below
const HATCH = "#b89a66";

// aimSide fits the heights of a program into the side view under a plan.
function aimSide(p, v, h) {
  const top = sideTop(p), low = sideFloor(p) * 1.04;
  const room = (h - 2 * SIDE_ROOM) / (top - low);
  const view = new View(v.s, v.ox, v.oy, v.w, h);
  view.of = v;
  view.ratio = niceRatio(room / v.s);
  view.zs = v.s * view.ratio;
  view.zTop = top + ((h - 2 * SIDE_ROOM) / view.zs - (top - low)) / 2;
  view.z = (z) => SIDE_ROOM + (view.zTop - z) * view.zs;
  return view;
}

const sideTop = (p) => Math.max(p.highest, p.safe_z, 1);
const sideFloor = (p) => p.stock > 0 ? Math.min(-p.stock, p.deepest) : Math.min(p.deepest, -1) * 1.5;

const projectSide = (view, x, y, z) => [view.x(x), view.z(z)];

// niceRatio is the largest of 1, 1.5, 2, 3, 4, 5, 7.5 times a power of ten
// that fits.
function niceRatio(fit) {
  const p = Math.pow(10, Math.floor(Math.log10(fit)));
  return [7.5, 5, 4, 3, 2, 1.5].map((m) => m * p).find((r) => r <= fit * 1.0001) || p;
}

function ratioWords(r) {
  if (r === 1) return "depth to the plan's scale";
  return `depth drawn ${trim(r.toPrecision(2))} times as tall`;
}

function drawSide(state) {
  const p = state.program, v = side.view;
  const ctx = ready(side.canvas, v.w, v.h);
  besideRule(ctx, v, () => {
    side.under.lay(ctx, v, state.edition, (c) => drawSection(c, v, p));
    if (state.shown.wood) drawGone(ctx, v, state);
  });
  side.over.lay(ctx, v, state.edition, (c) => {
    besideRule(c, v, () => {
      drawSidePath(c, v, state);
      drawHeights(c, v, state);
    });
    drawHeightRule(c, v, state);
  });
  besideRule(ctx, v, () => {
    if (p.n && state.known) drawShank(ctx, v, state);
    state.findings.forEach((f, i) => {
      if (f.at) triangle(ctx, v.x(f.at.X), v.z(f.at.Z), i + 1, i === state.finding);
    });
  });
  if (state.known && p.n) {
    ctx.fillStyle = MARK;
    head(ctx, RULE_LEFT, v.z(state.at.z), 0, 9, true);
  }
}

function besideRule(ctx, v, draw) {
  ctx.save();
  ctx.beginPath();
  ctx.rect(RULE_LEFT, 0, v.w - RULE_LEFT, v.h);
  ctx.clip();
  draw();
  ctx.restore();
}

function drawSidePath(ctx, v, state) {
  const path = state.sidePath, was = path.drawnView;
  if (!was) return;
  // Through a sheet with many parts the ways lie over each other: faintly there.
  ctx.globalAlpha = state.program.stock > 0 ? 0.45 : 1;
  ctx.drawImage(path.drawn, v.x(was.mmX(0)), 0, was.w * v.s / was.s, v.h);
  ctx.globalAlpha = 1;
}

// drawSection draws the wood along A-A before it is cut.
function drawSection(ctx, v, p) {
  const b = p.stockBox, low = v.z(sideFloor(p)), top = v.z(0);
  const x0 = v.x(b.x0), x1 = v.x(b.x1);
  ctx.fillStyle = WOOD;
  ctx.fillRect(x0, top, x1 - x0, low - top);
  ctx.save();
  ctx.beginPath();
  ctx.rect(x0, top, x1 - x0, low - top);
  ctx.strokeStyle = HATCH;
  ctx.lineWidth = 0.9;
  hatch(ctx, { x0, y0: top, x1: Math.min(x1, v.w), y1: low }, 9, false);
  ctx.restore();
  ctx.strokeStyle = INK;
  ctx.lineWidth = 1.6;
  if (p.stock > 0) {
    ctx.strokeRect(x0, top, x1 - x0, v.z(-p.stock) - top);
  } else {
    line(ctx, x0, top, x1, top);
    line(ctx, x0, top, x0, low);
    line(ctx, x1, top, x1, low);
    breakLine(ctx, Math.max(x0, -20), Math.min(x1, v.w + 20), low);
  }
}

// breakLine ends a piece that goes on beyond the drawing.
function breakLine(ctx, x0, x1, y) {
  ctx.save();
  ctx.fillStyle = PAPER;
  ctx.fillRect(x0 - 1, y, x1 - x0 + 2, 14);
  ctx.lineWidth = 1;
  ctx.beginPath();
  ctx.moveTo(x0, y);
  for (let x = x0; x < x1; x += 90) {
    const to = Math.min(x + 90, x1);
    ctx.lineTo(Math.min(x + 40, to), y);
    if (to - x > 60) {
      ctx.lineTo(x + 44, y - 4);
      ctx.lineTo(x + 50, y + 4);
      ctx.lineTo(x + 54, y);
    }
    ctx.lineTo(to, y);
  }
  ctx.stroke();
  ctx.restore();
}

// drawGone blanks out what the cutter took, a run of equal depth at a time.
function drawGone(ctx, v, state) {
  const { wood, program: p } = state, was = wood.view;
  if (!was) return;
  const row = wood.depthsAt(was.y(state.sectionY));
  if (!row) return;
  const d = wood.w / was.w, floor = sideFloor(p), b = p.stockBox;
  const z = (l) => l === THROUGH ? Math.max(floor, Math.min(-p.stock, p.deepest)) : p.deepest * l / DEEPEST;
  const outline = new Path2D();
  ctx.strokeStyle = INK;
  ctx.lineWidth = 1.6;
  let open = false;
  for (let i = 0; i < row.length;) {
    const l = row[i];
    let j = i + 1;
    while (j < row.length && row[j] === l) j++;
    const x0 = Math.max(v.x(b.x0), v.x(was.mmX(i / d))), x1 = Math.min(v.x(b.x1), v.x(was.mmX(j / d)));
    if (l > 0 && x1 > x0) {
      const y = v.z(z(l));
      ctx.clearRect(x0, v.z(0) - 1.5, x1 - x0, y - v.z(0) + 1.5);
      if (!open) outline.moveTo(x0, v.z(0));
      outline.lineTo(x0, y);
      outline.lineTo(x1, y);
      open = true;
    } else if (open) {
      outline.lineTo(x0, v.z(0));
      open = false;
    }
    i = j;
  }
  ctx.stroke(outline);
}

// drawHeights draws the surface, the safe height and the depths wanted.
function drawHeights(ctx, v, state) {
  const p = state.program;
  ctx.strokeStyle = SOFT;
  ctx.lineWidth = 1;
  ctx.setLineDash([12, 3, 2, 3]);
  line(ctx, RULE_LEFT, crisp(v.z(0)), v.w, crisp(v.z(0)));
  ctx.setLineDash([2, 4]);
  if (p.safe_z > 0) {
    line(ctx, RULE_LEFT, crisp(v.z(p.safe_z)), v.w, crisp(v.z(p.safe_z)));
    words(ctx, `safe height ${size(p.safe_z, packet.unit)}, clamps stay lower`, v.w - 8, v.z(p.safe_z) + 13, { size: 11.5, ink: SOFT, align: "right", halo: true });
  }
  ctx.setLineDash([]);
  const said = new Set();
  for (const s of p.shapes) {
    if (!(s.depth > 0) || s.role === "facet" || s.role === "sheet") continue;
    const b = boxOf(s.c), y = v.z(-s.depth);
    ctx.strokeStyle = INK;
    ctx.lineWidth = 1.2;
    ctx.setLineDash([10, 3, 2, 3]);
    line(ctx, v.x(b.x0), y, v.x(b.x1), y);
    ctx.setLineDash([]);
    if (s.role === "slot outline" && !said.has(s.depth)) {
      said.add(s.depth);
      words(ctx, "depth " + size(s.depth, state.unit), v.x((b.x0 + b.x1) / 2), y + 14, { size: 12, align: "center", halo: true });
    }
  }
}

// drawShank draws the cutter from its end upwards.
function drawShank(ctx, v, state) {
  const p = state.program, x = v.x(state.at.x), y = v.z(state.at.z), half = Math.max(3, p.cutter / 2 * v.s);
  ctx.save();
  ctx.fillStyle = "rgba(255,255,255,.55)";
  ctx.fillRect(x - half, -4, 2 * half, y + 4);
  ctx.strokeStyle = MARK;
  ctx.lineWidth = 2.4;
  ctx.setLineDash(state.at.z >= 0 ? [4, 3] : []);
  ctx.strokeRect(x - half, -4, 2 * half, y + 4);
  ctx.setLineDash([8, 3, 2, 3]);
  ctx.lineWidth = 1;
  line(ctx, x, 0, x, y + 8);
  ctx.restore();
}

function drawHeightRule(ctx, v, state) {
  const per = state.ruleUnit === "in" ? MM_PER_INCH : 1, inches = state.ruleUnit === "in";
  const big = ruleStep(v.zs * per, 22, inches), small = big / (inches ? 4 : 5);
  ctx.strokeStyle = INK;
  ctx.lineWidth = 1;
  line(ctx, crisp(RULE_LEFT), 0, crisp(RULE_LEFT), v.h);
  const zAt = (y) => v.zTop - (y - SIDE_ROOM) / v.zs;
  for (let i = 0, u = Math.ceil(zAt(v.h) / per / small) * small; i < 500; i++, u += small) {
    const y = v.z(u * per);
    if (y < 0) break;
    const isBig = Math.abs(u / big - Math.round(u / big)) < 1e-6;
    line(ctx, RULE_LEFT, crisp(y), RULE_LEFT - (isBig ? 8 : 4), crisp(y));
    if (isBig && y > 7 && y < v.h - 5) words(ctx, trim((Math.round(u * 1e4) / 1e4 + 0).toFixed(4)), RULE_LEFT - 10, y, { size: 11, ink: SOFT, align: "right", base: "middle" });
  }
}
