// What has to hold of the page that is one file, beside what holds of every desk.

import { execFileSync } from "node:child_process";
import fs from "node:fs";
import http from "node:http";
import path from "node:path";

import { browser, want, wantTrue } from "./bench.mjs";
import { DESK } from "./deskbench.mjs";
import { JOB, proven, quiet, unpack } from "./desktests.mjs";

// TEN are jobs of all kinds, for the packets that have to be the same bytes.
const TEN = {
  "mm.toml": JOB,
  "inch.toml": 'units = "in"\n[star]\nboard_width = "3 1/2 in"\ncount = 2\n',
  "four.toml": 'units = "mm"\n[star]\npoints = 4\ntip = "50 deg"\nboard_width = "90 mm"\n',
  "six.toml": 'units = "mm"\n[star]\npoints = 6\nboard_width = "90 mm"\noffcut_star = true\n',
  "eight.toml": 'units = "in"\n[star]\npoints = 8\nboard_width = "4 in"\n',
  "twelve.toml": 'units = "mm"\n[star]\npoints = 12\nboard_width = "70 mm"\n',
  "plain.toml": 'units = "mm"\ntitle = "Søren à Ñandú ±"\n[star]\nboard_width = "100 mm"\n[slot]\nmake = false\n',
  "nominal.toml": 'units = "in"\n[star]\nboard_width = "1x6"\ncount = 3\n',
  "wood.toml": 'units = "mm"\ndate = "2026-12-05"\n[star]\nboard_width = "110 mm"\n[wood]\nspecies = "western redcedar"\nmc_now = 12\n',
  "laser.toml": 'units = "mm"\n[star]\nboard_width = "95 mm"\n[shop]\nhas = ["mitre saw", "laser"]\n[laser]\nkerf = "0.2 mm"\n',
};

// sameBytes makes packets in the page and with the command.
export async function sameBytes(bench) {
  const d = await bench.open();
  let files = 0;
  for (const [name, text] of Object.entries(TEN)) {
    fs.writeFileSync(path.join(d.dir, name), text);
    const to = path.join(d.dir, name + "-made");
    bench.run("make", path.join(d.dir, name), "-o", to);
    const zip = await d.page.evaluate(async ([name, source]) => {
      const { host } = globalThis.deskModel;
      const { files } = await host.call("make", { name, source, edits: [] });
      const z = await host.call("zip", { packet: "p" }, { files: [...files].map(([n, data]) => ({ name: n, data })) });
      let text = "";
      for (const b of z.files.get("p.zip")) text += String.fromCharCode(b);
      return btoa(text);
    }, [name, text]);
    const at = path.join(d.dir, name + ".zip");
    fs.writeFileSync(at, Buffer.from(zip, "base64"));
    const packet = unpack(at);
    execFileSync("diff", ["-r", packet, to]);
    files += fs.readdirSync(packet, { recursive: true, withFileTypes: true }).filter((e) => e.isFile()).length;
    fs.rmSync(path.dirname(packet), { recursive: true });
  }
  await quiet(d);
  await d.close();
  return `${Object.keys(TEN).length} jobs, ${files} files`;
}

// oneFile measures the page that is one file: opening it, making the packet,
// how long the page does not answer meanwhile, and what memory it takes.
export async function oneFile(bench, { ready, packet, task, memory }) {
  const d = await bench.open();
  const began = performance.now();
  await d.page.reload();
  await d.page.waitForSelector("#star[data-revision] svg", { timeout: 60000 });
  const opened = performance.now() - began;
  await d.settled(true);
  await d.page.evaluate(() => {
    globalThis.long = [];
    new PerformanceObserver((l) => globalThis.long.push(...l.getEntries().map((e) => e.duration))).observe({ entryTypes: ["longtask"] });
  });
  await d.view("packet");
  const start = performance.now();
  await d.page.click("#make");
  await d.page.waitForSelector("#zip", { timeout: 120000 });
  const made = performance.now() - start, longest = Math.max(0, ...await d.page.evaluate(() => globalThis.long));
  const cdp = await bench.chromium.newBrowserCDPSession();
  const { processInfo } = await cdp.send("SystemInfo.getProcessInfo");
  const mb = Math.max(...processInfo.filter((p) => p.type === "renderer").map((p) => Number(/VmRSS:\s+(\d+)/.exec(fs.readFileSync(`/proc/${p.id}/status`, "utf8"))[1]) / 1024));
  const note = `ready in ${opened.toFixed(0)} ms, packet of the starter job in ${made.toFixed(0)} ms, longest task ${longest.toFixed(0)} ms, ${mb.toFixed(0)} MB`;
  await d.close();
  wantTrue(note, opened < ready && made < packet && longest < task && mb < memory);
  return note;
}

// kept stores a job in the browser and finds it after a reload.
export async function kept(bench) {
  const d = await bench.open();
  await d.type("star.board_width", "91 mm");
  await d.save();
  await d.page.reload();
  await d.page.waitForSelector("#star[data-revision] svg", { timeout: 60000 });
  want("after a reload", await d.field("star.board_width").inputValue(), "91 mm");
  const [download] = await Promise.all([d.page.waitForEvent("download"), d.page.click("#save-file")]);
  wantTrue("the file that is saved is another", fs.readFileSync(await download.path(), "utf8").includes('"91 mm"'));
  await d.context.setOffline(true);
  await d.type("star.board_width", "93 mm");
  want("offline", (await d.text("#fig-width dd")).startsWith("39"), true);
  await quiet(d);
  await d.close();
}

// fromServer opens the file from a plain web server, which then goes away.
export async function fromServer(bench) {
  const asked = [];
  const server = http.createServer((q, r) => {
    asked.push(q.url);
    r.writeHead(q.url === "/starwright.html" ? 200 : 404, { "content-type": "text/html" });
    if (q.url === "/starwright.html") fs.createReadStream(bench.file).pipe(r); else r.end();
  });
  await new Promise((r) => server.listen(0, "127.0.0.1", r));
  const d = await bench.open({}, DESK, { address: `http://127.0.0.1:${server.address().port}/starwright.html` });
  await d.settled(true);
  server.closeAllConnections();
  await new Promise((r) => server.close(r));
  await d.type("star.board_width", "91 mm");
  await d.settled(true);
  await d.view("packet");
  const note = await proven(bench, d, await d.make());
  want("what was asked of the server", asked.join(" "), "/starwright.html");
  await quiet(d);
  await d.close();
  return `${note}; the server was gone by then`;
}

// refused opens the file in a browser that is set to keep nothing of any page.
export async function refused(bench, require) {
  const chromium = await browser(require, { keepNothing: true });
  try {
    const d = await bench.open({}, DESK, { chromium });
    wantTrue("the browser keeps things", await d.page.evaluate(() => { try { return !localStorage; } catch { return true; } }));
    wantTrue("the page does not say that nothing is kept", (await d.text("#folder")).includes("keeps nothing"));
    await d.type("star.board_width", "91 mm");
    await d.save();
    await d.settled(true);
    const [download] = await Promise.all([d.page.waitForEvent("download"), d.page.click("#save-file")]);
    wantTrue("the job that is saved to a file is another", fs.readFileSync(await download.path(), "utf8").includes('"91 mm"'));
    await d.view("packet");
    const note = await proven(bench, d, await d.make());
    await quiet(d);
    await d.close();
    return note;
  } finally {
    await chromium.close();
  }
}
