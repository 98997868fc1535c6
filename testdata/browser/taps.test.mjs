// Everything one does at the bed again and again, by touch on a phone held in one
// hand and with the network dead: two taps each, beside the figure that is typed.
// What was recorded is read back from the child's file.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { test } from 'node:test';
import { Finger, begin, kept, list, write } from './hands.mjs';
import { App, Server } from './harness.mjs';

test('at the bed, what is done again and again takes two taps and a figure', async () => {
  const server = await Server.start();
  const app = await App.open(server.url, { viewport: { width: 360, height: 740 }, hasTouch: true });
  const { page } = app;
  await app.goto('/');
  await app.offlineReady();
  await server.stop(); // from here on there is no network
  const hand = new Finger(page);
  await write(hand, 'N. Urse', 'intensive-care nurse');
  const note = await begin(hand);
  await list(hand);
  const [tube, heart, artery, wires, drain] = await page.locator('.item-row').evaluateAll((rows) => rows.map((r) => r.id.slice('row-'.length)));
  await kept(page);
  const child = new URL(note).pathname.replace(/\/note\/.*/, '');
  await page.goto(`${app.url}${child}/bedside`);
  await app.shown();
  await page.locator(`#seen-${drain}:not([disabled])`).waitFor();

  // The two things that are due first can be answered for without scrolling.
  const reach = await page.locator('.check-list .check-row').evaluateAll((rows) => rows.slice(0, 2).map((row) => row.querySelector('.check-buttons').getBoundingClientRect().bottom));
  const foot = await page.locator('.status').evaluate((el) => el.getBoundingClientRect().top);
  assert.ok(reach.length === 2 && reach.every((at) => at <= foot), `the buttons of the first two end at ${reach}, what is in sight at ${foot}`);

  // within does something in at most so many taps, and waits until the page says it.
  const within = async (taps, words, act) => {
    const before = hand.acts;
    await act();
    assert.ok(hand.acts - before <= taps, `${words}: ${hand.acts - before} taps`);
    await page.locator('#bedside-done', { hasText: words }).waitFor();
  };
  const typed = (selector, text) => page.locator(selector).fill(text); // the form has given it the focus
  const focused = (id) => page.waitForFunction((at) => document.activeElement?.id === at, id);

  await within(1, 'Seen: tag 1', () => hand.press(`#seen-${tube}`));
  await within(2, 'Read the output: tag 5', async () => {
    await hand.press(`#first-${drain}`);
    await focused(`read-${drain}-total`);
    await typed(`#read-${drain}-total`, '12');
    await hand.press(`#read-${drain}-save`);
  });
  await within(2, 'Read the pressure: tag 2', async () => {
    await hand.press(`#first-${heart}`);
    await focused(`pressure-${heart}-mean`);
    await typed(`#pressure-${heart}-mean`, '8');
    await hand.press(`#pressure-${heart}-save`);
  });
  await within(2, 'Test the wires: tag 4', async () => {
    await hand.press(`#first-${wires}`);
    await focused(`test-${wires}-threshold`);
    await typed(`#test-${wires}-threshold`, '1.5');
    await hand.press(`#test-${wires}-save`);
  });
  await within(2, 'Still needed: yes: tag 3', async () => {
    await hand.press(`#more-${artery}`);
    await hand.press(`#needed-${artery}`);
  });
  // Two taps lead to the form of everything else.
  for (const [id, item] of [['runs', heart], ['problem', heart], ['moved', tube], ['out', wires], ['exchange', artery], ['cut', wires], ['lost', tube], ['theatre', drain]]) {
    const before = hand.acts;
    if (await page.locator(`#${id}-${item}`).count() === 0) await hand.press(`#more-${item}`);
    await hand.press(`#${id}-${item}`);
    assert.ok(hand.acts - before <= 2, `${id} is ${hand.acts - before} taps away`);
    await focused(`${id}-${item}-form`);
  }
  // The date that a time of day is taken for stands beside it before it is kept.
  await typed(`#theatre-${drain}-when`, '00:01');
  await page.locator(`#theatre-${drain}-when-is`, { hasText: /^(Today|Yesterday), \d\d-[A-Z][a-z]{2}-\d{4} 00:01$/ }).waitFor();
  await typed(`#theatre-${drain}-when`, '');
  await within(1, 'Back to theatre with it: tag 5', () => hand.press(`#theatre-${drain}-save`));
  await within(1, 'Back from theatre, in: tag 5', () => hand.press(`#seen-${drain}`));
  // A line whose tip nobody answers for does not leave the list; one whose tip was not
  // seen stays open.
  await hand.press(`#more-${heart}`);
  await hand.press(`#out-${heart}`);
  for (const yes of await page.locator(`[id^="out-${heart}-if"][id$="-yes"]`).all()) await yes.tap();
  await hand.press(`#out-${heart}-complete-yes`);
  await hand.press(`#out-${heart}-save`);
  await page.locator('.wrong[role=alert]', { hasText: 'Say whether its tip was seen' }).waitFor();
  await hand.press(`#out-${heart}-tip-no`);
  await hand.press(`#out-${heart}-save`);
  await page.locator('.check-row.is-unsettled', { hasText: 'Right atrial line' }).first().waitFor();
  assert.match(await page.locator('#register-tally').textContent(), /5 tags listed: 5 in/);
  // A mistaken tap is taken back.
  await within(1, 'Seen: tag 4', () => hand.press(`#seen-${wires}`));
  await hand.press('#undo');
  await page.locator('.check-row', { hasText: 'Atrial wires' }).filter({ hasText: 'N. Urse (intensive-care nurse): tested' }).waitFor();
  await kept(page);

  await page.goto(app.url + child);
  const [file] = await Promise.all([page.waitForEvent('download'), page.locator('#export').tap()]);
  const lines = fs.readFileSync(await file.path(), 'utf8').split('\n');
  for (const [kind, item, what] of [['checked', tube, ''], ['output read', drain, '"12"'], ['pressure read', heart, '"8"'], ['threshold tested', wires, '"1.5"'],
    ['need answered', artery, '"yes"'], ['taken back to theatre', drain, ''], ['confirmed', drain, '']]) {
    assert.equal(lines.filter((l) => l.includes(`"kind":"${kind}"`) && l.includes(item) && l.includes(what)).length, 1, `${kind} ${what}`);
  }
  await app.close();
});
