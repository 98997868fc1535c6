// How long it takes in the browser to fold the 10 000 events of one child, and to
// work out the register from the record. The same Go code runs as in the app, in a
// program of its own.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { App, Server, built, root, temporary } from '../browser/harness.mjs';

const dir = temporary('register');
for (const name of fs.readdirSync(built)) fs.copyFileSync(path.join(built, name), path.join(dir, name));
fs.rmSync(path.join(dir, 'app.wasm.br'), { force: true });
execFileSync('go', ['build', '-trimpath', '-ldflags=-s -w', '-modfile=.build/out/browser.mod', '-o', path.join(dir, 'app.wasm'), './testdata/bench/register'],
  { cwd: root, env: { ...process.env, GOOS: 'js', GOARCH: 'wasm' }, stdio: ['ignore', 'ignore', 'inherit'] });
const server = await Server.start({ dir });
const app = await App.open(server.url);
await app.page.goto(server.url);
await app.page.waitForFunction(() => window.register, { timeout: 120_000 });
const seen = await app.page.evaluate(() => window.register);
await app.close();
await server.stop();
fs.rmSync(dir, { recursive: true });

const at = (values, part) => values.slice().sort((a, b) => a - b)[Math.floor((values.length - 1) * part)].toFixed(1);
console.log(`register-fold-browser\t${at(seen.fold, 0.5)}\tms\tat most 60; ${seen.events} events, median of ${seen.fold.length}`);
console.log(`register-fold-browser-95\t${at(seen.fold, 0.95)}\tms\tthe slowest of twenty`);
console.log(`register-open-browser\t${at(seen.open, 0.5)}\tms\tfolded, and what is in listed; ${seen.events} events`);
console.log(`register-browser\t${at(seen.register, 0.5)}\tms\tthe whole register of ${seen.events} events; no comparison`);
console.log(`register-tap-browser\t${at(seen.tap, 0.5)}\tms\tthe whole register of 1000 events; no comparison`);
