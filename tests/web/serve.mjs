// A plain static file server with no special headers: serve(t, PREFIX, DIR, MODE), until test `t` ends.
//  MODE: '' | 'nomime' (wasm as application/octet-stream) | 'csp' (strict policy header) | 'coi' (COOP/COEP)
import { createServer } from 'node:http';
import { existsSync, readFileSync, statSync } from 'node:fs';
import { extname, join } from 'node:path';

const POLICY =
  "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob: data:; font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'";
const TYPES = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.wasm': 'application/wasm',
  '.woff2': 'font/woff2',
  '.ttf': 'font/ttf',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.webmanifest': 'application/manifest+json',
  '.json': 'application/json',
};

/** `dir` may be changed later through the answer: another version at the same address. */
export async function serve(t, prefix, dir, mode = '') {
  const site = { dir };
  const server = createServer((request, response) => {
    const refuse = () => response.writeHead(404).end();
    let path = decodeURIComponent(new URL(request.url, 'http://localhost').pathname);
    if (!path.startsWith(prefix)) return refuse();
    path = path.slice(prefix.length) || '/';
    if (path.endsWith('/')) path += 'index.html';
    const file = join(site.dir, path);
    if (!existsSync(file) || !statSync(file).isFile()) return refuse();
    const type = mode === 'nomime' && extname(file) === '.wasm' ? undefined : TYPES[extname(file)];
    const headers = { 'content-type': type ?? 'application/octet-stream', 'cache-control': 'no-cache' };
    if (mode === 'csp') headers['content-security-policy'] = POLICY;
    if (mode === 'coi') {
      headers['cross-origin-opener-policy'] = 'same-origin';
      headers['cross-origin-embedder-policy'] = 'require-corp';
    }
    response.writeHead(200, headers).end(readFileSync(file));
  });
  site.stop = () =>
    new Promise((done) => {
      server.close(done);
      server.closeAllConnections();
    });
  t.after(site.stop);
  await new Promise((done) => server.listen(0, '127.0.0.1', done));
  site.url = `http://localhost:${server.address().port}${prefix}/`;
  return site;
}
