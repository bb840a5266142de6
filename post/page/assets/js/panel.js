// What stands beside the drawing in words: the choice of program, the block
// being cut, the findings, and the key with its switches.

const all = [...packet.programs.map((p) => ({ program: p })), ...packet.drawings.map((d) => ({ drawing: d }))];

const set = (id, text) => {
  const e = $(id);
  if (e.textContent !== text) e.textContent = text;
};

const count = (n, one, many) => n === 1 ? "1 " + one : `${n} ${many}`;

function fillPick() {
  const groups = [["Programs", (c) => c.program], ["Drawings", (c) => c.drawing]];
  for (const [label, of] of groups) {
    const g = document.createElement("optgroup");
    g.label = label;
    all.forEach((c, i) => {
      const it = of(c);
      if (!it) return;
      const o = document.createElement("option"), n = it.findings.length;
      o.value = String(i);
      o.textContent = it.name + (n ? ` \u25B2 ${count(n, "finding", "findings")}` : "");
      g.append(o);
    });
    if (g.children.length) $("pick").append(g);
  }
}

// showBlock writes what the cutter does now.
function showBlock(state) {
  const p = state.program, { k, known } = state, unit = p.unit, at = known ? state.at : beginOf(p);
  set("block-line", `Line ${state.line} of ${p.lines.length}`);
  set("block-text", p.lines[state.line - 1] || "");
  set("at-x", at ? position(at.x, unit) : "not set");
  set("at-y", at ? position(at.y, unit) : "not set");
  set("at-z", at ? position(at.z, unit) : "not set");
  set("motion", known ? motionWords(p, k, at, state.unit) : at ? "begins here" : "nothing moves");
  set("feed", !known ? "none" : p.kind[k] === RAPID ? "rapid" : speed(p.feed[k], unit));
  set("elapsed", minutes(state.time));
  set("remaining", minutes(Math.max(0, p.total - state.time)));
}

// beginOf is where a program begins: over its first cut, as high as its first move
// goes; null where nothing moves.
function beginOf(p) {
  if (!p.n) return null;
  const cut = p.kind.findIndex((kind) => kind !== RAPID), k = cut < 0 ? 0 : cut;
  return { x: p.x0[k], y: p.y0[k], z: p.z1[0] };
}

// zeroWords is what the head of a program says of its zero, "" where it says
// nothing: a head goes on over several lines.
function zeroWords(p) {
  const said = [];
  for (const l of p.lines) {
    const text = l.replace(/^[(;]\s*|\)$/g, "");
    if (text === l && said.length) break;
    if (said.length && /^[A-Z][A-Za-z ]{0,40}: /.test(text)) break;
    if (said.length || text.startsWith("Zero: ")) said.push(text.replace("Zero: ", ""));
  }
  return said.join(" ");
}

function motionWords(p, k, at, unit) {
  if (p.kind[k] === RAPID) return at.z < 0 ? "rapid, below Z0" : "rapid, clear of the wood";
  const how = p.kind[k] >= ARC_CW ? "arc" : p.z1[k] < p.z0[k] ? "sinking" : p.z1[k] > p.z0[k] ? "rising" : "straight";
  return at.z < 0 ? `${how}, ${size(-at.z, unit)} deep` : `${how}, above the wood`;
}

function showProgram(state) {
  for (const dt of document.querySelectorAll("dt[data-of]")) dt.textContent = `${dt.dataset.of} ${state.program.unit}${dt.dataset.per || ""}`;
  const p = state.program, through = p.stock > 0 ? `, ${size(p.stock, state.unit)} thick` : "";
  set("cutter", p.unit === "in" ? size(p.cutter, "in") : trim(p.cutter.toFixed(3)) + " mm");
  set("surface", (zeroWords(p) || `Z0 ${p.surface || "the surface of the wood"}`) + through);
  set("file", `${p.file}, numbers in ${p.unit === "in" ? "inches" : "millimetres"}`);
}

