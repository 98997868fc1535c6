// The screens of the app judged by axe, in light and dark, at tablet and phone
// size, with what is wrong shown: the list, one child, sections of a full note,
// this device, and the gallery of widgets.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { axe } from './judges.mjs';
import { App, Server } from './harness.mjs';

const sizes = { tablet: { width: 820, height: 1180 }, phone: { width: 360, height: 740 }, desk: { width: 1440, height: 900 } };

export async function asSurgeon(page) {
  await page.fill('#who-name', 'A. Surgeon');
  await page.click('label:has(#role-surgeon)');
  await page.click('#who-save');
}

export async function withDemo(page) {
  await asSurgeon(page);
  await page.click('#demo');
  await page.locator('.children li').first().waitFor();
}

async function judge(app, what, problems) {
  await app.page.waitForTimeout(150);
  for (const line of await axe(app.page)) problems.push(`${what}: ${line}`);
  const wide = await app.page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  if (wide > 1) problems.push(`${what}: the page is ${wide} px wider than the window`);
}

// small lists what is tapped and is smaller than 44 px either way. A tick box is
// tapped through its label.
const small = () => [...document.querySelectorAll('main button, main a, main label.tick, main select, main input.entry, nav a')]
  .filter((el) => el.offsetParent && !el.closest('.sheet-host'))
  .map((el) => ({ el, box: el.getBoundingClientRect() }))
  .filter(({ box }) => box.width < 43.5 || box.height < 43.5)
  .map(({ el, box }) => `${el.tagName} ${el.id || el.className} ${el.textContent.slice(0, 30)} ${box.width.toFixed(0)}×${box.height.toFixed(0)}`);

for (const [size, colorScheme] of [['tablet', 'light'], ['phone', 'dark'], ['desk', 'light']]) {
  const viewport = sizes[size];
  test(`axe finds nothing, ${size}, ${colorScheme}`, async () => {
    const server = await Server.start();
    const app = await App.open(server.url, { viewport, colorScheme, hasTouch: size !== 'desk' });
    const { page } = app;
    const problems = [];
    await app.goto('/');
    await page.locator('.nothing-yet').waitFor();
    await judge(app, 'empty list', problems);
    await withDemo(page);
    await judge(app, 'list', problems);
    await page.goto(`${server.url}/device`);
    await page.locator('#wipe').click();
    await page.locator('#wipe-yes').waitFor();
    await judge(app, 'device', problems);
    await page.goto(`${server.url}/nowhere/at/all`);
    await page.locator('.screen a').waitFor();
    await judge(app, 'lost', problems);
    await page.goto(server.url);
    await page.locator('.children a', { hasText: 'TX0048213' }).last().click();
    await page.locator('.notes-of').waitFor();
    await judge(app, 'child', problems);
    await page.locator('.notes-of a', { hasText: 'Stage 3' }).click();
    await page.locator('.fields').waitFor();
    const note = page.url().replace(/\/section.*/, '');
    for (const section of ['child', 'measures', 'operation', 'support', 'gas', 'plan']) {
      await page.goto(`${note}/section/${section}`);
      await page.locator('.fields').waitFor();
      if (section === 'support') await page.locator('.row-head').first().click();
      if (section === 'gas') {
        await page.locator('#e-gas-lactate').fill('x,1');
        await page.locator('#e-gas-lactate').press('Tab');
        await page.locator('#e-gas-potassium').fill('9.9');
        await page.locator('#e-gas-potassium').press('Tab');
        await page.locator('#m-gas-ph').click();
        await page.locator('#f-gas-lactate .wrong').waitFor();
      }
      await judge(app, section, problems);
      problems.push(...(await page.evaluate(small)).map((s) => `${section}: small: ${s}`));
      await app.screenshot(`${section}-${size}-${colorScheme}`, { fullPage: true });
    }
    assert.deepEqual(problems, []);
    await app.close();
    await server.stop();
  });
}
