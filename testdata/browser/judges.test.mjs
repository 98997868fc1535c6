// The empty page and the cover before outside judges; and the judges before
// pages that are wrong on purpose, since a judge that finds nothing anywhere
// proves nothing.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { test } from 'node:test';
import { App, Server, root } from './harness.mjs';
import { axe, vnu } from './judges.mjs';

test('the page that is served is valid HTML', () => {
  const html = fs.readFileSync(path.join(root, 'app/web/index.html'), 'utf8');
  assert.deepEqual(vnu([{ name: 'index', html }]), []);
});

test('the HTML checker finds a bad role and a label for nothing', () => {
  const html = '<!doctype html><html lang="en"><title>x</title><p role="nonsense">x</p><label for="gone">x</label></html>';
  const found = vnu([{ name: 'bad', html }]).join('\n');
  assert.match(found, /nonsense/);
  assert.match(found, /for/);
});

for (const colorScheme of ['light', 'dark']) {
  test(`axe finds nothing on the cover over a stopped app, ${colorScheme}`, async () => {
    const server = await Server.start({ args: ['-plant-panic'] });
    const app = await App.open(server.url, { colorScheme });
    app.expect(/panic|goroutine|planted by a test|\.go:\d+|exit code|the app stopped|already exited/);
    await app.goto('/');
    await app.page.evaluate(() => window.fairlead.plantPanic());
    await app.page.locator('#cover').waitFor();
    await app.screenshot(`stopped-${colorScheme}`);
    assert.deepEqual(await axe(app.page), []);
    await app.close();
    await server.stop();
  });
}

test('axe finds a button without a name and text without contrast', async () => {
  const server = await Server.start();
  const app = await App.open(server.url);
  await app.goto('/');
  await app.page.evaluate(() => {
    const wrong = document.createElement('div');
    wrong.innerHTML = '<button type="button"></button><p>barely there</p>';
    wrong.lastChild.style.color = '#eee';
    wrong.lastChild.style.background = '#fff';
    document.body.append(wrong);
  });
  const found = (await axe(app.page)).join('\n');
  assert.match(found, /button-name/);
  assert.match(found, /color-contrast/);
  await app.close();
  await server.stop();
});
