// For tests of components: shows a part on an empty page, and takes it away after the test.
import { flushSync, mount, unmount, type Component } from 'svelte';
import { afterEach, vi } from 'vitest';

const mounted: Record<string, unknown>[] = [];

afterEach(async () => {
  for (const part of mounted.splice(0)) await unmount(part);
  vi.useRealTimers();
});

/** Shows a part. */
export function show<P extends Record<string, unknown>>(part: Component<P>, props: P): void {
  mounted.push(mount(part, { target: document.body, props }));
  flushSync();
}

/** A part with a type parameter, whose props cannot be inferred from outside. */
export const loose = (part: unknown) => part as Component<Record<string, unknown>>;

/** All elements of a selector. */
export const all = <E extends Element = HTMLElement>(css: string): E[] => [...document.body.querySelectorAll<E>(css)];

/** The first element of a selector; it must be there. */
export function one<E extends Element = HTMLElement>(css: string): E {
  const found = document.body.querySelector<E>(css);
  if (!found) throw new Error(`no ${css}`);
  return found;
}

/** The texts of all elements of a selector, with single spaces. */
export const words = (css: string) => all(css).map((e) => e.textContent?.trim().replace(/\s+/g, ' '));

/** Presses and lets go of a key. */
export function press(e: Element, key: string): void {
  e.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }));
  e.dispatchEvent(new KeyboardEvent('keyup', { key, bubbles: true }));
  flushSync();
}

/** Types a text over what is in a field. */
export function write(e: HTMLInputElement, text: string): void {
  e.value = text;
  e.dispatchEvent(new Event('input', { bubbles: true }));
  flushSync();
}