function showDrawing(state) {
  const d = state.drawing, unit = state.unit;
  if (d.bar) {
    const long = Math.hypot(d.bar.b[0] - d.bar.a[0], d.bar.b[1] - d.bar.a[1]), off = long - d.bar.stated;
    const verdict = Math.abs(off) < 0.005 ? "\u2713 they agree" : `\u25B2 off by ${size(off, unit)}`;
    set("bar", `says ${size(d.bar.stated, unit)}, measures ${size(long, unit)}: ${verdict}`);
  } else {
    set("bar", "\u25B2 none found in this drawing");
  }
  set("unit", d.unit_mm > 0 ? `${trim(d.unit_mm.toFixed(4))} mm` : "not stated");
  const b = drawingBox(d, true);
  set("size", b.x0 > b.x1 ? "nothing drawn" : `${size(b.x1 - b.x0, unit)} \u00D7 ${size(b.y1 - b.y0, unit)}`);
  set("drawing-file", d.file);
}

// drawingBox is the box of a drawing, or of its outlines alone.
function drawingBox(d, outlines) {
  const b = noBox();
  for (const c of d.contours) growBy(b, c.c);
  if (outlines) return b;
  for (const l of d.lines) {
    grow(b, ...l.a);
    grow(b, ...l.b);
  }
  for (const t of d.texts) grow(b, ...t.at);
  if (b.x0 > b.x1) grow(b, 0, 0);
  return b;
}

const MOST_FOUND = 200; // findings listed; more are counted

function showFindings(state, choose) {
  const list = $("found"), own = state.findings;
  list.replaceChildren(...own.slice(0, MOST_FOUND).map((f, i) => findingItem(f, i, choose)));
  const rest = own.length > MOST_FOUND ? ` The first ${MOST_FOUND} are listed.` : "";
  set("found-none", own.length ? count(own.length, "finding", "findings") + " here." + rest : "\u2713 The check found nothing wrong here.");
  const others = all.map((c, i) => ({ i, n: (c.program || c.drawing).findings.length })).filter((c) => c.i !== state.index && c.n);
  const button = $("found-elsewhere"), next = others.find((c) => c.i > state.index) || others[0];
  button.hidden = !next;
  if (next) {
    const it = all[next.i].program || all[next.i].drawing;
    button.textContent = `${count(next.n, "finding", "findings")} in ${it.name}`;
    button.dataset.index = String(next.i);
  }
}

function findingItem(f, i, choose) {
  const li = document.createElement("li"), b = document.createElement("button");
  b.type = "button";
  const sign = document.createElement("span"), text = document.createElement("span");
  sign.className = "sign found";
  sign.textContent = "\u25B2" + (i + 1);
  text.textContent = (f.line ? `Line ${f.line}: ` : "") + f.what + (f.in_wood ? ". In wood: " + f.in_wood : "");
  b.append(sign, text);
  b.addEventListener("click", () => choose(i));
  li.append(b);
  return li;
}

function markFinding(i) {
  [...$("found").children].forEach((li, j) => li.firstChild.setAttribute("aria-current", String(i === j)));
}

// fillKey lists what is drawn, with a sample of each and a switch.
function fillKey(state, changed) {
  const rows = state.program ? keyOfProgram(state.program) : keyOfDrawing(state.drawing);
  $("key").replaceChildren(...rows.map((r) => keyRow(r, state, changed)), ...partNames(state.program));
}

// partNames lists the parts of a sheet by the numbers that they have on it.
function partNames(p) {
  const parts = p ? p.shapes.filter((s) => s.number) : [];
  if (parts.length < 2) return [];
  const li = document.createElement("li"), by = new Map();
  for (const s of parts) by.set(s.name, [...(by.get(s.name) || []), s.number]);
  li.className = "parts";
  li.textContent = [...by].map(([name, n]) => `${n.length > 3 ? `${n[0]} to ${n[n.length - 1]}` : n.join(", ")} ${name}`).join("; ");
  return [li];
}

