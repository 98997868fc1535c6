// Builds the browser part and the program that serves it.
//
//   node .build/build.mjs            everything, skipping what has not changed
//   node .build/build.mjs modules    only the changed modules and their go.mod
//
// Output: app/web/built/*.br (embedded in the program) and .build/out/fairlead.
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import zlib from 'node:zlib';
import { findsByNumber, modules, standard } from './patches.mjs';
import { pack } from './pack.mjs';
import { strip } from './strip.mjs';

const root = path.resolve(import.meta.dirname, '..');
const out = path.join(root, '.build/out');
const built = path.join(root, 'app/web/built');
export const browserMod = path.join(out, 'browser.mod');
const overlay = path.join(out, 'overlay.json');

const sha256 = (data) => createHash('sha256').update(data).digest('hex');
const go = (args, env = {}) => execFileSync('go', args, {
  cwd: root, encoding: 'utf8', env: { ...process.env, ...env }, stdio: ['ignore', 'pipe', 'inherit'], maxBuffer: 1 << 26,
});

// write leaves the file alone when it already holds the text, so that Go's own
// build cache and the checks below see no change; it never leaves half a file.
function write(file, data) {
  if (fs.existsSync(file) && fs.readFileSync(file).equals(Buffer.from(data))) return false;
  fs.mkdirSync(path.dirname(file), { recursive: true });
  const half = `${file}.${process.pid}.half`;
  fs.writeFileSync(half, data);
  fs.renameSync(half, file);
  return true;
}

// changedModules copies the pinned modules, rewritten for the browser, to
// .build/out/modules and writes a go.mod beside ours that points at them.
function changedModules() {
  const mod = JSON.parse(go(['mod', 'edit', '-json']));
  let replaced = '';
  for (const m of modules) {
    const pinned = mod.Require.find((r) => r.Path === m.path)?.Version;
    if (pinned !== m.version) {
      throw new Error(`.build/patches.mjs was written for ${m.path} ${m.version}, go.mod has ${pinned}: read the new version, then change the patch`);
    }
    const from = JSON.parse(go(['mod', 'download', '-json', `${m.path}@${m.version}`])).Dir;
    const to = path.join(out, 'modules', path.basename(m.path) === 'v10' ? 'go-app' : path.basename(m.path));
    const kept = new Set();
    const put = (name, text) => { kept.add(name); write(path.join(to, name), text); };
    put('go.mod', fs.readFileSync(path.join(from, 'go.mod')));
    for (const folder of m.folders) {
      for (const name of fs.readdirSync(path.join(from, folder))) {
        if (!name.endsWith('.go') || name.endsWith('_test.go')) continue;
        const file = path.posix.join(folder, name);
        const text = fs.readFileSync(path.join(from, file), 'utf8');
        const patch = m.files[file];
        if (!patch) { put(file, text); continue; }
        if (sha256(text) !== patch.sha256) throw new Error(`${m.path} ${file} is not the file the patch was written for`);
        for (const [name, changed] of Object.entries(patch.rewrite(text))) put(name, changed);
      }
    }
    for (const name of fs.readdirSync(to, { recursive: true })) {
      if (name.endsWith('.go') && !kept.has(name)) fs.rmSync(path.join(to, name));
    }
    // The program holds this path, and is to be the same wherever it is built.
    replaced += `\nreplace ${m.path} => ./${path.relative(root, to)}\n`;
  }
  write(browserMod, fs.readFileSync(path.join(root, 'go.mod'), 'utf8') + replaced);
  write(browserMod.replace(/mod$/, 'sum'), fs.readFileSync(path.join(root, 'go.sum')));
}

// changedStandard writes the changed files of Go's own packages and the list by which
// go build reads them in place of its own.
function changedStandard() {
  const source = path.join(go(['env', 'GOROOT']).trim(), 'src');
  const Replace = {};
  for (const { file, sha256: hash, rewrite } of standard) {
    const text = fs.readFileSync(path.join(source, file), 'utf8');
    if (sha256(text) !== hash) {
      console.error(`build: ${file} is of another version of Go than .build/patches.mjs was written for, and stays as it is`);
      continue;
    }
    const to = path.join(out, 'standard', file);
    write(to, rewrite(text));
    Replace[path.join(source, file)] = to;
  }
  write(overlay, JSON.stringify({ Replace }, null, 1));
}

// The size of a block decides by chance: of the same program with 700 other bytes it
// was 6.9 kB either way. Which size comes out best was tried (16 to 24).
const brotli = (data) => zlib.brotliCompressSync(data, {
  params: {
    [zlib.constants.BROTLI_PARAM_QUALITY]: 11,
    [zlib.constants.BROTLI_PARAM_LGBLOCK]: 16,
    [zlib.constants.BROTLI_PARAM_LGWIN]: 24,
    [zlib.constants.BROTLI_PARAM_SIZE_HINT]: data.length,
  },
});

const stamps = path.join(out, 'stamps.json');
const stamp = fs.existsSync(stamps) ? JSON.parse(fs.readFileSync(stamps)) : {};

