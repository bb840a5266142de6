// What the job takes and what it costs, by the shop's minutes and prices.

import { duration, fill, h } from "./dom.js";

const money = (v, cost) => `${(v || 0).toFixed(2)} ${cost.currency}`;

// costFigure is the figure among those beneath the star: the price, or where the
// shop has none, the time. star is the one that is shown, of an order.
export function costFigure(row, cost, star) {
  if (!cost) return row("cost", "Cost", null);
  const { order } = cost, time = `${duration(order.labour_minutes)} of your time`;
  if (!cost.currency) return row("cost", "Your time", duration(order.labour_minutes), "the shop names no prices yet");
  const one = star && cost.stars.find((s) => s.star === star);
  return row("cost", star ? "Price of the order" : "Price", money(order.price, cost), one ? `${money(one.price_each, cost)} for one ${star}; ${time}` : `costs ${money(order.cost, cost)}; ${time}`);
}

// costPanel shows what the sum is made of.
export function costPanel(model) {
  const body = h("div", { class: "cost" }), note = h("span", { class: "note" });
  model.addEventListener("whole", () => {
    const cost = model.stale ? null : model.whole.plan.cost;
    if (!cost) return;
    note.textContent = cost.currency ? money(cost.order.price, cost) : duration(cost.order.labour_minutes);
    fill(body, totals(cost), each(cost), lines(cost),
      h("p", { class: "hint" }, "What drives it: ", cost.drivers.map((d) => `${d.what} ${cost.order.cost ? Math.round(d.percent || 0) + " %" : duration(d.minutes)}`).join(", "), "."),
      cost.without_price.length > 0 && h("p", { class: "hint" }, `Left out, for want of a price: ${cost.without_price.join(", ")}.`),
      h("p", { class: "hint" }, cost.currency ? "Prices and minutes stand on the screen Shop and in shop.toml." : "No money: name a currency and prices on the screen Shop. The minutes are common practice until you give your own."));
  });
  return h("details", { class: "group", id: "cost" }, h("summary", {}, h("span", {}, "What it takes, and what it costs"), note), body);
}

function totals(cost) {
  const { order } = cost, row = (name, value) => h("div", {}, h("dt", {}, name), h("dd", {}, value));
  return h("dl", { class: "totals" }, row("Your time", duration(order.labour_minutes)), order.machine_minutes > 0 && row("The CNC runs", duration(order.machine_minutes)), row("Glue dries", duration(order.drying_minutes)),
    cost.currency && [row("Cost", money(order.cost, cost)), row(`Price, with ${cost.fees_percent} % fees and ${cost.margin_percent} % margin`, money(order.price, cost))]);
}

// each is what one star of a kind comes to.
function each(cost) {
  if (!cost.currency) return null;
  return table("One star of each kind", ["Star", "Made", "Costs", "Price"], cost.stars.map((s) => [s.star, String(s.count), money(s.cost_each, cost), money(s.price_each, cost)]));
}

// lines are what all stars together take, each thing once.
function lines(cost) {
  const all = new Map();
  for (const l of cost.lines) {
    const key = `${l.what}\0${l.unit}`, sum = all.get(key) || { what: l.what, unit: l.unit, amount: 0, money: 0 };
    sum.amount += l.count * l.each;
    sum.money += l.money || 0;
    all.set(key, sum);
  }
  const rows = [...all.values()].map((l) => [l.what, l.unit === "min" ? duration(l.amount) : `${figure(l.amount)} ${l.unit}`, ...(cost.currency ? [l.money ? money(l.money, cost) : ""] : [])]);
  return table("What it is made of", ["What", "How much", ...(cost.currency ? ["Money"] : [])], rows);
}

const figure = (v) => String(Number(v.toPrecision(4)));

// table is a table that may be wider than a phone.
function table(name, heads, rows) {
  return h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": name }, h("table", {}, h("caption", {}, name), h("thead", {}, h("tr", {}, heads.map((t) => h("th", { scope: "col" }, t)))),
    h("tbody", {}, rows.map(([first, ...rest]) => h("tr", {}, h("th", { scope: "row" }, first), rest.map((t) => h("td", {}, t)))))));
}
