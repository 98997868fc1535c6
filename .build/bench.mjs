// Measures, and writes testdata/figures.tsv: name, value, unit, what it was
// compared with in the same run, machine.
//
//   node .build/bench.mjs           measure everything
//   node .build/bench.mjs boot      only testdata/bench/boot.mjs; the rest stays
//   node .build/bench.mjs go        only the Go benchmarks
//   node .build/bench.mjs -print    print the committed figures: name value unit
//
// A figure comes from a collector, testdata/bench/NAME.mjs, which prints lines
// "name TAB value TAB unit TAB compared with"; or from a Go benchmark named
// BenchmarkFigureSomeThing, which becomes "some-thing" in ms.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';

process.chdir(path.resolve(import.meta.dirname, '..'));
const file = 'testdata/figures.tsv';
const head = 'name\tvalue\tunit\tcompared with\tmachine';
const figures = new Map();
if (fs.existsSync(file)) {
  for (const line of fs.readFileSync(file, 'utf8').trim().split('\n').slice(1)) figures.set(line.split('\t')[0], line);
}
if (process.argv[2] === '-print') {
  for (const line of figures.values()) console.log(line.split('\t').slice(0, 3).join(' '));
  process.exit(figures.size > 0 ? 0 : 1);
}

function output(command, args) {
  const done = spawnSync(command, args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'], maxBuffer: 1 << 28 });
  if (done.error || done.status !== 0) throw new Error(`${command} ${args.join(' ')} failed`);
  return done.stdout;
}
const go = output('go', ['env', 'GOVERSION']).trim();
const machine = `${os.cpus().length} cores, ${os.cpus()[0].model.replace(/\s+/g, ' ').trim()}, ${Math.round(os.totalmem() / 2 ** 30)} GiB, ${go}, node ${process.versions.node}`;

function put(name, value, unit, compared) {
  if (!name || !Number.isFinite(Number(value)) || !unit || !compared) {
    throw new Error(`not a figure: ${JSON.stringify([name, value, unit, compared])}`);
  }
  const line = [name, value, unit, compared, machine].join('\t');
  figures.set(name, line);
  console.log([name, value, unit].join(' '));
}

const goFigures = () => {
  const text = output('go', ['test', '-run', '^$', '-bench', '^BenchmarkFigure', '-benchtime', '300ms', './...']);
  for (const [, name, ns] of text.matchAll(/^BenchmarkFigure(\w+?)(?:-\d+)?\s+\d+\s+([\d.]+) ns\/op/gm)) {
    const words = name.replace(/(?<=[a-z0-9])(?=[A-Z])/g, '-').toLowerCase();
    put(words, Number((Number(ns) / 1e6).toPrecision(3)), 'ms', 'native, no comparison');
  }
};
const collectors = fs.readdirSync('testdata/bench').filter((f) => f.endsWith('.mjs')).map((f) => f.slice(0, -4));
const asked = process.argv.slice(2);
for (const name of asked.length > 0 ? asked : ['go', ...collectors]) {
  if (name === 'go') { goFigures(); continue; }
  for (const line of output(process.execPath, [`testdata/bench/${name}.mjs`]).split('\n')) {
    if (line) put(...line.split('\t'));
  }
}
const lines = [...figures.values()].sort();
fs.writeFileSync(`${file}.half`, `${head}\n${lines.join('\n')}\n`);
fs.renameSync(`${file}.half`, file);
