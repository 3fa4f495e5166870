// Drives the built desktop program: WebKitWebDriver (Debian: webkit2gtk-driver) and Node's own fetch.
// No npm package and no tauri-driver.
import { spawn } from 'node:child_process';
import { openSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import assert from 'node:assert/strict';

// the key under which WebDriver hands out elements (W3C WebDriver, "web element identifier")
const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf';
const sleep = (ms) => new Promise((r) => setTimeout(r, ms));
const freePort = () =>
  new Promise((ok) => {
    const s = createServer().listen(0, '127.0.0.1', () => {
      const { port } = s.address();
      s.close(() => ok(port));
    });
  });

export class Driver {
  static async start(env, log) {
    const d = new Driver();
    const port = await freePort();
    d.base = `http://localhost:${port}`;
    // TAURI_WEBVIEW_AUTOMATION=true is what makes a Tauri 2 program accept a driver (it inherits it)
    d.proc = spawn('WebKitWebDriver', [`--port=${port}`], {
      env: { ...process.env, TAURI_WEBVIEW_AUTOMATION: 'true', ...env },
      // a log file, never the test runner's own pipe: a leftover process would keep the runner waiting for ever
      stdio: ['ignore', openSync(log, 'a'), openSync(log, 'a')],
      detached: true, // a process group of its own: driver + program + WebKit's processes end together
    });
    for (let i = 0; ; i++) {
      try {
        await d.http('GET', '/status');
        break;
      } catch (e) {
        if (i > 100) throw e;
        await sleep(50);
      }
    }
    return d;
  }
  async http(method, path, body) {
    const r = await fetch(this.base + path, {
      method,
      body: body === undefined ? undefined : JSON.stringify(body),
      headers: body === undefined ? {} : { 'content-type': 'application/json' },
      signal: AbortSignal.timeout(30000), // a program without automation makes POST /session hang for ever
    });
    const { value } = await r.json();
    if (!r.ok) throw new Error(`${method} ${path}: ${value.error}: ${value.message}`);
    return value;
  }
  cmd(method, path, body) {
    return this.http(method, `/session/${this.id}${path}`, body);
  }
  /** Starts the program with these arguments. */
  async open(binary, args = []) {
    const v = await this.http('POST', '/session', {
      capabilities: { alwaysMatch: { 'webkitgtk:browserOptions': { binary, args } } },
    });
    this.id = v.sessionId;
    return v.capabilities;
  }
  /** The pids of our process group but for the driver: the program and WebKit's processes. */
  others() {
    const pids = readdirSync('/proc').filter((p) => /^\d+$/.test(p) && +p !== this.proc.pid);
    return pids.filter((p) => {
      try {
        // after the name in brackets: state, parent, process group
        const f = readFileSync(`/proc/${p}/stat`, 'latin1').replace(/^.*\) /s, '').split(' ');
        return f[0] !== 'Z' && +f[2] === this.proc.pid;
      } catch {
        return false;
      }
    });
  }
  async gone() {
    for (const end = Date.now() + 5000; this.others().length; ) {
      if (Date.now() > end) throw new Error('the program did not end');
      await sleep(20);
    }
  }
  /** Ends the program. The driver must outlive it: a driver killed right after DELETE can leave it running. */
  async close() {
    if (!this.id) return;
    const { id } = this;
    this.id = undefined;
    await this.http('DELETE', `/session/${id}`);
    await this.gone();
  }
  /** Ends the program, WebKit and the driver with no warning. */
  async kill() {
    this.id = undefined;
    process.kill(-this.proc.pid, 'SIGKILL');
    await this.gone();
  }
  async stop() {
    try {
      await this.close();
    } finally {
      try {
        process.kill(-this.proc.pid, 'SIGKILL');
      } catch {
        /* gone */
      }
    }
  }
  async find(css, ms = 5000) {
    const end = Date.now() + ms;
    for (;;) {
      try {
        return (await this.cmd('POST', '/element', { using: 'css selector', value: css }))[ELEMENT];
      } catch (e) {
        if (Date.now() > end) throw e;
        await sleep(50);
      }
    }
  }
  async click(css) {
    await this.cmd('POST', `/element/${await this.find(css)}/click`, {});
  }
  async fill(css, text) {
    const e = await this.find(css);
    await this.cmd('POST', `/element/${e}/clear`, {});
    if (text) await this.cmd('POST', `/element/${e}/value`, { text });
  }
  async text(css) {
    return this.cmd('GET', `/element/${await this.find(css)}/text`);
  }
  async waitText(css, want, ms = 5000) {
    const end = Date.now() + ms;
    let got;
    do {
      got = await this.text(css);
      if (got === want) return;
      await sleep(50);
    } while (Date.now() < end);
    assert.equal(got, want, css);
  }
  /** Until a sheet over the work says this; answers all that it says. */
  async sheet(text, ms = 20000) {
    let said = [];
    for (const end = Date.now() + ms; Date.now() < end; await sleep(100)) {
      said = await this.js('arguments[0]([...document.querySelectorAll("dialog[open]")].map((d) => d.innerText))');
      const found = said.find((one) => one.includes(text));
      if (found) return found;
    }
    return assert.fail(`no sheet says “${text}”: ${said}`);
  }
  js(script, ...args) {
    return this.cmd('POST', '/execute/async', { script, args });
  }
  /** Until the page knows whether the database is open; it has to be in this mode then. */
  async mode(want) {
    const state = await this.js(`const done = arguments[0];
      (function look() {
        const host = window.airwright;
        if (host && host.state.mode !== 'starting') done({ ...host.state }); else setTimeout(look, 20);
      })();`);
    assert.equal(state.mode, want, state.detail);
    return state;
  }
  /** A method of the page's own door: { answer } or { fault }. Bytes pass as lists of numbers. */
  ask(method, ...args) {
    return this.js(
      `const done = arguments[2];
      const given = arguments[1].map((a) => a?.bytes ? new Uint8Array(a.bytes) : a);
      const plain = (v) => v instanceof Uint8Array ? { bytes: [...v] }
        : v?.body instanceof Uint8Array ? { ...v, body: [...v.body] }
        : v?.bytes instanceof Uint8Array ? { ...v, bytes: [...v.bytes] } : v;
      window.airwright[arguments[0]](...given).then((answer) => done({ answer: plain(answer) ?? null }), (fault) => done({ fault }));`,
      method,
      args,
    );
  }
  call(name, args = null) {
    return this.ask('call', name, args);
  }
  /** Tauri's own door, past the page's. */
  invoke(cmd, args) {
    return this.js(
      `const done = arguments[2];
      window.__TAURI__.core.invoke(arguments[0], arguments[1]).then((answer) => done({ answer }), (fault) => done({ fault }));`,
      cmd,
      args,
    );
  }
  /** WebKit's screenshot shows what was last painted: without the two frames it lags behind the page. */
  async shot(file) {
    await this.js('const d = arguments[0]; requestAnimationFrame(() => requestAnimationFrame(() => d(1)))');
    writeFileSync(file, Buffer.from(await this.cmd('GET', '/screenshot'), 'base64'));
  }
}