function keyOfProgram(p) {
  const rows = [
    { name: "path", label: "Cuts, darker is deeper", sample: "cut" },
    { name: "rapids", label: "Rapids", sample: "rapid" },
    { name: "wood", label: `Wood removed, to ${size(-p.deepest, packet.unit)}`, sample: "wood" },
  ];
  const labels = { "slot outline": "Slot wanted", "part": "Parts", "hole": "Holes", "tab": "Tabs", "screw zone": "Screws, no cut",
    "facet": "Edge of the facet", "sheet": "Edge of the sheet" };
  for (const role of Object.keys(labels)) {
    if (p.shapes.some((s) => s.role === role)) rows.push({ name: role, label: labels[role], sample: role });
  }
  return rows;
}

function keyOfDrawing(d) {
  const names = [...new Set([...d.contours, ...d.lines, ...d.texts].map((e) => e.layer))];
  const what = { OUTLINE: "cut through", HOLE: "cut through, before the outline", GUIDE: "never cut", TEXT: "never cut" };
  const order = ["OUTLINE", "HOLE", "GUIDE", "TEXT"];
  const rank = (n) => order.includes(n) ? order.indexOf(n) : order.length;
  return names.sort((a, b) => rank(a) - rank(b)).map((n) => {
    const c = d.contours.filter((e) => e.layer === n).length, l = d.lines.filter((e) => e.layer === n).length, t = d.texts.filter((e) => e.layer === n).length;
    const parts = [[c, "contour", "contours"], [l, "line", "lines"], [t, "text", "texts"]].filter((x) => x[0]).map((x) => count(...x));
    return { name: n, label: `Layer ${n}: ${what[n] ? what[n] + "; " : ""}${parts.join(", ")}`, sample: n };
  });
}

function keyRow(r, state, changed) {
  const li = document.createElement("li"), label = document.createElement("label"), box = document.createElement("input");
  box.type = "checkbox";
  box.checked = state.shown[r.name] !== false;
  box.addEventListener("change", () => {
    state.shown[r.name] = box.checked;
    changed(r.name);
  });
  const pic = sheet(1, 1), text = document.createElement("span");
  pic.setAttribute("aria-hidden", "true");
  drawSample(pic, r.sample);
  text.textContent = r.label;
  label.append(box, pic, text);
  li.append(label);
  return li;
}

function drawSample(canvas, kind) {
  const w = 56, h = 22, ctx = ready(canvas, w, h, 2), y = h / 2;
  ctx.strokeStyle = ctx.fillStyle = INK;
  if (kind === "cut") {
    for (let i = 0; i < 3; i++) {
      ctx.strokeStyle = pathTone(i / 2);
      ctx.lineWidth = 1.8;
      line(ctx, 4, 4 + i * 7, w - 4, 4 + i * 7);
    }
    head(ctx, w / 2 + 4, 18, 0, 8, true);
  } else if (kind === "rapid") {
    ctx.strokeStyle = SOFT;
    ctx.lineWidth = 1.3;
    ctx.setLineDash([6, 4]);
    line(ctx, 9, y, w - 4, y);
    ctx.setLineDash([]);
    ring(ctx, 5.5, y, 3.5);
    ctx.stroke();
    head(ctx, w / 2 + 6, y, 0, 9, false);
  } else if (kind === "wood") {
    for (let x = 3; x < w - 3; x++) {
      ctx.fillStyle = tone(mix(SHALLOW, DEEP, (x - 3) / (w - 6)));
      ctx.fillRect(x, 3, 1, h - 6);
    }
    ctx.lineWidth = 1.2;
    ctx.strokeStyle = tone(EDGE);
    ctx.strokeRect(3, 3, w - 6, h - 6);
  } else {
    const style = lineOf(kind);
    setLine(ctx, style);
    ctx.beginPath();
    ctx.rect(4, 4, w - 8, h - 8);
    if (style.fill) {
      ctx.fillStyle = style.fill;
      ctx.fill();
    }
    ctx.stroke();
    ctx.setLineDash([]);
    ctx.lineWidth = 0.8;
    if (style.hatch) hatch(ctx, { x0: 4, y0: 4, x1: w - 4, y1: h - 4 }, style.hatch, style.both);
    if (style.cross) {
      line(ctx, w / 2 - 5, y, w / 2 + 5, y);
      line(ctx, w / 2, y - 5, w / 2, y + 5);
    }
  }
}
