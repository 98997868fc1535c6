// How long it takes in the browser to work out every value of the invented child's
// stage 1 note, card, growth and picture included, and to work out again after one
// field changed. The same Go code runs as in the app, in a program of its own.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { App, Server, built, root, temporary } from '../browser/harness.mjs';

const dir = temporary('values');
for (const name of fs.readdirSync(built)) fs.copyFileSync(path.join(built, name), path.join(dir, name));
fs.rmSync(path.join(dir, 'app.wasm.br'), { force: true });
execFileSync('go', ['build', '-trimpath', '-ldflags=-s -w', '-modfile=.build/out/browser.mod', '-o', path.join(dir, 'app.wasm'), './testdata/bench/values'],
  { cwd: root, env: { ...process.env, GOOS: 'js', GOARCH: 'wasm' }, stdio: ['ignore', 'ignore', 'inherit'] });
const server = await Server.start({ dir });
const app = await App.open(server.url);
await app.page.goto(server.url);
await app.page.waitForFunction(() => window.values, { timeout: 60_000 });
const seen = await app.page.evaluate(() => window.values);
await app.close();
await server.stop();
fs.rmSync(dir, { recursive: true });

const at = (values, part) => values.slice().sort((a, b) => a - b)[Math.floor((values.length - 1) * part)].toFixed(2);
console.log(`values-browser\t${at(seen.whole, 0.5)}\tms\tat most 5; ${seen.shown} values shown, ${seen.of} calculations, ${seen.whole.length} rounds`);
console.log(`values-browser-95\t${at(seen.whole, 0.95)}\tms\tthe slowest of twenty rounds; at most 5 for the median`);
console.log(`values-compute\t${at(seen.compute, 0.5)}\tms\tall calculations of a note, without growth, card and picture`);
console.log(`values-one-field\t${at(seen.oxygen, 0.5)}\tms\tall calculations ${at(seen.compute, 0.5)} ms; ${seen.ranOxygen} of ${seen.of} ran for an oxygen pressure, ${seen.ran} for a weight`);
