/// <reference lib="webworker" />
// Photos as files of the origin-private file system, one each, beside the database. Such files are opened only with a
// promise, and the backend does not wait: it notes what it needs, and the question is asked again once that is done.
import * as backend from '#wasm';
import { textOf } from './answer';
import type { Fault } from './protocol';

const FOLDER = 'photos';

interface Errands {
  write: string[];
  read: string[];
  look: string[];
  list: boolean;
  remove: string[];
}

const folder = async () => (await navigator.storage.getDirectory()).getDirectoryHandle(FOLDER, { create: true });

const missing = (e: unknown) => e instanceof DOMException && e.name === 'NotFoundError';

/** Asks until no file is wanting, then answers what was asked last. What is to be removed is removed after that.
 *  What `ask` throws is the caller's; what the files refuse is a fault. */
export async function withPhotos<T>(ask: () => T): Promise<T> {
  backend.photos_settled();
  for (;;) {
    const answer = ask();
    const due = JSON.parse(backend.photo_errands()) as Errands;
    await run(due).catch((e: unknown) => {
      throw faultOf(e);
    });
    if (due.list || due.write.length + due.read.length + due.look.length > 0) continue;
    backend.photos_settled();
    return answer;
  }
}

async function run(due: Errands) {
  for (const name of due.write) await write(name);
  for (const name of due.read) backend.photo_fetched(name, await read(name));
  // one after the other, so that no two are in memory
  for (const name of due.look) backend.photo_seen(name, await read(name));
  if (due.list) {
    const names: string[] = [];
    for await (const name of (await folder()).keys()) names.push(name);
    backend.photos_listed(names);
  }
  for (const name of due.remove) await remove(name);
}

/** A row names the file only after this: it is whole and flushed by then. One that is there already, whole, is left alone. */
async function write(name: string) {
  const bytes = backend.photo_bytes(name) as Uint8Array<ArrayBuffer> | undefined;
  if (!bytes) return;
  const before = await read(name);
  if (!before || !same(before, bytes)) {
    const file = await (await folder()).getFileHandle(name, { create: true });
    const handle = await file.createSyncAccessHandle();
    try {
      handle.truncate(0);
      const written = handle.write(bytes, { at: 0 });
      if (written !== bytes.length) throw new DOMException('the file is shorter than the photo', 'QuotaExceededError');
      handle.flush();
    } finally {
      handle.close();
    }
  }
  backend.photo_written(name);
}

async function read(name: string): Promise<Uint8Array | undefined> {
  try {
    const file = await (await folder()).getFileHandle(name);
    return new Uint8Array(await (await file.getFile()).arrayBuffer());
  } catch (e) {
    if (missing(e)) return undefined;
    throw e;
  }
}

async function remove(name: string) {
  try {
    await (await folder()).removeEntry(name);
  } catch (e) {
    if (!missing(e)) throw e;
  }
}

const same = (a: Uint8Array, b: Uint8Array) => a.length === b.length && a.every((byte, i) => byte === b[i]);

function faultOf(e: unknown): Fault {
  if (e instanceof DOMException && e.name === 'QuotaExceededError') {
    return { code: 'no_room', message: 'There is no room left to keep this.', hint: 'The photo was not kept. Free some room on the disk, then try again.' };
  }
  return { code: 'photos', message: `A photo could not be kept, read or removed: ${textOf(e)}.`, hint: 'Reload the page, then try again.' };
}
