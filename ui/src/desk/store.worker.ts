/// <reference lib="webworker" />
// The store worker, a dedicated module worker: owns the database in the origin-private file system.
// One tab at a time owns the database; a Web Lock decides which. The others say so and can take over.
import init, * as backend from '#wasm';
import wasmUrl from '#wasm-url';
import { failed, textOf, through, type Doors } from './answer';
import { withPhotos } from './photo-files';
import type { Dead, Fault, Mode, ModeEvent, Reply, Request } from './protocol';

declare const self: DedicatedWorkerGlobalScope;

const LOCK = 'airwright-owner';
const DIR = '.airwright';
const FILE = '/airwright.db';
const bus = new BroadcastChannel('airwright-owner');
const doors: Doors = { json: backend.call, bytes: backend.call_bytes };

let mode: Mode = 'starting';
let detail = '';
let release: (() => void) | undefined; // gives the Web Lock back

const post = (m: Reply | ModeEvent | Dead, move: Transferable[] = []) => self.postMessage(m, move);

function setMode(m: Mode, why = '') {
  mode = m;
  detail = why;
  post({ mode: m, detail: why });
}

const ready = init({ module_or_path: wasmUrl });

/** The previous owner's handles are freed a moment after its lock, so try for about 4 s.
 *  Chromium and Firefox say NoModificationAllowedError, WebKit InvalidStateError (or UnknownError). */
async function openDatabase() {
  await ready;
  for (let tries = 0; ; tries++) {
    try {
      return await backend.open(DIR, FILE);
    } catch (e) {
      if (tries >= 15 || !/NoModificationAllowedError|InvalidStateError|UnknownError/.test(textOf(e))) throw e;
      await new Promise((r) => setTimeout(r, 50 + 25 * tries));
    }
  }
}

/** Opens the database and keeps the lock for as long as we own it. */
async function own() {
  await openDatabase();
  const held = new Promise<void>((r) => (release = r));
  setMode('owner');
  await held;
}

function ownWhenFree() {
  // the first question takes no place in the queue: a tab that is alone never says "waiting"
  navigator.locks
    .request(LOCK, { mode: 'exclusive', ifAvailable: true }, async (lock) => {
      if (lock) await own();
      return lock !== null;
    })
    .then(async (owned) => {
      if (owned) return;
      setMode('waiting');
      await navigator.locks.request(LOCK, { mode: 'exclusive' }, own);
    })
    .catch((e: unknown) => {
      // the lock is free again: another tab may have more luck, and "host.reopen" tries once more
      try {
        backend.close();
      } catch {
        /* nothing was open */
      }
      if (e instanceof WebAssembly.RuntimeError) post({ dead: e.message });
      else setMode('error', textOf(e));
    });
}

function giveUp() {
  backend.close(); // handles first, then the lock
  release?.();
  release = undefined;
}

/** What the worker does itself, beside the desk's commands. */
function host(name: string): null {
  switch (name) {
    case 'host.takeover': // ask the owner to let go; our lock request is already in the queue
      bus.postMessage('takeover');
      return null;
    case 'host.reopen':
      if (mode === 'error') {
        setMode('starting');
        ownWhenFree();
      }
      return null;
  }
  throw new Error(`there is no ${name}`);
}

function notOurs(): Fault {
  if (mode === 'error') {
    return {
      code: 'store_unavailable',
      message: `The jobs cannot be opened: ${detail}`,
      hint: 'A private window keeps nothing, and a full disk has no room: use an ordinary window, make room, then try again.',
    };
  }
  return {
    code: 'open_elsewhere',
    message: 'Airwright is open in another tab.',
    hint: 'Use it there, or press “Use it in this tab”.',
  };
}

function needsOwner() {
  if (mode !== 'owner') throw notOurs();
}

/** One of the desk's commands. Who owns the database is asked before anything, since only then the wasm is sure to be there, and each
 *  time again: it may have gone to another tab while a photo was seen to. */
async function answer({ id, name, args, body }: Request) {
  try {
    needsOwner();
    post(
      ...(await withPhotos(() => {
        needsOwner();
        return through(doors, id, name, args, body);
      })),
    );
  } catch (err) {
    post(failed(id, err));
  }
}

let before = Promise.resolve(); // commands are answered one after the other, in the order in which they came

self.onmessage = (e: MessageEvent<Request>) => {
  const { id, name } = e.data;
  if (!name.startsWith('host.')) {
    before = before.then(() => answer(e.data));
    return;
  }
  try {
    post({ id, answer: host(name) });
  } catch (err) {
    post(failed(id, err));
  }
};

bus.onmessage = (e) => {
  if (e.data === 'takeover' && mode === 'owner') {
    giveUp();
    // straight to the back of the queue: the lock is not free for us
    setMode('waiting');
    ownWhenFree();
  }
};

ownWhenFree();
