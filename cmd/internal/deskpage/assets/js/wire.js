// How calls travel: a line of JSON, then the bytes of files, both ways. Lines
// with how far the work is come before the reply.

// callLine is a call without files, or the line before them.
export function callLine(call, args, files = []) {
  return JSON.stringify({ call, args, files: files.map((f) => ({ name: f.name, size: f.data.byteLength })) }) + "\n";
}

// packCall makes the bytes of a call.
export function packCall(call, args, files = []) {
  return [new TextEncoder().encode(callLine(call, args, files)), ...files.map((f) => f.data)];
}

// CallError is a call that was not carried out, in the engine's words.
export class CallError extends Error {
  constructor(kind, lines) {
    super(lines.join("\n"));
    this.kind = kind;
    this.lines = lines;
  }
}

// ReplyReader takes in the bytes of a reply as they come.
export class ReplyReader {
  constructor(tell) {
    this.tell = tell || (() => {});
    this.text = [];
    this.reply = null;
    this.parts = [];
  }

  take(bytes) {
    while (!this.reply && bytes.length > 0) {
      const n = bytes.indexOf(10);
      if (n < 0) { this.text.push(bytes); return; }
      this.text.push(bytes.subarray(0, n));
      bytes = bytes.subarray(n + 1);
      const line = JSON.parse(new TextDecoder().decode(joined(this.text)));
      this.text = [];
      if (line.progress) this.tell(line.progress);
      else this.reply = line;
    }
    if (bytes.length > 0) this.parts.push(bytes);
  }

  // end returns { result, files }.
  end() {
    if (!this.reply) throw new CallError("io", ["The answer broke off before it was whole. Try again."]);
    if (!this.reply.ok) throw new CallError(this.reply.error.kind, this.reply.error.lines);
    const all = joined(this.parts), files = new Map();
    let at = 0;
    for (const f of this.reply.files) {
      files.set(f.name, all.subarray(at, at + f.size));
      at += f.size;
    }
    if (at > all.length) throw new CallError("io", ["The answer broke off before it was whole. Try again."]);
    return { result: this.reply.result, files };
  }
}

function joined(parts) {
  if (parts.length === 1) return parts[0];
  const out = new Uint8Array(parts.reduce((n, p) => n + p.length, 0));
  let at = 0;
  for (const p of parts) { out.set(p, at); at += p.length; }
  return out;
}
