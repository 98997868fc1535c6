// How long the device's store takes in the browser: keeping one event, beside a
// bare IndexedDB put of as many bytes in the same page; and reading a case whole,
// beside a bare getAll of the same records, which are still encrypted.
import { App } from '../browser/harness.mjs';
import { StorePage, drive } from '../browser/storepage.mjs';

const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
const p95 = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length * 0.95)];
const id = (n) => `0190f4a0-0000-7000-8000-0001${String(n).padStart(8, '0')}`;
const child = (n) => `0190f4a0-0000-7000-8000-${String(n).padStart(12, '0')}`;
const line = (...parts) => console.log(parts.join('\t'));

const store = await StorePage.start();
const app = await App.open(store.url);
const page = await drive(app);

// Both in turn, so that a slow moment of the machine meets both.
const appends = { ours: [], bare: [] };
await page.evaluate(() => new Promise((done, failed) => {
  const r = indexedDB.open('bare', 1);
  r.onupgradeneeded = () => r.result.createObjectStore('events', { autoIncrement: true });
  r.onsuccess = () => { window.bare = r.result; done(); };
  r.onerror = () => failed(r.error);
}));
const barePut = () => page.evaluate(async () => {
  const took = [];
  for (let n = 0; n < 20; n++) {
    const begun = performance.now();
    await new Promise((done, failed) => {
      const tx = window.bare.transaction('events', 'readwrite', { durability: 'strict' });
      tx.objectStore('events').put({ bytes: new Uint8Array(1000) });
      tx.oncomplete = done;
      tx.onabort = () => failed(tx.error);
    });
    took.push(performance.now() - begun);
  }
  return took;
});
for (let round = 0; round < 15; round++) {
  const ids = Array.from({ length: 20 }, (_, n) => id(round * 20 + n));
  const ours = await page.evaluate(([c, ids]) => window.keep.timedAppend(c, ids, 'x'.repeat(500)), [child(1), ids]);
  const bare = await barePut();
  if (round > 0) { appends.ours.push(...ours); appends.bare.push(...bare); }
}
const bare = median(appends.bare);
line('keep-append', median(appends.ours).toFixed(2), 'ms', `bare strict IndexedDB put in the same page ${bare.toFixed(2)} ms, median of ${appends.ours.length}`);
line('keep-append-p95', p95(appends.ours).toFixed(2), 'ms', `bare strict IndexedDB put in the same page ${p95(appends.bare).toFixed(2)} ms`);
line('keep-append-ratio', (median(appends.ours) / bare).toFixed(2), 'times', 'bare strict IndexedDB put in the same page');

for (const [n, size] of [[2, 2000], [3, 10_000]]) {
  const begun = performance.now();
  for (let from = 0; from < size; from += 1000) {
    await page.evaluate(([c, ids]) => window.keep.append(c, ids.map((i) => [i, 'x'.repeat(200)])),
      [child(n), Array.from({ length: 1000 }, (_, k) => id(from + k))]);
  }
  const wrote = performance.now() - begun;
  const ours = await page.evaluate(([c]) => window.keep.timedRead(c, 7), [child(n)]);
  const raw = await page.evaluate(async (c) => {
    const db = await new Promise((done) => { const r = indexedDB.open('fairlead'); r.onsuccess = () => done(r.result); });
    const took = [];
    for (let k = 0; k < 7; k++) {
      const begun = performance.now();
      await new Promise((done) => {
        const r = db.transaction('events').objectStore('events').index('seq').getAll(IDBKeyRange.bound([c], [c, []]));
        r.onsuccess = () => done(r.result.length);
      });
      took.push(performance.now() - begun);
    }
    db.close();
    return took;
  }, child(n));
  line(`keep-read-${size}`, median(ours).toFixed(0), 'ms', `bare getAll of the same ${size} records ${median(raw).toFixed(0)} ms, median of 7`);
  line(`keep-write-${size}`, wrote.toFixed(0), 'ms', 'in actions of 1000 events, no comparison');
}
await app.close();
await store.stop();
