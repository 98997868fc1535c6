// Every screen in every state of the gallery, judged by axe: on a tablet by day, and
// its colours at night and on paper; on a phone at night, where nothing may glow, and
// there in a desk's window at 200 % zoom and in one as narrow as WCAG 2.1 asks for at
// 400 % (1.4.10 Reflow: 320 CSS pixels), where nothing is cut or out of reach. A
// picture of each is kept in .build/out/screens for people to look at.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { axe, outOfReach } from './judges.mjs';
import { through } from './gallery.mjs';
import { App, Server } from './harness.mjs';

let server;
before(async () => { server = await Server.start(); });
after(async () => { await server.stop(); });

// What is tapped and is smaller than 44 px either way. A tick box is tapped
// through its label; the tags on the map repeat the list beside it; links inside
// the text of a computed value keep the 24 px of WCAG 2.2, which axe holds.
const small = () => [...document.querySelectorAll('main button, main a.link, main label.tick, main select, main input.entry, nav a')]
  .filter((el) => el.offsetParent && !el.closest('.sheet-host') && !(el.tagName === 'A' && el.closest('.screen-values')))
  .map((el) => ({ el, box: el.getBoundingClientRect() }))
  .filter(({ box }) => box.width < 43.5 || box.height < 43.5)
  .map(({ el, box }) => `${el.tagName} ${el.id || el.className} ${el.textContent.slice(0, 30)} ${box.width.toFixed(0)}×${box.height.toFixed(0)}`);

// glowing lists what is large and light at night, where nothing may glow.
const glowing = () => {
  const light = (c) => { const [r, g, b, a = 1] = c.match(/[\d.]+/g).map(Number); return a === 0 ? 0 : (0.2126 * r + 0.7152 * g + 0.0722 * b) / 255; };
  return [...document.querySelectorAll('body, body *')].filter((el) => {
    const box = el.getBoundingClientRect();
    return box.width * box.height > 4000 && light(getComputedStyle(el).backgroundColor) > 0.6;
  }).map((el) => `${el.tagName} ${el.id || el.className}`);
};

for (const [size, viewport, colorScheme] of [['tablet', { width: 820, height: 1180 }, 'light'], ['phone', { width: 360, height: 740 }, 'dark']]) {
  test(`axe finds nothing on any screen in any state: ${size}, ${colorScheme}`, async () => {
    const app = await App.open(server.url, { viewport, colorScheme, hasTouch: true });
    const { page } = app;
    const problems = [];
    await through(app, async (name) => {
      for (const line of await axe(page)) problems.push(`${name}: ${line}`);
      for (const line of await page.evaluate(small)) problems.push(`${name}: small: ${line}`);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      if (wide > 1) problems.push(`${name}: the page is ${wide} px wider than the window`);
      if (colorScheme === 'dark') for (const line of await page.evaluate(glowing)) problems.push(`${name}: glows at night: ${line}`);
      await app.screenshot(`gallery-${name}-${size}-${colorScheme}`, { fullPage: true });
      if (colorScheme === 'dark') {
        for (const [width, height] of [[640, 450], [320, 640]]) {
          await page.setViewportSize({ width, height });
          for (const line of await page.evaluate(outOfReach)) problems.push(`${name}, ${width} px wide: ${line}`);
        }
        await page.setViewportSize(viewport);
        return;
      }
      for (const [how, media] of [['at night', { colorScheme: 'dark' }], ['printed', { colorScheme, media: 'print' }]]) {
        await page.emulateMedia(media);
        const rules = how === 'printed' && /^(sheet|labels|review|check-closed|items$)/.test(name) ? [] : ['color-contrast'];
        for (const line of await axe(page, ...rules)) problems.push(`${name}, ${how}: ${line}`);
      }
      await page.emulateMedia({ colorScheme, media: null });
    });
    assert.deepEqual(problems, []);
    await app.close();
  });
}

test('the widgets of the gallery: axe, by day and by night', async () => {
  const problems = [];
  for (const colorScheme of ['light', 'dark']) {
    const app = await App.open(server.url, { viewport: { width: 820, height: 1180 }, colorScheme });
    await app.goto('/gallery');
    await app.page.locator('.pinned > li').nth(30).waitFor();
    for (const line of await axe(app.page)) problems.push(`${colorScheme}: ${line}`);
    await app.screenshot(`gallery-widgets-${colorScheme}`, { fullPage: true });
    await app.close();
  }
  assert.deepEqual(problems, []);
});
