// The one door of the page: every command of the desk, typed. Which host is behind it, the build decides.
import { host } from '#host';
import type { ByteCommands, Commands, ComputeByteCommands, ComputeCommands } from './generated/commands';
import type { WithBytes } from './protocol';

export type * from './generated/commands';
export type { Content, Fault, HostState, Mode, OpenedFile, WithBytes } from './protocol';

type Args<C> = C extends { args: infer A } ? A : never;
type Answer<C> = C extends { answer: infer A } ? A : never;
/** A command that takes nothing is asked with nothing. */
type Given<C> = Args<C> extends null ? [args?: null] : [args: Args<C>];
type GivenBytes<C> = Args<C> extends null ? [args?: null, body?: Uint8Array] : [args: Args<C>, body?: Uint8Array];

export const state = host.state;
export const storage = host.storage;
export const onChange = host.onChange;
export const update = host.update;
export const takeover = host.takeover;
export const reopen = host.reopen;
export const saveFile = host.saveFile;
export const openFile = host.openFile;
export const canShare = host.canShare;
export const shareFile = host.shareFile;
export const onFile = host.onFile;

/** A command of the store. Refused with a `Fault`. */
export function call<K extends keyof Commands & string>(name: K, ...[args]: Given<Commands[K]>): Promise<Answer<Commands[K]>> {
  return host.call(name, args) as Promise<Answer<Commands[K]>>;
}

/** A command of the store with bytes in or out. */
export function callBytes<K extends keyof ByteCommands & string>(
  name: K,
  ...[args, body]: GivenBytes<ByteCommands[K]>
): Promise<WithBytes<Answer<ByteCommands[K]>>> {
  return host.callBytes(name, args, body) as Promise<WithBytes<Answer<ByteCommands[K]>>>;
}

/** Work that needs no database. Stopped through `signal`, it is refused with the code `stopped`. */
export function compute<K extends keyof ComputeCommands & string>(
  name: K,
  args: Args<ComputeCommands[K]>,
  signal?: AbortSignal,
): Promise<Answer<ComputeCommands[K]>> {
  return host.compute(name, args, signal) as Promise<Answer<ComputeCommands[K]>>;
}

/** The same with bytes in or out: papers and pictures. */
export function computeBytes<K extends keyof ComputeByteCommands & string>(
  name: K,
  args: Args<ComputeByteCommands[K]>,
  body?: Uint8Array,
  signal?: AbortSignal,
): Promise<WithBytes<Answer<ComputeByteCommands[K]>>> {
  return host.computeBytes(name, args, body, signal) as Promise<WithBytes<Answer<ComputeByteCommands[K]>>>;
}

// for the tests of the whole app, and for the browser's console: the same commands, without types
Object.assign(window, { airwright: host });
