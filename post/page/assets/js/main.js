// Puts the page together: one state, one frame that draws it.

const SETTLE = 90; // ms that a view must rest before a long program is drawn anew
const NARROW = 1000; // pixels, as in the style sheet
const LONG = 3000; // moves from which a program counts as long
const LIST_APART = 80; // ms between two steps of the list of lines: faster cannot be read
const WOOD_BUDGET = 9, PATH_BUDGET = 5, SPARE_BUDGET = 10; // ms of a frame
const SPARE_AFTER = 150; // ms of rest before spare time begins

const state = {
  index: -1, program: null, drawing: null, findings: [], finding: -1,
  k: 0, f: 0, line: 1, time: 0, known: false, at: { x: 0, y: 0, z: 0 }, sectionY: 0,
  shown: {}, unit: packet.unit, ruleUnit: packet.unit,
  measuring: false, taken: [], cross: null,
  edition: 0, // counts what changes the still part of the drawing
  playing: false, wood: null, path: null, sidePath: null,
};
let asked = false, viewAt = 0, aimed = null, lastFrame = 0, stripSpoilt = true, fitted = true, shownLine = 0, shownAt = 0;

const lines = new Lines($("lines"), (l) => goToLine(l, true));
const tell = (text) => set("told", text);

function ask() {
  if (asked) return;
  asked = true;
  document.documentElement.dataset.settled = "false";
  requestAnimationFrame(frame);
}

// choose turns to a program or a drawing.
function choose(i) {
  stop();
  const c = all[i];
  Object.assign(state, { index: i, program: null, drawing: c.drawing || null, finding: -1, taken: [], cross: null, shown: { path: true, rapids: true, wood: true } });
  $("pick").value = String(i);
  document.body.dataset.kind = c.program ? "program" : "drawing";
  state.findings = (c.program || c.drawing).findings;
  set("use", (c.program || c.drawing).use);
  if (c.program) openProgram(unpack(c.program));
  else openDrawing(c.drawing);
  showFindings(state, goToFinding);
  fillKey(state, switched);
  tell("");
  fitView();
}

function openProgram(p) {
  state.program = p;
  state.ruleUnit = p.unit;
  aimed = null;
  state.wood = new Wood(p);
  state.path = new PathLayer(p, (v, x, y) => [v.x(x), v.y(y)]);
  state.sidePath = new PathLayer(p, projectSide);
  stripSpoilt = true;
  strip.slider.max = String(p.total || 1);
  lines.set(p, state.findings);
  shownLine = 0;
  showProgram(state);
  goTo(0, 0, 1);
}

function openDrawing(d) {
  state.ruleUnit = d.unit_mm > 20 ? "in" : "mm";
  showDrawing(state);
}

const box = () => state.program ? state.program.box : drawingBox(state.drawing, false);

function fitView() {
  shareRoom();
  const r = plan.canvas.getBoundingClientRect();
  setView(View.fitted(box(), Math.max(60, r.width), Math.max(60, r.height), beside()), true);
}

const beside = () => state.program && state.program.marks.length ? ROOM_WORDS : ROOM;

// shareRoom gives the plan and the side view the height they can use: a facet
// is long and thin, a sheet is not.
function shareRoom() {
  const c = plan.canvas, p = state.program;
  c.style.height = "";
  const b = box(), r = c.getBoundingClientRect(), narrow = window.innerWidth < NARROW;
  const s = (r.width - RULE_LEFT - 2 * beside()) / Math.max(1, b.x1 - b.x0);
  const tall = s * (b.y1 - b.y0) + RULE_TOP + 2 * ROOM;
  if (narrow) c.style.height = Math.round(Math.min(Math.max(200, tall), window.innerHeight * (p ? 0.44 : 0.58))) + "px";
  if (!p) return;
  const deep = Math.min(s, narrow ? s : r.height / tall * s) * (sideTop(p) - sideFloor(p) * 1.04) + 2 * SIDE_ROOM;
  side.canvas.style.height = Math.round(Math.min(Math.max(104, deep), narrow ? 130 : window.innerHeight * 0.27)) + "px";
}

function setView(v, isFit = false) {
  fitted = isFit;
  plan.view = v;
  state.edition++;
  viewAt = performance.now();
  ask();
}

