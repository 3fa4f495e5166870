// What both workers do with a question, once the wasm is there.
import { split } from './frame';
import type { Dead, Fault, Reply } from './protocol';

type Outcome = { answer: unknown } | { fault: Fault };

/** One of the backend's two JSON doors, or of its two byte doors. */
export interface Doors {
  json(name: string, args: string): string;
  bytes(name: string, args: string, body: Uint8Array): Uint8Array;
}

export const textOf = (e: unknown) => String((e as Error)?.message ?? e);

export const isFault = (e: unknown): e is Fault => !(e instanceof Error) && typeof (e as Fault)?.code === 'string';

/** The reply and what may be given away with it. */
export function through(doors: Doors, id: number, name: string, args: unknown, body?: Uint8Array): [Reply, Transferable[]] {
  const words = JSON.stringify(args ?? null);
  if (!body) return [{ id, ...(JSON.parse(doors.json(name, words)) as Outcome) }, []];
  const framed = split<Outcome>(doors.bytes(name, words, body));
  return [{ id, ...framed.words, body: framed.body }, [framed.body.buffer]];
}

/** A panic in wasm cannot be caught in Rust: the instance is lost, the database is not. */
export function failed(id: number, e: unknown): Reply | Dead {
  if (e instanceof WebAssembly.RuntimeError) return { dead: e.message };
  return { id, fault: isFault(e) ? e : { code: 'host', message: textOf(e), hint: 'Reload the page.' } };
}
