// Dictating into a note: by touch on a phone with the server gone, and by keyboard.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { axe } from './judges.mjs';
import { App, Server, until } from './harness.mjs';
import { Finger, Keyboard, kept } from './hands.mjs';

let server;
before(async () => { server = await Server.start(); });
after(async () => { await server.stop(); });

const words = 'We did the Norwood with a five millimetre ringed Sano. Clamp sixty two minutes. '
  + 'Two atrial and two ventricular wires, one mediastinal drain, a 12 French. No left pleural drain. '
  + 'Weight three point one, no, three point four kilos. The rest was as usual, thank you all.';

// begun opens a new child with a stage 1 note, on the screen for dictation.
async function begun(app, by) {
  const { page } = app;
  await app.goto('/device');
  await by.type('#who-name', 'Ida Sample');
  await page.locator('#role-surgeon').check();
  await by.press('#who-save');
  await by.press('a.home');
  await by.press('#new-child');
  await by.press('#begin-stage1');
  await by.press('a[href$="/dictate"]');
  await page.locator('#dictate-text').waitFor();
}

test('dictation by touch on a phone, the server gone: read, taken, kept through a kill, held against the note', async () => {
  const own = await Server.start();
  const app = await App.open(own.url, { viewport: { width: 360, height: 740 }, hasTouch: true });
  let { page } = app;
  await begun(app, new Finger(page));
  await app.offlineReady();
  await page.waitForFunction(() => window.fairlead.restReady);
  await own.stop();

  await page.fill('#dictate-text', words);
  await page.locator('#take-support-clampTotal').waitFor();
  assert.equal(await page.locator('#dictate-marked').textContent(), words, 'marked text is the text');
  const told = (id) => page.locator(`.offer:has(#${id})`).textContent();
  assert.match(await told('take-support-clampTotal'), /Clamp in all.*62 min.*Clamp sixty two minutes/);
  assert.match(await page.locator('.offer.is-denied').textContent(), /Left pleural drain.*Said not to be there/);
  assert.match(await page.locator('#dictate-rest').textContent(), /thank you all/);
  assert.equal(await page.locator('.offer', { hasText: '3.1 kg' }).count(), 0, 'what was corrected is not offered');
  await kept(page);
  await app.kill();
  await app.restart();
  page = app.page;
  await app.goto('/');
  await page.locator('.children a').first().tap();
  await page.locator('.notes-of a').first().tap();
  await page.locator('a[href$="/dictate"]').tap();
  await page.locator('#take-sure').waitFor();
  assert.equal(await page.inputValue('#dictate-text'), words, 'the text is there after a kill');

  const finger = new Finger(page);
  await finger.type('#who-name', 'Ida Sample');
  await page.locator('#role-surgeon').check();
  await finger.press('#who-save');
  await page.locator('#take-support-clampTotal:not([disabled])').waitFor();
  await finger.press('#take-support-clampTotal');
  await page.locator('.offer.is-same', { hasText: 'Clamp in all' }).waitFor();
  await page.waitForTimeout(400); // a quicker second tap is taken for a tremor
  await finger.press('#take-sure');
  await page.locator('.offer.is-same', { hasText: 'Mediastinal drain' }).waitFor();
  assert.equal(await page.locator('.offer.is-new.is-sure').count(), 0, 'all that is sure was taken');
  await until('what is left to be looked at has the focus and is in sight', () => page.evaluate(() => {
    const at = document.activeElement.getBoundingClientRect();
    return document.activeElement.matches('.offer.is-check') && at.top > 0 && at.bottom < innerHeight;
  }));
  await kept(page);

  // Another text that says another thing: what was taken stands, and both are shown.
  await page.fill('#dictate-text', words.replace('sixty two', 'sixty five'));
  const differs = page.locator('.offer.is-differs');
  await differs.waitFor();
  assert.match(await differs.textContent(), /Clamp in all.*65 min.*The note says: 62 min/);
  assert.deepEqual(await axe(page), []);
  await app.screenshot('dictate-phone', { fullPage: true });

  await page.locator('nav.tabs a', { hasText: 'Items' }).tap();
  await page.locator('.item-rows').first().waitFor();
  const items = await page.locator('.item-rows').allTextContents();
  for (const what of [/Atrial/, /Ventricular/, /Mediastinal/]) assert.match(items.join(' '), what);
  assert.doesNotMatch(items.join(' '), /Left pleural/);
  await page.goto(`${page.url().replace(/items$/, 'section/support')}`);
  await app.shown();
  await page.locator('p.origin', { hasText: 'Dictated: “Clamp sixty two minutes”.' }).waitFor();
  await app.close();
});

test('dictation by keyboard: offers come as the words do, one is filled in by hand, the rest goes under findings', async () => {
  const app = await App.open(server.url, { viewport: { width: 1280, height: 900 } });
  const { page } = app;
  const keys = new Keyboard(page);
  await begun(app, keys);
  await keys.type('#dictate-text', 'Operation weight three point four kilos. Clamp sixty two minutes. Conduit five millimetres ');
  await page.locator('.offer', { hasText: '62 min' }).waitFor();
  await page.keyboard.type('ringed. All went smoothly and nobody was in a hurry.');
  await page.locator('.offer', { hasText: 'ing' }).first().waitFor();
  await keys.press('#hand-support-clampTotal');
  await page.locator('#by-hand-support-clampTotal', { hasText: 'does not apply' }).waitFor();
  await keys.press('#hand-measures-weight');
  await page.locator('#by-hand-measures-weight input').first().waitFor();
  await keys.type('#by-hand-measures-weight input', '3.5');
  await page.keyboard.press('Enter');
  await page.locator('.offer.is-differs', { hasText: 'The note says: 3.5 kg' }).waitFor();
  await keys.press('#take-rest');
  await page.locator('#take-rest[disabled], #take-rest[aria-disabled="true"]').waitFor();
  await kept(page);
  await page.fill('#dictate-text', 'word '.repeat(150_000));
  await page.locator('#dictate-state', { hasText: 'too long to read' }).waitFor();
  assert.equal((await page.inputValue('#dictate-text')).length, 750_000, 'the text is kept in its box');
  await page.fill('#dictate-text', 'Heute war ein schöner Tag 😀 мы закончили\u202e 手術');
  await page.locator('#offers-title + p', { hasText: 'Nothing is understood' }).waitFor();
  await until('the text is read whole', async () => (await page.locator('#dictate-marked').textContent()).includes('手術'));
  await app.close();
});
