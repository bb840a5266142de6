// The page's controls, and its start.

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
  window.addEventListener("beforeprint", toPaper);
  window.addEventListener("afterprint", fromPaper);
}

function resized() {
  const r = plan.canvas.getBoundingClientRect();
  stripSpoilt = true;
  aimed = null;
  if (!plan.view || onScreen || r.width < 10) return;
  if (fitted) fitView();
  else setView(plan.view.resized(Math.max(60, r.width), Math.max(60, r.height)));
}

if (all.length) {
  wire();
  choose(0);
} else {
  tell("This packet holds no program and no drawing.");
}
