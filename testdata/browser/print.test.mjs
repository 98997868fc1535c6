// The sheet as the browser prints it: as many pages as the layout counted, so that
// nothing of the first page slips overleaf, for every invented note on both papers.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { test } from 'node:test';
import { App, Server, program, root, temporary, until } from './harness.mjs';

test('printed, every sheet has the pages it was laid out on', async () => {
  const server = await Server.start();
  const app = await App.open(server.url);
  const dir = temporary('print');
  const notes = path.join(root, 'testdata/notes');
  let printed = 0;
  for (const name of fs.readdirSync(notes).filter((n) => n.endsWith('.json'))) {
    for (const [paper, points] of [['a4', '59[45].* x 84'], ['letter', '61.* x 79']]) {
      const html = path.join(dir, `${name}-${paper}.html`);
      // 1: the note has problems, which do not keep the sheet from being printed
      const made = spawnSync(program, ['sheet', path.join(notes, name), '--html', '--paper', paper, '--at', '2026-07-18T13:45+01:00', '-o', html], { encoding: 'utf8' });
      assert.ok(made.status <= 1, made.stderr);
      const laid = fs.readFileSync(html, 'utf8').match(/<(div|section|article)[^>]*class="[^"]*\bsheet-page\b/g).length;
      await app.page.goto(pathToFileURL(html).href);
      await app.page.pdf({ path: `${html}.pdf`, preferCSSPageSize: true });
      const info = spawnSync('pdfinfo', [`${html}.pdf`], { encoding: 'utf8' }).stdout;
      assert.equal(Number(/Pages: +(\d+)/.exec(info)?.[1]), laid, `${name} on ${paper}: ${info}`);
      assert.match(info, new RegExp(`Page size: +${points}`), `${name} on ${paper}`);
      const first = spawnSync('pdftotext', ['-l', '1', '-layout', `${html}.pdf`, '-'], { encoding: 'utf8' }).stdout;
      assert.match(first, /Page 1 of \d/, `${name} on ${paper}: the foot of the first page stands on it`);
      assert.doesNotMatch(first, /Page 2 of/);
      printed++;
    }
  }
  assert.ok(printed >= 18, `only ${printed} sheets were printed`);
  fs.rmSync(dir, { recursive: true });
  await app.close();
  await server.stop();
});

