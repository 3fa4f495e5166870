/// <reference lib="webworker" />
// The plan worker: the same wasm with no database. It may be ended at any moment.
import init, * as backend from '#wasm';
import wasmUrl from '#wasm-url';
import { failed, through, type Doors } from './answer';
import type { Request } from './protocol';

declare const self: DedicatedWorkerGlobalScope;

const doors: Doors = { json: backend.compute, bytes: backend.compute_bytes };
const ready = init({ module_or_path: wasmUrl });

self.onmessage = async (e: MessageEvent<Request>) => {
  const { id, name, args, body } = e.data;
  try {
    await ready;
    const [reply, move] = through(doors, id, name, args, body);
    self.postMessage(reply, move);
  } catch (err) {
    self.postMessage(failed(id, err));
  }
};
