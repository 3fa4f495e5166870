// The web host, seen from the page.
import { registerSW } from 'virtual:pwa-register';
import { Channel } from './channel';
import type { Content, Fault, Host, HostState, Mode, OpenedFile } from './protocol';

const state: HostState = { mode: 'starting', detail: '', update: 'none', restarts: 0 };
const listeners = new Set<() => void>();

function set(change: Partial<HostState>) {
  Object.assign(state, change);
  listeners.forEach((f) => f());
}

function onChange(f: () => void) {
  listeners.add(f);
  return () => void listeners.delete(f);
}

const lost = () => set({ restarts: state.restarts + 1 });

const store = new Channel(
  () => new Worker(new URL('./store.worker.ts', import.meta.url), { type: 'module', name: 'store' }),
  (m) => set({ mode: m.mode, detail: m.detail ?? '' }),
  lost,
);
const plan = new Channel(
  () => new Worker(new URL('./plan.worker.ts', import.meta.url), { type: 'module', name: 'plan' }),
  () => {}, // it has no database, so it has no mode
  lost,
);

/** Until the store worker knows who has the database, a question waits: right after the start, and while a
 *  lost worker is replaced. */
function started(): Promise<void> {
  const waits = (mode: Mode) => mode === 'starting';
  if (!waits(state.mode)) return Promise.resolve();
  return new Promise((resolve) => {
    const stop = onChange(() => {
      if (waits(state.mode)) return;
      stop();
      resolve();
    });
  });
}

async function ask(name: string, args?: unknown, body?: Uint8Array) {
  await started();
  return store.ask(name, args, body);
}

/** Stopping ends the plan worker: the store never notices. */
async function work(name: string, args?: unknown, body?: Uint8Array, signal?: AbortSignal) {
  const stopped = { code: 'stopped', message: 'Stopped.', hint: '' };
  if (signal?.aborted) throw stopped;
  const stop = () => plan.restart(stopped);
  signal?.addEventListener('abort', stop, { once: true });
  try {
    return await plan.ask(name, args, body);
  } finally {
    signal?.removeEventListener('abort', stop);
  }
}

const update = registerSW({
  onOfflineReady: () => set({ update: 'offline ready' }),
  onNeedRefresh: () => set({ update: 'update waiting' }),
  onRegisterError: (e) => set({ update: `error ${String(e)}` }),
});

// asks for protection against eviction; a browser that refuses may delete the jobs when the disk is short
void navigator.storage?.persist?.();

/** Photos go in as files of the browser's own folder: it reads them when the whole is written, and none is held in memory. */
async function asFile(name: string, content: Content, mime: string): Promise<File> {
  if (content instanceof Uint8Array) return new File([content as Uint8Array<ArrayBuffer>], name, { type: mime });
  const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle('photos', { create: true });
  const between = content.body as Uint8Array<ArrayBuffer>;
  const parts: BlobPart[] = [];
  let at = 0;
  for (const { photo, bytes } of content.parts) {
    if (photo) parts.push(await (await folder.getFileHandle(photo)).getFile());
    else parts.push(between.subarray(at, (at += bytes)));
  }
  return new File(parts, name, { type: mime });
}

/** Browsers decide by kind and name: an empty file of the same tells. */
function canShare(name: string, mime: string): boolean {
  return navigator.canShare?.({ files: [new File([], name, { type: mime })] }) ?? false;
}

async function shareFile(name: string, content: Content, mime: string): Promise<string | null> {
  const file = await asFile(name, content, mime);
  try {
    await navigator.share({ files: [file], title: name });
    return name;
  } catch (e) {
    if ((e as DOMException).name === 'AbortError') return null;
    // not allowed here, or not right now: a download does it too
    return download(file);
  }
}

/** Through the share sheet where there is no other way to give a file away (phones, tablets), else a download. */
async function saveFile(name: string, content: Content, mime: string): Promise<string | null> {
  const touch = matchMedia('(pointer: coarse)').matches;
  return touch && canShare(name, mime) ? shareFile(name, content, mime) : download(await asFile(name, content, mime));
}

function download(file: File): string {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  document.body.append(link);
  link.click();
  link.remove();
  // the download reads the address after this turn; a minute is long enough for the slowest of them
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  return file.name;
}

/** The page was opened with files, as an installed app that the system knows for them. */
interface LaunchQueue {
  setConsumer(f: (launch: { files?: readonly { getFile(): Promise<File> }[] }) => void): void;
}

function onFile(f: (file: OpenedFile) => void, refused: (fault: Fault) => void) {
  (window as { launchQueue?: LaunchQueue }).launchQueue?.setConsumer(({ files = [] }) => {
    void (async () => {
      for (const handle of files) {
        const file = await handle.getFile();
        f({ name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) });
      }
    })().catch((e: unknown) => refused({ code: 'not_read', message: `The file could not be read: ${String(e)}`, hint: 'Check that the file is still there.' }));
  });
}

function openFile(accept: string): Promise<OpenedFile | null> {
  const input = document.createElement('input');
  input.type = 'file';
  input.accept = accept;
  input.hidden = true;
  document.body.append(input); // Safari opens no dialog for an input outside the page
  return new Promise<OpenedFile | null>((resolve, reject) => {
    input.addEventListener('cancel', () => resolve(null));
    input.addEventListener('change', () => {
      const file = input.files?.[0];
      if (!file) return resolve(null);
      file.arrayBuffer().then(
        (buffer) => resolve({ name: file.name, bytes: new Uint8Array(buffer) }),
        (e: unknown) => reject({ code: 'not_read', message: `${file.name} could not be read: ${String(e)}`, hint: 'Check that the file is still there.' }),
      );
    });
    input.click();
  }).finally(() => input.remove());
}

export const host: Host = {
  state,
  storage: navigator.storage,
  onChange,
  call: async (name, args) => (await ask(name, args)).answer,
  callBytes: (name, args, body = new Uint8Array()) => ask(name, args, body),
  compute: async (name, args, signal) => (await work(name, args, undefined, signal)).answer,
  computeBytes: (name, args, body = new Uint8Array(), signal) => work(name, args, body, signal),
  update: () => update(true),
  takeover: async () => void (await store.ask('host.takeover')),
  reopen: async () => void (await store.ask('host.reopen')),
  saveFile,
  canShare,
  shareFile,
  onFile,
  openFile,
};
