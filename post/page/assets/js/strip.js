// The strip under the drawing: depth over time, so that passes, rapids and
// stops can be seen before they are reached. It lies under the slider.

const THUMB = 28; // pixels, the slider's handle in the style sheet

const strip = { canvas: $("strip"), slider: $("scrub") };

function drawStrip(state) {
  const p = state.program, box = strip.canvas.getBoundingClientRect();
  const w = box.width, h = box.height, ctx = ready(strip.canvas, w, h);
  if (!p || !p.n || !p.total || w < 50) return;
  const x = (t) => THUMB / 2 + t / p.total * (w - THUMB);
  const top = 14, foot = h - 16, high = Math.max(p.highest, p.safe_z, 0.1), low = Math.min(p.deepest, -0.1);
  const y = (z) => top + (high - z) / (high - low) * (foot - top);
  drawDepths(ctx, p, { x, y, w, high });
  ctx.strokeStyle = INK;
  ctx.lineWidth = 1;
  line(ctx, x(0), crisp(y(0)), x(p.total), crisp(y(0)));
  line(ctx, x(0), crisp(foot), x(p.total), crisp(foot));
  const step = timeStep(p.total, (w - THUMB) / 74);
  for (let t = 0; t <= p.total; t += step) {
    line(ctx, crisp(x(t)), foot, crisp(x(t)), foot + 4);
    if (x(t) < x(p.total) - 44 || t === 0) words(ctx, minutes(t), x(t), h - 2, { size: 11, ink: SOFT, align: t === 0 ? "left" : "center" });
  }
  words(ctx, minutes(p.total), x(p.total), h - 2, { size: 11, align: "right", weight: "600" });
  for (const stop of p.stops) {
    const k = lastMoveOf(p, stop), sx = x(k < 0 ? 0 : p.start[k + 1]);
    ctx.lineWidth = 2;
    line(ctx, sx, 2, sx, foot);
    words(ctx, "stop", sx + 3, 11, { size: 11, halo: true });
  }
  state.findings.forEach((f, i) => {
    const k = f.line ? lastMoveOf(p, f.line) : -1;
    if (k >= 0) triangle(ctx, x((p.start[k] + p.start[k + 1]) / 2), 1, i + 1, false);
  });
}

// drawDepths draws for each pixel the deepest and the highest of the cutter.
function drawDepths(ctx, p, { x, y, w, high }) {
  const n = Math.ceil(w), low = new Float64Array(n).fill(Infinity), top = new Float64Array(n).fill(-Infinity);
  for (let k = 0; k < p.n; k++) {
    const a = x(p.start[k]), b = x(p.start[k + 1]), from = Math.floor(a), to = Math.min(n - 1, Math.floor(b));
    for (let i = from; i <= to; i++) {
      const f0 = b > a ? Math.min(1, Math.max(0, (i - a) / (b - a))) : 0, f1 = b > a ? Math.min(1, (i + 1 - a) / (b - a)) : 1;
      for (const f of [f0, f1]) {
        const z = p.z0[k] + (p.z1[k] - p.z0[k]) * f;
        if (z < low[i]) low[i] = z;
        if (z > top[i]) top[i] = z;
      }
    }
  }
  for (let i = 0; i < n; i++) {
    if (low[i] < 0) {
      ctx.fillStyle = tone(mix(SHALLOW, DEEP, Math.min(1, low[i] / p.deepest)));
      ctx.fillRect(i, y(0), 1, y(low[i]) - y(0));
    }
  }
  ctx.strokeStyle = SOFT;
  ctx.lineWidth = 1.2;
  ctx.beginPath();
  let open = false;
  for (let i = 0; i < n; i++) {
    if (low[i] > high || low[i] === Infinity) { open = false; continue; }
    if (!open) ctx.moveTo(i + 0.5, y(top[i])); else ctx.lineTo(i + 0.5, y(top[i]));
    ctx.lineTo(i + 0.5, y(low[i]));
    open = true;
  }
  ctx.stroke();
}

// timeStep is a round number of seconds that cuts a time into about n parts.
function timeStep(total, n) {
  for (const s of [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400]) {
    if (total / s <= Math.max(1, n)) return s;
  }
  return 36000;
}

// showTime puts the slider where the cutter is, and says it in words.
function showTime(state) {
  const p = state.program, s = strip.slider;
  if (document.activeElement !== s || Math.abs(Number(s.value) - state.time) > 1e-6) s.value = String(state.time);
  s.setAttribute("aria-valuetext", `line ${state.line} of ${p.lines.length}, ${minutes(state.time)} of ${minutes(p.total)}`);
}
