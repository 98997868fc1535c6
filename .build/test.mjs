// The gate: everything that must hold before a change is taken, the same on a
// desk and in CI. Every stage runs, prints how long it took, and counts.
//
//   node .build/test.mjs                 all stages
//   node .build/test.mjs lint go-test    only these
import { spawn, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '..');
process.chdir(root);
const browserMod = '-modfile=.build/out/browser.mod';

function run(command, args, env = {}) {
  const { status, error } = spawnSync(command, args, { stdio: ['ignore', 'inherit', 'inherit'], env: { ...process.env, ...env } });
  if (error) console.error(`${command}: ${error.message}`);
  return status === 0;
}
function read(command, args, env = {}) {
  const done = spawnSync(command, args, { encoding: 'utf8', env: { ...process.env, ...env }, maxBuffer: 1 << 28 });
  if (done.status !== 0) throw new Error(`${command} ${args.join(' ')}\n${done.stderr ?? done.error}`);
  return done.stdout;
}
const tracked = (...patterns) => read('git', ['ls-files', '--cached', '--others', '--exclude-standard', '--', ...patterns])
  .split('\n').filter((f) => f && fs.existsSync(f));
const nodeTests = () => tracked('testdata/*.test.mjs');
const inBrowser = (file) => file.startsWith('testdata/browser/');
const nodeTest = ['--test', '--test-reporter=spec', '--test-timeout=1800000'];
const runNode = (files) => files.length === 0 || run(process.execPath, [...nodeTest, '--test-concurrency=1', ...files]);

// In the browser two files run at a time: they wait more than they work, the
// longest first. One that fails is run a second time, alone, and the gate says so:
// a browser on a busy machine is late in ways that are not the app's, but what
// fails twice is a fault.
const longest = ['look', 'kill', 'note', 'zoom', 'register', 'screens', 'children', 'keep'];
async function inBrowserTests() {
  const rank = (file) => (longest.indexOf(path.basename(file, '.test.mjs')) + 100) % 100;
  const waiting = nodeTests().filter(inBrowser).sort((a, b) => rank(a) - rank(b));
  const failed = [];
  const worker = async () => {
    for (let file = waiting.shift(); file; file = waiting.shift()) if (!await browserFile(file)) failed.push(file);
  };
  await Promise.all([worker(), worker()]);
  const twice = [];
  for (const file of failed) {
    console.log(`\n${file} failed beside others; once more, alone`);
    if (!await browserFile(file)) twice.push(file);
  }
  if (failed.length > 0) console.log(`\nfailed at first: ${failed.join(' ')}; failed twice: ${twice.join(' ') || 'none'}`);
  return twice.length === 0;
}

// browserFile runs one file of tests, prints what it said when it has ended, and
// counts its outside checks if it passed.
function browserFile(file) {
  const own = path.join(path.dirname(counts), path.basename(file));
  return new Promise((done) => {
    const child = spawn(process.execPath, [...nodeTest, file], { stdio: ['ignore', 'pipe', 'pipe'], env: { ...process.env, FAIRLEAD_OUTSIDE: own } });
    let said = '';
    for (const from of [child.stdout, child.stderr]) from.setEncoding('utf8').on('data', (text) => { said += text; });
    child.on('close', (status) => {
      console.log(`\n-- ${file}\n${said.trimEnd()}`);
      if (status === 0 && fs.existsSync(own)) fs.appendFileSync(counts, fs.readFileSync(own));
      fs.rmSync(own, { force: true });
      done(status === 0);
    });
  });
}

// Under node the domain runs as the same WebAssembly that browsers run. The
// environment is kept small: Go has 8 kB for it there.
function wasmUnderNode() {
  const exec = path.join(read('go', ['env', 'GOROOT']).trim(), 'lib/wasm/go_js_wasm_exec');
  const keep = Object.fromEntries(['PATH', 'HOME', 'GOPROXY', 'GOFLAGS', 'GOMODCACHE', 'GOCACHE', 'GOPATH', 'TMPDIR']
    .filter((k) => process.env[k]).map((k) => [k, process.env[k]]));
  // The PDF does not run in browsers, and its tests start other programs; the corpus
  // is scored once, natively: the reader's own tests run here.
  const packages = read('go', ['list', './schema/...', './handover/...']).trim().split('\n').filter((p) => !/\/(sheet\/pdf|dictation\/corpus)$/.test(p));
  const { status } = spawnSync('go', ['test', `-exec=${exec}`, browserMod, '-short', ...packages],
    { stdio: ['ignore', 'inherit', 'inherit'], env: { ...keep, GOOS: 'js', GOARCH: 'wasm' } });
  return status === 0;
}

