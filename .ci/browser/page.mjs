// The page as its user has it: what is chosen, shown and pressed.

import path from "node:path";
import { pathToFileURL } from "node:url";

export const DESK = { viewport: { width: 1440, height: 900 } };
export const PHONE = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 2, hasTouch: true, isMobile: true };

export class Page {
  // open loads a page from disk with the network off and listens for every
  // complaint and every request.
  static async open(browser, file, size) {
    const p = new Page();
    p.context = await browser.newContext({ ...size, offline: true });
    p.page = await p.context.newPage();
    p.complaints = [];
    p.requests = [];
    p.page.on("console", (m) => { if (m.type() === "error" || m.type() === "warning") p.complaints.push(m.text()); });
    p.page.on("pageerror", (e) => p.complaints.push(e.message));
    p.page.on("request", (r) => p.requests.push(r.url()));
    p.url = pathToFileURL(path.resolve(file)).href;
    await p.page.goto(p.url);
    await p.settled();
    p.data = await p.page.evaluate(() => {
      const d = JSON.parse(document.getElementById("data").textContent);
      return {
        unit: d.unit,
        programs: d.programs.map((q) => ({ ...q, moves: "", times: "", lines: q.text.split("\n"), text: "" })),
        drawings: d.drawings,
      };
    });
    return p;
  }

  close() { return this.context.close(); }

  async settled() {
    await this.page.waitForFunction(() => document.documentElement.dataset.settled === "true", null, { timeout: 20000 });
  }

  async choose(i) {
    await this.page.selectOption("#pick", String(i));
    await this.settled();
  }

  text(id) { return this.page.locator("#" + id).textContent(); }

  async number(id) { return Number(await this.text(id)); }

  async line() { return Number(/Line (\d+)/.exec(await this.text("block-line"))[1]); }

  async position() { return { x: await this.number("at-x"), y: await this.number("at-y"), z: await this.number("at-z") }; }

  // toLine brings a line of the file into sight and clicks it.
  async toLine(n, count) {
    await this.page.evaluate(async ([line, all]) => {
      const box = document.getElementById("lines"), room = box.scrollHeight - box.clientHeight;
      box.scrollTop = Math.max(0, room) * Math.min(1, Math.max(0, (line - 3) / Math.max(1, all - box.clientHeight / 30)));
      for (let i = 0; i < 2; i++) await new Promise(requestAnimationFrame); // the rows follow the scrolling
    }, [n, count]);
    await this.page.locator(`#lines [data-line="${n}"]:visible`).click();
    await this.settled();
  }

  // toTime puts the slider at a part of the whole time.
  async toTime(part) {
    await this.page.evaluate((f) => {
      const s = document.getElementById("scrub");
      s.value = String(f * Number(s.max));
      s.dispatchEvent(new Event("input", { bubbles: true }));
    }, part);
    await this.settled();
  }

  // view returns pixels a mm and the pixel of X0 Y0 on the plan.
  async view() {
    const [s, x, y] = (await this.page.getAttribute("#plan", "data-view")).split(" ").map(Number);
    return { s, x, y };
  }

  async planBox() { return this.page.locator("#plan").boundingBox(); }

  picture() { return this.page.evaluate(() => document.getElementById("plan").toDataURL()); }

  // pixels returns the colours of the plan at places in pixels of the page.
  pixels(places) {
    return this.page.evaluate((ps) => {
      // Read from a copy: reading the plan itself would change how it is drawn.
      const c = document.getElementById("plan"), d = c.width / c.getBoundingClientRect().width, copy = document.createElement("canvas");
      copy.width = c.width;
      copy.height = c.height;
      const ctx = copy.getContext("2d", { willReadFrequently: true });
      ctx.drawImage(c, 0, 0);
      const all = ctx.getImageData(0, 0, c.width, c.height);
      return ps.map(([x, y]) => {
        const i = (Math.floor(y * d) * c.width + Math.floor(x * d)) * 4;
        return [...all.data.slice(i, i + 4)];
      });
    }, places);
  }

  async switchAll(on) {
    for (const box of await this.page.locator("#key input").all()) await box.setChecked(on);
    await this.settled();
  }
}
