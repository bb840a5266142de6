// What the page was given, and the moves unpacked. Lengths are mm, times
// seconds, whatever the file's unit.

const $ = (id) => document.getElementById(id);
const MM_PER_INCH = 25.4;
const LENGTH_STEP = 1e-4, ANGLE_STEP = 1e-7, RATE_STEP = 1e-3, TIME_STEP = 1e-5;
const RAPID = 0, LINE = 1, ARC_CW = 2, ARC_CCW = 3;

const packet = JSON.parse($("data").textContent);

// numbers reads what the packer wrote: seven bits a byte, low ones first.
// Sums rather than shifts, because a length can pass 32 bits.
function numbers(base64) {
  const bytes = atob(base64);
  let at = 0;
  const plain = () => {
    let v = 0, m = 1, c;
    do {
      c = bytes.charCodeAt(at++);
      v += (c & 127) * m;
      m *= 128;
    } while (c & 128);
    return v;
  };
  const signed = () => {
    const v = plain();
    return v % 2 ? -(v + 1) / 2 : v / 2;
  };
  return { plain, signed };
}

// unpack turns a program's moves into columns, once.
function unpack(p) {
  if (p.n !== undefined) return p;
  const n = p.n = p.count;
  p.lines = p.text.split("\n");
  p.kind = new Uint8Array(n);
  p.line = new Int32Array(n);
  for (const c of ["x0", "y0", "z0", "x1", "y1", "z1", "cx", "cy", "sweep", "feed", "rpm"]) p[c] = new Float64Array(n);
  const { plain, signed } = numbers(p.moves);
  let x = 0, y = 0, z = 0, line = 0, feed = 0, rpm = 0;
  const step = () => { x += signed(); y += signed(); z += signed(); };
  for (let k = 0; k < n; k++) {
    const head = plain();
    p.kind[k] = head & 3;
    p.line[k] = line += signed();
    if (head & 4) step();
    p.x0[k] = x * LENGTH_STEP; p.y0[k] = y * LENGTH_STEP; p.z0[k] = z * LENGTH_STEP;
    step();
    p.x1[k] = x * LENGTH_STEP; p.y1[k] = y * LENGTH_STEP; p.z1[k] = z * LENGTH_STEP;
    if (p.kind[k] >= ARC_CW) {
      p.cx[k] = p.x0[k] + signed() * LENGTH_STEP;
      p.cy[k] = p.y0[k] + signed() * LENGTH_STEP;
      p.sweep[k] = signed() * ANGLE_STEP;
    }
    if (head & 8) feed += signed();
    if (head & 16) rpm += signed();
    p.feed[k] = feed * RATE_STEP;
    p.rpm[k] = rpm * RATE_STEP;
  }
  p.moves = "";
  clock(p);
  survey(p);
  return p;
}

// clock fills p.start: when each move starts, and at last when the last ends.
function clock(p) {
  const given = p.times ? numbers(p.times) : null;
  p.start = new Float64Array(p.n + 1);
  for (let k = 0; k < p.n; k++) {
    let s;
    if (given) {
      s = given.signed() * TIME_STEP;
    } else {
      const rate = p.kind[k] === RAPID ? p.rapid : p.feed[k];
      s = rate > 0 ? moveLength(p, k) / rate * 60 : 0;
    }
    p.start[k + 1] = p.start[k] + s;
  }
  p.total = p.start[p.n];
}

function moveLength(p, k) {
  const dz = p.z1[k] - p.z0[k];
  if (p.kind[k] < ARC_CW) return Math.hypot(p.x1[k] - p.x0[k], p.y1[k] - p.y0[k], dz);
  return Math.hypot(Math.hypot(p.x0[k] - p.cx[k], p.y0[k] - p.cy[k]) * p.sweep[k], dz);
}

// place is where the cutter's end is a part f of the way along move k.
function place(p, k, f) {
  if (p.n === 0) return { x: 0, y: 0, z: 0 };
  if (f >= 1) return { x: p.x1[k], y: p.y1[k], z: p.z1[k] };
  const z = p.z0[k] + (p.z1[k] - p.z0[k]) * f;
  if (p.kind[k] < ARC_CW) return { x: p.x0[k] + (p.x1[k] - p.x0[k]) * f, y: p.y0[k] + (p.y1[k] - p.y0[k]) * f, z };
  const vx = p.x0[k] - p.cx[k], vy = p.y0[k] - p.cy[k], a = p.sweep[k] * f;
  const c = Math.cos(a), s = Math.sin(a);
  return { x: p.cx[k] + vx * c - vy * s, y: p.cy[k] + vx * s + vy * c, z };
}

// chords is into how many straight pieces an arc is drawn, none leaving it by
// more than off mm; 1 for a straight move.
function chords(p, k, off) {
  if (p.kind[k] < ARC_CW) return 1;
  const r = Math.hypot(p.x0[k] - p.cx[k], p.y0[k] - p.cy[k]);
  const step = 2 * Math.acos(Math.max(0, 1 - off / Math.max(r, off)));
  return Math.min(400, Math.max(1, Math.ceil(Math.abs(p.sweep[k]) / step)));
}

