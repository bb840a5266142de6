// Making elements. Texts are always texts: nothing here reads HTML.

// h makes an element: attributes, then children. An attribute that begins with
// "on" is a listener, false and null leave one out.
export function h(tag, attrs = {}, ...children) {
  const e = document.createElement(tag);
  for (const [k, v] of Object.entries(attrs)) {
    if (v === false || v === null || v === undefined) continue;
    if (k.startsWith("on")) e.addEventListener(k.slice(2), v);
    else if (k === "value") e.value = v;
    else if (k === "checked" || k === "disabled" || k === "hidden" || k === "open" || k === "readOnly" || k === "multiple") e[k] = Boolean(v);
    else e.setAttribute(k, v === true ? "" : v);
  }
  e.append(...children.flat(Infinity).filter((c) => c !== null && c !== undefined && c !== false));
  return e;
}

// fill puts children in the place of those that an element has.
export function fill(e, ...children) {
  e.replaceChildren(...children.flat(Infinity).filter((c) => c !== null && c !== undefined && c !== false));
  return e;
}

const SVG = "http://www.w3.org/2000/svg";

// s makes an element of a drawing.
export function s(tag, attrs = {}, ...children) {
  const e = document.createElementNS(SVG, tag);
  for (const [k, v] of Object.entries(attrs)) if (v !== null && v !== false) e.setAttribute(k, v);
  e.append(...children.flat(Infinity));
  return e;
}

// svgOf turns the text of a drawing into an element. The engine has written it;
// scripts in it would not run in any case, by the page's policy.
export function svgOf(text) {
  const doc = new DOMParser().parseFromString(text, "image/svg+xml");
  if (doc.querySelector("parsererror")) return null;
  return document.adoptNode(doc.documentElement);
}

let lastID = 0;
// newID is an id that nothing else on the page has.
export function newID(prefix) { return `${prefix}-${++lastID}`; }

// button makes a button.
export function button(label, onclick, attrs = {}) {
  return h("button", { type: "button", onclick, ...attrs }, label);
}

// plural words a count.
export function plural(n, one, many) { return n === 1 ? `1 ${one}` : `${n} ${many || one + "s"}`; }

// duration words minutes as hours and minutes.
export function duration(minutes) {
  const m = Math.round(minutes);
  if (minutes > 0 && m < 1) return "under 1 min";
  if (m < 60) return `${m} min`;
  return `${Math.floor(m / 60)} h ${String(m % 60).padStart(2, "0")} min`;
}

// saveAs has the browser save bytes as a file.
export function saveAs(name, data, type = "application/octet-stream") {
  const url = URL.createObjectURL(new Blob([data], { type }));
  const a = h("a", { href: url, download: name });
  document.body.append(a);
  a.click();
  a.remove();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
}

const types = { html: "text/html", pdf: "application/pdf", svg: "image/svg+xml", png: "image/png", txt: "text/plain;charset=utf-8",
  nc: "text/plain;charset=utf-8", dxf: "text/plain;charset=utf-8", toml: "text/plain;charset=utf-8", json: "text/plain;charset=utf-8" };

// typeOf is the media type of a file of a packet.
export function typeOf(name) { return types[name.slice(name.lastIndexOf(".") + 1)] || "application/octet-stream"; }