function gofmt() {
  const wrong = read('gofmt', ['-l', ...tracked('*.go')]).trim();
  if (wrong) console.error(`not as gofmt writes it:\n${wrong}`);
  return !wrong;
}

// staticcheck looks at both builds and reports what both agree on: what only
// the browser uses is not unused.
const pinned = 'v0.8.2';
function staticcheck() {
  const bin = path.resolve(`.build/out/staticcheck-${pinned}`);
  const tool = path.join(bin, 'staticcheck');
  if (!fs.existsSync(tool) && !run('go', ['install', `honnef.co/go/tools/cmd/staticcheck@${pinned}`], { GOBIN: bin })) return false;
  const findings = [{}, { GOOS: 'js', GOARCH: 'wasm' }].map((env, i) => {
    const done = spawnSync(tool, ['-f', 'binary', './...', ...(i === 0 ? ['./testdata/...'] : [])], { env: { ...process.env, ...env }, maxBuffer: 1 << 28 });
    if (done.error || !done.stdout?.length) throw new Error(`staticcheck did not run: ${done.error ?? done.stderr}`);
    const file = path.join(bin, `findings-${i}`);
    fs.writeFileSync(file, done.stdout);
    return file;
  });
  return run(tool, ['-merge', ...findings]);
}

export const stages = {
  setup: () => run('.build/setup.sh', []),
  build: () => run(process.execPath, ['.build/build.mjs']),
  gofmt,
  vet: () => run('go', ['vet', './...']) && run('go', ['vet', '.build/size.go']) && run('go', ['vet', './testdata/patched', './testdata/outside/feed']) &&
    run('go', ['vet', browserMod, './wasm/...', './app/ui/...', './app/keep/...'], { GOOS: 'js', GOARCH: 'wasm' }),
  staticcheck,
  stylelint: () => run(process.execPath, ['testdata/node_modules/stylelint/bin/stylelint.mjs', '--config', 'testdata/stylelint.json', ...tracked('app/web/*.css')]),
  size: () => run('go', ['run', '.build/size.go']),
  'go-test': () => run('go', ['test', './...']),
  // The screens on the rewritten modules; the domain is tested so under node. The
  // thousands of drawn notes are go-test's: same-verdicts ties the two.
  'go-test-as-shipped': () => run('go', ['test', '-short', browserMod, './app/ui/...']),
  'same-verdicts': () => run('go', ['test', './testdata/patched']),
  'wasm-under-node': wasmUnderNode,
  'node-test': () => runNode(nodeTests().filter((f) => !inBrowser(f))),
  'browser-test': inBrowserTests,
};

const groups = { lint: ['gofmt', 'vet', 'staticcheck', 'stylelint'] };

const asked = process.argv.slice(2).flatMap((name) => groups[name] ?? [name]);
const names = asked.length > 0 ? asked : Object.keys(stages);
const counts = path.join(fs.mkdtempSync(path.join(os.tmpdir(), 'fairlead-outside-')), 'counts');
const counted = ['go-test', 'node-test', 'browser-test']; // go-test-as-shipped would count the same twice
const took = [];
let failed = 0;
for (const name of names) {
  if (!stages[name]) throw new Error(`there is no stage ${name}; there are: ${Object.keys(stages).join(' ')}`);
  console.log(`\n== ${name}`);
  process.env.FAIRLEAD_OUTSIDE = counted.includes(name) ? counts : '';
  const begun = performance.now();
  let ok = false;
  try { ok = await stages[name](); } catch (e) { console.error(e.message); }
  if (!ok) failed++;
  took.push(`${ok ? 'passed' : 'FAILED'} ${((performance.now() - begun) / 1000).toFixed(1).padStart(7)} s  ${name}`);
  console.log(took.at(-1));
  if (!ok && (name === 'setup' || name === 'build')) break; // nothing after it can tell anything
}
const checks = fs.existsSync(counts) ? fs.readFileSync(counts, 'utf8').trim().split('\n').map((line) => line.split('\t')) : [];
fs.rmSync(path.dirname(counts), { recursive: true });
console.log(`\n${checks.reduce((sum, [, n]) => sum + Number(n), 0)} checks against ${new Set(checks.map(([source]) => source)).size} outside sources`);
console.log(`\n${took.join('\n')}\nstages: ${took.length - failed} passed, ${failed} failed`);
process.exit(failed > 0 ? 1 : 0);
