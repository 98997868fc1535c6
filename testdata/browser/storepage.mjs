// A page that holds app/keep's test program: it runs the Go tests in a real
// browser, or gives a test the store to drive as window.keep.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import http from 'node:http';
import path from 'node:path';
import { root, temporary } from './harness.mjs';

const page = `<!doctype html><meta charset="utf-8"><title>store</title><p id="state">starting</p>
<script src="/wasm_exec.js"></script><script src="/keep.js"></script><script src="/start.js"></script>`;

// The environment holds what the test asks for; nothing else is needed there.
const start = `(async () => {
  const go = new Go();
  const asked = new URLSearchParams(location.search);
  if (asked.has('drive')) go.env = { KEEP_DRIVE: '1' };
  else go.argv = ['keep.test', '-test.v', ...asked.getAll('arg')];
  let code = -1;
  go.exit = (c) => { code = c; };
  const { instance } = await WebAssembly.instantiateStreaming(fetch('/keep.wasm'), go.importObject);
  await go.run(instance);
  document.getElementById('state').textContent = 'exit ' + code;
})();`;

// A StorePage serves it at one address.
export class StorePage {
  static async start() {
    const s = new StorePage();
    s.dir = temporary('storepage');
    const wasm = path.join(s.dir, 'keep.wasm');
    execFileSync('go', ['test', '-c', '-modfile=.build/out/browser.mod', '-o', wasm, './app/keep'],
      { cwd: root, env: { ...process.env, GOOS: 'js', GOARCH: 'wasm' }, stdio: ['ignore', 'ignore', 'inherit'] });
    const goroot = execFileSync('go', ['env', 'GOROOT'], { cwd: root, encoding: 'utf8' }).trim();
    const files = {
      '/': ['text/html', page],
      '/start.js': ['text/javascript', start],
      '/wasm_exec.js': ['text/javascript', fs.readFileSync(path.join(goroot, 'lib/wasm/wasm_exec.js'))],
      '/keep.js': ['text/javascript', fs.readFileSync(path.join(root, 'app/web/keep.js'))],
      '/keep.wasm': ['application/wasm', fs.readFileSync(wasm)],
      '/favicon.ico': ['image/x-icon', ''],
    };
    s.server = http.createServer((request, response) => {
      const [type, content] = files[new URL(request.url, 'http://x').pathname] ?? [];
      if (!type) { response.writeHead(404).end(); return; }
      response.writeHead(200, { 'Content-Type': type }).end(content);
    });
    await new Promise((done) => s.server.listen(0, 'localhost', done));
    s.url = `http://localhost:${s.server.address().port}`;
    return s;
  }

  async stop() {
    this.server.closeAllConnections();
    await new Promise((done) => this.server.close(done));
    fs.rmSync(this.dir, { recursive: true });
  }
}

// drive opens a page that has window.keep, with its store open.
export async function drive(app, page = app.page) {
  await page.goto(`${app.url}/?drive`);
  await page.waitForFunction(() => document.getElementById('state')?.textContent === 'driven');
  await page.evaluate(() => window.keep.open());
  return page;
}
