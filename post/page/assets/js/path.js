// The cutter's way as thin lines: cuts drawn through, darker with depth and
// with filled arrowheads; rapids dashed, with open ones and a ring where they
// start. Drawn once for a view, a piece at a time so that the page stays
// quick, and laid into each frame as a picture.

const TONES = 6;
const CHUNK = 500; // moves between two looks at the clock
const MOST_SIGNS = 700, SIGN_APART = 34, SIGN_LEAST = 26; // pixels

class PathLayer {
  // project gives the pixel of a place for a view.
  constructor(program, project) {
    this.p = program;
    this.project = project;
    this.drawn = sheet(1, 1); this.drawnView = null;
    this.next = sheet(1, 1); this.view = null;
  }

  aim(view, shown) {
    this.view = view;
    this.shown = shown;
    this.k = 0;
    this.done = false;
    this.signs = [];
    this.ctx = ready(this.next, view.w, view.h);
    this.ctx.lineCap = "round";
    this.ctx.lineJoin = "round";
  }

  // work draws on for about so many ms and tells whether all is drawn.
  work(budget) {
    if (this.done) return true;
    const until = performance.now() + budget;
    while (this.k < this.p.n) {
      const to = Math.min(this.p.n, this.k + CHUNK);
      this.strokes(this.k, to);
      this.k = to;
      if (performance.now() > until && this.k < this.p.n) return false;
    }
    this.drawSigns();
    [this.drawn, this.next] = [this.next, this.drawn];
    this.drawnView = this.view;
    this.done = true;
    return true;
  }

  lay(ctx, view) {
    lay(ctx, this.drawn, this.drawnView, view);
  }

  strokes(from, to) {
    const { p, ctx } = this, tones = [];
    for (let i = 0; i <= TONES; i++) tones.push(null);
    for (let k = from; k < to; k++) {
      const rapid = p.kind[k] === RAPID;
      if (rapid ? !this.shown.rapids : !this.shown.path) continue;
      const t = p.deepest < 0 ? Math.min(1, Math.max(0, Math.min(p.z0[k], p.z1[k]) / p.deepest)) : 0;
      const tone = rapid ? TONES : Math.min(TONES - 1, Math.floor(t * TONES));
      this.trace(k, tones[tone] || (tones[tone] = new Polyline()));
    }
    tones.forEach((line, i) => {
      if (!line) return;
      line.end();
      ctx.setLineDash(i === TONES ? [6, 4] : []);
      ctx.lineWidth = i === TONES ? 1.1 : 1.4;
      ctx.strokeStyle = i === TONES ? SOFT : pathTone(i / (TONES - 1));
      ctx.stroke(line.path);
    });
    ctx.setLineDash([]);
  }

  // trace adds move k to the line of its tone, and notes its arrowhead.
  trace(k, to) {
    const { p, view } = this, rapid = p.kind[k] === RAPID;
    const m = chords(p, k, 0.3 / view.s);
    let [ax, ay] = this.project(view, p.x0[k], p.y0[k], p.z0[k]);
    const [sx, sy] = [ax, ay];
    to.from(ax, ay);
    for (let i = 1; i <= m; i++) {
      const q = place(p, k, i / m), [bx, by] = this.project(view, q.x, q.y, q.z);
      const out = (ax < 0 && bx < 0) || (ay < 0 && by < 0) || (ax > view.w && bx > view.w) || (ay > view.h && by > view.h);
      if (out) to.jump(bx, by); else to.on(bx, by);
      if (!out && i === (m + 1) >> 1) this.sign(rapid, ax, ay, bx, by);
      ax = bx; ay = by;
    }
    if (rapid && p.z0[k] < p.z1[k]) this.dot(sx, sy);
  }

  sign(rapid, ax, ay, bx, by) {
    if (Math.hypot(bx - ax, by - ay) < SIGN_LEAST || this.signs.length >= MOST_SIGNS) return;
    const x = ax * 0.42 + bx * 0.58, y = ay * 0.42 + by * 0.58;
    if (this.signs.some((s) => Math.hypot(s.x - x, s.y - y) < SIGN_APART)) return;
    this.signs.push({ x, y, angle: Math.atan2(by - ay, bx - ax), rapid });
  }

  dot(x, y) {
    if (this.signs.length >= MOST_SIGNS || this.signs.some((s) => s.dot && Math.hypot(s.x - x, s.y - y) < 8)) return;
    this.signs.push({ x, y, dot: true, rapid: true });
  }

  drawSigns() {
    const ctx = this.ctx;
    ctx.setLineDash([]);
    ctx.lineWidth = 1.3;
    ctx.fillStyle = INK;
    ctx.strokeStyle = SOFT;
    for (const s of this.signs) {
      if (s.dot) {
        ring(ctx, s.x, s.y, 3.5);
        ctx.stroke();
      } else {
        head(ctx, s.x, s.y, s.angle, s.rapid ? 9 : 8, !s.rapid);
      }
    }
  }
}

// Polyline gathers pieces that mostly follow each other, and leaves out steps
// too short to be seen.
class Polyline {
  constructor() {
    this.path = new Path2D();
    this.x = NaN; this.y = NaN; // the pencil
    this.held = null; // a place passed over
  }

  from(x, y) {
    const [hx, hy] = this.held || [this.x, this.y];
    if (Math.abs(hx - x) < 0.01 && Math.abs(hy - y) < 0.01) return;
    this.jump(x, y);
  }

  on(x, y) {
    if (Math.abs(x - this.x) + Math.abs(y - this.y) < 0.7) {
      this.held = [x, y];
      return;
    }
    this.path.lineTo(x, y);
    this.x = x; this.y = y;
    this.held = null;
  }

  jump(x, y) {
    this.end();
    this.path.moveTo(x, y);
    this.x = x; this.y = y;
  }

  end() {
    if (this.held) this.path.lineTo(...this.held);
    this.held = null;
  }
}
