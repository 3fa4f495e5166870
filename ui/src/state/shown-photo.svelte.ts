// A photo while it is shown: its bytes lie in the store, are read when a hash is named, and let go when it changes or the part goes.
import type { Fault } from '../desk';
import { asFault } from './job.svelte';
import { photoUrl } from './photos';

export type ShownPhoto = {
  /** For `src`; null until it is read, and where there is none. */
  readonly url: string | null;
  /** Why it cannot be shown. */
  readonly fault: Fault | null;
  /** Reads it once more. */
  again(): void;
};

/** To be called while a part is set up. `hash` may change; empty is no photo. */
export function shownPhoto(hash: () => string): ShownPhoto {
  let url = $state.raw<string | null>(null);
  let fault = $state.raw<Fault | null>(null);
  let tries = $state(0);
  $effect(() => {
    void tries;
    url = fault = null;
    const wanted = hash();
    if (wanted === '') return;
    let gone = false;
    let release = () => {};
    photoUrl(wanted).then(
      (photo) => {
        if (gone) return photo.release();
        release = photo.release;
        url = photo.url;
      },
      (thrown: unknown) => {
        if (!gone) fault = asFault(thrown);
      },
    );
    return () => {
      gone = true;
      release();
    };
  });
  return {
    get url() {
      return url;
    },
    get fault() {
      return fault;
    },
    again: () => void tries++,
  };
}
