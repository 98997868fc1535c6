// Runs every test that holds the tool against something outside the project
// and prints how many such checks there were, by source. Fails if any fails.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';

process.chdir(path.resolve(import.meta.dirname, '..'));
const dir = fs.mkdtempSync(path.join(os.tmpdir(), 'fairlead-outside-'));
const file = path.join(dir, 'counts');
const env = { ...process.env, FAIRLEAD_OUTSIDE: file };

function output(command, args) {
  const done = spawnSync(command, args, { encoding: 'utf8', env, maxBuffer: 1 << 28 });
  if (done.error) throw done.error;
  return done;
}
const importing = output('go', ['list', '-f', '{{.ImportPath}} {{.TestImports}} {{.XTestImports}}', './...']).stdout
  .split('\n').filter((line) => /\bfairlead\/schema\/outside\b/.test(line.slice(line.indexOf(' ')))).map((line) => line.split(' ')[0]);
const files = output('git', ['ls-files', '--cached', '--others', '--exclude-standard', '--', 'testdata/*.test.mjs']).stdout
  .split('\n').filter((f) => f && fs.existsSync(f) && /outside\.mjs/.test(fs.readFileSync(f, 'utf8')));

const runs = [];
if (importing.length > 0) runs.push(['go', ['test', '-count=1', ...importing]]);
if (files.length > 0) runs.push([process.execPath, ['--test', '--test-concurrency=1', ...files]]);
let failed = false;
for (const [command, args] of runs) {
  const done = output(command, args);
  if (done.status !== 0) {
    failed = true;
    process.stderr.write(done.stdout + done.stderr);
  }
}

const counts = new Map();
for (const line of fs.existsSync(file) ? fs.readFileSync(file, 'utf8').split('\n') : []) {
  if (!line) continue;
  const [source, n] = line.split('\t');
  counts.set(source, (counts.get(source) ?? 0) + Number(n));
}
fs.rmSync(dir, { recursive: true });
let total = 0;
for (const [source, n] of [...counts].sort((a, b) => a[0].localeCompare(b[0], 'en'))) {
  console.log(`${String(n).padStart(8)}  ${source}`);
  total += n;
}
console.log(`${String(total).padStart(8)}  checks against ${counts.size} outside sources${failed ? ', SOME FAILED' : ''}`);
process.exit(failed || total === 0 ? 1 : 0);
