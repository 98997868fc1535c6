// What is asked at the bed before it is recorded: a figure that differs, where a thing
// was moved to, an output under the threshold, a time still to come, and going home with
// a line in the heart.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { Finger, begin, kept, list, write } from './hands.mjs';
import { App, Server, until } from './harness.mjs';
import { axe } from './judges.mjs';

// The tablet's zone is so chosen that 23:59 is still to come for hours on end.
const hour = new Date().getUTCHours();
const shift = (12 - hour + 24) % 24;
const timezoneId = shift <= 12 ? `Etc/GMT${shift === 0 ? '' : `-${shift}`}` : `Etc/GMT+${24 - shift}`;
const tablet = { timezoneId, viewport: { width: 820, height: 1180 }, hasTouch: true };
let server;
before(async () => { server = await Server.start(); });
after(async () => { await server.stop(); });

const says = (page, where, words) => until(`${where} says ${words}`, async () => words.test(await page.locator(where).first().innerText().catch(() => '')), { within: 20_000 });

async function atBed(app) {
  const hand = new Finger(app.page);
  await app.goto('/');
  await write(hand, 'N. Urse', 'intensive-care nurse');
  const note = await begin(hand);
  await list(hand);
  const ids = await app.page.locator('.item-row').evaluateAll((rows) => rows.map((r) => r.id.slice('row-'.length)));
  return { hand, note, ids, page: app.page, child: note.replace(/\/note\/.*/, '') };
}

test('at the check: a time still to come is said beside its box, and a depth is judged as the note judges it', async () => {
  const app = await App.open(server.url, tablet);
  const { hand, ids: [tube], page } = await atBed(app);
  await hand.press('.tabs a[href$="/check/arrival"]');
  const next = new Date(Date.now() + 24 * 3600e3);
  await hand.type('#e-arrival-arrived', '2359'); // by itself the last 23:59 there was
  await hand.type('#d-arrival-arrived', `${next.getDate()}-${next.toLocaleString('en-US', { month: 'short' })}-${next.getFullYear()}`);
  await page.keyboard.press('Tab');
  await says(page, '#f-arrival-arrived', /later than now/);
  await hand.press(`#other-${tube}`);
  await hand.press(`#differs-${tube}`);
  await hand.press(`#differs-depth-${tube}`);
  for (const [text, words] of [['95', /outside what is possible: 5 to 26 cm\. Check the figure\. If 95 was in mm, type 9\.5 cm/], ['9,500', /may mean 9\.500 or 9500/]]) {
    await hand.type(`#differs-value-${tube}`, text);
    await hand.press(`#differs-save-${tube}`);
    await says(page, `#answers-${tube} [role=alert]`, words);
  }
  await hand.type(`#differs-value-${tube}`, '18');
  await hand.press(`#differs-save-${tube}`);
  await says(page, `#answers-${tube} [role=alert]`, /Depth 18 cm is unusual.*Is it right\?/);
  assert.deepEqual(await axe(page), []);
  await app.screenshot('asks-check');
  await hand.press(`#differs-sure-${tube}`);
  await says(page, `#check-${tube} .check-answer`, /depth is 18 cm.*asked, and right/);
  await kept(page);
  await app.close();
});

test('at the bedside: where a tube is, what the box gives, and which day a time is of', async () => {
  const app = await App.open(server.url, tablet);
  const { hand, ids: [tube, , , wires], page, child } = await atBed(app);
  await app.goto(`${new URL(child).pathname}/bedside`);
  await hand.press(`#more-${tube}`);
  await hand.press(`#moved-${tube}`);
  await hand.type(`#moved-${tube}-to`, '95 cm at the lips');
  await hand.press(`#moved-${tube}-save`);
  await says(page, '.answer-form [role=alert]', /If 95 was in mm, type 9\.5 cm/);
  await hand.type(`#moved-${tube}-to`, '9.5 cm at the lips');
  await hand.type(`#moved-${tube}-when`, '23:59');
  await says(page, `#moved-${tube}-when-is`, /Taken as yesterday, .* 23:59: 23:59 today is still to come/);
  await app.screenshot('asks-moved');
  assert.deepEqual(await axe(page), []);
  await hand.press(`#moved-${tube}-save`);
  await says(page, '#bedside-done', /Moved: tag 1/);
  await hand.press(`#first-${wires}`);
  assert.equal(await page.inputValue(`#test-${wires}-when`), '', 'the time of another reading is not carried');
  await hand.type(`#test-${wires}-threshold`, '0.8');
  await hand.type(`#test-${wires}-output`, '0.5');
  await hand.press(`#test-${wires}-save`);
  await says(page, '.answer-form [role=alert]', /output 0\.5 mA is under the threshold 0\.8 mA: the heart may not be captured/);
  await page.locator(`[id="test-${wires}-sure-known, and being treated"]`).click();
  await hand.press(`#test-${wires}-save`);
  await says(page, `#item-${wires}`, /output 0\.5 mA is under the threshold 0\.8 mA/);
  await app.screenshot('asks-wires');
  await app.close();
});

test('going home with what lies deep in the child is asked, and ends in one state', async () => {
  const app = await App.open(server.url, tablet);
  const { hand, page, child, ids } = await atBed(app);
  await app.goto(`${new URL(child).pathname}/leaving-us`);
  for (const id of ids) {
    await hand.press(`#goes-${id}`);
    await hand.type(`#knows-${id}`, 'Community nurse');
    await hand.type(`#by-${id}`, 'Stays');
    await hand.press(`#goes-save-${id}`);
  }
  // the tube, the line in the heart, the line in the artery, the wires and the drain
  const deep = [];
  for (const id of ids) if (await page.locator(`#asked-why-${id}`).count() > 0) deep.push(id);
  assert.equal(deep.length, 5);
  await says(page, '#home-tally', /5 questions below/);
  await hand.press('#end-stay');
  await says(page, '[role=alert]', /The stay cannot end yet\. Tag 1, .*, lies in the windpipe/);
  await app.screenshot('asks-home');
  assert.deepEqual(await axe(page), []);
  for (const id of deep) {
    await hand.type(`#asked-why-${id}`, 'Comfort at home');
    await hand.type(`#asked-who-${id}`, 'Dr Example');
  }
  await says(page, '#home-tally', /Everything is answered/);
  await hand.press('#end-stay');
  await says(page, '#ended', /The stay has ended/);
  await says(page, '#home-tally', /The stay ended .*N\. Urse/);
  await app.screenshot('asks-home-ended');
  assert.deepEqual(await axe(page), []);
  await kept(page);
  await app.goto(new URL(child).pathname);
  await says(page, '.in-child', /gone home with the child, N\. Urse/);
  await app.close();
});
