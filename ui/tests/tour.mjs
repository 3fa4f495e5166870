// Pictures of every room with the demo job: node ui/tests/tour.mjs FOLDER [THEME...] [SIZE...]
//   FOLDER gets ROOM-SIZE-THEME.png. Without themes and sizes: all of them. `--readme` makes the few that README shows.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { open, SIZES, start, THEMES } from './page.mjs';

const args = process.argv.slice(2);
const folder = args.find((a) => !a.startsWith('--') && !THEMES.includes(a) && !(a in SIZES)) ?? 'tour';
const readme = args.includes('--readme');
const themes = THEMES.filter((t) => args.includes(t));
const sizes = Object.keys(SIZES).filter((s) => args.includes(s));
const ROOMS = ['brief', 'design', 'make', 'times', 'load', 'site', 'papers'];
const PLACES = ['jobs', 'stockroom', 'people', 'settings'];
/** What README shows: room, size, theme. */
const SHOWN = [['design', 'desk', 'paper'], ['make', 'desk', 'paper'], ['times', 'tablet', 'paper'], ['load', 'desk', 'paper'], ['site', 'tablet', 'paper'], ['site', 'phone', 'hall'], ['papers', 'desk', 'paper']];

mkdirSync(folder, { recursive: true });
const site = await start();
const wanted = (room, size, theme) =>
  readme ? SHOWN.some(([r, s, t]) => r === room && s === size && t === theme) : (themes.length === 0 || themes.includes(theme)) && (sizes.length === 0 || sizes.includes(size));
for (const size of Object.keys(SIZES)) {
  for (const theme of THEMES) {
    const rooms = [...PLACES, ...ROOMS].filter((r) => wanted(r, size, theme));
    if (rooms.length === 0) continue;
    const { page, said } = await open(site, '#/jobs', { size: SIZES[size], settings: { theme, who: 'Ada' } });
    await page.waitForFunction(() => window.airwright?.state.mode === 'owner', null, { timeout: 20000 });
    const id = await page.evaluate(async () => {
      await window.airwright.call('first_start', { today: new Date().toISOString().slice(0, 10) });
      return (await window.airwright.call('list_jobs'))[0].id;
    });
    for (const room of rooms) {
      await page.evaluate((hash) => (location.hash = hash), PLACES.includes(room) ? `#/${room}` : `#/job/${id}/${room}`);
      // the plan comes twice, the second time packed to the end
      if (!PLACES.includes(room)) await page.locator('.tape li').first().waitFor({ timeout: 30000 });
      await page.waitForTimeout(room === 'design' || room === 'jobs' ? 2500 : 1500);
      await page.screenshot({ path: join(folder, `${room}-${size}-${theme}.png`) });
    }
    if (said.length > 0) console.log(size, theme, [...new Set(said)].slice(0, 6));
    await page.context().close();
  }
}
await site.close();
