// One worker, seen from the page: questions and answers by number, and a fresh worker when one is lost.
import type { Dead, Fault, ModeEvent, Reply, Request, WithBytes } from './protocol';

interface Waiting {
  resolve: (v: WithBytes) => void;
  reject: (f: Fault) => void;
}

/** After so many deaths with no answer between, a worker is not started again. */
const DEATHS = 3;

const lost: Fault = { code: 'host_lost', message: 'The backend does not start.', hint: 'Reload the page.' };

export class Channel {
  #deaths = 0; // since the last answer: a worker that dies at its start is not started for ever
  #worker: Worker;
  #waiting = new Map<number, Waiting>();
  #next = 0;
  #make: () => Worker;
  #onMode: (m: ModeEvent) => void;
  #onLost: () => void;

  /** `onLost` is called for every worker that died, not for one that was stopped. */
  constructor(make: () => Worker, onMode: (m: ModeEvent) => void, onLost: () => void) {
    this.#make = make;
    this.#onMode = onMode;
    this.#onLost = onLost;
    this.#worker = this.#listen();
  }

  /** With `body`, even an empty one, the question goes through the desk's byte door. */
  ask(name: string, args?: unknown, body?: Uint8Array): Promise<WithBytes> {
    const id = this.#next++;
    return new Promise((resolve, reject) => {
      if (this.#deaths > DEATHS) return reject(lost);
      this.#waiting.set(id, { resolve, reject });
      this.#worker.postMessage({ id, name, args, body } satisfies Request);
    });
  }

  /** Ends the worker and starts a fresh one. Whatever was not answered gets `fault`. */
  restart(fault: Fault) {
    this.#worker.terminate();
    const asked = this.#waiting;
    this.#waiting = new Map();
    if (this.#deaths > DEATHS) {
      this.#onMode({ mode: 'error', detail: fault.message });
    } else {
      this.#onMode({ mode: 'starting' });
      this.#worker = this.#listen();
    }
    for (const w of asked.values()) w.reject(fault);
  }

  #listen(): Worker {
    const worker = this.#make();
    const dead = (message: string) => {
      if (worker !== this.#worker) return; // its last words, after it was replaced
      this.#deaths++;
      this.#onLost();
      this.restart({
        code: 'internal',
        message: `Something went wrong inside Airwright: ${message}`,
        hint: 'What was saved before is still there; this last change was not saved. Try again.',
      });
    };
    worker.onerror = (e) => dead(e.message);
    worker.onmessage = (e: MessageEvent<Reply | ModeEvent | Dead>) => {
      const m = e.data;
      if ('mode' in m) return this.#onMode(m);
      if ('dead' in m) return dead(m.dead);
      this.#deaths = 0;
      const who = this.#waiting.get(m.id);
      this.#waiting.delete(m.id);
      if ('fault' in m) who?.reject(m.fault);
      else who?.resolve({ answer: m.answer, body: m.body ?? new Uint8Array() });
    };
    return worker;
  }
}
