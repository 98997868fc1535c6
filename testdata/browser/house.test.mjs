// The house itself: opening, working offline, the content policy, the cover
// over a stopped app, and updates. What the service worker must do is written
// in the W3C's Service Workers specification; each test here was a fault of the
// framework's own worker.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { after, before, test } from 'node:test';
import { setTimeout as sleep } from 'node:timers/promises';
import { App, Gate, Server, until, variant } from './harness.mjs';

let server;
before(async () => { server = await Server.start(); });
after(async () => { await server.stop(); });

test('opens, and is ready to work offline', async () => {
  const app = await App.open(server.url);
  await app.goto('/');
  await app.offlineReady();
  const shell = await app.shell();
  assert.equal(shell.updateWaiting, false);
  assert.match(shell.version, /^[0-9a-f]{12}$/);
  await app.close();
});

test('the content policy is sent, and holds against inline script', async () => {
  const app = await App.open(server.url);
  const response = await app.page.goto(server.url);
  assert.equal(response.headers()['content-security-policy'],
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob: data:; " +
    "connect-src 'self'; worker-src 'self'; manifest-src 'self'; font-src 'self'; base-uri 'none'; object-src 'none'; " +
    "frame-ancestors 'none'; form-action 'none'");
  await app.shown();
  // The watch itself must see a violation, or its silence means nothing.
  await app.page.evaluate(() => {
    const script = document.createElement('script');
    script.textContent = 'window.ran = true';
    document.body.append(script);
  });
  await until('the violation is seen', () => app.faults.some((f) => f.includes('content policy: script-src')));
  assert.equal(await app.page.evaluate(() => window.ran), undefined);
  app.faults.length = 0;
  await app.close();
});

test('works with the server gone: reload, deep link, query, new tab, browser restart', async () => {
  const own = await Server.start();
  const app = await App.open(own.url);
  await app.goto('/');
  await app.offlineReady();
  await own.stop();
  await app.reload();
  await app.goto('/children/0190f4a0-0000-7000-8000-000000000001/note?section=support#runs');
  await app.offlineReady();
  const tab = await app.context.newPage();
  await tab.goto(own.url + '/anything/deep');
  await app.shown(tab);
  await app.restart();
  await app.goto('/children');
  await app.offlineReady();
  await app.close();
});

test('a stopped app is covered, and reload brings it back', async () => {
  const own = await Server.start({ args: ['-plant-panic'] });
  const app = await App.open(own.url);
  app.expect(/panic|goroutine|planted by a test|\.go:\d+|exit code|the app stopped|already exited/);
  await app.goto('/');
  await app.page.evaluate(() => window.fairlead.plantPanic());
  await app.page.locator('#cover').waitFor();
  assert.match(await app.page.locator('#cover').innerText(), /has stopped[\s\S]*kept is safe[\s\S]*Reload/);
  assert.equal(await app.page.evaluate(() => document.activeElement.id), 'cover-reload');
  assert.ok(await app.page.evaluate(() => [...document.body.children].every((e) => e.id === 'cover' || e.inert)));
  await app.screenshot('stopped');
  await app.page.click('#cover-reload');
  await until('the app is back', () => app.page.evaluate(() => window.fairlead && !window.fairlead.stopped &&
    !document.getElementById('opening')).catch(() => false));
  assert.equal(await app.page.locator('#cover').isVisible(), false);
  await app.close();
  await own.stop();
});

test('no page can stop the app where the server does not allow it', async () => {
  const app = await App.open(server.url);
  await app.goto('/?plant-panic');
  assert.equal(await app.page.evaluate(() => typeof window.fairlead.plantPanic), 'undefined');
  await app.close();
});

