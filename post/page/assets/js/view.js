// A View says where the paper lies under the window: s pixels a mm, (ox, oy)
// in mm at the middle of the window. Pixels are those of the style sheet.

const RULE_TOP = 24, RULE_LEFT = 44; // the rules along the edges of the plan
const ROOM = 32, ROOM_WORDS = 50; // left free round what is shown

class View {
  constructor(s, ox, oy, w, h) {
    this.s = s; this.ox = ox; this.oy = oy; this.w = w; this.h = h;
  }

  // The middle of the paper beside and below the rules.
  get midX() { return (this.w + RULE_LEFT) / 2; }
  get midY() { return (this.h + RULE_TOP) / 2; }

  x(mm) { return this.midX + (mm - this.ox) * this.s; }
  y(mm) { return this.midY - (mm - this.oy) * this.s; }
  mmX(px) { return this.ox + (px - this.midX) / this.s; }
  mmY(px) { return this.oy - (px - this.midY) / this.s; }

  same(v) {
    return v && this.s === v.s && this.ox === v.ox && this.oy === v.oy && this.w === v.w && this.h === v.h;
  }

  moved(dx, dy) { return new View(this.s, this.ox - dx / this.s, this.oy + dy / this.s, this.w, this.h); }

  // zoomed by k about a place that stays where it is.
  zoomed(k, px, py) {
    const s = Math.min(4000, Math.max(0.01, this.s * k));
    const x = this.mmX(px), y = this.mmY(py);
    return new View(s, x - (px - this.midX) / s, y + (py - this.midY) / s, this.w, this.h);
  }

  resized(w, h) { return new View(this.s, this.ox, this.oy, w, h); }

  centred(x, y) { return new View(this.s, x, y, this.w, this.h); }

  shows(x, y, margin) {
    const px = this.x(x), py = this.y(y);
    return px > RULE_LEFT + margin && px < this.w - margin && py > RULE_TOP + margin && py < this.h - margin;
  }

  // fitted shows a box with room round it, and more beside it for words.
  static fitted(b, w, h, beside) {
    const wide = Math.max(b.x1 - b.x0, 1e-3), tall = Math.max(b.y1 - b.y0, 1e-3);
    const s = Math.min((w - RULE_LEFT - 2 * beside) / wide, (h - RULE_TOP - 2 * ROOM) / tall, 400);
    return new View(Math.max(s, 0.01), (b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2, w, h);
  }
}

// density is how many device pixels are drawn for one of the style sheet: more
// than two cannot be told apart on a screen and cost time.
let paperDensity = 0; // while printing
const density = () => paperDensity || Math.min(2, window.devicePixelRatio || 1);

// ready sizes a canvas to its place on the page and returns its context,
// cleared, in pixels of the style sheet; read says that its pixels will be.
function ready(canvas, w, h, d = density(), read = false) {
  const pw = Math.max(1, Math.round(w * d)), ph = Math.max(1, Math.round(h * d));
  if (canvas.width !== pw || canvas.height !== ph) {
    canvas.width = pw;
    canvas.height = ph;
  }
  const ctx = canvas.getContext("2d", { willReadFrequently: read });
  ctx.setTransform(d, 0, 0, d, 0, 0);
  ctx.clearRect(0, 0, w, h);
  return ctx;
}

function sheet(w, h) {
  const c = document.createElement("canvas");
  c.width = Math.max(1, w);
  c.height = Math.max(1, h);
  return c;
}

// A Still keeps what does not change from frame to frame: it is drawn anew
// only for another edition of the page's state.
class Still {
  constructor() {
    this.canvas = sheet(1, 1);
    this.edition = -1;
  }

  lay(ctx, v, edition, draw) {
    if (this.edition !== edition) {
      draw(ready(this.canvas, v.w, v.h));
      this.edition = edition;
    }
    ctx.drawImage(this.canvas, 0, 0, v.w, v.h);
  }
}

// lay draws a picture made for one view into another: exact where the views
// are the same, a stand-in until it has been drawn anew where they are not.
function lay(ctx, picture, was, now) {
  if (!was) return;
  if (was.same(now)) {
    ctx.drawImage(picture, 0, 0, now.w, now.h);
    return;
  }
  const k = now.s / was.s;
  ctx.drawImage(picture, now.x(was.mmX(0)), now.y(was.mmY(0)), was.w * k, was.h * k);
}

// ruleStep is a step of the rules: 1, 2 or 5 times a power of ten (of inches:
// a power of two below one) that lies at least apart pixels from the next.
function ruleStep(pxPerUnit, apart, inches) {
  if (inches && pxPerUnit > apart) {
    let s = 1;
    while (pxPerUnit * s / 2 >= apart && s > 1 / 64) s /= 2;
    return s;
  }
  const raw = apart / pxPerUnit, p = Math.pow(10, Math.floor(Math.log10(raw)));
  for (const m of [1, 2, 5]) if (m * p >= raw * 0.999) return m * p;
  return 10 * p;
}
