// How long it takes in the browser to check the invented child's stage 1 note
// against its schema, beside ajv on the same note in the same page. Our Go code
// runs as in the app, in a program of its own.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { buildSync } from 'esbuild';
import { App, Server, built, root, temporary } from '../browser/harness.mjs';

const dir = temporary('checks');
for (const name of fs.readdirSync(built)) fs.copyFileSync(path.join(built, name), path.join(dir, name));
fs.rmSync(path.join(dir, 'app.wasm.br'), { force: true });
execFileSync('go', ['build', '-trimpath', '-ldflags=-s -w', '-modfile=.build/out/browser.mod', '-o', path.join(dir, 'app.wasm'), './testdata/bench/checks'],
  { cwd: root, env: { ...process.env, GOOS: 'js', GOARCH: 'wasm' }, stdio: ['ignore', 'ignore', 'inherit'] });
const bundle = buildSync({ stdin: { contents: 'import Ajv from "ajv"; globalThis.Ajv = Ajv;', resolveDir: path.join(root, 'testdata') },
  bundle: true, write: false, format: 'iife', platform: 'browser', logLevel: 'error' }).outputFiles[0].text;

const server = await Server.start({ dir });
const app = await App.open(server.url, { bypassCSP: true }); // ajv makes its code as it goes
await app.page.goto(server.url);
await app.page.waitForFunction(() => window.checks, undefined, { timeout: 60_000 });
await app.page.evaluate(bundle);
const seen = await app.page.evaluate((schema) => {
  const note = JSON.parse(window.checks.note);
  const begun = performance.now();
  const fits = new Ajv({ strict: false }).compile(schema);
  const compile = performance.now() - begun;
  if (!fits(note)) throw new Error(`ajv refuses the note: ${JSON.stringify(fits.errors)}`);
  for (let i = 0; i < 300; i++) fits(note);
  const ajv = [];
  for (let i = 0; i < 50; i++) {
    const at = performance.now();
    for (let k = 0; k < 100; k++) fits(note);
    ajv.push((performance.now() - at) / 100);
  }
  const { section, cached, uncached } = window.checks;
  return { section, cached, uncached, ajv, compile };
}, JSON.parse(fs.readFileSync(path.join(root, 'schema/generated/stage1.schema.json'), 'utf8')));
await app.close();
await server.stop();
fs.rmSync(dir, { recursive: true });

const median = (values) => Number(values.slice().sort((a, b) => a - b)[Math.floor(values.length / 2)].toPrecision(3));
const beside = `ajv 8 in the same page, whole note ${median(seen.ajv)} ms; it compiles in ${seen.compile.toFixed(0)} ms`;
console.log(`validate-section-browser\t${median(seen.section)}\tms\tat most 1; ${beside}`);
console.log(`validate-whole-browser\t${median(seen.cached)}\tms\tat most 10, one section changed; ${beside}`);
console.log(`validate-uncached-browser\t${median(seen.uncached)}\tms\treported; ${beside}`);
console.log(`validate-whole-ajv-browser\t${median(seen.ajv)}\tms\tajv 8 in the same page, compiled`);
