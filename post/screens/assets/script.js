"use strict";
(() => {
  const screens = [...document.querySelectorAll(".screen")], body = document.body;
  const pick = document.getElementById("pick"), back = document.getElementById("back"), on = document.getElementById("on");
  const key = "starwright bench " + body.dataset.key;

  // What is ticked stays in this browser; one that keeps nothing still works.
  let kept = {};
  try { kept = JSON.parse(localStorage.getItem(key)) || {}; } catch { kept = {}; }
  const keep = (name, value) => {
    kept[name] = value;
    try { localStorage.setItem(key, JSON.stringify(kept)); } catch { /* a private window */ }
  };

  let now = 0;
  const show = (i, turned) => {
    now = Math.min(Math.max(i, 0), screens.length - 1);
    screens.forEach((s, k) => s.classList.toggle("now", k === now));
    pick.value = String(now);
    back.disabled = now === 0;
    on.disabled = now === screens.length - 1;
    keep("at", now);
    if (turned) {
      scrollTo(0, 0);
      screens[now].querySelector("h2").focus({ preventScroll: true });
    }
  };
  back.addEventListener("click", () => show(now - 1, true));
  on.addEventListener("click", () => show(now + 1, true));
  pick.addEventListener("change", () => show(Number(pick.value), true));

  for (const box of document.querySelectorAll("[data-tick]")) {
    box.checked = kept[box.dataset.tick] === true;
    box.addEventListener("change", () => {
      keep(box.dataset.tick, box.checked);
      counted(box.closest(".count"));
    });
  }
  const counted = (c) => {
    if (!c) return;
    const boxes = [...c.querySelectorAll("[data-tick]")], n = Number(c.dataset.n);
    const have = boxes.length ? boxes.filter((b) => b.checked).length : Number(kept["n" + c.dataset.count] || 0);
    const out = c.querySelector("output");
    if (out) out.textContent = String(have);
    c.classList.toggle("done", have >= n);
  };
  for (const c of document.querySelectorAll(".count")) {
    counted(c);
    for (const b of c.querySelectorAll("[data-by]")) {
      b.addEventListener("click", () => {
        const name = "n" + c.dataset.count, n = Number(kept[name] || 0) + Number(b.dataset.by);
        keep(name, Math.min(Math.max(n, 0), Number(c.dataset.n)));
        counted(c);
      });
    }
  }

  const number = (text) => {
    const t = text.trim().replace(",", "."), m = /^(?:(\d+)[ -])?(\d+)\/(\d+)$/.exec(t);
    return m ? Number(m[1] || 0) + Number(m[2]) / Number(m[3]) : /^\d*\.?\d+$/.test(t) ? Number(t) : NaN;
  };
  const answer = (form) => {
    const d = form.dataset, out = form.querySelector("output"), text = form.elements.gap.value;
    if (!text.trim()) { out.textContent = ""; return; }
    const gap = number(text) * Number(d.unit);
    if (!(gap >= 0)) { out.textContent = "Write the gap as a number, for example " + (d.name === "in" ? "1/32" : "0.8") + "."; return; }
    const rows = [...form.querySelectorAll("tr")].filter((r) => r.dataset.at === form.elements.at.value);
    const far = (r) => Math.abs(Number(r.dataset.mm) - gap);
    const best = rows.reduce((a, b) => (far(b) < far(a) ? b : a));
    const step = Number(rows[0].dataset.mm);
    if (gap < step / 2) { out.textContent = "So small a gap closes in the glue-up: leave the set-up as it is."; return; }
    if (gap > Number(rows[rows.length - 1].dataset.mm) + step) { out.textContent = "So wide a gap is not in this list: look for a wrong mark, or ask the program: starwright fit."; return; }
    out.textContent = best.querySelector("th").textContent + ": " + best.querySelector("td").textContent;
  };
  for (const form of document.querySelectorAll(".fit")) {
    form.addEventListener("submit", (e) => e.preventDefault());
    form.addEventListener("input", () => answer(form));
  }

  body.classList.add("paged");
  document.querySelector(".pick").hidden = false;
  document.querySelector(".turn").hidden = false;
  show(Number(kept.at) || 0, false);
})();
