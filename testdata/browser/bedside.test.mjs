// The check at the bed: killed in the middle and taken up again; every answer
// there is, to a balanced tally with two names; undo and trembling hands; two tabs
// open on one child; change after the names.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { Finger, begin, items, kept, list, write } from './hands.mjs';
import { App, Server, until } from './harness.mjs';

const tablet = { viewport: { width: 820, height: 1180 }, hasTouch: true };
let server;
before(async () => { server = await Server.start(); });
after(async () => { await server.stop(); });

// atBed opens a child with five items listed at a check, and returns the hand, the
// note's address and the ids of the items by tag.
async function atBed(app, occasion) {
  const hand = new Finger(app.page);
  await app.goto('/');
  await write(hand, 'N. Urse', 'intensive-care nurse');
  const note = await begin(hand);
  await list(hand);
  const ids = await app.page.locator('.item-row').evaluateAll((rows) => rows.map((r) => r.id.slice('row-'.length)));
  await hand.press(`.tabs a[href$="/check/${occasion}"]`);
  await app.page.locator('#next-found').waitFor();
  return { hand, note, ids };
}

const tally = (page) => page.locator('#tally').innerText();
const said = (page, words) => until(`the tally says ${words}`, async () => words.test(await tally(page)));

async function found(hand) {
  await hand.page.waitForTimeout(400); // a quicker tap is taken for a tremor
  await hand.press('#next-found');
}

test('who checked the wristband is said in one tap, and not typed again', async () => {
  const app = await App.open(server.url, tablet);
  const { hand, note } = await atBed(app, 'arrival');
  const { page } = app;
  await hand.press('#band-by-me');
  await until('the name stands in its box', async () => await page.inputValue('#e-arrival-bandCheckedBy') === 'N. Urse');
  await kept(page);
  await page.goto(`${note}/check/arrival`);
  await page.locator('#band-by-me[aria-pressed=true]').waitFor();
  await app.close();
});

test('killed in the middle of the check, it goes on where it stopped', async () => {
  const app = await App.open(server.url, tablet);
  const { hand, note } = await atBed(app, 'arrival');
  await found(hand);
  await said(app.page, /1 found, 4 not answered/);
  await found(hand);
  await said(app.page, /2 found, 3 not answered/);
  const next = await app.page.locator('.thumb-what').innerText();
  const given = await app.page.locator('.check-answer').allInnerTexts();
  await kept(app.page);
  await app.kill();
  await app.restart();
  const { page } = app;
  await page.goto(`${note}/check/arrival`);
  await page.locator('#tally').waitFor();
  await said(page, /2 found, 3 not answered/);
  assert.deepEqual(await page.locator('.check-answer').allInnerTexts(), given, 'who answered and when');
  // Nobody writes in a browser that was started again, until somebody says so.
  assert.equal(await page.locator('#next-found').count(), 0);
  const again = new Finger(page);
  await write(again, 'N. Urse', 'intensive-care nurse');
  await page.locator('#next-found').waitFor();
  assert.equal(await page.locator('.thumb-what').innerText(), next, 'the next item is the one that was next');
  for (let i = 3; i <= items.length; i++) {
    await found(again);
    await said(page, new RegExp(`${i} found`));
  }
  assert.equal(await page.locator('#next-found').count(), 0);
  await app.close();
});

