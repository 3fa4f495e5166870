/** Who has the database: nobody yet, this tab, another tab, nobody for a reason. */
export type Mode = 'starting' | 'owner' | 'waiting' | 'error';

/** A refusal: the interface branches on the code alone. */
export interface Fault {
  code: string;
  /** what happened */
  message: string;
  /** what to do about it; may be empty */
  hint: string;
}

/** What came back where bytes may travel with the answer. */
export interface WithBytes<T = unknown> {
  answer: T;
  body: Uint8Array;
}

/** A command of the desk, or one of the worker's own, whose name begins with "host.".
 *  With `body` it goes through the desk's byte door, and bytes may come back. */
export interface Request {
  id: number;
  name: string;
  args?: unknown;
  body?: Uint8Array;
}
export type Reply = { id: number; answer: unknown; body?: Uint8Array } | { id: number; fault: Fault };
export interface ModeEvent {
  mode: Mode;
  detail?: string;
}
/** The wasm trapped: this worker is of no more use. */
export interface Dead {
  dead: string;
}

/** What every host has to say about itself. */
export interface HostState {
  mode: Mode;
  /** why, when the mode is `error` */
  detail: string;
  /** `none`, `offline ready`, `update waiting`, or an error */
  update: string;
  /** how many workers were lost and replaced since the page was opened */
  restarts: number;
}

/** A file that the user chose. */
export interface OpenedFile {
  name: string;
  bytes: Uint8Array;
}

/** A file in parts: photos are files of the host, and what lies between them comes one after the other in `body`. */
export interface Parts {
  parts: {
    /** the file of a photo; empty for the next of the bytes in `body` */
    photo: string;
    bytes: number;
  }[];
  body: Uint8Array;
}

/** What is saved or handed on. */
export type Content = Uint8Array | Parts;

/** One of the two hosts, seen from the page. Every promise that is refused is refused with a `Fault`. */
export interface Host {
  readonly state: HostState;
  /** What the browser says of its room; nothing where the jobs are on the computer's own disk. */
  readonly storage: StorageManager | undefined;
  /** Calls `f` after every change of `state`; the answer ends that. */
  onChange(f: () => void): () => void;
  /** A command of the store. */
  call(name: string, args?: unknown): Promise<unknown>;
  /** A command of the store with bytes in or out. */
  callBytes(name: string, args?: unknown, body?: Uint8Array): Promise<WithBytes>;
  /** Work that needs no database. Stopped through `signal`, it is refused with the code `stopped`. */
  compute(name: string, args?: unknown, signal?: AbortSignal): Promise<unknown>;
  /** The same with bytes in or out. */
  computeBytes(name: string, args?: unknown, body?: Uint8Array, signal?: AbortSignal): Promise<WithBytes>;
  /** Switches to the version that waits, and reloads. */
  update(): Promise<void>;
  /** Takes the database from the tab that has it. */
  takeover(): Promise<void>;
  /** After mode `error`: tries again to open the database. */
  reopen(): Promise<void>;
  /** Answers where the file went, in words, or null when the user thought better of it. */
  saveFile(name: string, content: Content, mime: string): Promise<string | null>;
  /** Whether a file can be handed to another app or device from here. */
  canShare(name: string, mime: string): boolean;
  /** Hands a file to another app or device. Where that is refused after all, it is saved. Answers as `saveFile` does. */
  shareFile(name: string, content: Content, mime: string): Promise<string | null>;
  /** Files that the system gives this program to open: told to `f` one after the other, also those given before it was asked;
   *  one that cannot be read, to `refused`. */
  onFile(f: (file: OpenedFile) => void, refused: (fault: Fault) => void): void;
  /** `accept` as an input element takes it: `.airwright,image/jpeg`. Null when nothing was chosen. */
  openFile(accept: string): Promise<OpenedFile | null>;
}
