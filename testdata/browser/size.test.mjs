// The budget of a first visit, as Chromium fetches it.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { firstVisit } from './first-visit.mjs';

test('a first visit stays under the ceiling of make size and fetches no file twice', async () => {
  const { total, files } = await firstVisit();
  assert.ok(total > 900_000, `only ${total} bytes were seen: the count does not see the app`);
  assert.ok(total <= 1_700_000, `${total} bytes`);
  const whole = files.filter((f) => f.bytes > 0).map((f) => f.path);
  assert.deepEqual(whole.filter((p, i) => whole.indexOf(p) !== i), [], 'fetched whole more than once');
});
