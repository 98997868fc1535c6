// How long the board of the unit takes to redraw when its filter changes, in the
// app itself, with 60 invented children and 900 things: from the change to the new
// board in the page, laid out. Every other change shows all 900.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { App, Server, root, temporary } from '../browser/harness.mjs';

const dir = temporary('board');
const file = path.join(dir, 'unit.jsonl');
fs.writeFileSync(file, execFileSync('go', ['run', './testdata/bench/board'], { cwd: root, maxBuffer: 1 << 28, stdio: ['ignore', 'pipe', 'inherit'] }));
const server = await Server.start();
const app = await App.open(server.url, { viewport: { width: 1280, height: 900 } });
const { page } = app;
await app.goto('/');
await page.fill('#who-name', 'N. Urse');
await page.click('label:has(#role-intensive-care-nurse)');
await page.click('#who-save');
await page.locator('#new-child:not([disabled])').waitFor();
await page.setInputFiles('#import', file);
await page.getByText('In the child now').waitFor({ timeout: 60_000 }); // all of it is kept by then
await app.goto('/');
await page.locator('.children li').nth(59).waitFor({ timeout: 60_000 });
const opened = Date.now();
await page.locator('a', { hasText: 'The unit: what is in every child' }).click();
await page.locator('.board-child').nth(59).waitFor({ state: 'attached', timeout: 60_000 });
const read = Date.now() - opened;
const seen = await page.evaluate(async () => {
  const host = document.querySelector('#board-host');
  const select = document.querySelector('#board-filter');
  const all = select.options[0].value;
  const drains = [...select.options].find((o) => o.textContent.startsWith('Drain: all')).value;
  const out = { all: [], drains: [], items: document.querySelectorAll('.board-item').length };
  for (let i = 0; i < 60; i++) {
    const value = i % 2 ? all : drains;
    await new Promise((done) => { requestAnimationFrame(() => setTimeout(done, 20)); });
    const changed = new Promise((done) => { new MutationObserver((_, o) => { o.disconnect(); host.getBoundingClientRect(); done(performance.now()); }).observe(host, { subtree: true, childList: true }); });
    const at = performance.now();
    select.value = value;
    select.dispatchEvent(new Event('change', { bubbles: true }));
    out[i % 2 ? 'all' : 'drains'].push(await changed - at);
    out.shown = document.querySelectorAll('.board-item').length;
  }
  return out;
});
await app.close();
await server.stop();
fs.rmSync(dir, { recursive: true });
if (seen.items !== 900 || seen.shown !== 900) throw new Error(`the board shows ${seen.items} and then ${seen.shown} things, not 900`);

const at = (values, part) => values.slice().sort((a, b) => a - b)[Math.floor((values.length - 1) * part)].toFixed(1);
console.log(`board-all-browser\t${at(seen.all, 0.5)}\tms\tat most 16.7, one frame; from a filter to all 900 things of 60 children, median of ${seen.all.length}`);
console.log(`board-all-browser-95\t${at(seen.all, 0.95)}\tms\tthe slowest of twenty`);
console.log(`board-filter-browser\t${at(seen.drains, 0.5)}\tms\tat most 16.7, one frame; from all 900 things to the drains, median of ${seen.drains.length}`);
console.log(`board-read-browser\t${read}\tms\tall 60 records read and folded, once, on opening the board; no comparison`);
