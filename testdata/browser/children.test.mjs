// One child on the tablet and another: two records of one child joined and parted,
// what was entered on the wrong child, going home, the account of what happened,
// erasing, and what is half typed into the forms of all these.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { App, Server, until } from './harness.mjs';
import { kept } from './hands.mjs';
import { axe } from './judges.mjs';

let server;
before(async () => { server = await Server.start(); });
after(async () => { await server?.stop(); });

const tablet = { timezoneId: 'Europe/London', viewport: { width: 820, height: 1180 }, hasTouch: true };

async function write(page, name = 'A. Surgeon', role = 'surgeon') {
  await page.fill('#who-name', name);
  await page.click(`label:has(#role-${role})`);
  await page.click('#who-save');
  await page.locator('#new-child:not([disabled])').waitFor();
}

// child begins a child with a note and returns its address; things are listed as
// [kind, variety].
async function child(app, { surname, given, number, birth = '10-Jul-2026', kind = 'stage1', things = [] }) {
  const { page } = app;
  await page.locator('.bar .home').click();
  await page.click('#new-child:not([disabled])');
  await page.click(`#begin-${kind}`);
  await page.locator('.fields').waitFor();
  for (const [field, value] of [['surname', surname], ['givenName', given], ['hospitalNumber', number], ['birthDate', birth]]) {
    if (value === undefined) continue;
    await page.fill(`#e-child-${field}`, value);
    await page.press(`#e-child-${field}`, 'Tab');
  }
  const address = new URL(page.url()).pathname.replace(/\/section.*/, '');
  if (things.length > 0) {
    await page.locator('.tabs a[href$="/items"]').click();
    for (const [i, [what, which]] of things.entries()) {
      if (i === 0 || things[i - 1][0] !== what) await page.click(`#kind-${what}`); // its varieties stay open
      await page.click(`#variety-${which}`);
      await page.locator('.item-rows .item-row').nth(i).waitFor();
    }
  }
  await kept(page);
  return address;
}

const pageOf = (note) => note.replace(/\/note\/.*/, '');

// killed ends the browser as a power cut would, starts it again, and says once more
// who is writing: that is asked of each tab.
async function killed(app, name, role) {
  await app.kill();
  await app.restart();
  await app.goto('/');
  await app.page.locator('.children li').first().waitFor();
  await write(app.page, name, role);
}

// open shows an address of the app anew, as after a restart.
async function open(app, address, ready) {
  await app.goto(address);
  await app.page.locator(ready).first().waitFor();
}

async function says(page, selector, pattern) {
  await until(`${selector} says ${pattern}`, async () => pattern.test(await page.locator(selector).first().innerText()));
}

test('two records of one child: proposed, joined, one list, parted again', async () => {
  const app = await App.open(server.url, tablet);
  const { page } = app;
  await app.goto('/');
  await page.locator('.nothing-yet').waitFor();
  await write(page);
  const first = await child(app, { surname: 'Testerly', given: 'Ada', number: 'T-1', things: [['drain', 'mediastinal']] });
  const second = await child(app, { surname: 'TESTERLY', given: 'Ada', kind: 'closure', things: [['pacing-wires', 'atrial'], ['airway', 'oral-tube']] });
  await open(app, pageOf(first), '#alike-title-0');
  await says(page, 'section:has(#alike-title-0)', /the same name and date of birth/);
  assert.deepEqual(await axe(page), []);
  await page.click('#join-0');
  await page.click('#join-0-yes'); // without a reason nothing happens
  await page.locator('.reason .wrong', { hasText: 'Say why first' }).waitFor();
  await page.fill('#join-0-why', 'Read the band twi');
  await kept(page);
  await killed(app); // and what was half typed is there again
  await open(app, pageOf(first), '#join-0-why');
  assert.equal(await app.page.inputValue('#join-0-why'), 'Read the band twi');
  await app.page.fill('#join-0-why', 'Read the band twice, one child');
  await app.page.click('#join-0-yes');
  await app.page.locator('#joined-title-0').waitFor();
  await says(app.page, 'section:has(#joined-title-0)', /A\. Surgeon \(surgeon\) joined them, .*: Read the band twice, one child/);
  await until('three things are in', async () => await app.page.locator('.in-child li').count() === 3);
  await until('both notes are listed', async () => await app.page.locator('.notes-of li').count() === 2);
  await kept(app.page);
  await app.page.locator('.bar .home').click();
  await until('one line stands for both', async () => await app.page.locator('.children li').count() === 1);
  // The other record leads to the same child.
  await open(app, pageOf(second), '#joined-title-0');
  await until('from there too', async () => await app.page.locator('.notes-of li').count() === 2);
  assert.deepEqual(await axe(app.page), []);
  await app.page.click('#part-0');
  await app.page.fill('#part-0-why', 'Twins: birth order on the bands');
  await app.page.click('#part-0-yes');
  await until('parted', async () => await app.page.locator('.notes-of li').count() === 1);
  await app.page.locator('#alike-title-0').waitFor();
  await says(app.page, 'section:has(#alike-title-0)', /parted them, .*: Twins: birth order on the bands/);
  await kept(app.page);
  await app.close();
});