test('every answer there is, to a tally that balances and two names', async () => {
  const app = await App.open(server.url, tablet);
  const { hand, ids } = await atBed(app, 'arrival');
  const { page } = app;
  const [tube, atrial, arterial, wires, drain] = ids;

  // Different: what differs, what the sheet says, how it is at the bed.
  await hand.press(`#other-${tube}`);
  await hand.press(`#differs-${tube}`);
  await hand.press(`#differs-save-${tube}`);
  await page.locator('.answer-form .wrong[role=alert]').first().waitFor();
  await hand.press(`#differs-other-${tube}`);
  await hand.type(`#differs-value-${tube}`, 'One centimetre further out');
  await hand.press(`#differs-save-${tube}`);
  await said(page, /1 differs/);

  await hand.press(`#other-${atrial}`);
  await hand.press(`#not-found-${atrial}`);
  await said(page, /1 not found/);

  // Not to be seen now: a reason and a time are wanted.
  await hand.press(`#other-${arterial}`);
  await hand.press(`#unseen-${arterial}`);
  await hand.press(`#unseen-save-${arterial}`);
  await page.locator('.answer-form .wrong[role=alert]').first().waitFor();
  await hand.type(`#unseen-why-${arterial}`, 'Under the dressing');
  await hand.press(`#again-1-hour-${arterial}`);
  await hand.press(`#unseen-save-${arterial}`);
  await said(page, /1 cannot be seen now/);

  await hand.press(`#other-${wires}`);
  await hand.press(`#inside-${wires}`);
  await hand.press(`#by-X-ray-${wires}`);
  await said(page, /1 inside/);

  await hand.press('#extra');
  await hand.press('#extra-save');
  await page.locator('.answer-form .wrong[role=alert]').first().waitFor();
  await hand.type('#extra-what', 'Cannula in the left foot, capped');
  await hand.press('#extra-save');
  await said(page, /1 found and not listed/);

  await hand.press(`#found-${drain}`);
  await said(page, /: 1 found,/);
  assert.equal(await page.locator('#tally.is-open').count(), 1, 'open: two differences and an extra');
  assert.equal(await page.locator('#close-save').count(), 0, 'no name under an open tally');
  assert.equal(await page.locator('.closing .open-items li').count(), 3);

  // The extra is listed under its kind and gets the next tag; that settles it.
  await page.locator('[id^="list-as-"]').selectOption({ label: 'Peripheral cannula' });
  await page.locator('.item-row').nth(5).waitFor();
  assert.equal(await page.locator('.item-row .flag').last().innerText(), '6');
  await hand.press('.tabs a[href$="/check/arrival"]');
  await until('two are left to settle', async () => await page.locator('.closing .open-items li').count() === 2);

  // Settled by what was done, one of the two in another person's name.
  await hand.press('[id^="settle-save-"]');
  await page.locator('.answer-form .wrong[role=alert]').first().waitFor();
  await hand.type('[id^="settle-how-"]', 'Back to the mark, taped again');
  await hand.press('[id^="settle-save-"]');
  await until('one is left', async () => await page.locator('.closing .open-items li').count() === 1);
  await hand.press('[id^="fate-lost-"]'); // settled is not enough: what became of it
  await hand.type('[id^="settle-how-"]', 'Not in the bed, not on the X-ray; surgeon told');
  await hand.type('[id^="settle-by-"]', 'A. Surgeon');
  await hand.press('[id^="settle-save-"]');
  await page.locator('#close-save').waitFor();
  assert.equal(await page.locator('#tally.is-balanced').count(), 0, 'one thing is still to be looked at');
  assert.match(await page.locator('#tally + * > .wrong').innerText(), /Tag 3, .*look again: under the dressing/i);

  await hand.press('#close-save');
  await page.locator('.closing .names li').first().waitFor();
  await hand.type('#close-name', 'n. urse');
  await hand.press('#close-save');
  await page.locator('.closing .wrong').waitFor(); // the second name is another person's
  await hand.type('#close-name', 'B. Gas');
  await hand.choose('#close-role', 'Anaesthetist');
  await hand.press('#close-save');
  assert.match(await page.locator('.closing .signed-words').innerText(), /To be looked at still: Tag 3, /);

  // An answer changed after the names shows as that.
  await hand.press(`#other-${drain}`);
  await hand.press(`#not-found-${drain}`);
  await until('the names say so', async () => /something changed after this name/.test(await page.locator('.closing .names').innerText()));
  assert.equal(await page.locator('#tally.is-open').count(), 1);

  await hand.press('.tabs a[href$="/sheet"]');
  await until('the sheet says it', async () => {
    const text = await page.locator('.sheet-host:not(.paper-only)').innerText();
    return /One centimetre further out/i.test(text) && /Back to the mark/i.test(text);
  });
  await app.close();
});

test('the last tap is taken back, and a trembling tap answers once', async () => {
  const app = await App.open(server.url, tablet);
  const { hand } = await atBed(app, 'leaving');
  const { page } = app;
  const button = page.locator('#next-found');
  const box = await button.boundingBox();
  assert.ok(box.height >= 63.5 && box.width >= 64, `the main target is ${box.width}×${box.height}`);
  assert.ok(box.y > 1180 / 2, 'it lies in the lower half, where the thumb is');
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.touchscreen.tap(x, y);
  await page.touchscreen.tap(x, y);
  await page.waitForTimeout(600);
  await said(page, /1 found, 4 not answered/);
  const who = await page.locator('.check-row.is-answered strong').innerText();
  await hand.press('#undo');
  await said(page, /5 not answered/);
  assert.equal((await page.locator('.thumb-what').innerText()).includes(who), true, 'it is the next one again');
  await hand.press('#redo');
  await said(page, /1 found, 4 not answered/);
  await app.close();
});

test('two tabs at one bed: each sees the other, and two answers to one item are shown', async () => {
  const app = await App.open(server.url, tablet);
  const { hand, note } = await atBed(app, 'arrival');
  const { page } = app;
  await kept(page);
  const other = await app.context.newPage();
  await other.goto(`${note}/check/arrival`);
  await other.locator('#tally').waitFor();
  await write(new Finger(other), 'B. Gas', 'anaesthetist');
  await other.locator('#next-found').waitFor();
  await found(hand);
  await said(other, /1 found, 4 not answered/);
  await other.waitForTimeout(400);
  await other.locator('#next-found').tap();
  await said(page, /2 found, 3 not answered/);
  const answers = (await page.locator('.check-answer').allInnerTexts()).join('\n');
  assert.match(answers, /N\. Urse/);
  assert.match(answers, /B\. Gas/);
  await app.close();
});
