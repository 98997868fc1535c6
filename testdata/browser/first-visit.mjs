// Counts what Chromium really fetches on a first visit, until the app says that
// it is ready to work offline. The reader of dictations and the invented children are asked for only after
// that, which is seen to here, and are not counted.
import { App, Gate, Server } from './harness.mjs';

export async function firstVisit() {
  const server = await Server.start();
  const gate = await Gate.open(server.url);
  const app = await App.open(gate.url);
  await app.goto('/');
  await app.offlineReady();
  const first = gate.passed.findIndex((p) => /words\.|demo\.json/.test(p.path));
  const before = first < 0 ? gate.passed.slice() : gate.passed.slice(0, first);
  if (first >= 0 && !before.some((p) => p.path === '/web/icon.svg' || p.path === '/worker.js')) throw new Error('what is for later was fetched before the app');
  const files = before.filter((p) => !/icon/.test(p.path));
  await app.close();
  await gate.close();
  await server.stop();
  return { total: files.reduce((sum, p) => sum + p.bytes, 0), files };
}
