// Where the cutter goes: to a line, a block, a time or a finding, and along the
// program by itself.

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

