// How clearly letters stand out, measured in a page: WCAG 2.2, relative luminance and contrast ratio.

/** Letters of drawings are left out: they lie on the colour of a balloon, which is the job's and no theme's.
 *  To be evaluated in a page: how many letters it has, and which of them have less than 7 : 1 to what is behind them. */
export function paleLetters() {
  const canvas = new OffscreenCanvas(1, 1).getContext('2d', { willReadFrequently: true });
  const rgba = (css) => {
    canvas.clearRect(0, 0, 1, 1);
    canvas.fillStyle = css;
    canvas.fillRect(0, 0, 1, 1);
    return [...canvas.getImageData(0, 0, 1, 1).data];
  };
  const light = ([r, g, b]) => [r, g, b].map((c) => c / 255).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)).reduce((sum, c, i) => sum + c * [0.2126, 0.7152, 0.0722][i], 0);
  const ground = (e) => {
    for (let at = e; at; at = at.parentElement) {
      const c = rgba(getComputedStyle(at).backgroundColor);
      if (c[3] === 255) return c;
    }
    return [255, 255, 255];
  };
  const pale = [];
  let letters = 0;
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const e = node.parentElement;
    const text = node.data.trim();
    if (!text || e instanceof SVGElement || !e.checkVisibility({ opacityProperty: true, visibilityProperty: true }) || e.closest('.unseen, :disabled')) continue;
    const [a, b] = [light(rgba(getComputedStyle(e).color)), light(ground(e))];
    const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    letters += text.length;
    if (ratio < 7) pale.push(`${text.slice(0, 30)}: ${ratio.toFixed(2)}`);
  }
  return { letters, pale };
}