test('erasing says which joined records go too, and takes them', async () => {
  const app = await App.open(server.url, tablet);
  const { page } = app;
  await app.goto('/');
  await page.locator('.nothing-yet').waitFor();
  await write(page);
  const first = await child(app, { surname: 'Testerly', given: 'Ada', number: 'T-1' });
  await child(app, { surname: 'Testerly', given: 'Ada', number: 'T-1', kind: 'closure', things: [['airway', 'oral-tube']] });
  await child(app, { surname: 'Otherly', given: 'Bo', number: 'T-9' });
  await open(app, pageOf(first), '#erase');
  await page.click('#erase');
  await page.locator('#erase-yes', { hasText: /^Erase it$/ }).waitFor();
  assert.equal(await page.locator('#erase-with').count(), 0, 'alone, nothing else is named');
  await page.click('#erase-no');
  await page.click('#join-0');
  await page.fill('#join-0-why', 'One band');
  await page.click('#join-0-yes');
  await page.locator('#joined-title-0').waitFor();
  await kept(page);
  await page.click('#erase');
  await says(page, '#erase-with', /is erased too[\s\S]*TESTERLY, Ada, No\. T-1 · Delayed sternal closure, .* · 1 tag in[\s\S]*part the two first/);
  assert.deepEqual(await axe(page), []);
  await app.screenshot('erase-joined');
  await page.locator('#erase-yes', { hasText: 'Erase all 2 records' }).click();
  await page.locator('#erase', { hasText: 'erased' }).waitFor();
  await until('only the other child is left', async () => await page.locator('.children li').count() === 1);
  await says(page, '.children', /OTHERLY, Bo/);
  await app.close();
});

