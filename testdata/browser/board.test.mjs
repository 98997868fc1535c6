// Leaving for another ward with the transfer sheet, the account narrowed and saved,
// and the counts over time.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { after, before, test } from 'node:test';
import { App, Server, until } from './harness.mjs';
import { kept } from './hands.mjs';
import { axe } from './judges.mjs';

let server;
before(async () => { server = await Server.start(); });
after(async () => { await server?.stop(); });

const tablet = { timezoneId: 'Europe/London', viewport: { width: 820, height: 1180 }, hasTouch: true };

async function write(page) {
  await page.fill('#who-name', 'N. Urse');
  await page.click('label:has(#role-intensive-care-nurse)');
  await page.click('#who-save');
  await page.locator('#new-child:not([disabled])').waitFor();
}

async function says(page, selector, pattern) {
  await until(`${selector} says ${pattern}`, async () => pattern.test(await page.locator(selector).first().innerText()));
}

test('to another ward: what is half said outlives the kill, the sheet lists what goes, the account is saved, the counts count', async () => {
  const app = await App.open(server.url, tablet);
  let { page } = app;
  await app.goto('/');
  await page.locator('.nothing-yet').waitFor();
  await write(page);
  await page.click('#new-child:not([disabled])');
  await page.click('#begin-stage1');
  for (const [field, value] of [['surname', 'Leavely'], ['givenName', 'Una'], ['hospitalNumber', 'T-9']]) {
    await page.fill(`#e-child-${field}`, value);
    await page.press(`#e-child-${field}`, 'Tab');
  }
  const child = new URL(page.url()).pathname.replace(/\/note\/.*/, '');
  await page.locator('.tabs a[href$="/items"]').click();
  for (const [i, [kind, variety]] of [['drain', 'mediastinal'], ['gut-and-bladder', 'gastric-tube']].entries()) {
    await page.click(`#kind-${kind}`);
    await page.click(`#variety-${variety}`);
    await page.locator('.item-rows .item-row').nth(i).waitFor();
  }
  await kept(page);
  const leaving = async () => {
    await app.goto(child);
    await page.locator('a', { hasText: 'Going home, or to another ward' }).click();
    await page.locator('#home-tally').waitFor();
  };
  await leaving();
  await page.click('label:has(#to-ward)');
  await page.fill('#to-where', 'Ward 5');
  await page.locator('.check-row').nth(1).locator('[id^=goes-]').first().click();
  await page.locator('[id^=knows-]').fill('Ward sister, on 0000');
  await kept(page);
  await app.kill();
  await app.restart();
  page = app.page;
  await app.goto('/');
  await page.locator('.children li').first().waitFor();
  await write(page);
  await leaving();
  assert.equal(await page.locator('#to-where').inputValue(), 'Ward 5');
  assert.equal(await page.locator('[id^=knows-]').inputValue(), 'Ward sister, on 0000');
  await page.locator('[id^=goes-save-]').click();
  await page.locator('[role=alert]', { hasText: 'Say when it must come out' }).waitFor();
  await page.locator('[id^=by-]').fill('Before going home');
  await page.locator('[id^=goes-save-]').click();
  await says(page, '#home-tally', /1 thing is not answered: tag 1/);
  await says(page, '.check-row.is-answered', /Goes to Ward 5\. Known to: Ward sister, on 0000\. To come out: Before going home\./);
  assert.deepEqual(await axe(page), []);
  await app.screenshot('leaving-ward', { fullPage: true });

  await page.locator('a', { hasText: 'Transfer sheet' }).click();
  await page.locator('#transfer-host .sheet-page').first().waitFor();
  const rows = await page.locator('#transfer-host tbody tr').allInnerTexts();
  assert.equal(rows.filter((r) => /drain|gastric/i.test(r)).length, 2, rows.join('\n'));
  assert.match(rows.find((r) => /gastric/i.test(r)), /Ward sister, on 0000[^]*Before going home/);
  assert.match(rows.find((r) => /drain/i.test(r)), /not recorded[^]*not recorded/);
  await says(page, '#transfer-host', /GOES TO\s+Ward 5|Goes to\s+Ward 5/);
  assert.deepEqual(await axe(page), []);
  await app.screenshot('transfer', { fullPage: true });

  await app.goto(`${child}/bedside`);
  await page.locator('[id^="more-"]').first().click();
  await page.locator('[id^="account-of-"]').click();
  await says(page, '#account-count', /^\d+ of \d+ entries$/);
  assert.notEqual(await page.inputValue('#account-item'), '');
  await app.goto(child);
  await page.click('#account-open');
  await page.locator('.account li').first().waitFor();
  const all = await page.locator('.account li').count();
  await page.selectOption('#account-item', { label: await page.locator('#account-item option', { hasText: 'Tag 2' }).textContent() });
  await says(page, '#account-count', /^\d+ of \d+ entries$/);
  const few = await page.locator('.account li').count();
  assert.ok(few > 0 && few < all, `${few} of ${all}`);
  await page.selectOption('#account-kind', { label: 'Came out, or goes along' });
  await says(page, '#account-count', /^1 of /);
  assert.deepEqual(await axe(page), []);
  await app.screenshot('account-narrow', { fullPage: true });
  for (const [button, wanted] of [['#account-table', /"Tag 2 \([^)]+\) goes with the child/], ['#account-data', /"words": "Tag 2 \([^)]+\) goes with the child/]]) {
    const [download] = await Promise.all([page.waitForEvent('download'), page.click(button)]);
    const text = fs.readFileSync(await download.path(), 'utf8');
    assert.match(text, wanted);
    assert.doesNotMatch(download.suggestedFilename(), /leavely/i);
  }

  await app.goto('/');
  await page.locator('a', { hasText: 'The unit: what is in every child' }).click();
  await page.locator('.board-child').first().waitFor();
  await says(page, '.board-child', /LEAVELY, Una\s+T-9[^]*Born not recorded[^]*2 tags in[^]*Gastric tube \(transferred\)/);
  await app.reload(); // it is read again when it is the first page that is opened
  await page.locator('.board-child').first().waitFor();
  await says(page, '#board-tally', /^1 child on this device, as of \d\d-[A-Z][a-z]{2}-\d{4} \d\d:\d\d: 2 tags in\./);
  await page.locator('a', { hasText: 'Counts over time' }).click();
  await says(page, '#counts-of', /From the records of 1 child on this device/);
  await says(page, '.counts:has(#counts-days-by-kind)', /Drain[^]*in 1 thing of 1 child/);
  await says(page, '.counts:has(#counts-complete)', /Of all that a sheet has to say/);
  await says(page, '.counts:has(#counts-fields)', /Nothing to count yet/);
  await app.reload();
  await says(page, '#counts-of', /From the records of 1 child on this device/);
  await page.selectOption('#counts-kind', { label: 'Drain' });
  await says(page, '#counts-days', /drain/);
  assert.doesNotMatch(await page.locator('main').innerText(), /Leavely|N\. Urse/);
  assert.deepEqual(await axe(page), []);
  await app.screenshot('counts', { fullPage: true });
  await app.close();
});
