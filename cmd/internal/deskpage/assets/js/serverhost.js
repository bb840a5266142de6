// The desk's own server as host: jobs and packets are in its folder.

import { CallError, ReplyReader, callLine, packCall } from "./wire.js";

// serverHost is the host behind the address that the page was opened with.
export function serverHost() {
  const key = location.hash.slice(1);
  return {
    kind: "server",
    async begin() { return (await this.call("begin")).result; },
    async call(name, args = {}, { files, signal, tell } = {}) {
      let response;
      try {
        // A text takes the short way: a blob is first laid down with the browser.
        response = await fetch("call", { method: "POST", body: files ? new Blob(packCall(name, args, files)) : callLine(name, args), signal,
          headers: { "X-Desk-Key": key }, credentials: "omit", cache: "no-store", redirect: "error" });
      } catch (e) {
        if (e.name === "AbortError") throw e;
        throw new CallError("stopped", ["The desk has stopped: nobody answers at its address. What you typed is still on this page. Save it to a file, start starwright desk again, and open the address that it prints."]);
      }
      if (response.status === 403) throw new CallError("key", ["The desk does not know this page: the key in the address is missing or old. Open the address that starwright desk printed."]);
      if (!response.body || !response.headers.get("content-type")?.startsWith("application/octet-stream")) {
        throw new CallError("io", [`The desk answered with ${response.status}. Try again.`]);
      }
      const reply = new ReplyReader(tell);
      try {
        if (!tell) reply.take(new Uint8Array(await response.arrayBuffer()));
        for (const reader = tell && response.body.getReader(); tell;) {
          const { done, value } = await reader.read();
          if (done) break;
          reply.take(value);
        }
      } catch (e) {
        if (e.name === "AbortError") throw e;
        throw new CallError("stopped", ["The desk stopped in the middle of this. Nothing is half-written: what it makes is put in place whole or not at all."]);
      }
      return reply.end();
    },
  };
}
