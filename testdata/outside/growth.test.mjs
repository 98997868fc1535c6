// Holds weight-for-age z-scores against jsgrowup, an independent implementation
// of the World Health Organization's standards with tables of its own: by week,
// then by month. It refuses an age under a month. A month ends between two days, so its score lies
// between the scores of the two days, to the two decimals that it gives.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import path from 'node:path';
import test from 'node:test';
import { check } from '../outside.mjs';

const root = path.resolve(import.meta.dirname, '../..');
const done = spawnSync('go', ['run', './testdata/outside/feed'], { cwd: root, encoding: 'utf8', maxBuffer: 1 << 26 });
assert.equal(done.status, 0, done.stderr);
const { grown } = JSON.parse(done.stdout);

test('weight for age scores as an independent implementation scores it, at 1 000 random points', async () => {
  const other = createRequire(import.meta.url)('jsgrowup');
  const say = console.log; // it prints a line for each extended score
  console.log = () => {};
  const scores = [];
  try {
    const calculator = new other.Calculator(false, true, await other.buildTablesObject());
    for (const g of grown) scores.push(calculator.zscoreForMeasurement(other.WEIGHT_FOR_AGE, g.kg, g.months, g.sex));
  } finally {
    console.log = say;
  }
  const wrong = [];
  let beyond = 0;
  grown.forEach((g, i) => {
    const z = scores[i];
    const lo = Math.min(g.before, g.after) - 0.0051, hi = Math.max(g.before, g.after) + 0.0051;
    if (!(z >= lo && z <= hi)) wrong.push(`${JSON.stringify(g)}: ${z}`);
    if (Math.abs(z) > 3) beyond++;
  });
  assert.deepEqual(wrong.slice(0, 20), [], `${wrong.length} of ${grown.length} differ`);
  assert.ok(grown.length === 1000 && beyond > 200, `${grown.length} points, ${beyond} beyond three deviations`);
  check('jsgrowup 0.8.0, weight-for-age z-scores at random points', grown.length);
});
