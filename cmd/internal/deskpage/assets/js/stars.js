// The stars of an order: which one the form and the picture show, its name, one
// more, a copy, one fewer.

import { button, fill, h, newID, plural } from "./dom.js";
import { NAME } from "./fields.js";
import { Field } from "./form.js";

// starsPanel is the part of the form that an order has above its questions; begin
// is the button that makes one of a single star.
export function starsPanel(model) {
  const list = h("div", { class: "ways stars", role: "radiogroup", "aria-label": "Which star?" }), name = new Field(model, NAME);
  const id = newID("scope");
  const scope = h("select", { id, onchange: () => model.choose(model.star, scope.value === "one") }, h("option", { value: "one" }), h("option", { value: "all" }, "every star that does not say otherwise"));
  const names = () => model.stars.map((s) => s.name);
  const change = async (made) => { // by what the job is once nothing is under way
    await model.settled();
    const { edits, star } = made();
    Object.assign(model, { star, lastPath: "" });
    model.edit(...edits);
  };
  const add = () => change(() => {
    const at = String(model.stars.length), next = nextName("star", names()), key = (k) => ["star", at, k];
    return { star: Number(at), edits: [{ path: key("name"), words: next }, { path: key("board_width"), typed: model.good?.says.board_width || "100 mm" }, { path: key("count"), typed: "1" }] };
  });
  const copy = () => change(() => copied(model.star, nextName(model.stars[model.star].name, names())));
  const remove = () => change(() => ({ star: Math.min(model.star, model.stars.length - 2), edits: [{ path: ["star", String(model.star)] }] }));
  const bin = button("Remove", remove, { id: "star-remove" }), twin = button("Copy", copy, { id: "star-copy" });
  const element = h("fieldset", { class: "order", hidden: true }, h("legend", {}, "The stars of this order"), list,
    h("div", { class: "row" }, button("Add a star", add, { id: "star-add" }), twin, bin), name.element,
    h("div", { class: "field" }, h("label", { for: id }, "Slots, blanks and splines are set for"), scope));
  const begin = button("Stars of several sizes in this job", () => change(() => {
    const { edits, star } = copied(0, "star-2");
    return { star, edits: [{ path: ["star"], list: true }, { path: ["star", "0", "name"], words: "star-1" }, ...edits] };
  }), { id: "star-several" });
  const cards = [];
  model.addEventListener("glance", () => {
    const { stars, star, good } = model, known = good?.stars.length === stars.length ? good.stars : [];
    element.hidden = stars.length === 0;
    begin.hidden = stars.length > 0;
    if (stars.length === 0) return;
    if (cards.length !== stars.length) {
      cards.splice(0, cards.length, ...stars.map((_, i) => card(model, i)));
      fill(list, cards.map((c) => c.element));
    }
    stars.forEach((s, i) => cards[i].show(s.name || `star ${i + 1}`, known[i], i === star));
    const now = stars[star].name || "this star";
    scope.options[0].textContent = `${now} alone`;
    scope.value = model.alone ? "one" : "all";
    twin.setAttribute("aria-label", `Copy ${now}`);
    bin.setAttribute("aria-label", `Remove ${now}`);
    bin.disabled = stars.length === 1;
  });
  return { element, begin };
}

// copied are the changes by which a star stands twice.
function copied(star, name) {
  return { star: star + 1, edits: [{ path: ["star", String(star)], copy: true }, { path: ["star", String(star + 1), "name"], words: name }] };
}

// card is one star of the list.
function card(model, i) {
  const radio = h("input", { type: "radio", name: "order-star", value: String(i), onchange: () => model.choose(i) });
  const name = h("strong"), brings = h("span", { class: "brings" });
  return {
    element: h("label", { class: "way card" }, radio, h("span", {}, name, brings)),
    show(called, known, chosen) {
      const wrong = model.glance.errors.filter((e) => e.place === i + 1).length;
      radio.checked = chosen;
      name.textContent = called;
      brings.textContent = wrong ? `${plural(wrong, "thing")} to mend` : known ? `${known.width}, ${plural(known.count, "star")}` : "";
      brings.classList.toggle("mend", wrong > 0);
    },
  };
}

// nextName is a name that no star has yet: the same with the next number.
function nextName(name, taken) {
  const longest = 24, stem = name.replace(/-\d+$/, "").slice(0, longest - 3), used = taken.map((t) => t.toLowerCase());
  for (let n = 2; ; n++) if (!used.includes(`${stem}-${n}`.toLowerCase())) return `${stem}-${n}`;
}
