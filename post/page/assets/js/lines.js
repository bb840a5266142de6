// The lines of the file: only those in sight are on the page, so that a long
// program costs no more than a short one.

const ROW = 30; // pixels
const TALLEST = 8e6; // pixels a browser can surely scroll over

class Lines {
  constructor(box, choose) {
    this.box = box;
    this.choose = choose;
    this.field = document.createElement("div");
    this.field.setAttribute("role", "presentation");
    this.field.className = "field";
    box.append(this.field);
    this.rows = [];
    this.texts = [];
    this.current = 0;
    this.seen = 0; // height of the box, and how far it is scrolled
    this.scrolled = 0;
    box.addEventListener("scroll", () => {
      this.scrolled = box.scrollTop;
      this.draw();
    });
    box.addEventListener("click", (e) => {
      const row = e.target.closest("[data-line]");
      if (row) choose(Number(row.dataset.line));
    });
    box.addEventListener("keydown", (e) => this.key(e));
    const measured = () => {
      this.seen = box.clientHeight;
      this.scrolled = box.scrollTop;
      this.fit();
    };
    new ResizeObserver(measured).observe(box);
    window.addEventListener("resize", measured); // a turned phone may scroll it back
  }

  set(p, findings) {
    this.texts = p.lines;
    this.stops = new Set(p.stops);
    this.signs = new Map();
    findings.forEach((f, i) => {
      if (f.line) this.signs.set(f.line, [...(this.signs.get(f.line) || []), i + 1]);
    });
    this.tall = Math.min(TALLEST, this.texts.length * ROW);
    this.field.style.height = this.tall + "px";
    this.scrollTo(0);
    this.current = 0;
    this.draw();
  }

  scrollTo(y) {
    this.scrolled = y;
    this.box.scrollTop = y;
  }

  // top is the line at the upper edge, with its part out of sight.
  top() {
    const room = this.tall - this.seen, most = Math.max(0, this.texts.length - this.seen / ROW);
    return room > 0 ? Math.min(1, this.scrolled / room) * most : 0;
  }

  // show marks a line as the one being cut and brings it into sight.
  show(line) {
    if (line === this.current) return;
    this.current = line;
    this.fit();
  }

  // fit brings the current line into sight, after the box changed too.
  fit() {
    const line = this.current, fit = this.seen / ROW, top = this.top();
    if (fit > 1 && (line - 1 < top || line > top + fit)) {
      const want = Math.max(0, Math.min(line - 1 - fit / 3, this.texts.length - fit));
      const most = this.texts.length - fit;
      if (most > 0) this.scrollTo(Math.round(want / most * (this.tall - this.seen)));
    }
    this.draw();
  }

  draw() {
    const count = Math.ceil(this.seen / ROW) + 1;
    while (this.rows.length < count) this.rows.push(this.field.appendChild(newRow()));
    const top = this.top(), first = Math.floor(top), y = this.scrolled - (top - first) * ROW;
    this.rows.forEach((row, i) => {
      const line = first + i + 1, out = i >= count || line > this.texts.length;
      row.hidden = out;
      if (!out) this.fill(row, line, y + i * ROW);
    });
    const at = this.rows.find((r) => !r.hidden && Number(r.dataset.line) === this.current);
    if (at) this.box.setAttribute("aria-activedescendant", at.id);
    else this.box.removeAttribute("aria-activedescendant");
  }

  fill(row, line, y) {
    row.style.transform = `translateY(${y}px)`;
    const on = line === this.current;
    if (row.dataset.line !== String(line) || row.texts !== this.texts) {
      row.texts = this.texts;
      row.dataset.line = String(line);
      row.id = "line-" + line;
      row.setAttribute("aria-posinset", String(line));
      row.setAttribute("aria-setsize", String(this.texts.length));
      const signs = this.signs.get(line), text = this.texts[line - 1];
      row.children[1].textContent = String(line);
      row.children[2].textContent = text;
      row.children[3].textContent = signs ? "\u25B2" + signs.join(" \u25B2") : this.stops.has(line) ? "stop" : "";
      row.children[3].className = signs ? "sign found" : "sign";
      row.classList.toggle("said", text.startsWith("("));
    }
    row.setAttribute("aria-selected", String(on));
    row.children[0].textContent = on ? "\u25B6" : "";
  }

  key(e) {
    const page = Math.max(1, Math.floor(this.seen / ROW) - 1), last = this.texts.length;
    const to = { ArrowDown: this.current + 1, ArrowUp: this.current - 1, PageDown: this.current + page,
      PageUp: this.current - page, Home: 1, End: last }[e.key];
    if (to === undefined) return;
    e.preventDefault();
    const line = Math.min(last, Math.max(1, to));
    this.show(line);
    this.choose(line);
  }
}

function newRow() {
  const row = document.createElement("div");
  row.setAttribute("role", "option");
  row.className = "row-of-file";
  for (const c of ["now", "number", "text", "sign"]) {
    const s = document.createElement("span");
    s.className = c;
    row.append(s);
  }
  return row;
}
