// Validation in the browser's engine: the Go benchmarks of schema and its rules
// compiled to WebAssembly and run under node, beside ajv on the same full stage-1
// note in the same run. checks.mjs has the figures inside a page.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import Ajv from 'ajv';

const root = path.resolve(import.meta.dirname, '../..');
const read = (file) => JSON.parse(fs.readFileSync(path.join(root, file), 'utf8'));
function go(args, env = {}) {
  const done = spawnSync('go', args, { cwd: root, encoding: 'utf8', env: { ...process.env, ...env }, stdio: ['ignore', 'pipe', 'inherit'], maxBuffer: 1 << 26 });
  if (done.error || done.status !== 0) throw new Error(`go ${args.join(' ')} failed`);
  return done.stdout;
}

const note = read('testdata/notes/stage1.json');
let start = performance.now();
const fits = new Ajv({ strict: false }).compile(read('schema/generated/stage1.schema.json'));
const compile = performance.now() - start;
if (!fits(note)) throw new Error('ajv refuses the full note');
for (let i = 0; i < 300; i++) fits(note);
start = performance.now();
for (let i = 0; i < 1000; i++) fits(note);
const ajv = (performance.now() - start) / 1000;
const ms = (v) => Number(v.toPrecision(3));
console.log(['validate-whole-ajv-node', ms(ajv), 'ms', `ajv 8.20.0 whole note; it compiles in ${ms(compile)} ms`].join('\t'));

const exec = path.join(go(['env', 'GOROOT']).trim(), 'lib/wasm/go_js_wasm_exec');
const text = go(['test', `-exec=${exec}`, '-run', '^$', '-bench', '^BenchmarkFigure', '-benchtime', '300ms', './schema', './schema/rules'], { GOOS: 'js', GOARCH: 'wasm' });
for (const [, name, ns] of text.matchAll(/^BenchmarkFigure(\w+?)(?:-\d+)?\s+\d+\s+([\d.]+) ns\/op/gm)) {
  const words = name.replace(/(?<=[a-z0-9])(?=[A-Z])/g, '-').toLowerCase();
  console.log([`${words}-wasm-node`, ms(Number(ns) / 1e6), 'ms', `ajv on the whole note ${ms(ajv)} ms`].join('\t'));
}
