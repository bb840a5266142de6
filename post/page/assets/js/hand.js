// The hand on the paper: moving and zooming the plan with mouse, fingers and
// keys, pointing at a piece of the path, and measuring between two places.

const NEAR = 12, NEAR_TOUCH = 22; // pixels within which something is meant
const STILL = 6; // pixels a press may wander and still be a click

// act holds what the hand can do: view(v), point(px, py, near), cross(px, py).
function takePlan(act) {
  const c = plan.canvas, down = new Map();
  let moved = 0, spread = 0;
  const at = (e) => {
    const b = c.getBoundingClientRect();
    return { x: e.clientX - b.left, y: e.clientY - b.top };
  };
  const middle = () => {
    const ps = [...down.values()];
    return { x: ps.reduce((s, p) => s + p.x, 0) / ps.length, y: ps.reduce((s, p) => s + p.y, 0) / ps.length };
  };
  const width = () => {
    const [a, b] = [...down.values()];
    return b ? Math.hypot(a.x - b.x, a.y - b.y) : 0;
  };
  c.addEventListener("pointerdown", (e) => {
    if (e.button > 1) return;
    if (down.size === 0) moved = 0;
    down.set(e.pointerId, at(e));
    spread = width();
    c.setPointerCapture(e.pointerId);
  });
  c.addEventListener("pointermove", (e) => {
    const p = at(e);
    act.cross(p.x, p.y);
    if (!down.has(e.pointerId)) return;
    const was = middle();
    down.set(e.pointerId, p);
    const now = middle();
    moved += Math.hypot(now.x - was.x, now.y - was.y);
    if (moved < STILL && down.size < 2) return;
    let v = plan.view.moved(now.x - was.x, now.y - was.y);
    const s = width();
    if (s > 0 && spread > 0) {
      v = v.zoomed(s / spread, now.x, now.y);
      moved += STILL;
    }
    spread = s;
    act.view(v);
  });
  const up = (e) => {
    const p = down.get(e.pointerId);
    if (!p) return;
    down.delete(e.pointerId);
    spread = width();
    if (e.type === "pointerup" && down.size === 0 && moved < STILL) act.point(p.x, p.y, e.pointerType === "mouse" ? NEAR : NEAR_TOUCH);
  };
  c.addEventListener("pointerup", up);
  c.addEventListener("pointercancel", up);
  c.addEventListener("wheel", (e) => {
    e.preventDefault();
    const p = at(e), lines = e.deltaMode === 1 ? 16 : 1;
    act.view(plan.view.zoomed(Math.exp(-e.deltaY * lines * 0.0016), p.x, p.y));
  }, { passive: false });
}

// nearest returns the moves whose drawn way passes within near pixels of a
// place, those as close as the closest, in order of the program.
function nearest(p, v, px, py, near, shown) {
  const x = v.mmX(px), y = v.mmY(py), reach = near / v.s;
  let best = reach;
  const found = [];
  for (let k = 0; k < p.n; k++) {
    if (p.kind[k] === RAPID ? !shown.rapids : !shown.path) continue;
    const hit = toMove(p, k, x, y, best + 1 / v.s);
    if (!hit) continue;
    found.push({ k, f: hit.f, d: hit.d });
    if (hit.d < best) best = hit.d;
  }
  return found.filter((h) => h.d <= best + 1 / v.s);
}

// toMove returns how far a place is from move k seen from above, and where on
// it, or nothing if it is farther than reach (mm).
function toMove(p, k, x, y, reach) {
  const m = chords(p, k, 0.02);
  let best = null;
  for (let i = 0; i < m; i++) {
    const a = place(p, k, i / m), b = m === 1 ? place(p, k, 1) : place(p, k, (i + 1) / m);
    if (Math.min(a.x, b.x) - reach > x || Math.max(a.x, b.x) + reach < x || Math.min(a.y, b.y) - reach > y || Math.max(a.y, b.y) + reach < y) continue;
    const dx = b.x - a.x, dy = b.y - a.y, l2 = dx * dx + dy * dy;
    const t = l2 > 0 ? Math.min(1, Math.max(0, ((x - a.x) * dx + (y - a.y) * dy) / l2)) : 1;
    const d = Math.hypot(x - a.x - t * dx, y - a.y - t * dy);
    if (d <= reach && (!best || d < best.d)) best = { d, f: (i + t) / m };
  }
  return best;
}

