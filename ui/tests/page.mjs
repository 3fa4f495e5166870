// A browser on the built web app, served under the policy that the desktop window has too.
import { createServer } from 'node:http';
import { existsSync, readFileSync, statSync } from 'node:fs';
import { dirname, extname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const here = dirname(fileURLToPath(import.meta.url));
/** The built app: `npm run build:web` makes it. */
export const FOLDER = process.env.AIRWRIGHT_WEB ?? join(here, '../dist/web');
const BROWSER = process.env.AIRWRIGHT_CHROMIUM ?? '/usr/bin/chromium';
const TYPES = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.woff2': 'font/woff2',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
};
const POLICY =
  "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; " +
  "connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; object-src 'none'";

/** The sizes that every screen is made for. */
export const SIZES = { phone: [390, 844], tablet: [820, 1180], desk: [1440, 900] };
export const THEMES = ['paper', 'hall', 'sun'];

/** A server and a browser; `close` ends both. `base` is the address of the app, in a sub-folder as on many hosts. */
export async function start() {
  const server = createServer((request, response) => {
    const path = normalize(decodeURIComponent((request.url ?? '/').split('?')[0])).replace(/^\/sub/, '');
    const file = join(FOLDER, path === '/' ? 'index.html' : path);
    if (!file.startsWith(FOLDER) || !existsSync(file) || statSync(file).isDirectory()) return response.writeHead(404).end();
    response.writeHead(200, { 'content-type': TYPES[extname(file)] ?? 'application/octet-stream', 'content-security-policy': POLICY });
    return response.end(readFileSync(file));
  });
  await new Promise((done) => server.listen(0, '127.0.0.1', () => done()));
  const browser = await chromium.launch({
    executablePath: BROWSER,
    args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
  });
  return {
    base: `http://127.0.0.1:${server.address().port}/sub/`,
    browser,
    async close() {
      await browser.close();
      server.closeAllConnections();
      await new Promise((done) => server.close(done));
    },
  };
}

/** A page at a hash, with what it complains about in `said`: policy violations, errors, warnings. */
export async function open({ browser, base }, hash, { size = SIZES.desk, settings = {}, ...more } = {}) {
  const context = await browser.newContext({ viewport: { width: size[0], height: size[1] }, serviceWorkers: 'block', ...more });
  const page = await context.newPage();
  const said = [];
  // the service worker is kept out of these pages on purpose, and the browser says so
  const ours = 'Service Worker registration blocked by Playwright';
  page.on('console', (m) => ['error', 'warning'].includes(m.type()) && m.text() !== ours && said.push(m.text()));
  page.on('pageerror', (e) => said.push(e.message));
  await page.addInitScript((kept) => localStorage.getItem('airwright.settings') ?? localStorage.setItem('airwright.settings', kept), JSON.stringify(settings));
  await page.goto(base + hash);
  await page.locator('h1').waitFor();
  await page.evaluate(() => document.fonts.ready);
  return { page, said, close: () => context.close() };
}