// survey finds how far the moves reach, and where the wood is.
function survey(p) {
  const cut = noBox(), all = noBox();
  p.deepest = 0; p.highest = 0;
  for (let k = 0; k < p.n; k++) {
    p.deepest = Math.min(p.deepest, p.z1[k]);
    p.highest = Math.max(p.highest, p.z1[k]);
    for (let i = 0, m = chords(p, k, 1); i <= m; i++) {
      const q = place(p, k, i / m);
      grow(all, q.x, q.y);
      if (p.kind[k] !== RAPID) grow(cut, q.x, q.y);
    }
  }
  p.shapes.filter((s) => s.role === "part" && s.name).forEach((s, i) => { s.number = i + 1; });
  p.stockShapes = p.shapes.filter((s) => s.role === "facet" || s.role === "sheet");
  p.stockBox = noBox();
  for (const s of p.stockShapes) growBy(p.stockBox, s.c);
  const box = p.box = noBox();
  for (const s of p.shapes) growBy(box, s.c);
  for (const b of [cut, box.x0 > box.x1 ? all : cut]) {
    if (b.x0 > b.x1) continue;
    grow(box, b.x0 - p.cutter / 2, b.y0 - p.cutter / 2);
    grow(box, b.x1 + p.cutter / 2, b.y1 + p.cutter / 2);
  }
  if (box.x0 > box.x1) grow(box, 0, 0);
  if (p.stockBox.x0 > p.stockBox.x1) Object.assign(p.stockBox, box);
}

const noBox = () => ({ x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity });

function grow(b, x, y) {
  if (x < b.x0) b.x0 = x;
  if (x > b.x1) b.x1 = x;
  if (y < b.y0) b.y0 = y;
  if (y > b.y1) b.y1 = y;
}

// growBy takes in a contour; of its arcs, their middles, which is close
// enough to frame a drawing by.
function growBy(b, c) {
  for (const e of edges(c)) {
    grow(b, e.ax, e.ay);
    if (!e.bulge) continue;
    for (let i = 1; i < 8; i++) {
      const a = e.from + e.sweep * i / 8;
      grow(b, e.cx + e.r * Math.cos(a), e.cy + e.r * Math.sin(a));
    }
  }
}

// edges returns the pieces of a contour; bulge is the tangent of a quarter of
// the angle an arc turns through, positive counter-clockwise.
function edges(c) {
  return c.map(([ax, ay, bulge], i) => {
    const [bx, by] = c[(i + 1) % c.length];
    const e = { ax, ay, bx, by, bulge };
    const dx = bx - ax, dy = by - ay;
    if (bulge && (dx || dy)) {
      const h = (1 - bulge * bulge) / (4 * bulge); // of the chord, to its left
      e.cx = (ax + bx) / 2 - dy * h;
      e.cy = (ay + by) / 2 + dx * h;
      e.r = Math.hypot(ax - e.cx, ay - e.cy);
      e.from = Math.atan2(ay - e.cy, ax - e.cx);
      e.sweep = 4 * Math.atan(bulge);
    } else {
      e.bulge = 0;
    }
    return e;
  });
}

// lastMoveOf returns the last move on or before a line, -1 where there is none.
function lastMoveOf(p, line) {
  let lo = 0, hi = p.n;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if (p.line[mid] <= line) lo = mid + 1; else hi = mid;
  }
  return lo - 1;
}

// moveAtTime returns the move under way at a time.
function moveAtTime(p, t) {
  let lo = 0, hi = p.n;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if (p.start[mid + 1] <= t) lo = mid + 1; else hi = mid;
  }
  return Math.min(lo, Math.max(0, p.n - 1));
}

// Words for numbers.

function position(mm, unit) {
  const v = unit === "in" ? (mm / MM_PER_INCH).toFixed(4) : mm.toFixed(3);
  return Number(v) === 0 ? v.replace("-", "") : v;
}

function speed(mmMin, unit) {
  return trim(unit === "in" ? (mmMin / MM_PER_INCH).toFixed(1) : mmMin.toFixed(1));
}

// size says a length as people read it: inches with the nearest 1/32 beside.
function size(mm, unit) {
  if (unit !== "in") return trim(mm.toFixed(2)) + " mm";
  const inches = mm / MM_PER_INCH, n = Math.round(Math.abs(inches) * 32);
  let top = n % 32, bottom = 32;
  while (top && top % 2 === 0) { top /= 2; bottom /= 2; }
  const whole = Math.floor(n / 32);
  const words = [whole || !top ? whole : "", top ? `${top}/${bottom}` : ""].filter((w) => w !== "").join(" ");
  const exact = Math.abs(Math.abs(inches) - n / 32) < 5e-4;
  return exact ? words + " in" : `${inches.toFixed(3)} in (${words})`;
}

const trim = (s) => s.includes(".") ? s.replace(/\.?0+$/, "") : s;

function minutes(s) {
  const whole = Math.round(s), m = Math.floor(whole / 60) % 60, h = Math.floor(whole / 3600);
  const two = (v) => String(v).padStart(2, "0");
  return h ? `${h}:${two(m)}:${two(whole % 60)}` : `${m}:${two(whole % 60)}`;
}
