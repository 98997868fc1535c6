// Enlarged: every screen in every state at 200 % zoom, as wide as WCAG 2.1 asks
// for at 400 % (1.4.10 Reflow: 320 CSS pixels), and with the text alone at 200 %
// (1.4.4 Resize Text). Nothing is cut, lies beside the window or hides the rest,
// and the job goes on.
//
// Zoom makes the pixels of the page larger and the window smaller by the same
// factor: 200 % of a tablet of 820 × 1180 is a window of 410 × 590 with two device
// pixels for one, which lies between the narrowest and the lowest window here.
// Enlarged text is the browser's own setting for the size of text.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { through } from './gallery.mjs';
import { Finger, begin, confirm, list, write } from './hands.mjs';
import { App, Server, temporary, until } from './harness.mjs';

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

// faults lists what cannot be reached or read on the page as it stands. A part that
// scrolls sideways by itself, a strip or a table, may be wider than the window.
const faults = () => {
  const out = [];
  const root = document.documentElement;
  if (root.scrollWidth - root.clientWidth > 1) out.push(`the page is ${root.scrollWidth - root.clientWidth} px wider than the window`);
  const swept = (el) => {
    for (let p = el.parentElement; p; p = p.parentElement) if (/auto|scroll/.test(getComputedStyle(p).overflowX)) return true;
    return false;
  };
  for (const el of document.querySelectorAll('main :is(button, a, input, select, textarea, label.tick), nav a, .bar :is(a, button)')) {
    const box = el.getBoundingClientRect();
    if (!el.offsetParent || box.width < 2 || el.closest('svg, .sheet-host') || swept(el)) continue;
    const name = `${el.tagName} ${el.id || el.className} “${el.textContent.trim().slice(0, 30)}”`;
    if (box.left < -1 || box.right > root.clientWidth + 1) out.push(`${name} lies from ${box.left.toFixed(0)} to ${box.right.toFixed(0)} of ${root.clientWidth}`);
    const style = getComputedStyle(el);
    if (el.matches('button, a') && style.overflow === 'hidden' && style.textOverflow !== 'ellipsis' && el.scrollHeight > el.clientHeight + 2) out.push(`${name} is cut`);
  }
  // What stays in place while one scrolls must leave room to read.
  let held = 0;
  for (const el of document.querySelectorAll('body *')) {
    const style = getComputedStyle(el);
    const box = el.getBoundingClientRect();
    if (/fixed|sticky/.test(style.position) && style.visibility !== 'hidden' && box.height > 0 && box.width > root.clientWidth / 2 && box.bottom > 0 && box.top < root.clientHeight &&
      (style.position === 'fixed' || box.top <= 1 || box.bottom >= root.clientHeight / 2) && !el.closest('.items-map, .rail, .beside')) held += Math.min(box.height, root.clientHeight);
  }
  if (held > root.clientHeight * 0.65) out.push(`what stays in place takes ${held.toFixed(0)} px of ${root.clientHeight}`);
  return out;
};

for (const [how, options, text] of [
  ['200 % zoom of a desk, and as wide as at 400 %', { viewport: { width: 640, height: 450 }, deviceScaleFactor: 2, narrow: { width: 320, height: 640 } }, 16],
  ['text alone at 200 %, tablet', { viewport: { width: 820, height: 1180 }, hasTouch: true, profile: true }, 32],
]) {
  test(`nothing is cut or out of reach: ${how}`, async () => {
    const { narrow, ...rest } = options;
    const app = await App.open(server.url, { ...rest, profile: options.profile ? largeText() : undefined });
    const { page } = app;
    await app.goto('/');
    assert.equal(await page.evaluate(() => getComputedStyle(document.documentElement).fontSize), `${text}px`);
    assert.equal(await page.evaluate(() => window.devicePixelRatio), options.deviceScaleFactor ?? 1);
    const problems = [];
    const seen = await through(app, async (name) => {
      for (const line of await page.evaluate(faults)) problems.push(`${name}: ${line}`);
      if (narrow) {
        await page.setViewportSize(narrow);
        for (const line of await page.evaluate(faults)) problems.push(`${name}, narrow: ${line}`);
        await page.setViewportSize(options.viewport);
      }
      if (/^(section-wrong|items-open|check-open|sheet|child-joined)$/.test(name)) await app.screenshot(`zoom-${name}-${how.replace(/\W+/g, '-')}`);
    });
    assert.ok(seen > 50, `only ${seen} states were seen`);
    assert.deepEqual(problems, []);
    await app.close();
  });
}

test('the judge finds a button beside the window, and a bar that hides the page', async () => {
  const app = await App.open(server.url, { viewport: { width: 410, height: 590 }, deviceScaleFactor: 2 });
  await app.goto('/');
  await app.page.locator('.nothing-yet').waitFor();
  assert.deepEqual(await app.page.evaluate(faults), []);
  await app.page.evaluate(() => {
    const main = document.querySelector('main');
    const wide = document.createElement('button');
    wide.textContent = 'Too far';
    wide.style.cssText = 'position: relative; left: 500px';
    const bar = document.createElement('div');
    bar.style.cssText = 'position: fixed; inset: 0 0 100px 0; background: silver';
    main.append(wide, bar);
  });
  const found = (await app.page.evaluate(faults)).join('\n');
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
