// The frame: the wood, the path and the words brought up to date, as often as
// the screen shows them and no more often than something changed.

function frame(now) {
  asked = false;
  if (onScreen) return;
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
  state.wood.show(state.shown.wood);
  const wooden = state.wood.seek(state.k, state.known ? state.f : 0, WOOD_BUDGET);
  if (wooden || state.wood.pictureView === state.wood.view) state.wood.paint();
  const before = state.path.done && state.sidePath.done;
  const drawn = state.path.work(PATH_BUDGET) && state.sidePath.work(PATH_BUDGET);
  if (!before) state.edition++;
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

// Printing draws the same view once more, as wide as paper is and as fine as
// print, so that its words come out in a readable size.
const PAPER_WIDE = 720, PAPER_DENSITY = 3;
let onScreen = null;

function toPaper() {
  if (onScreen || !plan.view) return;
  const v = onScreen = plan.view, k = PAPER_WIDE / v.w;
  paperDensity = PAPER_DENSITY;
  plan.view = new View(v.s * k, v.ox, v.oy, PAPER_WIDE, v.h * k);
  state.edition++;
  if (state.program) {
    aim();
    state.wood.seek(state.k, state.known ? state.f : 0, Infinity);
    state.wood.paint();
    state.path.work(Infinity);
    state.sidePath.work(Infinity);
    drawSide(state);
  }
  drawPlan(state);
}

function fromPaper() {
  if (!onScreen) return;
  paperDensity = 0;
  aimed = null;
  setView(onScreen, fitted);
  onScreen = null;
}

