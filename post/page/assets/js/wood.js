// The wood seen from above, and what is gone of it: for each pixel of the plan
// how deep the cutter has been there, in levels from 1 to 254 of the deepest cut, and
// 255 where it went through. Deeper always wins, so that the picture does not
// depend on how the way to it was walked; copies are kept along the way so
// that going back is quick.

const THROUGH = 255, DEEPEST = 254;
const COPIES_BYTES = 64e6; // memory spent on copies
const THROUGH_SLACK = 0.02; // mm; a cut this close to the underside is through

class Wood {
  constructor(program) {
    this.p = program;
    this.picture = sheet(1, 1);
    this.uncut = sheet(1, 1);
    this.base = null; // the uncut wood, pixel by pixel
    this.shown = true; // whether what is gone is drawn
    this.pictureView = null; // the view that the picture was painted for
    this.view = null;
  }

  // aim starts afresh for another view; the old picture stands in meanwhile.
  aim(view) {
    const d = density(), w = Math.max(1, Math.round(view.w * d)), h = Math.max(1, Math.round(view.h * d));
    this.view = view;
    if (w !== this.w || h !== this.h || !this.buf) {
      this.w = w; this.h = h;
      this.buf = new Uint8Array(w * h);
      this.image = new ImageData(w, h);
      this.ink = new Uint32Array(this.image.data.buffer);
    } else {
      this.buf.fill(0);
    }
    const ctx = ready(this.uncut, view.w, view.h, d, true);
    drawStock(ctx, view, this.p);
    this.base = new Uint32Array(ctx.getImageData(0, 0, w, h).data.buffer);
    const copies = Math.min(64, Math.max(6, Math.floor(COPIES_BYTES / (w * h))));
    this.every = Math.max(400, Math.ceil(this.p.n / copies));
    this.copies = [];
    this.walker = null;
    this.k = 0; this.f = 0;
    this.spoilt();
  }

  spoilt() { this.dirty = { x0: 0, y0: 0, x1: this.w - 1, y1: this.h - 1 }; }

  // seek walks to a part f of move k and tells whether it got there within the
  // time it may take, ms.
  seek(k, f, budget) {
    if (k < this.k || (k === this.k && f < this.f) || this.copyBefore(k) > this.k + this.every) this.back(k);
    const until = performance.now() + budget;
    while (this.k < k) {
      const to = Math.min(k, this.k + 64);
      while (this.k < to) {
        this.cut(this.buf, this.k, this.f, 1, this.dirty);
        this.k++;
        this.f = 0;
        if (this.k % this.every === 0 && !this.copies[this.k / this.every]) this.copies[this.k / this.every] = this.buf.slice();
      }
      if (performance.now() > until && this.k < k) return false;
    }
    if (f > this.f && k < this.p.n) {
      this.cut(this.buf, k, this.f, f, this.dirty);
      this.f = f;
    }
    return true;
  }

  copyBefore(k) {
    for (let j = Math.floor(k / this.every); j > 0; j--) if (this.copies[j]) return j * this.every;
    return 0;
  }

  back(k) {
    const j = this.copyBefore(k) / this.every;
    if (j) this.buf.set(this.copies[j]); else this.buf.fill(0);
    this.k = j * this.every;
    this.f = 0;
    this.spoilt();
  }

  // ahead makes copies for the rest of the program in spare time, and tells
  // whether there is more to make.
  ahead(budget) {
    const last = Math.floor(this.p.n / this.every);
    let j = 0;
    while (j < last && this.copies[j + 1]) j++;
    if (j === last) {
      this.walker = null;
      return false;
    }
    if (!this.walker || this.walker.k < j * this.every) {
      this.walker = { k: j * this.every, buf: j ? this.copies[j].slice() : new Uint8Array(this.buf.length) };
    }
    const w = this.walker, until = performance.now() + budget;
    while (performance.now() < until && w.k < last * this.every) {
      for (let i = 0; i < 64 && w.k < last * this.every; i++) {
        this.cut(w.buf, w.k, 0, 1, null);
        w.k++;
        if (w.k % this.every === 0) {
          if (!this.copies[w.k / this.every]) this.copies[w.k / this.every] = w.buf.slice();
          break;
        }
      }
    }
    return true;
  }

  level(z) {
    if (z >= 0) return 0;
    const p = this.p;
    if (p.stock > 0 && z <= -p.stock + THROUGH_SLACK) return THROUGH;
    return Math.max(1, Math.min(DEEPEST, Math.round(DEEPEST * z / p.deepest)));
  }

  // cut takes away what move k does between its parts f0 and f1. A move that
  // sinks is cut up so finely that each piece has one level.
  cut(buf, k, f0, f1, dirty) {
    const p = this.p, z0 = p.z0[k], z1 = p.z1[k];
    if (z0 >= 0 && z1 >= 0) return;
    if (f0 === 0 && f1 === 1 && z0 === z1 && p.kind[k] < ARC_CW) {
      this.sweep(buf, p.x0[k], p.y0[k], p.x1[k], p.y1[k], this.level(z0), dirty);
      return;
    }
    let from = place(p, k, f0);
    const rise = Math.abs(this.level(from.z) - this.level(z0 + (z1 - z0) * f1));
    const pieces = Math.max(1, Math.ceil(chords(p, k, 0.3 / this.view.s) * (f1 - f0)), Math.min(64, rise));
    for (let i = 1; i <= pieces; i++) {
      const to = place(p, k, i === pieces ? f1 : f0 + (f1 - f0) * i / pieces);
      const l = this.level(Math.min(from.z, to.z));
      if (l > 0) this.sweep(buf, from.x, from.y, to.x, to.y, l, dirty);
      from = to;
    }
  }

