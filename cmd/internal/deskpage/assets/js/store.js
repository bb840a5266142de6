// Job files kept in the browser, for the page that has no folder. Where the
// browser keeps nothing (a private window), they last as long as the page.

import { CallError } from "./wire.js";

const PREFIX = "starwright/";

// makeStore is the place where jobs are kept.
export function makeStore() {
  let kept = null;
  try {
    localStorage.setItem(PREFIX + "?", "1");
    localStorage.removeItem(PREFIX + "?");
    kept = localStorage;
  } catch { /* refused: memory has to do */ }
  const memory = new Map();
  const get = (name) => (kept ? kept.getItem(PREFIX + name) : memory.get(name) ?? null);
  const put = (name, text) => {
    if (!kept) { memory.set(name, text); return; }
    try { kept.setItem(PREFIX + name, text); } catch { throw new CallError("io", [`${name}: the browser has no room left for it. Save it to a file.`]); }
  };
  const names = () => (kept ? Object.keys(kept).filter((k) => k.startsWith(PREFIX)).map((k) => k.slice(PREFIX.length)) : [...memory.keys()]);
  return {
    lasts: Boolean(kept),
    list: () => ({ folder: kept ? "Jobs are kept in this browser; nothing leaves it." : "This browser keeps nothing: save your job to a file.", jobs: names().filter((n) => n.endsWith(".toml") && n !== "shop.toml"), packets: [], shop: names().includes("shop.toml") }),
    open(name) {
      const source = get(name);
      if (source === null) throw new CallError("io", [`${name}: there is no such job in this browser any more.`]);
      return { name, source, tag: source };
    },
    save({ name, source, tag }) {
      const now = get(name);
      if (now === source) return { tag: source };
      if (now === null && tag !== "") return { gone: true };
      if (now !== null && now !== tag) return { theirs: { name, source: now, tag: now } };
      put(name, source);
      return { tag: source };
    },
  };
}