test('entered on the wrong child: taken off here, offered there, taken there; half said outlives the kill', async () => {
  const app = await App.open(server.url, tablet);
  await app.goto('/');
  await app.page.locator('.nothing-yet').waitFor();
  await write(app.page);
  const right = await child(app, { surname: 'Rightly', given: 'Cy', number: 'T-2' });
  const wrong = await child(app, { surname: 'Wrongly', given: 'Di', number: 'T-3' });
  await open(app, `${wrong}/section/measures`, '#e-measures-weight');
  await app.page.fill('#e-measures-weight', '3.7');
  await app.page.press('#e-measures-weight', 'Tab');
  await kept(app.page);
  await open(app, pageOf(wrong), '#wrong-open');
  await app.page.click('#wrong-open');
  const weight = app.page.locator('.to-move label', { hasText: '3.7 kg' });
  await weight.click();
  await app.page.selectOption('#wrong-to', { label: 'RIGHTLY, Cy, No. T-2, born 10-Jul-2026' });
  await app.page.fill('#wrong-why', 'Two tablets lay on o');
  await kept(app.page);
  await killed(app);
  await open(app, pageOf(wrong), '#wrong-why');
  const { page } = app;
  assert.equal(await page.inputValue('#wrong-why'), 'Two tablets lay on o');
  assert.equal(await page.locator('.to-move label', { hasText: '3.7 kg' }).locator('input').isChecked(), true, 'the tick is there again');
  await until('and the child', async () => await page.locator('#wrong-to option:checked').innerText() === 'RIGHTLY, Cy, No. T-2, born 10-Jul-2026');
  assert.deepEqual(await axe(page), []);
  await page.fill('#wrong-why', 'Two tablets lay on one bed');
  await page.click('#wrong-move');
  await page.locator('#moved').waitFor();
  await kept(page);
  await open(app, `${wrong}/section/measures`, '#e-measures-weight');
  assert.equal(await page.inputValue('#e-measures-weight'), '', 'it no longer counts here');
  await open(app, '/', '.children li');
  await says(page, '.children li:has-text("RIGHTLY")', /OFFERED: entered on another child first/);
  await open(app, pageOf(right), '#offer-title-0');
  await says(page, 'section:has(#offer-title-0)', /took it off WRONGLY, Di, No\. T-3, .*: Two tablets lay on one bed[\s\S]*Operation weight: 3\.7 kg \(A\. Surgeon/);
  assert.deepEqual(await axe(page), []);
  await page.click('#offer-take-0');
  await page.locator('#offer-title-0').waitFor({ state: 'detached' });
  await kept(page);
  await open(app, `${right}/section/measures`, '#e-measures-weight');
  await until('it stands where it belongs', async () => await page.inputValue('#e-measures-weight') === '3.7');
  await says(page, '#f-measures-weight', /Entered on another child first, and taken over here/);
  // Both say what happened.
  for (const [at, words] of [[wrong, /3\.7 kg[\s\S]*Taken back[\s\S]*it no longer counts/], [right, /3\.7 kg/]]) {
    await open(app, pageOf(at), '#account-open');
    await page.click('#account-open');
    await page.fill('#account-words', 'weight 3.7');
    await says(page, '.account', words);
  }
  await app.close();
});

test('a whole signed note made on the wrong child: moved, taken, to be signed anew; both sides say so', async () => {
  const app = await App.open(server.url, tablet);
  const { page } = app;
  await app.goto('/');
  await page.locator('.nothing-yet').waitFor();
  await write(page);
  const right = await child(app, { surname: 'Rightly', given: 'Cy', number: 'T-2', kind: 'closure', things: [['airway', 'oral-tube']] });
  const wrong = await child(app, { surname: 'Wrongly', given: 'Di', number: 'T-3', things: [['drain', 'mediastinal']] });
  await open(app, `${wrong}/review`, '#sign');
  await page.click('#sign');
  await page.locator('.signed-words', { hasText: 'Signed by A. Surgeon' }).waitFor();
  await open(app, pageOf(wrong), '#wrong-open');
  await page.click('#wrong-open');
  await page.locator('.to-move label', { hasText: 'The whole note Stage 1' }).click();
  await says(page, '#wrong-along', /entries would move[\s\S]*signed with \d+ open items[\s\S]*must be signed there anew/);
  await page.selectOption('#wrong-to', { label: 'RIGHTLY, Cy, No. T-2, born 10-Jul-2026' });
  await page.fill('#wrong-why', 'Two tablets lay on one bed');
  await page.click('#wrong-move');
  await says(page, '#moved-0', /moved to RIGHTLY, Cy, No\. T-2\. [\s\S]*it counts nowhere/);
  await until('the note is gone here', async () => await page.locator('.notes-of li').count() === 0);
  await kept(page);
  await open(app, pageOf(right), '#offer-title-0');
  await says(page, 'section:has(#offer-title-0)', /The whole note Stage 1[\s\S]*It was signed on the other child\. That does not hold here/);
  assert.deepEqual(await axe(page), []);
  await page.click('#offer-take-0');
  await says(page, '#taken', /What wore tag 1 is tag 2 here[\s\S]*sign it anew/);
  await until('the note is here', async () => await page.locator('.notes-of li').count() === 2);
  await says(page, '.notes-of', /Stage 1[^]*not signed/);
  await kept(page);
  await page.locator('#taken button', { hasText: 'Review and sign' }).click();
  await says(page, '#signed-there', /was signed there\. That does not hold here[\s\S]*signed with \d+ open items \(A\. Surgeon/);
  await page.click('#sign');
  await page.locator('#signed-there').waitFor({ state: 'detached' });
  await kept(page);
  await open(app, pageOf(wrong), '#moved-0');
  await says(page, '#moved-0', /Taken there by A\. Surgeon/);
  assert.equal(await page.locator('#bring-back-0').count(), 0, 'what the other child has cannot be had back');
  await app.close();
});

test('going home: each thing is out or goes along, then the stay ends; the account tells it in order', async () => {
  const app = await App.open(server.url, tablet);
  const { page } = app;
  await app.goto('/');
  await page.locator('.nothing-yet').waitFor();
  await write(page, 'N. Urse', 'intensive-care-nurse');
  const note = await child(app, { surname: 'Homely', given: 'Eve', number: 'T-4', things: [['drain', 'mediastinal'], ['gut-and-bladder', 'gastric-tube']] });
  await open(app, pageOf(note), '#account-open');
  await page.locator('a', { hasText: 'Going home, or to another ward' }).click();
  await says(page, '#home-tally', /2 things are not answered: tags 1, 2/);
  assert.deepEqual(await axe(page), []);
  await page.click('#end-stay');
  await page.locator('[role=alert]', { hasText: 'The stay cannot end yet' }).waitFor();
  const rows = page.locator('.check-row');
  await rows.nth(0).locator('[id^=out-]').first().click();
  await page.locator('[id^=out-][id$=-save]').click();
  await page.locator('[role=alert]', { hasText: 'Say whether all of it came out' }).waitFor();
  await page.locator('[id^=out-][id$=-complete-yes]').click();
  await page.locator('[id^=out-][id$=-tip-yes]').click();
  await page.locator('[id^=out-][id$=-bleeding-no]').click();
  assert.deepEqual(await axe(page), []);
  await page.locator('[id^=out-][id$=-save]').click();
  await says(page, '#home-tally', /1 thing is not answered: tag 2/);
  await page.locator('.check-row [id^=goes-]').first().click();
  await page.locator('[id^=knows-]').fill('Community nurse, on 0000');
  await page.locator('[id^=by-]').fill('When feeds are established');
  await page.locator('[id^=goes-save-]').click();
  await says(page, '#home-tally', /Everything is answered/);
  await page.click('#end-stay');
  await says(page, '#ended', /The stay has ended/);
  await kept(page);
  await open(app, pageOf(note), '#stay-ended');
  await says(page, '#stay-ended', /The last stay ended .* \(N\. Urse/);
  await page.click('#account-open');
  await page.locator('.account li').first().waitFor();
  await app.screenshot('account');
  assert.deepEqual(await axe(page), []);
  await says(page, '#account-count', /^\d+ entries$/);
  const told = await page.locator('.account').innerText();
  for (const words of [/drain/i, /goes home with the child/, /stay/i]) assert.match(told, words);
  // Newest first: the end of the stay stands above what was listed.
  assert.ok(told.search(/stay/i) < told.search(/mediastinal/i), told);
  await page.click('#account-order');
  await until('oldest first', async () => { const now = await page.locator('.account').innerText(); return now.search(/mediastinal/i) < now.search(/stay/i); });
  await page.fill('#account-words', 'community');
  await says(page, '#account-count', /^1 of \d+ entries$/);
  await app.close();
});

test('reasons half typed into the forms of items and checks outlive the kill', async () => {
  const app = await App.open(server.url, tablet);
  await app.goto('/');
  await app.page.locator('.nothing-yet').waitFor();
  await write(app.page);
  const note = await child(app, { surname: 'Halfly', given: 'Flo', number: 'T-5', things: [['drain', 'mediastinal'], ['drain', 'right-pleural']] });
  await open(app, `${note}/items`, '.item-head');
  await app.page.locator('.item-head').nth(1).click();
  await app.page.locator('[id^=withdraw-]').first().click();
  await app.page.locator('[id^=withdraw-why-]').fill('The pleura was not op');
  await kept(app.page);
  const item = new URL(app.page.url()).pathname;
  await app.page.locator('.tabs a[href$="/check/leaving"]').click();
  await app.page.locator('#next-found').waitFor();
  await app.page.locator('[id^=other-]').first().click();
  await app.page.locator('[id^=not-found-]').first().click();
  await app.page.locator('[id^=settle-how-]').fill('Surgeon looked, it is out');
  await app.page.locator('[id^=settle-by-]').fill('C. Cover');
  await app.page.click('#extra');
  await app.page.fill('#extra-what', 'A cannula in the left fo');
  await app.page.locator('[id^=other-]').nth(1).click();
  const second = (await app.page.locator('[id^=answers-]').getAttribute('id')).slice('answers-'.length);
  await app.page.click(`#differs-${second}`);
  await app.page.click(`#differs-other-${second}`);
  await app.page.fill(`#differs-value-${second}`, 'The dressing is w');
  await kept(app.page);
  await killed(app);
  await open(app, item, '[id^=withdraw-why-]');
  assert.equal(await app.page.locator('[id^=withdraw-why-]').inputValue(), 'The pleura was not op');
  await open(app, `${note}/check/leaving`, '[id^=settle-how-]');
  assert.equal(await app.page.locator('[id^=settle-how-]').inputValue(), 'Surgeon looked, it is out');
  assert.equal(await app.page.locator('[id^=settle-by-]').inputValue(), 'C. Cover');
  assert.equal(await app.page.locator('#extra-what').inputValue(), 'A cannula in the left fo');
  assert.equal(await app.page.locator(`#differs-value-${second}`).inputValue(), 'The dressing is w');
  assert.equal(await app.page.locator('#next-found').count(), 0, 'no other answer under the thumb while a form is open');
  await app.page.click(`#other-${second}`);
  await says(app.page, `#check-${second}`, /Half entered, not recorded yet/);
  await app.page.click(`#other-${second}`);
  await app.page.click(`#differs-drop-${second}`);
  await app.page.click(`#other-${second}`);
  // Done, the drafts are gone: nothing of them comes back.
  await app.page.click('#extra-drop');
  await app.page.locator('[id^=fate-lost-]').click(); // what became of it is asked too
  await app.page.locator('[id^=settle-save-]').click();
  await says(app.page, '.check-row', /Settled: Surgeon looked, it is out \(C\. Cover/);
  await app.page.click('#next-found');
  await app.page.locator('#close-name').waitFor();
  await app.page.fill('#close-name', 'B. Gas');
  await app.page.selectOption('#close-role', { label: 'Anaesthetist' });
  await kept(app.page);
  await app.reload();
  await app.page.locator('#close-name').waitFor();
  assert.equal(await app.page.inputValue('#close-name'), 'B. Gas');
  assert.equal(await app.page.locator('#close-role option:checked').innerText(), 'Anaesthetist');
  assert.equal(await app.page.locator('#extra-what').count(), 0);
  await app.close();
});

test('on a phone the list of items comes first, and what lists one more stays under the thumb', async () => {
  const app = await App.open(server.url, { ...tablet, viewport: { width: 360, height: 740 } });
  const { page } = app;
  await app.goto('/');
  await page.locator('.nothing-yet').waitFor();
  await write(page);
  const things = [['airway', 'oral-tube'], ['drain', 'mediastinal'], ['drain', 'right-pleural'], ['drain', 'left-pleural'], ['pacing-wires', 'atrial'], ['arterial-line', 'radial'], ['intracardiac-line', 'right-atrial']];
  const note = await child(app, { surname: 'Small', given: 'Gil', number: 'T-6', things });
  await open(app, `${note}/items`, '.item-rows .item-row');
  const at = async (selector) => page.locator(selector).first().boundingBox();
  for (const scrolled of [0, 200, 100_000]) {
    await page.evaluate((y) => window.scrollTo(0, y), scrolled);
    const adder = await at('.adder');
    assert.ok(adder.height < 740 / 4, `the strip takes ${adder.height} px of 740`);
    assert.ok(adder.y >= 0 && adder.y + adder.height <= 740, `scrolled by ${scrolled}, the strip is at ${adder.y}`);
  }
  await page.evaluate(() => window.scrollTo(0, 0));
  const [row, adder] = [await at('.item-rows .item-row'), await at('.adder')];
  assert.ok(row.y + row.height <= adder.y, 'the first item stands above the strip, and is seen');
  assert.equal(await page.evaluate(() => document.querySelector('.item-rows').compareDocumentPosition(document.querySelector('.adder')) & Node.DOCUMENT_POSITION_FOLLOWING), 4);
  await app.screenshot('items-phone');
  // Two taps list one more.
  await page.locator('#kind-peripheral-cannula').tap();
  await page.locator('.varieties .pick').first().tap();
  await until('it is listed', async () => await page.locator('.item-rows .item-row').count() === things.length + 1);
  await app.close();
});