// snap returns the corner, middle or end of a cut that a place on the plan
// stands for, or the place itself.
function snap(state, px, py) {
  const v = plan.view;
  let best = NEAR, hit = { x: v.mmX(px), y: v.mmY(py), what: "" };
  const offer = (x, y, what) => {
    const d = Math.hypot(v.x(x) - px, v.y(y) - py);
    if (d < best) {
      best = d;
      hit = { x, y, what };
    }
  };
  const contours = state.program ? state.program.shapes : state.drawing.contours;
  for (const { c } of contours) {
    for (const e of edges(c)) {
      offer(e.ax, e.ay, "corner");
      if (e.bulge) offer(e.cx, e.cy, "centre");
    }
  }
  if (state.program) {
    const p = state.program;
    offer(0, 0, "X0 Y0");
    for (let k = 0; k < p.n; k++) if (p.kind[k] !== RAPID) offer(p.x1[k], p.y1[k], "end of a cut");
  } else {
    for (const l of state.drawing.lines) {
      offer(...l.a, "end of a line");
      offer(...l.b, "end of a line");
    }
  }
  return hit;
}

function measureWords(a, b, unit) {
  const dx = Math.abs(b.x - a.x), dy = Math.abs(b.y - a.y);
  return `${size(Math.hypot(dx, dy), unit)} apart: ${size(dx, unit)} along X, ${size(dy, unit)} along Y`;
}

// drawMeasure draws the cross hairs and the dimension being taken.
function drawMeasure(ctx, v, state) {
  const ends = state.taken.slice(), c = state.cross;
  let loose = null;
  if (state.measuring && c) {
    loose = snap(state, c.x, c.y);
    if (ends.length === 1) ends.push(loose);
  }
  ctx.save();
  ctx.strokeStyle = ctx.fillStyle = INK;
  if (loose) {
    const x = v.x(loose.x), y = v.y(loose.y);
    ctx.lineWidth = 1;
    line(ctx, x - 22, y, x + 22, y);
    line(ctx, x, y - 22, x, y + 22);
    if (loose.what) {
      ctx.lineWidth = 1.6;
      ctx.strokeRect(x - 6, y - 6, 12, 12);
      words(ctx, loose.what, x + 12, y - 10, { size: 11.5, halo: true });
    }
  }
  for (const e of state.taken) {
    ring(ctx, v.x(e.x), v.y(e.y), 4);
    ctx.fill();
  }
  if (ends.length === 2) dimension(ctx, v, ends[0], ends[1], state.unit);
  ctx.restore();
}

// dimension draws a dimension line between two places, its words along it.
function dimension(ctx, v, a, b, unit) {
  const ax = v.x(a.x), ay = v.y(a.y), bx = v.x(b.x), by = v.y(b.y);
  const long = Math.hypot(bx - ax, by - ay);
  if (long < 4) return;
  const angle = Math.atan2(by - ay, bx - ax);
  ctx.strokeStyle = PAPER;
  ctx.lineWidth = 5;
  line(ctx, ax, ay, bx, by);
  ctx.strokeStyle = INK;
  ctx.lineWidth = 1.6;
  line(ctx, ax, ay, bx, by);
  head(ctx, bx, by, angle, 12, true);
  head(ctx, ax, ay, angle + Math.PI, 12, true);
  for (const [x, y] of [[ax, ay], [bx, by]]) line(ctx, x - 9 * Math.sin(angle), y + 9 * Math.cos(angle), x + 9 * Math.sin(angle), y - 9 * Math.cos(angle));
  const turn = Math.abs(angle) > Math.PI / 2 ? angle + Math.PI : angle;
  words(ctx, size(Math.hypot(b.x - a.x, b.y - a.y), unit), (ax + bx) / 2 + 9 * Math.sin(turn), (ay + by) / 2 - 9 * Math.cos(turn), { size: 15, align: "center", turn, halo: true, weight: "700" });
}
