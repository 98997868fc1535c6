// The whole job, from a new child to a sheet confirmed on arrival: by keyboard
// alone, by touch at tablet and phone size, and with the server stopped. Then
// what may be printed, deep links, and names that try to break the page.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { test } from 'node:test';
import { Finger, Keyboard, begin, confirm, items, kept, list, names, write } from './hands.mjs';
import { App, Server, temporary, until } from './harness.mjs';

// job does it all and leaves the page on the sheet. It returns the note's address.
async function job(hand, child) {
  const { page } = hand;
  await write(hand, 'A. Surgeon', 'surgeon');
  const note = await begin(hand, child);
  await list(hand);
  await confirm(hand, 'leaving');
  await until('the tally balances', async () => /5 listed: 5 found\./.test(await page.locator('#tally').innerText()));
  await names(hand, 'A. Surgeon', 'B. Gas', 'Anaesthetist');

  await hand.press('.tabs a[href$="/review"]');
  await page.locator('#sign').waitFor();
  assert.match(await page.locator('#sign').innerText(), /open items/, 'with fields not recorded, the signature says so');
  await hand.press('#sign');
  await page.locator('#signature .signed-words').waitFor();

  // The nurse takes the tablet.
  await hand.press('#who');
  await page.locator('#who-name').waitFor();
  await write(hand, 'N. Urse', 'intensive-care nurse');
  await kept(page);
  await page.goBack();
  await page.locator('#sign').waitFor();
  await confirm(hand, 'arrival', 4);
  await until('the difference is open', async () => /1 differs/.test(await page.locator('#tally').innerText()));
  assert.equal(await page.locator('#close-save').count(), 0, 'no name goes under an open difference');
  await hand.type('[id^="settle-how-"]', 'Dressing changed');
  await hand.press('[id^="settle-save-"]');
  await page.locator('#close-save').waitFor();
  await names(hand, 'N. Urse', 'B. Gas', 'Anaesthetist');

  await hand.press('.tabs a[href$="/sheet"]');
  await until('the sheet is drawn', async () => (await page.locator('#sheet-host').innerText()).includes('Mediastinal drain'));
  await kept(page);
  return note;
}

// onSheet fails if a tag, an item or what was confirmed is not on the sheet.
function onSheet(text) {
  const plain = text.replace(/\s+/g, ' ');
  for (const [i, [, , name]] of items.entries()) {
    assert.match(plain, new RegExp(`\\b${i + 1} ?${name.slice(0, 6)}`, 'i'), `${i + 1} ${name} on the sheet`);
  }
  assert.match(plain, /Dressing wet/i, 'what differed on arrival stands on the sheet');
  assert.match(plain, /signed with open items/i);
}

// printed is the text of the page as it prints.
async function printed(page) {
  const file = path.join(temporary('print'), 'sheet.pdf');
  await page.pdf({ path: file, preferCSSPageSize: true });
  const read = spawnSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });
  fs.rmSync(path.dirname(file), { recursive: true });
  assert.equal(read.status, 0, read.stderr);
  return read.stdout;
}

test('by keyboard alone', async () => {
  const server = await Server.start();
  const app = await App.open(server.url, { viewport: { width: 1440, height: 900 } });
  await app.goto('/');
  await job(new Keyboard(app.page), { surname: 'TESTERLY', number: 'T-1' });
  onSheet(await app.page.locator('#sheet-host').innerText());
  await app.close();
  await server.stop();
});

test('by touch on a tablet, with the server stopped', async () => {
  const server = await Server.start();
  const app = await App.open(server.url, { viewport: { width: 820, height: 1180 }, hasTouch: true });
  const { page } = app;
  await app.goto('/');
  await app.offlineReady();
  await server.stop();
  await app.reload();
  const note = await job(new Finger(page));
  onSheet(await page.locator('#sheet-host').innerText());
  const paper = await printed(page);
  onSheet(paper);
  assert.match(paper, /TESTERLY/);
  assert.doesNotMatch(paper, /Undo|Writing:/, 'what belongs to the screen is not printed');

  // Deep links, each opened from nothing, still without a server.
  for (const [at, shows] of [['/items', '.item-row'], ['/check/leaving', '.check-row'], ['/check/arrival', '.closing .signed-words'], ['/review', '.review .page'],
    ['/sheet', '.sheet-block'], ['/section/measures', '#e-measures-weight'], ['/labels', '.label-flag']]) {
    const fresh = await app.context.newPage();
    await fresh.goto(note + at);
    await fresh.locator(shows).first().waitFor();
    assert.match(await fresh.locator('.banner').innerText(), /TESTERLY/, `${at} says whose it is`);
    await fresh.close();
  }
  await app.close();
});

test('by touch on a phone', async () => {
  const server = await Server.start();
  const app = await App.open(server.url, { viewport: { width: 360, height: 740 }, hasTouch: true });
  await app.goto('/');
  await job(new Finger(app.page));
  onSheet(await app.page.locator('#sheet-host').innerText());
  const wide = await app.page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  assert.ok(wide <= 1, `the page is ${wide} px wider than the phone`);
  await app.close();
  await server.stop();
});

test('names that try to break the page', async () => {
  const server = await Server.start();
  const app = await App.open(server.url, { viewport: { width: 820, height: 1180 } });
  const { page } = app;
  await app.goto('/');
  const hand = new Finger(page);
  hand.press = (selector) => page.locator(selector).first().click();
  hand.tick = (selector) => page.locator(`label:has(${selector})`).click();
  hand.type = (selector, text) => page.locator(selector).fill(text);
  await write(hand, '<b>A. Surgeon</b>', 'surgeon');
  const hostile = ['<script>window.hurt = 1</script>', '"><img src=x onerror="window.hurt=2">', '\u202Egnihtemos', 'X'.repeat(300), '👶🏽 Emoji', 'נסיון'];
  for (const surname of hostile) {
    await page.goto(server.url);
    await page.locator('#new-child').waitFor();
    await begin(hand, { surname, number: surname.slice(0, 30) });
    await page.locator('.tabs a[href$="/items"]').click();
    await page.locator('#kind-drain').click();
    await page.locator('#variety-mediastinal').click();
    await page.locator('.item-row').waitFor();
    for (const screen of ['check/leaving', 'review', 'sheet']) {
      await page.locator(`.tabs a[href$="/${screen}"]`).click();
      await page.locator({ 'check/leaving': '#tally', review: '#signature', sheet: '.sheet-block' }[screen]).first().waitFor();
      assert.equal(await page.evaluate(() => window.hurt), undefined, surname);
      assert.equal(await page.locator('#app script, #app img[onerror], #app b:has-text("A. Surgeon")').count(), 0, surname);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      assert.ok(wide <= 1, `${surname.slice(0, 30)}: ${screen} is ${wide} px too wide`);
    }
    const banner = await page.locator('.banner .fact', { hasText: 'born' }).innerText();
    assert.match(banner, /^born/, 'a name that turns the direction does not turn what follows');
    assert.equal((await page.title()).includes(surname.slice(0, 8)), false, 'the title says nothing about a child');
  }
  await app.close();
  await server.stop();
});
