// Fields of the form: what is typed goes to the job as it is typed, and what is
// wrong stands beside it with the value that works.

import { button, fill, h, newID } from "./dom.js";
import { asked } from "./fields.js";

// Field is one key of the job file on the page.
export class Field {
  constructor(model, spec) {
    this.model = model;
    this.spec = spec;
    this.id = newID("field");
    this.input = this.control();
    this.wrong = h("div", { class: "wrong", id: this.id + "-wrong" });
    this.hint = h("p", { class: "hint", id: this.id + "-hint" });
    const label = spec.kind === "yes"
      ? h("label", { class: "tick", for: this.id }, this.input, h("span", {}, spec.label))
      : [h("label", { for: this.id }, spec.label), this.input];
    this.element = h("div", { class: "field", "data-path": spec.path.join(".") }, label, this.hint, this.wrong);
    model.addEventListener("glance", () => { if (!this.folded()) this.show(); });
  }

  // folded reports whether nobody sees the field; it is shown when its part of
  // the form is opened.
  folded() {
    const part = this.element.closest("details");
    return part && !part.open && !this.element.classList.contains("is-wrong") && this.model.errorsAt(this.spec.path).length === 0;
  }

  control() {
    const { kind, choices } = this.spec, about = { id: this.id, "aria-describedby": `${this.id}-hint ${this.id}-wrong` };
    if (kind === "yes") return h("input", { type: "checkbox", ...about, onchange: () => this.typed(String(this.input.checked), true) });
    if (kind === "choice") {
      return h("select", { ...about, onchange: () => this.typed(this.input.value, this.spec.bare) },
        h("option", { value: "" }, "usual"), choices.map(([v, label]) => h("option", { value: v }, label)));
    }
    const mode = { whole: "numeric", number: "decimal" }[kind] || "text";
    return h("input", { type: "text", inputmode: mode, autocomplete: "off", spellcheck: "false", ...about,
      oninput: () => this.typed(this.input.value), onblur: () => this.show() });
  }

  // typed takes in what stands in the field now. bare leaves quotes off.
  typed(text, bare = false) {
    const { path, kind, list, of } = this.spec;
    if (list && !this.model.value(path)) { // a list is written whole the first time
      const all = Array.from({ length: of }, (_, i) => (String(i) === path.at(-1) ? text : this.model.value([...list.split("."), String(i)])?.says || text));
      if (text.trim()) this.model.edit({ path: list.split("."), value: `[${all.map((t) => JSON.stringify(t)).join(", ")}]` });
      return;
    }
    if (list && !text.trim()) { this.model.edit({ path: list.split(".") }); return; }
    const at = this.model.at(path);
    if (kind === "names") {
      const names = text.split(",").map((t) => t.trim()).filter(Boolean);
      // What stands beside these names has no sense without them.
      if (names.length === 0) this.model.edit({ path: at }, ...asked(path).map((p) => ({ path: this.model.at(p) })));
      else this.model.edit({ path: at, value: `[${names.map((t) => JSON.stringify(t)).join(", ")}]` });
      return;
    }
    if (kind === "words" || kind === "choice" && !bare) this.model.edit({ path: at, words: text });
    else if (bare && text) this.model.edit({ path: at, value: text });
    else this.model.edit({ path: at, typed: text });
  }

  // names are those of a list, as the field shows them.
  names() {
    const { path } = this.spec, all = [];
    for (let v; (v = this.model.value([...path, String(all.length)]));) all.push(v.says);
    return all.length ? { says: all.join(", ") } : this.model.value(path);
  }

  // show brings the field up to what the job says.
  show() {
    const { path, kind, list, beside } = this.spec, v = kind === "names" ? this.names() : this.model.value(path), errors = this.model.errorsAt(path);
    const usual = this.model.defaultOf(list ? list.split(".") : path);
    const given = (at) => this.model.value(at) || this.model.value([...at, "0"]);
    if (beside) this.element.hidden = !given(beside.split(".")) && !v && errors.length === 0;
    if (document.activeElement !== this.input || kind === "yes" || kind === "choice" || this.model.lastPath === "") {
      if (kind === "yes") this.input.checked = (v?.says ?? usual?.value) === "true";
      else if (this.input.value !== (v?.says ?? "")) this.input.value = v?.says ?? "";
    }
    if (kind === "choice") {
      const first = this.input.options[0];
      if (first.value === "") first.textContent = usual && !v ? `usual: ${usual.value}` : "usual";
    } else if (kind !== "yes") {
      this.input.placeholder = usual ? usual.value : "";
    }
    const hint = [this.spec.hint, usual && !v && usual.why ? `Left empty: ${usual.value}, ${usual.why}.` : ""].filter(Boolean).join(" ");
    if (this.hint.textContent !== hint) this.hint.textContent = hint;
    showErrors(this.model, this.wrong, errors);
    if (errors.length > 0) this.input.setAttribute("aria-invalid", "true"); else this.input.removeAttribute("aria-invalid");
    this.element.classList.toggle("is-wrong", errors.length > 0);
    return errors.length;
  }
}

// showErrors writes errors with the button that puts in the value that works.
export function showErrors(model, into, errors) {
  const key = JSON.stringify(errors.map((e) => [e.text, e.label]));
  if (into.dataset.shows === key) return;
  into.dataset.shows = key;
  fill(into, errors.map((e) => h("div", { class: "error" },
    h("p", {}, capital(e.why) + (e.got ? ` (got ${e.got})` : "") + ".", !e.fix && e.would ? ` Try ${e.would}.` : ""),
    e.fix && button(["Apply ", h("code", {}, e.label)], () => { model.lastPath = ""; model.edit(...e.fix); }, { class: "apply" }))));
}

export function capital(t) { return t.charAt(0).toUpperCase() + t.slice(1); }

// group makes a folded part of the form, which opens itself when something in
// it is wrong.
export function group(model, spec, fields) {
  const note = h("span", { class: "note" });
  const box = h("details", { class: "group" }, h("summary", {}, h("span", {}, spec.name), note),
    h("div", { class: "fields" }, fields.map((one) => one.element)));
  box.addEventListener("toggle", () => { if (box.open) for (const one of fields) one.show(); });
  let was = 0;
  model.addEventListener("glance", () => {
    const wrong = fields.reduce((n, one) => n + model.errorsAt(one.spec.path).length, 0);
    const given = fields.filter((one) => (one.spec.kind === "names" ? one.names() : model.value(one.spec.path))).length;
    note.textContent = wrong ? `${wrong} to mend` : given ? `${given} given` : "as usual";
    note.classList.toggle("mend", wrong > 0);
    if (wrong > was) box.open = true;
    was = wrong;
    box.hidden = spec.needs === "slot" && model.alone && Boolean(model.good) && !model.good.numbers.slot && wrong === 0;
  });
  return box;
}
