// Fingers, mouse, wheel and keys on a picture that turns.
import { dragged, keyed, nearer, wheeled, type View } from './camera';

/** A finger that moved less than this, px, has tapped. */
const TAP_PX = 8;

/** Whose picture it is. */
export interface Held {
  /** where it is looked at from now */
  view: () => View;
  see: (next: View, calmly?: boolean) => void;
  /** where the Home key leads */
  home: View;
  /** a tap at this place of the window */
  tap?: ((x: number, y: number) => void) | undefined;
}

/** Listens on the picture; answers how to stop. */
export function hands(picture: HTMLElement, held: Held): () => void {
  const down = new Map<number, { x: number; y: number }>();
  /** where the only finger came down, until it has moved too far for a tap */
  let tapped: { x: number; y: number } | null = null;
  const on = new AbortController();
  const listen = <K extends keyof HTMLElementEventMap>(type: K, does: (e: HTMLElementEventMap[K]) => void) =>
    picture.addEventListener(type, does, { signal: on.signal, passive: false });
  listen('pointerdown', (e) => {
    picture.setPointerCapture(e.pointerId);
    tapped = down.size === 0 && e.button === 0 ? { x: e.clientX, y: e.clientY } : null;
    down.set(e.pointerId, { x: e.clientX, y: e.clientY });
  });
  listen('pointermove', (e) => {
    const before = down.get(e.pointerId);
    if (!before) return;
    if (tapped && Math.hypot(e.clientX - tapped.x, e.clientY - tapped.y) > TAP_PX) tapped = null;
    const other = [...down].find(([key]) => key !== e.pointerId)?.[1];
    const [dx, dy] = [e.clientX - before.x, e.clientY - before.y];
    if (!other) held.see(dragged(held.view(), dx, dy));
    else {
      const apart = (p: { x: number; y: number }) => Math.max(1, Math.hypot(p.x - other.x, p.y - other.y));
      // two fingers: apart is nearer; together to the side or up they turn, each by half
      held.see(dragged(nearer(held.view(), apart({ x: e.clientX, y: e.clientY }) / apart(before)), dx / 2, dy / 2));
    }
    down.set(e.pointerId, { x: e.clientX, y: e.clientY });
  });
  listen('pointerup', (e) => {
    down.delete(e.pointerId);
    if (tapped) held.tap?.(e.clientX, e.clientY);
    tapped = null;
  });
  listen('pointercancel', (e) => {
    down.delete(e.pointerId);
    tapped = null;
  });
  listen('wheel', (e) => {
    const next = wheeled(held.view(), e.deltaMode === 1 ? e.deltaY * 16 : e.deltaY);
    // at its end the page scrolls on
    if (next.zoom === held.view().zoom) return;
    e.preventDefault();
    held.see(next);
  });
  listen('keydown', (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    const next = keyed(held.view(), e.key, held.home);
    if (!next) return;
    e.preventDefault();
    held.see(next, e.key === 'Home');
  });
  return () => on.abort();
}