// compress writes built/name.br unless it was made from these very bytes.
function compress(name, data) {
  const file = path.join(built, `${name}.br`);
  const hash = sha256(data);
  if (stamp[name] === hash && fs.existsSync(file)) return;
  write(file, brotli(data));
  stamp[name] = hash;
  fs.writeFileSync(stamps, JSON.stringify(stamp, null, 1));
}

// minified is a script or a style sheet without what only a reader of the source
// needs, by esbuild, which Go fetches. The names a script gives to all are kept. What
// the server fills in, {{so}}, stands as a name meanwhile; statements are not joined,
// so that each such name is one.
const esbuild = 'v0.28.2';
function minified(name, data) {
  const bin = path.join(out, `esbuild-${esbuild}`);
  const tool = path.join(bin, 'esbuild');
  if (!fs.existsSync(tool)) go(['install', `github.com/evanw/esbuild/cmd/esbuild@${esbuild}`], { GOBIN: bin });
  const args = name.endsWith('.css') ? ['--loader=css', '--minify'] : ['--loader=js', '--minify-whitespace', '--minify-identifiers'];
  const text = execFileSync(tool, [...args, '--log-level=warning'], { input: data.toString().replace(/\{\{(\w+)\}\}/g, '__$1__'), encoding: 'utf8' });
  const [notice] = /^(\/\/.*Copyright.*\n(\/\/.*\n)*)?/.exec(data);
  return Buffer.from(notice + text.replace('__unpack__;', '\n{{unpack}}\n').replace(/\b__(\w+)__/g, '{{$1}}'));
}

// What is not worth its bytes when inlined: our own code and most libraries. The
// runtime, sync, the bridge to the browser and what works on strings and lists are
// inlined as usual: a key is felt sooner by a fifteenth for 6 kB.
const notInlined = ['fairlead/...', 'github.com/...', 'encoding/...', 'math/big', 'fmt', 'time', 'net/...', 'html', 'errors', 'os', 'io', 'bufio', 'context', 'path/...', 'crypto/...', 'sort', 'bytes', 'text/...', 'regexp/...', 'log', 'mime/...', 'container/...', 'hash/...', 'unicode/...', 'iter', 'io/...', 'os/...', 'compress/...', 'internal/fmtsort', 'internal/poll', 'syscall', 'reflect', 'strconv', 'maps', 'internal/strconv', 'internal/reflectlite']
  .map((packages) => `-gcflags=${packages}=-l`);

// The reader of dictations works in a worker, where no key waits for it.
const nearlyNone = ['strings', 'slices'].map((packages) => `-gcflags=${packages}=-l`);

async function browser() {
  const wasm = path.join(out, 'app.wasm');
  const build = ['build', '-trimpath', '-ldflags=-s -w', `-modfile=${browserMod}`, `-overlay=${overlay}`, ...notInlined];
  go([...build, '-tags=screen', '-o', wasm, './wasm'], { GOOS: 'js', GOARCH: 'wasm' });
  const byNumber = Object.values(JSON.parse(fs.readFileSync(overlay)).Replace).some((file) => file.endsWith(findsByNumber));
  compress('app.wasm', await pack(strip(fs.readFileSync(wasm), { byNumber }), 2));
  const words = path.join(out, 'words.wasm');
  go([...build, ...nearlyNone, '-o', words, './wasm/words'], { GOOS: 'js', GOARCH: 'wasm' });
  compress('words.wasm', await pack(strip(fs.readFileSync(words), { byNumber })));
  compress('wasm_exec.js', minified('wasm_exec.js', fs.readFileSync(path.join(go(['env', 'GOROOT']).trim(), 'lib/wasm/wasm_exec.js'))));
  compress('demo.json', fs.readFileSync(path.join(root, 'app/demo/notes.json')));
  const names = ['app.wasm', 'words.wasm', 'demo.json', 'wasm_exec.js'];
  for (const name of fs.readdirSync(path.join(root, 'app/web'))) {
    if (name.endsWith('.go') || name === 'built') continue;
    const data = fs.readFileSync(path.join(root, 'app/web', name));
    compress(name, /\.(js|css)$/.test(name) ? minified(name, data) : data);
    names.push(name);
  }
  for (const name of fs.readdirSync(built)) {
    if (name.endsWith('.br') && !names.includes(name.slice(0, -3))) fs.rmSync(path.join(built, name));
  }
}

function native() {
  go(['build', '-trimpath', '-o', path.join(out, 'fairlead'), './wasm']);
}

fs.mkdirSync(out, { recursive: true });
const steps = { modules: [changedModules], all: [changedModules, changedStandard, browser, native] }[process.argv[2] ?? 'all'];
for (const step of steps) {
  const begun = performance.now();
  try {
    await step();
  } catch (e) {
    console.error(`build: ${step.name} failed: ${e.message}`);
    process.exit(1);
  }
  console.log(`build: ${step.name} ${((performance.now() - begun) / 1000).toFixed(1)} s`);
}
