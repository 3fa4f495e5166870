// From the list of findings to the one that is meant: its row in the room is brought into sight and holds the focus.

/** A room that was not open yet is planned and drawn first; after this it is left at its top, ms. */
const PATIENCE_MS = 4000;
const LOOK_MS = 50;

/** Waits until the room is there and shows a finding with this message, then goes to it. False if the room has no row for it. */
export async function bringIntoSight(message: string, there: () => boolean): Promise<boolean> {
  for (let waited = 0; waited < PATIENCE_MS; waited += LOOK_MS) {
    // the sheet gives the focus back to its button as it closes: after that
    await new Promise((go) => setTimeout(go, LOOK_MS));
    const row = there() ? [...document.querySelectorAll<HTMLElement>('main [data-finding]')].find((e) => e.dataset['finding'] === message) : undefined;
    if (!row) continue;
    row.scrollIntoView({ block: 'center' });
    row.focus({ preventScroll: true });
    return true;
  }
  return false;
}
