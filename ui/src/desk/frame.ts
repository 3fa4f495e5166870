// Bytes with words before them, as the backend frames them: 4 bytes little-endian length, JSON, bytes.

const NONE = new Uint8Array();

export function join(words: unknown, body: Uint8Array = NONE): Uint8Array<ArrayBuffer> {
  const json = new TextEncoder().encode(JSON.stringify(words));
  const block = new Uint8Array(4 + json.length + body.length);
  new DataView(block.buffer).setUint32(0, json.length, true);
  block.set(json, 4);
  block.set(body, 4 + json.length);
  return block;
}

/** The bytes are a copy with a buffer of its own, so that it can be given away. */
export function split<T>(block: Uint8Array): { words: T; body: Uint8Array<ArrayBuffer> } {
  const length = new DataView(block.buffer, block.byteOffset, block.byteLength).getUint32(0, true);
  const words = JSON.parse(new TextDecoder().decode(block.subarray(4, 4 + length))) as T;
  return { words, body: block.slice(4 + length) as Uint8Array<ArrayBuffer> };
}