// What the app prints. Each page of paper about a child says whose it is: published
// guidance on patient identification asks for it on every page (oracles: how values
// are shown).
test('printed from the app: the sheet in its pages, whose it is on every page, the board with names', async () => {
  const server = await Server.start();
  const app = await App.open(server.url, { viewport: { width: 1280, height: 900 } });
  const { page } = app;
  const dir = temporary('print');
  const printed = async (name) => {
    const file = path.join(dir, `${name}.pdf`);
    await page.pdf({ path: file, preferCSSPageSize: true, format: 'A4', margin: { top: '10mm', bottom: '10mm', left: '10mm', right: '10mm' } });
    const text = spawnSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' }).stdout;
    const pages = text.split('\f').slice(0, -1);
    for (const [i, words] of pages.entries()) assert.ok(words.trim() !== '', `${name}: page ${i + 1} of ${pages.length} is blank`);
    return pages;
  };
  await app.goto('/');
  await page.locator('.nothing-yet').waitFor();
  await page.fill('#who-name', 'N. Urse');
  await page.click('label:has(#role-intensive-care-nurse)');
  await page.click('#who-save');
  await page.click('#demo:not([disabled])');
  await until('the invented children are there', async () => await page.locator('.children li').count() === 3);
  await page.click('.children li a[href$="00000000ca5e"]');
  await page.locator('.notes-of a').last().waitFor();
  const child = new URL(page.url()).pathname;
  let rows = 0, alarms = 0;
  for (const a of await page.locator('.notes-of a').evaluateAll((all) => all.map((x) => x.getAttribute('href')))) {
    await app.goto(a.replace(/\/section.*/, '').replace(/\/sheet$/, '') + '/sheet');
    await page.locator('#sheet-host .sheet-block').first().waitFor();
    const pages = await printed('sheet');
    const of = Number(/Page 1 of (\d+)/.exec(pages[0])?.[1]);
    assert.equal(pages.length, of, `the sheet of ${a} says 1 of ${of}`);
    // All that is left in stands on the first page, and what alarms is black, at night
    // and with a browser that leaves backgrounds out.
    for (const look of ['day', 'night']) {
      await page.evaluate((x) => { document.documentElement.dataset.look = x; }, look);
      await page.emulateMedia({ media: 'print', colorScheme: look === 'night' ? 'dark' : 'light' });
      await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
      const seen = await page.evaluate(() => {
        const rows = (where) => document.querySelectorAll(`#sheet-paper ${where} [data-item]`).length;
        return {
          rows: rows(''), first: rows('.sheet-page:first-of-type'), screen: getComputedStyle(document.querySelector('#sheet-host')).display,
          boxes: [...document.querySelectorAll('#sheet-paper .sheet-alarm')].map((e) => {
            const c = getComputedStyle(e);
            return `${c.backgroundColor} ${c.color} ${c.printColorAdjust ?? c.webkitPrintColorAdjust}`;
          }),
        };
      });
      assert.equal(seen.first, seen.rows, `${a}: ${seen.rows} things left in, ${seen.first} on the first page`);
      assert.equal(seen.screen, 'none');
      for (const box of seen.boxes) assert.equal(box, 'rgb(0, 0, 0) rgb(255, 255, 255) exact', `${a}, ${look}`);
      rows += seen.rows;
      alarms += seen.boxes.length;
    }
    await page.emulateMedia({ media: null, colorScheme: null });
    for (const [i, words] of pages.entries()) {
      assert.match(words, /TESTERBY, Juno/, `page ${i + 1}`);
      assert.match(words, new RegExp(`Page ${i + 1} of ${of}`));
    }
  }
  assert.ok(rows > 20 && alarms > 4, `${rows} things and ${alarms} boxes prove little`);
  await app.goto(`${child}/transfer`);
  await page.locator('#transfer-host .sheet-page').first().waitFor();
  for (const words of await printed('transfer')) assert.match(words, /TESTERBY, Juno/);
  for (const screen of ['bedside', 'leaving-us']) {
    await app.goto(`${child}/${screen}`);
    await page.locator('.check-row').first().waitFor();
    const pages = await printed(screen);
    assert.ok(pages.length > 1, `${screen}: ${pages.length} pages prove little`);
    for (const [i, words] of pages.entries()) assert.match(words, /TESTERBY, Juno[^]*INVENTED TX0048213/, `${screen}, page ${i + 1} of ${pages.length}`);
  }
  await app.goto('/board'); // the first page that is opened, as after a reload
  await page.locator('.board-child').nth(2).waitFor();
  const board = (await printed('board')).join('\n');
  for (const words of [/TESTERBY, Juno[^]*INVENTED TX0048213[^]*[Bb]orn 08-Jul-2022/, /TESTERBY, June/, /SAMPLEWORTH, Olli/, /CHEST OPEN/, /PACKS, 2/, /3 children on this device, as of \d\d-\w{3}-\d{4} \d\d:\d\d: 16 tags in, 7 implants/]) assert.match(board, words);
  // On paper no box can be opened: what the list was narrowed to is said.
  assert.doesNotMatch(board, /Only this|All of them/);
  await page.selectOption('#board-filter', 'drain');
  await page.locator('#board-only').waitFor({ state: 'attached' });
  const drains = (await printed('board-drains')).join('\n');
  assert.match(drains, /Only this: Drain[^]*Whatever else is in stands elsewhere/);
  assert.doesNotMatch(drains, /All of them|Which things/);
  fs.rmSync(dir, { recursive: true });
  await app.close();
  await server.stop();
});
