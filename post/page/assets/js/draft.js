// Pencil and paper: the few tones of the page, and how lines, arrowheads,
// hatching and words are drawn. Kinds of line differ in dash, weight or
// symbol, never in tone alone.

const PAPER = "#fdfaf3", INK = "#26231f", SOFT = "#5a5347", FAINT = "#9c917e";
const MARK = "#a3260e"; // the red pencil: look here
const WOOD = "#f3e5c8", GRAIN = "#e3cfa3";
const SHALLOW = [232, 203, 150], DEEP = [148, 96, 46], EDGE = [84, 54, 26];

const mix = (a, b, t) => a.map((v, i) => Math.round(v + (b[i] - v) * t));
const tone = (c) => `rgb(${c.join(",")})`;

let shadesMade = null;
const pack = ([r, g, b]) => (255 << 24 | b << 16 | g << 8 | r) >>> 0;

// woodShades gives each level of Wood its tone, as ImageData holds it.
function woodShades() {
  if (!shadesMade) {
    shadesMade = new Uint32Array(256);
    for (let l = 1; l < 256; l++) shadesMade[l] = pack(mix(SHALLOW, DEEP, Math.min(1, (l - 1) / (DEEPEST - 1))));
  }
  return shadesMade;
}

const woodEdge = () => pack(EDGE);

// pathTone is the grey of a cut at a part t of the deepest one.
const pathTone = (t) => tone(mix([122, 112, 98], [22, 20, 17], Math.min(1, Math.max(0, t))));

const LETTERS = "system-ui, sans-serif";
const crisp = (v) => Math.round(v) + 0.5;

function words(ctx, text, x, y, { size = 12, ink = INK, align = "left", base = "alphabetic", turn = 0, halo = false, weight = "" } = {}) {
  ctx.save();
  ctx.translate(x, y);
  ctx.rotate(turn);
  ctx.font = `${weight} ${size}px ${LETTERS}`;
  ctx.textAlign = align;
  ctx.textBaseline = base;
  if (halo) {
    ctx.strokeStyle = PAPER;
    ctx.lineWidth = 4;
    ctx.lineJoin = "round";
    ctx.strokeText(text, 0, 0);
  }
  ctx.fillStyle = ink;
  ctx.fillText(text, 0, 0);
  ctx.restore();
}

function line(ctx, x0, y0, x1, y1) {
  ctx.beginPath();
  ctx.moveTo(x0, y0);
  ctx.lineTo(x1, y1);
  ctx.stroke();
}

// head draws an arrowhead with its point at (x, y): filled on cuts and
// dimensions, open on rapids.
function head(ctx, x, y, angle, size, filled) {
  const c = Math.cos(angle), s = Math.sin(angle), back = size, half = size * 0.36;
  ctx.beginPath();
  ctx.moveTo(x - back * c + half * s, y - back * s - half * c);
  ctx.lineTo(x, y);
  ctx.lineTo(x - back * c - half * s, y - back * s + half * c);
  if (filled) ctx.fill(); else ctx.stroke();
}

function ring(ctx, x, y, r) {
  ctx.beginPath();
  ctx.arc(x, y, r, 0, 2 * Math.PI);
}

// trace lays a closed contour as the current path.
function trace(ctx, c, view) {
  edges(c).forEach((e, i) => {
    if (i === 0) ctx.moveTo(view.x(e.ax), view.y(e.ay));
    if (e.bulge) ctx.arc(view.x(e.cx), view.y(e.cy), e.r * view.s, -e.from, -(e.from + e.sweep), e.sweep > 0);
    else ctx.lineTo(view.x(e.bx), view.y(e.by));
  });
  ctx.closePath();
}

function traceAll(ctx, contours, view) {
  ctx.beginPath();
  for (const c of contours) trace(ctx, c, view);
}

// hatch rules the current path with slanting lines, apart pixels from each
// other; its box is given so that no more is ruled than needed.
function hatch(ctx, box, apart, both) {
  ctx.save();
  ctx.clip("evenodd");
  const x0 = Math.max(box.x0, -20), x1 = Math.min(box.x1, ctx.canvas.width + 20), tall = box.y1 - box.y0;
  ctx.beginPath();
  for (let x = Math.floor((x0 - tall) / apart) * apart; x < x1 + tall; x += apart) {
    ctx.moveTo(x, box.y1);
    ctx.lineTo(x + tall, box.y0);
    if (both) {
      ctx.moveTo(x, box.y0);
      ctx.lineTo(x + tall, box.y1);
    }
  }
  ctx.stroke();
  ctx.restore();
}

// triangle is the sign of a finding: a numbered triangle that points to its
// place.
function triangle(ctx, x, tip, number, strong) {
  const r = strong ? 15 : 12, y = tip + r;
  ctx.save();
  ctx.beginPath();
  ctx.moveTo(x, y - r);
  ctx.lineTo(x + r, y + r * 0.8);
  ctx.lineTo(x - r, y + r * 0.8);
  ctx.closePath();
  ctx.lineJoin = "round";
  ctx.strokeStyle = PAPER;
  ctx.lineWidth = 4;
  ctx.stroke();
  ctx.fillStyle = MARK;
  ctx.fill();
  ctx.restore();
  words(ctx, String(number), x, y + r * 0.55, { size: strong ? 13 : 11, ink: "#ffffff", align: "center", weight: "700" });
}

// zeroSign marks X0 Y0: a ring in quarters, two of them filled.
function zeroSign(ctx, x, y, r) {
  ctx.save();
  ctx.fillStyle = PAPER;
  ctx.strokeStyle = INK;
  ctx.lineWidth = 1.5;
  ring(ctx, x, y, r);
  ctx.fill();
  ctx.fillStyle = INK;
  for (const from of [0, Math.PI]) {
    ctx.beginPath();
    ctx.moveTo(x, y);
    ctx.arc(x, y, r, from, from + Math.PI / 2);
    ctx.fill();
  }
  ring(ctx, x, y, r);
  ctx.stroke();
  line(ctx, x - r - 5, y, x + r + 5, y);
  line(ctx, x, y - r - 5, x, y + r + 5);
  ctx.restore();
}

// The lines of each role and layer: weight, dash, and what fills them.
const LINES = {
  "facet": { weight: 1.6, dash: [] },
  "sheet": { weight: 1.6, dash: [] },
  "part": { weight: 2.2, dash: [] },
  "hole": { weight: 1.4, dash: [], cross: true },
  "slot outline": { weight: 1.8, dash: [10, 3, 2, 3] },
  "screw zone": { weight: 1.2, dash: [3, 3], hatch: 9, both: true },
  "tab": { weight: 1.4, dash: [], hatch: 5, cover: true },
  "OUTLINE": { weight: 2.2, dash: [], fill: WOOD },
  "HOLE": { weight: 1.4, dash: [], fill: PAPER, cross: true },
  "GUIDE": { weight: 1.2, dash: [9, 4, 2, 4] },
  "TEXT": { weight: 1, dash: [2, 3] },
};
const ANY_LINE = { weight: 1.2, dash: [6, 3] };

const lineOf = (name) => LINES[name] || ANY_LINE;

function setLine(ctx, style) {
  ctx.lineWidth = style.weight;
  ctx.setLineDash(style.dash);
}
