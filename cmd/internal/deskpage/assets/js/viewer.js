// Looking at a file of a packet, large, over the desk.

import { button, fill, h, saveAs, typeOf } from "./dom.js";

let box = null;

// openFile shows a file; Escape or Close goes back to the desk.
export function openFile(name, data) {
  box ||= makeBox();
  const type = typeOf(name), url = URL.createObjectURL(new Blob([data], { type }));
  const shown = type.startsWith("image/") ? h("img", { src: url, alt: name })
    : type === "text/html" ? h("iframe", { src: url, title: name })
    : type === "application/pdf" ? h("div", { class: "paper-note" }, h("p", {}, "A PDF opens in a window of its own, or can be saved and printed."),
      h("a", { class: "button main", href: url, target: "_blank", rel: "noopener" }, "Open the PDF"))
    : h("pre", { tabindex: "0" }, new TextDecoder().decode(data));
  fill(box.body, shown);
  box.title.textContent = name;
  box.save.onclick = () => saveAs(name.split("/").at(-1), data, type);
  box.dialog.addEventListener("close", () => { fill(box.body); URL.revokeObjectURL(url); }, { once: true });
  box.dialog.showModal();
}

function makeBox() {
  const title = h("h2", { id: "viewer-title" }), body = h("div", { class: "viewer-body" }), save = button("Save", () => {});
  const dialog = h("dialog", { class: "viewer", "aria-labelledby": "viewer-title" },
    h("div", { class: "row viewer-head" }, title, save, button("Close", () => dialog.close(), { id: "viewer-close" })), body);
  document.body.append(dialog);
  return { dialog, title, body, save };
}
