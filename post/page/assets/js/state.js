// What is shown and where the cutter is: one state for the whole page, and
// turning from one program or drawing to the next.

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
  set("plan-name", `Plan view of ${(c.program || c.drawing).name}`);
  const use = (c.program || c.drawing).use;
  set("use", use.charAt(0).toUpperCase() + use.slice(1));
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
  if (narrow) c.style.height = Math.round(Math.min(Math.max(200, tall), Math.max(260, window.innerHeight * (p ? 0.44 : 0.58)))) + "px";
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

