// Checking files that somebody has edited: dropped on the page, held against
// the packet's own job, shown in the back-plot.

import { button, fill, h, plural } from "./dom.js";
import { said } from "./packet.js";
import { openFile } from "./viewer.js";

// checkView is the screen of the check.
export function checkView(desk) {
  const { host } = desk;
  const answer = h("div", { class: "answer", id: "check-answer" }), status = h("p", { class: "what", role: "status", "aria-live": "polite" });
  const against = h("select", { id: "against" });
  const pick = h("input", { type: "file", id: "check-files", multiple: true, onchange: () => check([...pick.files]) });

  async function check(dropped) {
    fill(answer);
    status.textContent = dropped.length ? `Checking ${plural(dropped.length, "file")}...` : "Checking the packet...";
    try {
      const files = await Promise.all(dropped.map(async (f) => ({ name: f.name, data: new Uint8Array(await f.arrayBuffer()) })));
      const whole = files.some((f) => f.name.toLowerCase().endsWith(".zip"));
      const name = whole ? "" : against.value;
      const base = host.kind !== "server" && !whole && desk.packet ? [...desk.packet.files].map(([n, data]) => ({ name: n, data })) : [];
      const { result, files: back } = await host.call("check", { packet: name, name: name || "packet", dropped: files.length }, { files: [...base, ...files] });
      const plot = back.get("pictures/backplot.html");
      const bad = result.files.filter((f) => !f.ok);
      status.textContent = result.ok ? `All ${result.files.length} files pass.` : `${plural(bad.length, "file fails", "files fail")} the check.`;
      fill(answer,
        h("p", { class: "row" }, button("See it in the back-plot", () => openFile("pictures/backplot.html", plot), { class: "main" })),
        h("ul", { class: "findings" }, result.findings.slice(0, 50).map((f) => h("li", { class: "error" }, h("strong", {}, said(f)), f.in_wood ? h("p", {}, f.in_wood) : null))),
        result.findings.length > 50 ? h("p", {}, `and ${result.findings.length - 50} more`) : null,
        result.changed.length ? h("details", { class: "kind", open: true }, h("summary", {}, h("span", {}, "Changed since it was made"), h("span", { class: "note" }, plural(result.changed.length, "file"))), h("ul", {}, result.changed.map((c) => h("li", {}, h("code", {}, c.path), " ", c.how)))) : null,
        h("details", { class: "kind" }, h("summary", {}, h("span", {}, "Every file"), h("span", { class: "note" }, plural(result.files.length, "file"))),
          h("ul", { class: "files" }, result.files.map((f) => h("li", {}, h("code", {}, f.path), h("span", { class: f.ok ? "" : "mend" }, f.ok ? "passes" : "FAILS"))))));
    } catch (e) {
      status.textContent = "";
      fill(answer, h("div", { class: "error" }, (e.lines || [e.message]).map((l) => h("p", {}, l))));
    }
  }

  const zone = h("div", { class: "drop", id: "drop" },
    h("p", {}, h("strong", {}, "Drop files here"), ": a packet's zip, or edited programs and drawings of the packet named above."),
    h("p", { class: "row" }, h("label", { for: "check-files" }, "Or choose them "), pick));
  for (const [event, on] of [["dragenter", true], ["dragover", true], ["dragleave", false], ["drop", false]]) {
    zone.addEventListener(event, (e) => { e.preventDefault(); zone.classList.toggle("over", on); });
  }
  zone.addEventListener("drop", (e) => check([...e.dataTransfer.files]));
  const list = () => {
    const names = host.kind === "server" ? desk.listing.packets || [] : desk.packet ? [desk.packet.name] : [];
    const now = desk.packet?.name || against.value;
    fill(against, names.length ? names.map((n) => h("option", { value: n }, n)) : h("option", { value: "" }, "none yet"));
    if (names.includes(now)) against.value = now;
  };
  desk.addEventListener("listed", list);
  desk.addEventListener("packet", list);
  return h("section", { class: "view", id: "view-check" },
    h("h2", {}, "Check"),
    h("p", { class: "lead" }, "Has somebody changed a program or a drawing? It is read as it is now and cut on paper, against what the packet's own job asks for. Nothing is written."),
    h("div", { class: "row" }, h("label", { for: "against" }, "Against the packet "), against, button("Check it as it lies", () => check([]), { id: "check-now" })),
    zone, status, answer);
}
