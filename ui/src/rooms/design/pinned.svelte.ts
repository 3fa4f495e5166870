// The picture of Design stays in sight while a field is changed. Beside the form it stands still. Above it, its place in the page scrolls
// away and keeps its height, so that nothing below it moves; what stays is a small picture along the upper edge, or a strip.
import { settings } from '../../state/settings.svelte';

/** Where there is room for the picture beside the form. A keyboard that makes a window on end lower does not make it lie. */
export const BESIDE = '(min-width: 1100px), (min-width: 641px) and (min-aspect-ratio: 5/4)';
/** Height of the bar over the picture, px, as its style has it. */
export const BAR = 56;
/** What the small picture takes of the room that is seen, with its bar; at most, px; and the least of it that is worth its place. */
const [SHARE, MOST, LEAST] = [0.36, 420, BAR + 72];
/** What hangs low and wide needs less height. */
const LOW = 0.7;
/** From here on a window is pinched larger: then its edges are no keyboard's. */
const PINCHED = 1.02;

export class Pinned {
  /** it is scrolled past, and small */
  stuck = $derived.by(() => !this.beside && this.full > this.height && this.#below <= this.over + this.height);
  /** only its bar is left, with a speck of it: by choice, or for want of room */
  folded = $derived.by(() => settings.foldedPicture || this.cramped);
  cramped = $derived.by(() => this.#share < LEAST);
  /** px that the small one takes, with its bar */
  height = $derived.by(() => (this.folded ? BAR : this.#share));
  beside = $state(false);
  /** the head of the room is out of sight, and its undo with it */
  away = $state(false);
  /** px of the room that are seen: a keyboard on the screen is taken off */
  seen = $state(0);
  /** px of the room above what is seen, where a keyboard has pushed it up */
  over = $state(0);
  /** where its place is pinned, px from the room's upper edge: with its upper part out of sight if it is higher than the small one */
  top = $derived.by(() => this.over + Math.min(0, this.height - this.full));
  /** px that its place is high, and of these the picture itself */
  full = $state(0);
  held = $state(0);
  low = $state(false);
  /** where what follows its place begins, px from the room's upper edge */
  #below = $state(Infinity);
  #share = $derived.by(() => Math.min(this.seen * SHARE * (this.low ? LOW : 1), MOST));

  /** Watches the place of the picture in its room; ends with what it gives back. */
  watch(stage: HTMLElement, hold: HTMLElement): () => void {
    const room = stage.closest('main');
    const under = stage.nextElementSibling;
    if (!room || !under) return () => {};
    const wide = matchMedia(BESIDE);
    const look = () => {
      const { top, bottom } = room.getBoundingClientRect();
      const port = visualViewport && visualViewport.scale < PINCHED ? visualViewport : null;
      this.over = Math.max(0, (port?.offsetTop ?? 0) - top);
      this.seen = Math.min(bottom, port ? port.offsetTop + port.height : bottom) - top - this.over;
      this.beside = wide.matches;
      this.away = (document.getElementById('place-title')?.getBoundingClientRect().bottom ?? top) <= top + this.over;
      this.#below = under.getBoundingClientRect().top - top;
      if (!this.stuck) this.held = hold.offsetHeight;
      this.full = stage.offsetHeight;
    };
    const sized = new ResizeObserver(look);
    for (const e of [room, stage]) sized.observe(e);
    const heard: [EventTarget | null, string][] = [[room, 'scroll'], [visualViewport, 'resize'], [visualViewport, 'scroll'], [wide, 'change']];
    for (const [target, type] of heard) target?.addEventListener(type, look, { passive: true });
    // whoever turns to the form has the picture beside it from its top
    const side = stage.parentElement;
    const turned = (e: Event) => void (side && !side.contains(e.target as Node) && (side.scrollTop = 0));
    for (const type of ['pointerdown', 'focusin']) room.addEventListener(type, turned);
    return () => {
      sized.disconnect();
      for (const [target, type] of heard) target?.removeEventListener(type, look);
      for (const type of ['pointerdown', 'focusin']) room.removeEventListener(type, turned);
      room.style.removeProperty('--pinned');
    };
  }

  /** Tells the room how much of its upper edge is covered: what has the focus there comes into view below it. */
  tell(stage: HTMLElement): void {
    stage.closest('main')?.style.setProperty('--pinned', `${this.beside ? 0 : this.over + this.height}px`);
  }
}