function switched(name) {
  if (name === "path" || name === "rapids") aimed = null;
  state.edition++;
  ask();
}

// goTo puts the cutter a part f of the way along move k; the line is that of
// the move where none is given.
function goTo(k, f, line) {
  const p = state.program;
  Object.assign(state, { k, f, line: line || (p.n ? p.line[k] : 1) });
  state.known = p.n > 0 && state.line >= p.line[0];
  state.at = place(p, k, f);
  state.time = p.n ? p.start[k] + f * (p.start[k + 1] - p.start[k]) : 0;
  ask();
}

function goToTime(t) {
  const p = state.program;
  if (!p.n) return;
  const k = moveAtTime(p, t), long = p.start[k + 1] - p.start[k];
  goTo(k, long > 0 ? Math.min(1, Math.max(0, (t - p.start[k]) / long)) : 1);
}

// goToLine puts the cutter where it is once a line has been carried out.
function goToLine(line, say) {
  stop();
  const p = state.program, k = lastMoveOf(p, line);
  if (k < 0) goTo(0, 0, line); else goTo(k, 1, line);
  if (state.known) bringIntoSight(state.at.x, state.at.y);
  if (say) tell(lineWords());
}

function lineWords() {
  const p = state.program, at = state.at;
  const where = state.known ? `: X ${position(at.x, p.unit)}, Y ${position(at.y, p.unit)}, Z ${position(at.z, p.unit)}` : "";
  return `Line ${state.line}${where}`;
}

function stepBlock(by) {
  const p = state.program;
  if (!p.n) return;
  stop();
  if (!state.known) {
    goTo(0, by > 0 ? 1 : 0);
  } else if (by < 0) {
    if (state.f > 0 && state.f < 1) goTo(state.k, 0);
    else if (state.k > 0) goTo(state.k - 1, 1);
    else goTo(0, 0);
  } else if (state.f < 1) {
    goTo(state.k, 1);
  } else if (state.k < p.n - 1) {
    goTo(state.k + 1, 1);
  }
  bringIntoSight(state.at.x, state.at.y);
}

function bringIntoSight(x, y) {
  if (!plan.view.shows(x, y, 16)) setView(plan.view.centred(x, y));
}

// goToFinding turns to the place of a finding, close enough to see it.
function goToFinding(i) {
  const f = state.findings[i];
  stop();
  state.finding = i;
  markFinding(i);
  if (state.program && f.line) {
    const p = state.program, k = lastMoveOf(p, f.line);
    goToLine(f.line, false);
    if (k >= 0 && p.line[k] === f.line && f.at) {
      const hit = toMove(p, k, f.at.X, f.at.Y, 1e6);
      if (hit && p.kind[k] !== RAPID) goTo(k, hit.f, f.line);
    }
  }
  if (f.at) {
    const wide = state.program ? Math.max(state.program.cutter, 1) * 14 : 60;
    const v = plan.view, s = Math.max(v.s, (v.w - RULE_LEFT) / wide);
    setView(new View(s, f.at.X, f.at.Y, v.w, v.h));
  }
  tell(`Finding ${i + 1}: ${f.what}`);
  ask();
}

// Running.

const PACES = [["30", "in 30 s"], ["120", "in 2 min"], ["x1", "as cut"], ["x4", "4 times as fast"], ["x16", "16 times as fast"], ["x64", "64 times as fast"]];

function pace() {
  const v = $("pace").value;
  return v[0] === "x" ? Number(v.slice(1)) : Math.max(0.05, state.program.total / Number(v));
}

function run() {
  const p = state.program;
  if (!p || !p.n) return;
  if (state.time >= p.total - 1e-9) goTo(0, 0);
  else if (!state.known) goTo(0, 0);
  state.playing = true;
  lastFrame = 0;
  showRunning();
  ask();
}

function stop() {
  if (!state.playing) return;
  state.playing = false;
  showRunning();
  ask();
}

function showRunning() {
  $("play").setAttribute("aria-pressed", String(state.playing));
  set("play", state.playing ? "Pause" : "Run");
}

