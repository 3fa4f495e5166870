// Drops exports of a wasm file whose name matches a pattern; wasm-opt then removes what only they reached.
//   node strip-exports.mjs in.wasm out.wasm '^pdf_'
import { readFileSync, writeFileSync } from 'node:fs';

const [, , from, to, pattern] = process.argv;
const unwanted = new RegExp(pattern, 'i');
const wasm = readFileSync(from);

// a LEB128 number at `at`, with the place after it
function number(at) {
  let value = 0;
  for (let shift = 0; ; shift += 7) {
    const byte = wasm[at++];
    value += (byte & 127) * 2 ** shift;
    if (!(byte & 128)) return [value, at];
  }
}

function encoded(value) {
  const bytes = [];
  do {
    const low = value & 127;
    value >>>= 7;
    bytes.push(value ? low | 128 : low);
  } while (value);
  return Buffer.from(bytes);
}

const EXPORTS = 7; // the section's number in the binary format
const MAGIC_AND_VERSION = 8;
const parts = [wasm.subarray(0, MAGIC_AND_VERSION)];
const dropped = [];
for (let at = MAGIC_AND_VERSION; at < wasm.length; ) {
  const [length, start] = number(at + 1);
  const end = start + length;
  if (wasm[at] !== EXPORTS) {
    parts.push(wasm.subarray(at, end));
  } else {
    const kept = [];
    let [count, entry] = number(start);
    for (; count > 0; count--) {
      const [size, name] = number(entry);
      const [, next] = number(name + size + 1); // one byte of kind, then the index
      const text = wasm.toString('utf8', name, name + size);
      if (unwanted.test(text)) dropped.push(text);
      else kept.push(wasm.subarray(entry, next));
      entry = next;
    }
    const section = Buffer.concat([encoded(kept.length), ...kept]);
    parts.push(Buffer.from([EXPORTS]), encoded(section.length), section);
  }
  at = end;
}
writeFileSync(to, Buffer.concat(parts));
console.log('dropped exports:', dropped.join(', ') || 'none');
