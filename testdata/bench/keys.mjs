// How long a keystroke takes, from the input event to the field checked and shown,
// and to the sheet beside it redrawn, in the invented child's stage 1 note; beside
// the framework's own form of ten inputs, built and served the same way, both in
// turn in one run.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { App, Server, built, root, temporary } from '../browser/harness.mjs';

const rounds = Number(process.env.ROUNDS ?? 5);
const keys = 40;

function plainBuild() {
  const dir = temporary('plain');
  for (const name of fs.readdirSync(built)) fs.copyFileSync(path.join(built, name), path.join(dir, name));
  fs.rmSync(path.join(dir, 'app.wasm.br'), { force: true });
  execFileSync('go', ['build', '-trimpath', '-ldflags=-s -w', '-o', path.join(dir, 'app.wasm'), './testdata/bench/plain'],
    { cwd: root, env: { ...process.env, GOOS: 'js', GOARCH: 'wasm' }, stdio: ['ignore', 'ignore', 'inherit'] });
  return dir;
}

// watch notes, for each input event, when the field and the sheet change first.
const watch = ({ input, field, sheet }) => {
  const seen = { field: [], sheet: [] };
  let at = 0;
  let open = {};
  document.querySelector(input).addEventListener('input', () => { at = performance.now(); open = { field: true, sheet: true }; }, true);
  const on = (what, el) => el && new MutationObserver(() => {
    if (open[what]) { open[what] = false; seen[what].push(performance.now() - at); }
  }).observe(el, { subtree: true, childList: true, characterData: true, attributes: true });
  on('field', document.querySelector(field));
  on('sheet', sheet && document.querySelector(sheet));
  window.seen = seen;
};

// Each key shows or takes away a question (a lactate of 12 mmol/L is unusual).
async function type(page, input) {
  await page.locator(input).fill('');
  await page.locator(input).press('1');
  await page.waitForTimeout(150);
  await page.evaluate(() => { window.seen.field.length = 0; window.seen.sheet.length = 0; });
  for (let i = 0; i < keys; i++) {
    await page.locator(input).press(i % 2 ? 'Backspace' : '2');
    await page.waitForTimeout(70);
  }
  return page.evaluate(() => window.seen);
}

async function inApp(server) {
  const app = await App.open(server.url, { viewport: { width: 1440, height: 900 } });
  const { page } = app;
  await app.goto('/');
  await page.fill('#who-name', 'A. Surgeon');
  await page.click('label:has(#role-surgeon)');
  await page.click('#who-save');
  await page.click('#demo');
  await page.locator('.children a', { hasText: 'TX0048213' }).last().click();
  await page.locator('.notes-of a', { hasText: 'Stage 1' }).click();
  await page.locator('.rail a', { hasText: 'Blood gas' }).click();
  await page.locator('#e-gas-lactate').waitFor();
  await page.waitForTimeout(500);
  const size = await page.evaluate(() => document.querySelectorAll('.filling .entry').length);
  await page.evaluate(watch, { input: '#e-gas-lactate', field: '#f-gas-lactate', sheet: '#sheet-host' });
  const seen = await type(page, '#e-gas-lactate');
  await app.close();
  return { ...seen, size };
}

async function inPlain(server) {
  const app = await App.open(server.url, { viewport: { width: 1440, height: 900 } });
  await app.goto('/');
  await app.page.locator('#input-4').waitFor();
  await app.page.evaluate(watch, { input: '#input-4', field: '#field-4' });
  const seen = await type(app.page, '#input-4');
  await app.close();
  return seen;
}

const at = (values, part) => values.slice().sort((a, b) => a - b)[Math.floor((values.length - 1) * part)];
const dir = plainBuild();
const servers = { app: await Server.start(process.env.BUILD ? { dir: process.env.BUILD } : {}), plain: await Server.start({ dir }) };
const seen = { field: [], sheet: [], plain: [] };
let size = 0;
for (let i = 0; i < rounds; i++) {
  const app = await inApp(servers.app);
  const plain = await inPlain(servers.plain);
  seen.field.push(...app.field);
  seen.sheet.push(...app.sheet);
  seen.plain.push(...plain.field);
  ({ size } = app);
}
for (const server of Object.values(servers)) await server.stop();
fs.rmSync(dir, { recursive: true });
const beside = `form of ten inputs ${at(seen.plain, 0.5).toFixed(1)} ms, ${seen.plain.length} keys; ${size} entries mounted`;
console.log(`key-field\t${at(seen.field, 0.5).toFixed(1)}\tms\t${beside}`);
console.log(`key-field-95\t${at(seen.field, 0.95).toFixed(1)}\tms\tform of ten inputs ${at(seen.plain, 0.95).toFixed(1)} ms`);
console.log(`key-field-ratio\t${(at(seen.field, 0.5) / at(seen.plain, 0.5)).toFixed(2)}\ttimes\tform of ten inputs, at most 1.25`);
if (seen.sheet.length === 0) throw new Error('the sheet was never redrawn');
console.log(`key-sheet\t${at(seen.sheet, 0.5).toFixed(1)}\tms\tat most 16, ${seen.sheet.length} redraws`);
console.log(`key-sheet-95\t${at(seen.sheet, 0.95).toFixed(1)}\tms\tat most 32`);