// advance moves the cutter by the time since the last frame, and halts it at
// the end and where the program stops for the operator.
function advance(now) {
  const p = state.program, passed = lastFrame ? Math.min(0.1, (now - lastFrame) / 1000) : 0;
  lastFrame = now;
  const t = Math.min(p.total, state.time + passed * pace()), from = state.line;
  const k = moveAtTime(p, t), halt = p.stops.find((l) => l > from && l <= p.line[k]);
  if (halt) {
    stop();
    goToLine(halt, false);
    tell(`Line ${halt}: the program stops for the operator`);
    return;
  }
  goToTime(t);
  if (t >= p.total) {
    stop();
    tell("End of the program");
  }
}

// The frame.

function frame(now) {
  asked = false;
  if (state.playing) advance(now);
  const more = state.program ? frameOfProgram(now) : false;
  drawPlan(state);
  if (more || state.playing) {
    ask();
    return;
  }
  document.documentElement.dataset.settled = "true";
  if (state.program) spare();
}

function frameOfProgram(now) {
  const p = state.program;
  let waiting = false;
  if (!plan.view.same(aimed)) {
    if (p.n < LONG || !aimed || now - viewAt > SETTLE) aim();
    else waiting = true;
  }
  const b = p.stockBox, v = plan.view;
  const low = Math.max(b.y0, v.mmY(v.h - 1)), high = Math.min(b.y1, v.mmY(RULE_TOP + 1));
  state.sectionY = Math.max(Math.min(low, high), Math.min(high, state.at.y));
  const wooden = state.wood.seek(state.k, state.known ? state.f : 0, WOOD_BUDGET);
  if (wooden || state.wood.pictureView === state.wood.view) state.wood.paint();
  const was = state.path.drawnView, wasSide = state.sidePath.drawnView;
  const drawn = state.path.work(PATH_BUDGET) && state.sidePath.work(PATH_BUDGET);
  if (was !== state.path.drawnView || wasSide !== state.sidePath.drawnView) state.edition++;
  if (!side.view || side.view.of !== v) side.view = aimSide(p, v, side.view ? side.view.h : 100);
  drawSide(state);
  showBlock(state);
  showTime(state);
  set("side-name", `Section A\u2013A at Y ${position(state.sectionY, p.unit)}`);
  set("side-note", ratioWords(side.view.ratio));
  if (state.line !== shownLine && (now - shownAt > LIST_APART || !state.known)) {
    lines.show(state.line);
    shownLine = state.line;
    shownAt = now;
  }
  if (stripSpoilt) {
    drawStrip(state);
    stripSpoilt = false;
  }
  return waiting || !wooden || !drawn || state.line !== shownLine;
}

function aim() {
  const v = aimed = plan.view;
  state.wood.aim(v);
  state.path.aim(v, state.shown);
  const r = side.canvas.getBoundingClientRect();
  side.view = aimSide(state.program, v, Math.max(40, r.height));
  state.edition++;
  state.sidePath.aim(side.view, state.shown);
}

// spare keeps copies of the wood for the rest of the program while nothing
// else is to be done.
let sparing = 0;
function spare(after = SPARE_AFTER) {
  clearTimeout(sparing);
  sparing = setTimeout(() => {
    if (!asked && state.program && plan.view.same(aimed) && state.wood.ahead(SPARE_BUDGET)) spare(2);
  }, after);
}

// The page's controls.

function press(id, what) {
  $(id).addEventListener("click", what);
}

function setMeasuring(on) {
  state.measuring = on;
  state.taken = [];
  const v = plan.view;
  state.cross = on ? { x: v.midX, y: v.midY } : null;
  $("measure").setAttribute("aria-pressed", String(on));
  plan.canvas.classList.toggle("measuring", on);
  tell(on ? "Measure: take two points" : "");
  ask();
}

function takePoint(px, py) {
  if (state.taken.length === 2) state.taken = [];
  state.taken.push(snap(state, px, py));
  const [a, b] = state.taken;
  tell(b ? measureWords(a, b, state.unit) : "First point taken: take the second");
  ask();
}