test('a new version is offered, never forced, and applied when asked', async () => {
  const dir = variant({ 'fairlead.css': (css) => css + '\n:root { --arrived: yes; }\n' });
  const newer = await Server.start({ dir });
  const gate = await Gate.open(server.url);
  const app = await App.open(gate.url);
  await app.goto('/');
  await app.offlineReady();
  const first = (await app.shell()).version;
  // Another program of ours at the same address may keep caches of its own.
  await app.page.evaluate(() => caches.open('elsewhere').then((c) => c.put('/x', new Response('x'))));

  await app.page.evaluate(() => { window.marked = true; });
  gate.target = newer.url;
  await app.page.evaluate(() => window.fairlead.lookForUpdate());
  await app.page.waitForFunction(() => window.fairlead.updateWaiting);
  await sleep(500);
  assert.equal(await app.page.evaluate(() => window.marked), true, 'the page was not reloaded');
  await app.reload();
  await app.offlineReady();
  assert.equal((await app.shell()).version, first, 'a reload alone stays with the version in use');
  await app.page.waitForFunction(() => window.fairlead.updateWaiting);

  const other = await app.context.newPage();
  await other.goto(gate.url);
  await app.shown(other);
  await Promise.all([app.page.waitForEvent('load'), app.page.evaluate(() => window.fairlead.applyUpdate())]);
  await app.shown();
  await app.offlineReady();
  assert.notEqual((await app.shell()).version, first);
  assert.equal((await app.shell()).updateWaiting, false);
  assert.equal(await app.page.evaluate(() => getComputedStyle(document.documentElement).getPropertyValue('--arrived')), 'yes');
  await other.waitForFunction(() => window.fairlead.updateElsewhere);
  assert.ok(await app.page.evaluate(() => caches.has('elsewhere')), 'a cache that is not ours is left alone');
  assert.equal((await app.page.evaluate(() => caches.keys())).filter((k) => k.startsWith('fairlead-app-')).length, 1);
  await app.close();
  await gate.close();
  await newer.stop();
  fs.rmSync(dir, { recursive: true });
});

for (const how of ['missing', 'cut']) {
  test(`a new version that does not arrive whole (${how}) leaves the old one whole, also after an offline restart`, async () => {
    const dir = variant({ 'fairlead.css': (css) => css + '\n:root { --arrived: yes; }\n' });
    const newer = await Server.start({ dir });
    const gate = await Gate.open(server.url);
    const app = await App.open(gate.url);
    app.expect(/Failed to load resource/, /Failed to find a valid digest/, /ERR_/);
    await app.goto('/');
    await app.offlineReady();
    const first = (await app.shell()).version;
    gate.target = newer.url;
    gate.broken.set('/web/fairlead.css', how);
    gate.broken.set('/web/app.wasm', how);
    await app.page.evaluate(() => window.fairlead.lookForUpdate());
    await until('the newer worker was fetched', () => gate.passed.filter((p) => p.path === '/worker.js').length >= 2);
    await until('its installation has ended', () => app.page.evaluate(async () => {
      const r = await navigator.serviceWorker.getRegistration();
      return !r.installing && !r.waiting;
    }));
    await gate.close();
    await app.kill();
    await app.restart();
    await app.goto('/children');
    await app.offlineReady();
    const shell = await app.shell();
    assert.equal(shell.version, first);
    assert.equal(shell.updateWaiting, false);
    assert.equal(await app.page.evaluate(() => getComputedStyle(document.documentElement).getPropertyValue('--arrived')), '');
    await app.close();
    await newer.stop();
    fs.rmSync(dir, { recursive: true });
  });
}

test('an app that cannot be fetched whole says so, and opens after a reload', async () => {
  const gate = await Gate.open(server.url);
  gate.broken.set('/web/app.wasm', 'cut');
  const app = await App.open(gate.url);
  app.expect(/ERR_/, /did not open/);
  await app.page.goto(gate.url);
  await app.page.waitForFunction(() => window.fairlead.stopped);
  assert.match(await app.page.locator('#cover').innerText(), /did not open[\s\S]*Nothing kept on this device is touched/);
  await app.screenshot('not-opened');
  gate.broken.clear();
  await app.reload();
  await app.offlineReady();
  await app.close();
  await gate.close();
});

test('files lost from the device are noticed, and fetched again', async () => {
  const app = await App.open(server.url);
  await app.goto('/');
  await app.offlineReady();
  await app.page.evaluate(async () => {
    const [name] = (await caches.keys()).filter((k) => k.startsWith('fairlead-app-'));
    await (await caches.open(name)).delete('/web/app.wasm');
  });
  await app.reload();
  await app.offlineReady();
  assert.ok(await app.page.evaluate(async () => Boolean(await caches.match('/web/app.wasm'))));
  await app.close();
});
