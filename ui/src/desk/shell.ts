// The desktop host, seen from the page. `withGlobalTauri` provides the object: no package is needed.
import { join, split } from './frame';
import type { Content, Fault, Host, HostState, OpenedFile, WithBytes } from './protocol';

type Invoke = (cmd: string, args?: unknown) => Promise<unknown>;
const invoke = (window as unknown as { __TAURI__: { core: { invoke: Invoke } } }).__TAURI__.core.invoke;

const state: HostState = { mode: 'starting', detail: '', update: 'none', restarts: 0 };
const listeners = new Set<() => void>();

/** Asks whether the database is open; `cmd` is `status`, or `reopen` to try once more. */
async function look(cmd: 'status' | 'reopen') {
  try {
    await invoke(cmd);
    Object.assign(state, { mode: 'owner', detail: '' });
  } catch (e) {
    const { message, hint } = e as Fault;
    Object.assign(state, { mode: 'error', detail: `${message} ${hint}`.trim() });
  }
  listeners.forEach((f) => f());
}

/** What the program refuses is a fault already; what Tauri itself refuses is a text. */
function asFault(e: unknown): never {
  if (typeof e === 'string') throw { code: 'host', message: e, hint: 'Restart Airwright.' } satisfies Fault;
  throw e;
}

const json = (cmd: string, args: unknown) => invoke(cmd, args).catch(asFault);

async function bytes(cmd: string, words: unknown, body?: Uint8Array): Promise<WithBytes> {
  const block = (await json(cmd, join(words, body))) as ArrayBuffer;
  const framed = split<{ answer: unknown }>(new Uint8Array(block));
  return { answer: framed.words.answer, body: framed.body };
}

/** The program's work goes on to its end when it is stopped; the page no longer waits for it. */
function until<T>(signal: AbortSignal | undefined, work: () => Promise<T>): Promise<T> {
  const stopped: Fault = { code: 'stopped', message: 'Stopped.', hint: '' };
  if (signal?.aborted) return Promise.reject(stopped);
  return new Promise<T>((resolve, reject) => {
    const stop = () => reject(stopped);
    signal?.addEventListener('abort', stop, { once: true });
    work()
      .then(resolve, reject)
      .finally(() => signal?.removeEventListener('abort', stop));
  });
}

/** Asks the program for the files that it was told to open, one after the other, until there is none. */
async function fetchFiles(f: (file: OpenedFile) => void, refused: (fault: Fault) => void) {
  try {
    for (;;) {
      const { words, body } = split<{ name: string | null }>(new Uint8Array((await json('file_to_open', {})) as ArrayBuffer));
      if (words.name === null) return;
      f({ name: words.name, bytes: body });
    }
  } catch (fault) {
    refused(fault as Fault);
  }
}

/** Photos are put in by the program: they never come through the page. */
const saveFile = async (name: string, content: Content) => {
  const block = content instanceof Uint8Array ? join({ name }, content) : join({ name, parts: content.parts }, content.body);
  return (await json('save_file', block)) as string | null;
};

export const host: Host = {
  state,
  storage: undefined,
  onChange(f) {
    listeners.add(f);
    return () => void listeners.delete(f);
  },
  call: (name, args = null) => json('call', { name, args }),
  callBytes: (name, args = null, body) => bytes('call_bytes', { name, args }, body),
  compute: (name, args = null, signal) => until(signal, () => json('compute', { name, args })),
  computeBytes: (name, args = null, body, signal) => until(signal, () => bytes('compute_bytes', { name, args }, body)),
  update: async () => {}, // a package manager brings new versions
  takeover: async () => {}, // another program lets go only when it is closed: `reopen` then
  reopen: () => look('reopen'),
  saveFile,
  canShare: () => false, // a computer's desktop has no share sheet that every system knows
  shareFile: saveFile,
  onFile(f, refused) {
    // the program says so in the window when another start of it was given a file
    window.addEventListener('airwright-file', () => void fetchFiles(f, refused));
    void fetchFiles(f, refused);
  },
  async openFile(accept) {
    const block = (await json('open_file', { accept })) as ArrayBuffer;
    const { words, body } = split<{ name: string | null }>(new Uint8Array(block));
    return words.name === null ? null : { name: words.name, bytes: body };
  },
};

void look('status');
