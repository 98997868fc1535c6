// Drives the built program in a real browser, as the tests need it.
//
//   const server = await Server.start();          // the built program on a free port
//   const app = await App.open(server.url);       // Chromium on a fresh profile
//   await app.page.goto(server.url); ...
//   await app.close();                            // fails on any fault seen
//
// A fault is a violation of the content policy, an error on the console or an
// uncaught exception. A test that provokes one names it first: app.expect(/…/).
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import http from 'node:http';
import os from 'node:os';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import zlib from 'node:zlib';
import { chromium } from 'playwright-core';

export const root = path.resolve(import.meta.dirname, '../..');
export const program = path.join(root, '.build/out/fairlead');
export const built = path.join(root, 'app/web/built');
export const screens = path.join(root, '.build/out/screens');

const browserPath = process.env.CHROME_PATH ?? '/usr/bin/chromium';
const flags = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync'];

export function temporary(what) {
  return fs.mkdtempSync(path.join(os.tmpdir(), `fairlead-${what}-`));
}

// What a failed test leaves running would keep the whole run from ending.
const open = new Set();
if (process.env.NODE_TEST_CONTEXT) {
  const { after } = await import('node:test');
  after(async () => { for (const thing of open) await thing.end(); });
}

// How long a test waits for what it knows will come. A busy machine is slow; only a
// fault makes anyone wait this long.
const patience = 120_000;

// until waits for the answer to become truthy and returns it.
export async function until(what, ask, { within = patience, every = 25 } = {}) {
  const end = performance.now() + within;
  for (;;) {
    const answer = await ask();
    if (answer) return answer;
    if (performance.now() > end) throw new Error(`not within ${within} ms: ${what}`);
    await sleep(every);
  }
}

// A Server is the built program, serving. It can be stopped and started again
// at the same address.
export class Server {
  static async start({ args = [], dir, port = 0 } = {}) {
    const s = new Server();
    s.args = [...args, ...(dir ? ['-web', dir] : [])];
    s.port = port;
    await s.start();
    return s;
  }

  async start() {
    this.process = spawn(program, ['serve', '-at', `localhost:${this.port}`, ...this.args], { stdio: ['ignore', 'pipe', 'pipe'] });
    let said = '';
    let complained = '';
    this.process.stdout.on('data', (d) => { said += d; });
    this.process.stderr.on('data', (d) => { complained += d; });
    this.ended = new Promise((done) => this.process.once('exit', done));
    let over = false;
    this.ended.then(() => { over = true; });
    await until('the server says its address', () => {
      if (over) throw new Error(`the server ended: ${complained}`);
      return said.includes('\n');
    });
    open.add(this);
    this.url = said.trim();
    this.port = Number(new URL(this.url).port);
  }

  async stop() {
    open.delete(this);
    this.process.kill('SIGTERM');
    await this.ended;
  }

  end() { return this.stop(); }
}

// A Gate stands between browser and server at one address, so that a test can
// change the version behind it, break one file on its way, or count what passes.
export class Gate {
  static async open(target) {
    const g = new Gate();
    g.target = target;
    g.broken = new Map(); // path → 'missing' | 'cut'
    g.passed = []; // {path, status, bytes}
    g.server = http.createServer((request, response) => g.#pass(request, response));
    await new Promise((done) => g.server.listen(0, 'localhost', done));
    open.add(g);
    g.url = `http://localhost:${g.server.address().port}`;
    return g;
  }

  #pass(request, response) {
    const how = this.broken.get(request.url);
    if (how === 'missing') { response.writeHead(404).end(); return; }
    const onward = http.request(this.target + request.url, { method: request.method, headers: request.headers }, (answer) => {
      const seen = { path: request.url, status: answer.statusCode, bytes: 0 };
      this.passed.push(seen);
      response.writeHead(answer.statusCode, answer.headers);
      if (how === 'cut' && answer.statusCode === 200) {
        answer.once('data', (first) => response.write(first.subarray(0, 1000), () => response.destroy()));
        return;
      }
      answer.on('data', (d) => { seen.bytes += d.length; });
      answer.pipe(response);
    });
    onward.on('error', () => response.destroy());
    request.pipe(onward);
  }

  async close() {
    open.delete(this);
    this.server.closeAllConnections();
    await new Promise((done) => this.server.close(done));
  }

  end() { return this.close(); }
}

// variant copies the build with some files changed: another version of the app.
export function variant(changes) {
  const dir = temporary('build');
  for (const name of fs.readdirSync(built)) fs.copyFileSync(path.join(built, name), path.join(dir, name));
  for (const [name, change] of Object.entries(changes)) {
    const text = zlib.brotliDecompressSync(fs.readFileSync(path.join(dir, `${name}.br`))).toString();
    const changed = change(text);
    if (changed === text) throw new Error(`the variant changes nothing in ${name}`);
    fs.rmSync(path.join(dir, `${name}.br`));
    fs.writeFileSync(path.join(dir, name), changed);
  }
  return dir;
}

// processesOf finds the processes that were started on a profile.
function processesOf(profile) {
  const found = [];
  for (const pid of fs.readdirSync('/proc').filter((n) => /^\d+$/.test(n))) {
    try {
      const line = fs.readFileSync(`/proc/${pid}/cmdline`, 'utf8');
      if (!line.includes(profile)) continue;
      const stat = fs.readFileSync(`/proc/${pid}/stat`, 'utf8');
      const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
      if (fields[0] !== 'Z') found.push({ pid: Number(pid), group: Number(fields[2]) });
    } catch { /* it ended while we looked */ }
  }
  return found;
}

