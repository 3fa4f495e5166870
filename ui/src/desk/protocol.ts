/** Who has the database: this tab, another tab, nobody yet, nobody for a reason. */
export type Mode = 'starting' | 'owner' | 'waiting' | 'closed' | 'error';

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
}

/** A file that the user chose. */
export interface OpenedFile {
  name: string;
  bytes: Uint8Array;
}
