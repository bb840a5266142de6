// Making the packet and looking at what is in it.

import { button, fill, h, plural, saveAs, typeOf } from "./dom.js";
import { openFile } from "./viewer.js";

// KINDS are the people that a packet's files are for, in the order of the work.
const KINDS = [
  { name: "For the bench", about: "Print the sheet; take the route along on a phone.", has: (f) => f.kind === "sheet" || f.path === "bench.html" },
  { name: "For the CNC", about: "Slot programs, and what is cut from sheet.", has: (f) => f.kind === "gcode" || f.path.startsWith("dxf/sheet-") },
  { name: "For the laser operator", about: "Outlines, and a ticket that says what they are.", has: (f) => f.kind === "ticket" || (f.kind === "dxf" || f.path.startsWith("svg/")) && !f.path.startsWith("dxf/sheet-") },
  { name: "To look at", about: "The back-plot plays every move; pictures show star, segment and jigs.", has: (f) => f.kind === "picture" && !f.path.startsWith("svg/") },
];

// packetView is the screen of the packet.
export function packetView(desk) {
  const { model, host } = desk;
  const bar = h("progress", { max: "1", value: "0", hidden: true, "aria-label": "How far the packet is" });
  const what = h("p", { class: "what", role: "status", "aria-live": "polite" });
  const problem = h("div", { class: "problem" });
  const contents = h("div", { class: "contents", id: "packet" });
  const go = button("Make the packet", () => make(false), { class: "main big", id: "make" });
  const stop = button("Stop", () => abort?.abort(), { id: "make-stop", hidden: true });
  let abort = null;

  async function make(force) {
    go.disabled = true;
    fill(problem);
    try {
      if (!(await desk.files.save())) return;
      abort = new AbortController();
      bar.hidden = stop.hidden = false;
      bar.removeAttribute("value");
      what.textContent = "Working out...";
      const { result, files } = await host.call("make", { name: model.name, source: model.source, shop: model.shop, force }, { signal: abort.signal, tell: (p) => {
        bar.value = p.total ? p.done / p.total : 0;
        const text = `${p.what.charAt(0).toUpperCase()}${p.what.slice(1)}...`;
        if (what.textContent !== text) what.textContent = text;
      } });
      if (!result.manifest) {
        what.textContent = "Nothing was released, because a file fails its check.";
        fill(problem, result.findings.slice(0, 20).map((f) => h("p", { class: "error" }, said(f))));
        return;
      }
      what.textContent = `Released ${result.manifest.files.length + (result.manifest.shop_sha256 ? 3 : 2)} files in ${result.name}. Each was read back and proven.` + (result.kept ? ` The old packet is kept as ${result.kept}.` : "");
      await desk.files.list();
      await show(result.name, host.kind === "server" ? null : { result, files });
    } catch (e) {
      what.textContent = e.name === "AbortError" ? "Stopped. A packet is put in place whole or not at all." : "";
      if (e.name !== "AbortError") fill(problem, h("div", { class: "error" }, (e.lines || [e.message]).map((l) => h("p", {}, l)),
        e.kind === "refused" && /--force/.test(e.message) ? button("Replace it, and keep the edited one beside it", () => make(true), { class: "apply" }) : null));
    } finally {
      go.disabled = false;
      bar.hidden = stop.hidden = true;
    }
  }

  // show lists a packet's files; those of the folder are fetched here.
  async function show(name, got = null) {
    try {
      const { result, files } = got || await host.call("packet", { packet: name });
      desk.packet = { name, files, manifest: result.manifest };
      const all = result.manifest.files;
      const groups = KINDS.map((k) => [k, all.filter((f) => k.has(f))]).filter(([, l]) => l.length);
      fill(contents,
        h("h3", {}, name),
        result.changed?.length ? h("div", { class: "error" }, h("p", {}, `Changed since it was made: ${result.changed.slice(0, 5).map((c) => `${c.path} ${c.how}`).join(", ")}.`)) : null,
        h("div", { class: "row" },
          button("Download as zip", () => zip(name), { class: "main", id: "zip" }),
          files.get("pictures/backplot.html") && button("Back-plot", () => openFile("pictures/backplot.html", files.get("pictures/backplot.html"))),
          files.get("shop-sheet.pdf") && button("Shop sheet", () => openFile("shop-sheet.pdf", files.get("shop-sheet.pdf")))),
        gallery(files),
        groups.map(([k, list], i) => h("details", { class: "kind", open: i === 0 }, h("summary", {}, h("span", {}, k.name), h("span", { class: "note" }, plural(list.length, "file"))),
          h("p", { class: "lead" }, k.about),
          h("ul", { class: "files" }, list.map((f) => fileRow(f, files.get(f.path)))))));
      desk.tell("packet");
    } catch (e) { desk.trouble(e); }
  }

  async function zip(name) {
    try {
      const { files } = await host.call("zip", { packet: name }, { files: host.kind === "server" ? [] : [...desk.packet.files].map(([n, data]) => ({ name: n, data })) });
      const data = files.get(`${name}.zip`);
      desk.lastZip = data;
      saveAs(`${name}.zip`, data, "application/zip");
    } catch (e) { desk.trouble(e); }
  }

  const there = h("div", { class: "row there" });
  desk.addEventListener("listed", () => {
    const list = desk.listing.packets || [];
    fill(there, list.length ? [h("span", {}, "Packets here:"), list.map((n) => button(n, () => show(n)))] : null);
  });
  model.addEventListener("glance", () => {
    const n = model.glance.errors.length;
    go.disabled = n > 0;
    go.title = n ? "Mend the job first" : "";
  });
  return h("section", { class: "view", id: "view-packet" },
    h("h2", {}, "The packet"),
    h("p", { class: "lead" }, "Outlines, programs, the printed sheet. Each file is read back and cut once more on paper before any is released."),
    h("div", { class: "row" }, go, stop, bar), what, problem, there, contents);
}

// said words a finding as the command line does.
export function said(f) {
  const at = f.line ? `${f.file}:${f.line}` : f.file;
  const by = f.by_mm ? ` by ${f.by_mm.toFixed(3)} mm` : "";
  return `${at}: ${f.what}${by && !f.what.includes("mm") ? by : ""}`;
}

function gallery(files) {
  const names = ["star", "segment", "offcut-star", "offcut-segment"].map((n) => `pictures/${n}.svg`).filter((n) => files.has(n));
  return h("div", { class: "gallery" }, names.map((n) => {
    const url = URL.createObjectURL(new Blob([files.get(n)], { type: "image/svg+xml" }));
    const name = n.slice(9, -4).replace("-", " ");
    return h("button", { type: "button", class: "thumb", "aria-label": `Picture: ${name}`, onclick: () => openFile(n, files.get(n)) }, h("img", { src: url, alt: "", loading: "lazy" }), h("span", {}, name));
  }));
}

function fileRow(f, data) {
  const times = f.quantity > 1 ? `${f.quantity} times` : "";
  return h("li", {},
    h("div", { class: "about" }, h("code", {}, f.path), h("span", {}, [f.use, times].filter(Boolean).join("; "))),
    data ? h("span", { class: "row" },
      button("Open", () => openFile(f.path, data), { "aria-label": `Open ${f.path}` }),
      button("Save", () => saveAs(f.path.split("/").at(-1), data, typeOf(f.path)), { "aria-label": `Save ${f.path}` })) : h("span", { class: "mend" }, "missing"));
}
