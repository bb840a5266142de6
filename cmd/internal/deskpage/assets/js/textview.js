// The job file as text, beside the form.

import { fill, h } from "./dom.js";

// textView is the screen of the job file.
export function textView(desk) {
  const { model } = desk;
  const area = h("textarea", { id: "toml", spellcheck: "false", autocomplete: "off", autocapitalize: "off", wrap: "off", "aria-describedby": "toml-errors", "aria-label": "The job file",
    oninput: () => model.setSource(area.value) });
  const errors = h("ol", { class: "found", id: "toml-errors" });
  const name = h("span", { class: "note" });
  const write = () => { if (!view.hidden && area.value !== model.source && (document.activeElement !== area || model.lastPath !== "\0text")) area.value = model.source; };
  const mend = () => {
    if (view.hidden || !model.glance) return;
    name.textContent = model.name;
    fill(errors, (model.glance.errors || []).map((e) => h("li", {}, h("button", { type: "button", onclick: () => goTo(area, e.line) }, e.text))));
  };
  const view = h("section", { class: "view", id: "view-text" },
    h("h2", {}, "The job file ", name),
    h("p", { class: "lead" }, "Yours, word for word. The form changes only the values that you change; comments and order stay. You can write here as well."),
    errors, area);
  model.addEventListener("change", write);
  model.addEventListener("glance", mend);
  desk.addEventListener("screen", () => { write(); mend(); });
  return view;
}

// goTo puts the cursor on a line.
function goTo(area, line) {
  const lines = area.value.split("\n"), n = Math.max(1, line);
  const from = lines.slice(0, n - 1).reduce((sum, l) => sum + l.length + 1, 0);
  area.focus();
  area.setSelectionRange(from, from + (lines[n - 1] || "").length);
  area.scrollTop = (n - 4) * parseFloat(getComputedStyle(area).lineHeight);
}
