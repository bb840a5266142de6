// The worker in which the engine runs. It is sent the packed engine or one
// that is compiled already, then calls; it sends back pieces of replies.

let ready = null;
const started = new Promise((resolve) => { ready = resolve; });
globalThis.engineReady = () => ready();

async function unpacked(text) {
  const bytes = Uint8Array.fromBase64 ? Uint8Array.fromBase64(text) : Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
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