  // sweep sets the level in every pixel whose middle lies under a disc of the
  // cutter's radius moved from one place to another: row by row, from the
  // leftmost to the rightmost, where the edge is that of the disc at the start
  // or the end, or between them the line that touches both.
  sweep(buf, fromX, fromY, toX, toY, level, dirty) {
    const v = this.view, d = this.w / v.w, w = this.w;
    const ax = v.x(fromX) * d - 0.5, ay = v.y(fromY) * d - 0.5, bx = v.x(toX) * d - 0.5, by = v.y(toY) * d - 0.5;
    const r = Math.max(0.5, this.p.cutter / 2 * v.s * d), r2 = r * r;
    const left = Math.min(ax, bx) - r, right = Math.max(ax, bx) + r;
    const top = Math.max(0, Math.ceil(Math.min(ay, by) - r)), low = Math.min(this.h - 1, Math.floor(Math.max(ay, by) + r));
    if (right < 0 || left >= w || top > low) return;
    const len = Math.hypot(bx - ax, by - ay), ux = len > 0 ? (bx - ax) / len : 0, uy = len > 0 ? (by - ay) / len : 0;
    const flat = Math.abs(uy) < 1e-9;
    // The side of the way that looks to the right has the normal (nx, ny), nx >= 0.
    const nx = r * Math.abs(uy), ny = r * (uy < 0 ? ux : -ux);
    for (let y = top; y <= low; y++) {
      const ea = r2 - (y - ay) * (y - ay), eb = r2 - (y - by) * (y - by);
      let x0, x1;
      if (flat) {
        const half = Math.sqrt(Math.max(0, ea));
        x0 = Math.min(ax, bx) - half;
        x1 = Math.max(ax, bx) + half;
      } else {
        const t1 = (y - ay - ny) / uy, t0 = (y - ay + ny) / uy;
        x1 = t1 < 0 ? ax + Math.sqrt(ea) : t1 > len ? bx + Math.sqrt(eb) : ax + t1 * ux + nx;
        x0 = t0 < 0 ? ax - Math.sqrt(ea) : t0 > len ? bx - Math.sqrt(eb) : ax + t0 * ux - nx;
      }
      // Where the row only grazes a disc the root is none, and no pixel is set.
      const from = Math.max(0, Math.ceil(x0)), to = Math.min(w - 1, Math.floor(x1));
      for (let i = y * w + from, end = y * w + to; i <= end; i++) if (buf[i] < level) buf[i] = level;
    }
    if (dirty) {
      dirty.x0 = Math.min(dirty.x0, Math.max(0, Math.floor(left) - 1));
      dirty.x1 = Math.max(dirty.x1, Math.min(w - 1, Math.ceil(right) + 1));
      dirty.y0 = Math.min(dirty.y0, Math.max(0, top - 1));
      dirty.y1 = Math.max(dirty.y1, Math.min(this.h - 1, low + 1));
    }
  }

  show(on) {
    if (this.shown === on) return;
    this.shown = on;
    this.spoilt();
  }

  // paint brings the picture up to date, within the wood where there is any. A step between two depths is drawn as
  // a line, as a draughtsman would.
  paint() {
    const { x0, y0, x1, y1 } = this.dirty, w = this.w, h = this.h;
    if (this.picture.width !== w || this.picture.height !== h) {
      this.picture.width = w;
      this.picture.height = h;
    }
    this.pictureView = this.view;
    if (x0 > x1 || y0 > y1) return;
    const { buf, ink, base } = this, shades = woodShades(), edge = woodEdge(), step = 9;
    const bare = !this.p.stockShapes.length, on = this.shown;
    for (let y = y0; y <= y1; y++) {
      const below = y + 1 < h ? w : 0;
      for (let x = x0, i = y * w + x0; x <= x1; x++, i++) {
        if (!on || !(bare || base[i] >>> 31)) { // the top bit of the colour: more than half opaque
          ink[i] = base[i];
          continue;
        }
        const l = buf[i], r = x + 1 < w ? buf[i + 1] : l, u = buf[i + below];
        const dr = l - r, du = l - u;
        if (dr > step || dr < -step || du > step || du < -step) ink[i] = edge;
        else if (l === THROUGH && ((x + y) & 7) < 1) ink[i] = edge;
        else ink[i] = l > 0 ? shades[l] : base[i];
      }
    }
    this.picture.getContext("2d").putImageData(this.image, 0, 0, x0, y0, x1 - x0 + 1, y1 - y0 + 1);
    this.dirty = { x0: w, y0: h, x1: -1, y1: -1 };
  }

  // depthsAt returns the levels along a row of the style sheet's pixels.
  depthsAt(py) {
    const y = Math.round(py * this.h / this.view.h - 0.5);
    if (y < 0 || y >= this.h) return null;
    return this.buf.subarray(y * this.w, (y + 1) * this.w);
  }
}