// pointAt answers a click on the plan.
function pointAt(px, py, near) {
  if (state.measuring) {
    takePoint(px, py);
    return;
  }
  const v = plan.view;
  const i = state.findings.findIndex((f) => f.at && Math.hypot(v.x(f.at.X) - px, v.y(f.at.Y) - py) < near + 4);
  if (i >= 0) {
    goToFinding(i);
    return;
  }
  if (!state.program) return;
  const hits = nearest(state.program, v, px, py, near, state.shown);
  if (!hits.length) return;
  // The same place clicked again gives the next pass over it.
  const hit = hits.find((h) => h.k > state.k) || hits[0];
  stop();
  goTo(hit.k, hit.f);
  const pass = hits.length > 1 ? `. Pass ${hits.indexOf(hit) + 1} of ${hits.length} here: click again for the next` : "";
  tell(lineWords() + pass);
}

function planKey(e) {
  const v = plan.view, by = e.shiftKey ? 10 : 60, cross = state.measuring && state.cross;
  const way = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key];
  const middle = [v.midX, v.midY];
  const does = {
    "+": () => setView(v.zoomed(1.4, ...middle)), "=": () => setView(v.zoomed(1.4, ...middle)),
    "-": () => setView(v.zoomed(1 / 1.4, ...middle)), "0": fitView,
    "m": () => setMeasuring(!state.measuring), "M": () => setMeasuring(!state.measuring),
    " ": () => state.playing ? stop() : run(), ",": () => state.program && stepBlock(-1), ".": () => state.program && stepBlock(1),
    "Enter": () => cross && takePoint(cross.x, cross.y), "Escape": () => state.measuring && setMeasuring(false),
  }[e.key];
  if (e.ctrlKey || e.metaKey || e.altKey || (!way && !does)) return;
  e.preventDefault();
  if (does) {
    does();
  } else if (cross) {
    const step = e.shiftKey ? 1 : 8;
    state.cross = { x: cross.x - way[0] * step, y: cross.y - way[1] * step };
    ask();
  } else {
    setView(v.moved(way[0] * by, way[1] * by));
  }
}

function scrubKey(e) {
  const p = state.program, five = Math.max(1, Math.round(p.n / 20));
  const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: five, PageDown: -five }[e.key];
  if (by !== undefined) {
    if (Math.abs(by) === 1) stepBlock(by);
    else goTo(Math.min(p.n - 1, Math.max(0, state.k + by)), 1);
  } else if (e.key === "Home") {
    goTo(0, 0);
  } else if (e.key === "End") {
    goTo(p.n - 1, 1);
  } else if (e.key === " ") {
    state.playing ? stop() : run();
  } else {
    return;
  }
  e.preventDefault();
}

function wire() {
  fillPick();
  for (const [v, name] of PACES) $("pace").add(new Option(name, v));
  $("pick").addEventListener("change", (e) => choose(Number(e.target.value)));
  press("pick-back", () => choose((state.index + all.length - 1) % all.length));
  press("pick-on", () => choose((state.index + 1) % all.length));
  press("found-elsewhere", (e) => choose(Number(e.currentTarget.dataset.index)));
  press("fit", fitView);
  press("closer", () => setView(plan.view.zoomed(1.5, plan.view.midX, plan.view.midY)));
  press("wider", () => setView(plan.view.zoomed(1 / 1.5, plan.view.midX, plan.view.midY)));
  press("measure", () => setMeasuring(!state.measuring));
  press("play", () => state.playing ? stop() : run());
  press("block-back", () => stepBlock(-1));
  press("block-on", () => stepBlock(1));
  press("print", () => window.print());
  strip.slider.addEventListener("input", () => {
    stop();
    goToTime(Number(strip.slider.value));
  });
  strip.slider.addEventListener("keydown", scrubKey);
  plan.canvas.addEventListener("keydown", planKey);
  takePlan({
    view: (v) => setView(v),
    point: pointAt,
    cross: (x, y) => {
      if (!state.measuring) return;
      state.cross = { x, y };
      ask();
    },
  });
  new ResizeObserver(resized).observe(plan.canvas);
}

function resized() {
  const r = plan.canvas.getBoundingClientRect();
  stripSpoilt = true;
  aimed = null;
  if (!plan.view || r.width < 10) return;
  if (fitted) fitView();
  else setView(plan.view.resized(Math.max(60, r.width), Math.max(60, r.height)));
}

if (all.length) {
  wire();
  choose(0);
} else {
  tell("This packet holds no program and no drawing.");
}
