// Enlarged: every screen in every state with the text alone at 200 % (WCAG 2.1,
// 1.4.4 Resize Text), which is the browser's own setting for the size of text, and
// the job itself so and at 200 % zoom. Nothing is cut, lies beside the window or hides
// the rest, and the job goes on. Zoom makes the pixels of the page larger and the
// window smaller by the same factor; look.test.mjs sees every state in windows that
// small.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { through } from './gallery.mjs';
import { Finger, begin, confirm, list, write } from './hands.mjs';
import { App, Server, temporary, until } from './harness.mjs';
import { outOfReach } from './judges.mjs';

let server;
before(async () => { server = await Server.start(); });
after(async () => { await server.stop(); });

// largeText is a profile whose browser shows text at twice the size.
function largeText() {
  const profile = temporary('profile');
  fs.mkdirSync(path.join(profile, 'Default'), { recursive: true });
  fs.writeFileSync(path.join(profile, 'Default/Preferences'), JSON.stringify({ webkit: { webprefs: { default_font_size: 32, default_fixed_font_size: 26 } } }));
  return profile;
}

test('nothing is cut or out of reach: text alone at 200 %, tablet', async () => {
  const app = await App.open(server.url, { viewport: { width: 820, height: 1180 }, hasTouch: true, profile: largeText() });
  const { page } = app;
  await app.goto('/');
  assert.equal(await page.evaluate(() => getComputedStyle(document.documentElement).fontSize), '32px');
  const problems = [];
  const seen = await through(app, async (name) => {
    for (const line of await page.evaluate(outOfReach)) problems.push(`${name}: ${line}`);
    if (/^(section-wrong|items-open|check-open|sheet|child-joined)$/.test(name)) await app.screenshot(`zoom-${name}-text`);
  });
  assert.ok(seen > 50, `only ${seen} states were seen`);
  assert.deepEqual(problems, []);
  await app.close();
});

test('the judge finds a button beside the window, and a bar that hides the page', async () => {
  const app = await App.open(server.url, { viewport: { width: 410, height: 590 }, deviceScaleFactor: 2 });
  await app.goto('/');
  await app.page.locator('.nothing-yet').waitFor();
  assert.deepEqual(await app.page.evaluate(outOfReach), []);
  await app.page.evaluate(() => {
    const main = document.querySelector('main');
    const wide = document.createElement('button');
    wide.textContent = 'Too far';
    wide.style.cssText = 'position: relative; left: 500px';
    const bar = document.createElement('div');
    bar.style.cssText = 'position: fixed; inset: 0 0 100px 0; background: silver';
    main.append(wide, bar);
  });
  const found = (await app.page.evaluate(outOfReach)).join('\n');
  assert.match(found, /Too far” lies from/);
  assert.match(found, /wider than the window/);
  assert.match(found, /what stays in place takes/);
  await app.close();
});

for (const [how, options] of [
  ['200 % zoom', { viewport: { width: 410, height: 590 }, deviceScaleFactor: 2, hasTouch: true }],
  ['text at 200 %', { viewport: { width: 820, height: 1180 }, hasTouch: true, profile: true }],
]) {
  test(`items are listed and checked: ${how}`, async () => {
    const app = await App.open(server.url, { ...options, profile: options.profile ? largeText() : undefined });
    const hand = new Finger(app.page);
    await app.goto('/');
    await write(hand, 'A. Surgeon', 'surgeon');
    await begin(hand);
    await list(hand);
    await confirm(hand, 'leaving');
    await until('the tally balances', async () => /5 listed: 5 found\./.test(await app.page.locator('#tally').innerText()));
    await app.close();
  });
}