// An App is Chromium on one profile, with one page to begin with.
export class App {
  // open starts the browser. Options: profile (a folder to go on with), any
  // option of playwright's persistent context (viewport, hasTouch, colorScheme,
  // reducedMotion, forcedColors, locale, timezoneId …), flags (more of them).
  static async open(url, { profile = temporary('profile'), flags: more = [], ...options } = {}) {
    const app = new App();
    app.url = url;
    app.profile = profile;
    open.add(app);
    app.options = { flags: more, ...options };
    app.faults = [];
    app.expected = [];
    await app.#launch();
    return app;
  }

  async #launch() {
    this.limiting = undefined;
    const { flags: more, ...options } = this.options;
    this.context = await chromium.launchPersistentContext(this.profile, {
      executablePath: browserPath, headless: true, args: [...flags, ...more],
      viewport: { width: 1024, height: 768 }, acceptDownloads: true, ...options,
    });
    this.context.setDefaultTimeout(patience);
    await this.context.addInitScript(() => {
      document.addEventListener('securitypolicyviolation', (e) => {
        console.error(`content policy: ${e.violatedDirective} ${e.blockedURI} ${e.sourceFile}:${e.lineNumber} ${e.sample}`);
      });
    });
    this.context.on('page', (page) => this.#watch(page));
    for (const page of this.context.pages()) this.#watch(page);
    this.page = this.context.pages()[0] ?? await this.context.newPage();
  }

  #watch(page) {
    const said = []; // the last of what the page said: why a program stopped stands there
    page.on('console', (message) => {
      said.push(message.text());
      if (/^the app stopped/.test(message.text())) this.fault(`console, the last of it: ${said.splice(0).slice(-80).join('\n')}`);
      if (message.type() === 'error') this.fault(`console: ${message.text()} (${message.location().url})`);
    });
    page.on('pageerror', (e) => this.fault(`uncaught: ${e.message}`));
    page.on('crash', () => this.fault('the page crashed'));
  }

  fault(text) {
    if (!this.expected.some((pattern) => pattern.test(text))) this.faults.push(text);
  }

  // expect names faults that the test provokes on purpose.
  expect(...patterns) { this.expected.push(...patterns); }

  // goto opens an address inside the app and waits until the app shows itself.
  async goto(address = '/') {
    await this.page.goto(this.url + address);
    await this.shown();
  }

  async reload() {
    await this.page.reload();
    await this.shown();
  }

  // shown waits until Go has drawn its first screen in place of "Opening…".
  async shown(page = this.page) {
    await page.waitForFunction(() => window.fairlead && !document.getElementById('opening') && document.body.firstElementChild);
  }

  shell(page = this.page) {
    return page.evaluate(() => ({ ...window.fairlead }));
  }

  // offlineReady waits until the app says so of itself.
  async offlineReady(page = this.page) {
    await page.waitForFunction(() => window.fairlead.offlineReady);
  }

  // screenshot keeps a picture for people to look at.
  async screenshot(name, options = {}) {
    fs.mkdirSync(screens, { recursive: true });
    await this.page.screenshot({ path: path.join(screens, `${name}.png`), ...options });
  }

  // offline cuts the page off from the network, or joins it again. It leaves
  // the service worker's own requests alone: stopping the server is the stricter
  // test.
  async offline(is) { await this.context.setOffline(is); }

  // quota sets how many bytes this origin may store; no argument lifts it. The
  // browser forgets the limit when the session that set it ends.
  async quota(bytes) {
    this.limiting ??= await this.context.newCDPSession(this.page);
    await this.limiting.send('Storage.overrideQuotaForOrigin', { origin: new URL(this.url).origin, ...(bytes === undefined ? {} : { quotaSize: bytes }) });
  }

  // kill ends the browser as a power cut would: the whole process group at
  // once, with no chance to write anything more. It returns when all are gone.
  async kill() {
    const groups = new Set(processesOf(this.profile).map((p) => p.group));
    if (groups.has(Number(fs.readFileSync('/proc/self/stat', 'utf8').split(' ')[4]))) {
      throw new Error('the browser runs in the process group of the test');
    }
    if (groups.size === 0) throw new Error('there is no browser to kill');
    for (const group of groups) {
      try { process.kill(-group, 'SIGKILL'); } catch (e) { if (e.code !== 'ESRCH') throw e; }
    }
    await until('every process of the browser is gone', () => processesOf(this.profile).length === 0);
    await this.context.close().catch(() => {}); // nobody answers any more
  }

  // restart opens the browser again on the same profile.
  async restart() {
    if (processesOf(this.profile).length > 0) await this.context.close();
    await until('the earlier browser is gone', () => processesOf(this.profile).length === 0);
    for (const name of ['SingletonLock', 'SingletonCookie', 'SingletonSocket']) {
      fs.rmSync(path.join(this.profile, name), { force: true });
    }
    await this.#launch();
  }

  // close ends the browser, removes the profile and fails on any fault seen.
  async close() {
    await this.end();
    if (this.faults.length > 0) throw new Error(`faults in the browser:\n${this.faults.join('\n')}`);
  }

  // end is close without judging what was seen.
  async end() {
    open.delete(this);
    await this.context.close().catch(() => {});
    await until('the browser is gone', () => processesOf(this.profile).length === 0);
    fs.rmSync(this.profile, { recursive: true, force: true, maxRetries: 3 });
  }
}
