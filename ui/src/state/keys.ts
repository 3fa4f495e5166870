// Keys that work everywhere: 1 to 7 for the rooms, undo and redo, / for search.
import { ROOMS, type RoomId } from './router.svelte';

/** What a key asks for. */
export type Ask = { ask: 'room'; room: RoomId } | { ask: 'undo' } | { ask: 'redo' } | { ask: 'search' };

/** What a key press asks for, or null. In a text field a plain key is text, and undo is the field's own. */
export function asked(e: Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'altKey' | 'shiftKey' | 'isComposing' | 'target'>): Ask | null {
  if (e.isComposing || e.altKey || isWriting(e.target)) return null;
  if (e.ctrlKey || e.metaKey) {
    const key = e.key.toLowerCase();
    if (key === 'z') return { ask: e.shiftKey ? 'redo' : 'undo' };
    return key === 'y' && !e.shiftKey ? { ask: 'redo' } : null;
  }
  if (e.key === '/') return { ask: 'search' };
  const room = /^[1-7]$/.test(e.key) ? ROOMS[Number(e.key) - 1] : undefined;
  return room ? { ask: 'room', room } : null;
}

/** Whether keys go into a text there. */
function isWriting(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (target.isContentEditable || target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement) return true;
  return target instanceof HTMLInputElement && !['checkbox', 'radio', 'button', 'range', 'color', 'file'].includes(target.type);
}
