// The worker in which the engine runs. It is sent the packed engine or one
// that is compiled already, then calls; it sends back pieces of replies.

let ready = null;
const started = new Promise((resolve) => { ready = resolve; });
globalThis.engineReady = () => ready();

// bytesOf reads bytes that are written as five signs for four, the last group of n
// as n + 1.
function bytesOf(text) {
  const alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz#$%()*+,./:;=?@[]^_{|}~", value = new Uint8Array(128);
  for (let i = 0; i < 85; i++) value[alphabet.charCodeAt(i)] = i;
  const groups = Math.ceil(text.length / 5), out = new DataView(new ArrayBuffer(4 * groups)), missing = 5 * groups - text.length;
  const padded = text + "~".repeat(missing);
  for (let g = 0, at = 0; g < groups; g++) {
    let v = 0;
    for (let i = 0; i < 5; i++) v = v * 85 + value[padded.charCodeAt(at++)];
    out.setUint32(4 * g, v);
  }
  return new Uint8Array(out.buffer, 0, 4 * groups - missing);
}

async function unpacked(text) {
  const stream = new Blob([bytesOf(text)]).stream().pipeThrough(new DecompressionStream("gzip"));
  return WebAssembly.compileStreaming(new Response(stream, { headers: { "content-type": "application/wasm" } }));
}

async function startEngine({ packed, module }) {
  const go = new Go();
  module ||= await unpacked(packed);
  const instance = await WebAssembly.instantiate(module, go.importObject);
  go.run(instance).then(() => postMessage({ ended: "the engine has stopped" }), (e) => postMessage({ ended: String(e) }));
  await started;
  postMessage({ module });
}

onmessage = async ({ data }) => {
  if (data.packed || data.module) {
    startEngine(data).catch((e) => postMessage({ ended: String(e) }));
    return;
  }
  await started;
  engineCall(data.call, (bytes, end) => postMessage({ id: data.id, bytes, end }, [bytes.buffer]));
};
