// Keeps the screen awake while somebody works from it, where the browser can.

/** Keeps the screen awake until the answer is called. The system lets go whenever the page is hidden; when it is seen again it is asked anew. */
export function keepAwake(page: Document = document, locks: WakeLock | undefined = navigator.wakeLock): () => void {
  let lock: WakeLockSentinel | null = null;
  let over = false;
  const ask = async () => {
    if (over || page.visibilityState !== 'visible' || (lock && !lock.released)) return;
    try {
      const got = await locks?.request('screen');
      if (over) await got?.release();
      else lock = got ?? null;
    } catch {
      // a low battery or a setting refuses: the screen goes dark as it always does
    }
  };
  const seen = () => void ask();
  page.addEventListener('visibilitychange', seen);
  void ask();
  return () => {
    over = true;
    page.removeEventListener('visibilitychange', seen);
    void lock?.release().catch(() => {});
    lock = null;
  };
}
