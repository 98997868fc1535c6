// How long the app takes to open, beside an empty page of the same framework
// built and served the same way, both in turn in one run: cold (nothing known
// of the site), warm (a reload), and offline after the browser was restarted: once
// with nothing done before, once after the app was used for some seconds, so that the
// browser has had the time to keep the code it compiled (the empty page only waits).
// From the start of navigation to the first screen, drawn and not busy.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { App, Server, built, root, temporary } from '../browser/harness.mjs';

const rounds = Number(process.env.ROUNDS ?? 9);

function emptyBuild() {
  const dir = temporary('empty');
  for (const name of fs.readdirSync(built)) fs.copyFileSync(path.join(built, name), path.join(dir, name));
  const wasm = path.join(dir, 'app.wasm');
  execFileSync('go', ['build', '-trimpath', '-ldflags=-s -w', '-modfile=.build/out/browser.mod', '-o', wasm, './testdata/bench/empty'],
    { cwd: root, env: { ...process.env, GOOS: 'js', GOARCH: 'wasm' }, stdio: ['ignore', 'ignore', 'inherit'] });
  execFileSync(process.execPath, ['-e', `
    const zlib = require('node:zlib'), fs = require('node:fs'), c = zlib.constants;
    fs.writeFileSync(process.argv[1] + '.br', zlib.brotliCompressSync(fs.readFileSync(process.argv[1]),
      { params: { [c.BROTLI_PARAM_QUALITY]: 11, [c.BROTLI_PARAM_LGWIN]: 24 } }));`, wasm]);
  fs.rmSync(wasm);
  return dir;
}

const usable = () => new Promise((done) => {
  const look = () => {
    const main = document.querySelector('main');
    if (main && !document.getElementById('opening') && !document.querySelector('[aria-busy="true"]')) {
      requestAnimationFrame(() => done(performance.now()));
    } else {
      requestAnimationFrame(look);
    }
  };
  look();
});

async function use(page) {
  if (await page.locator('#who-name').count() > 0) {
    await page.fill('#who-name', 'A. Surgeon');
    await page.click('label:has(#role-surgeon)');
    await page.click('#who-save');
    await page.click('#demo');
    await page.locator('.children a', { hasText: 'TX0048213' }).last().click();
    await page.locator('.notes-of a', { hasText: 'Stage 1' }).click();
    await page.locator('.rail a').first().waitFor();
  }
  await page.waitForTimeout(5000);
}

async function openings(server) {
  const app = await App.open(server.url);
  const took = {};
  await app.page.goto(server.url);
  took.cold = await app.page.evaluate(usable);
  await app.offlineReady();
  await app.page.reload();
  await app.page.evaluate(usable); // the compiled code is kept after this one
  await app.page.waitForTimeout(300);
  await app.page.reload();
  took.warm = await app.page.evaluate(usable);
  await app.page.waitForTimeout(300);
  await server.stop();
  await app.restart();
  await app.page.goto(server.url);
  took.offline = await app.page.evaluate(usable);
  await use(app.page);
  await app.restart();
  await app.page.goto(server.url);
  took['offline-used'] = await app.page.evaluate(usable);
  await server.start();
  await app.close();
  return took;
}

const median = (values) => values.sort((a, b) => a - b)[Math.floor(values.length / 2)];
const dir = emptyBuild();
const servers = { app: await Server.start(), empty: await Server.start({ dir }) };
const seen = { app: {}, empty: {} };
for (let i = 0; i < rounds; i++) {
  for (const name of i % 2 ? ['empty', 'app'] : ['app', 'empty']) {
    for (const [how, ms] of Object.entries(await openings(servers[name]))) (seen[name][how] ??= []).push(ms);
  }
}
for (const server of Object.values(servers)) await server.stop();
fs.rmSync(dir, { recursive: true });
for (const how of ['cold', 'warm', 'offline', 'offline-used']) {
  const [app, empty] = [median(seen.app[how]), median(seen.empty[how])];
  console.log(`boot-${how}\t${app.toFixed(0)}\tms\tempty page of the same framework ${empty.toFixed(0)} ms, median of ${rounds}`);
  console.log(`boot-${how}-ratio\t${(app / empty).toFixed(2)}\ttimes\tempty page of the same framework, at most 1.5`);
}
