// The numbers in front of people: the values of the invented child without a
// network, the emergency card and the unit profile.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { App, Server, temporary } from './harness.mjs';
import { axe } from './judges.mjs';

let server;
before(async () => { server = await Server.start(); });
after(async () => { await server?.stop(); });

async function begin(options = {}) {
  const app = await App.open(server.url, { timezoneId: 'Europe/London', viewport: { width: 820, height: 1180 }, ...options });
  await app.goto('/');
  const { page } = app;
  await page.fill('#who-name', 'A. Surgeon');
  await page.click('label:has(#role-surgeon)');
  await page.click('#who-save');
  await page.click('#demo');
  await page.locator('.children a', { hasText: 'TX0048213' }).last().click();
  await page.locator('.notes-of a', { hasText: 'Stage 1' }).click();
  await page.locator('.fields').waitFor();
  return app;
}

async function tab(page, words) {
  await page.locator('.tabs a', { hasText: words }).click();
}

const shown = (page, title) => page.locator('.result', { has: page.locator('h3', { hasText: title }) }).first();

// go shows another address of the app without loading it again.
const home = (page) => page.locator('.bar .home').click();

// Expected values are worked out here from what the note holds: Mosteller 1987 is
// √(kg × cm / 3600); minutes are the differences of the clock times.
test('every value with its formula and origin, without a network', async () => {
  const app = await begin();
  const { page } = app;
  await app.offlineReady();
  await app.offline(true);
  await tab(page, 'Values');
  await page.locator('.results').first().waitFor();
  const area = shown(page, 'Body surface area');
  const text = await area.innerText();
  const [, kg] = /operation weight ([\d.]+) kg/.exec(text);
  const [, cm] = /length ([\d.]+) cm/.exec(text);
  const [, m2] = /([\d.]+) m²/.exec(text);
  assert.ok(Math.abs(Number(m2) - Math.sqrt(kg * cm / 3600)) < 0.0006, text);
  assert.match(text, /Mosteller 1987/);
  assert.match(text, /operation weight 3\.2 kg \S.*\d\d-\w{3}-\d{4} \d\d:\d\d/);
  const bypass = await shown(page, /^Bypass$/).innerText();
  let minutes = 0;
  for (const [, h1, m1, h2, m2] of bypass.matchAll(/run \d+ (\d\d):(\d\d) to (\d\d):(\d\d)/g)) minutes += (h2 * 60 + Number(m2)) - (h1 * 60 + Number(m1));
  assert.ok(minutes > 0 && bypass.includes(`${minutes} min`), bypass);
  assert.match(await page.locator('.results', { hasText: 'Predicted haematocrit' }).innerText(), /blood volume by weight: Empty on purpose\. The unit sets it/i);
  assert.match(await page.locator('svg.timeline').getAttribute('aria-label'), /Bypass 1: \d\d:\d\d to \d\d:\d\d/);
  assert.equal(await page.locator('#card-unset').count(), 1);
  assert.equal(await page.getByText('ARREST ONLY').count(), 0);
  // The name of an input leads to its field.
  await area.locator('a', { hasText: 'operation weight' }).click();
  await page.waitForURL('**/section/measures#f-measures-weight');
  await page.waitForFunction(() => document.activeElement?.closest('.field')?.id === 'f-measures-weight');
  // The same value stands under the fields it comes from.
  assert.match(await page.locator('.worked-out').innerText(), new RegExp(`Body surface area ${m2.replace('.', '\\.')} m²`));
  await app.offline(false);
  await app.close();
});

// 0.01 mg/kg of 3.2 kg is 32 mcg, in 0.1 mg/mL 0.32 mL (resuscitation-council
// paediatric values, second-hand).
test('a dose activated by name stands on the card and the sheet, and outlives a reload; two weights stop it', async () => {
  const app = await begin();
  const { page } = app;
  const address = new URL(page.url()).pathname.replace(/\/section.*/, '');
  await tab(page, 'Values');
  await page.locator('a', { hasText: 'Emergency card in the unit profile' }).click();
  await page.click('#set-emergency-adrenaline-activate');
  await page.click('#set-emergency-adrenaline-yes');
  await page.locator('#profile-did', { hasText: 'Kept on this device.' }).waitFor();
  assert.match(await page.locator('#set-emergency-adrenaline').innerText(), /Activated by A\. Surgeon, \d\d-\w{3}-\d{4} \d\d:\d\d/);
  await app.goto(`${address}/values`); // loads the page anew: the profile was kept
  await page.locator('.doses').waitFor();
  const card = await page.locator('.dose', { hasText: 'ARREST ONLY' }).innerText();
  assert.match(card, /32 mcg = 0\.32 mL of 0\.1 mg\/mL/);
  assert.match(card, /for 3\.2 kg of \d\d-\w{3}-\d{4}, \S/);
  assert.match(await page.locator('#card-caution').innerText(), /Not a prescription/);
  assert.deepEqual(await axe(page), []);
  await tab(page, 'Sheet');
  await page.locator('#sheet-host', { hasText: 'ARREST ONLY' }).waitFor();
  assert.match(await page.locator('#sheet-host').innerText(), /32 mcg = 0\.32 mL of 0\.1 mg\/mL/);
  // Another weight: 2.3 kg beside a dosing weight of 3.2 kg. The name is asked for
  // in each tab anew only if the tab forgot it.
  await app.goto(`${address}/section/measures`);
  await page.locator('#e-measures-weight').fill('2.3');
  await page.locator('#e-measures-weight').press('Tab');
  await tab(page, 'Values');
  await page.locator('#card-stopped').waitFor();
  assert.match(await page.locator('#card-stopped').innerText(), /2\.3 kg disagrees with the dosing weight, 3\.2 kg/);
  assert.equal(await page.getByText('ARREST ONLY').count(), 0);
  await tab(page, 'Sheet');
  await page.locator('#sheet-host', { hasText: 'STOPPED' }).waitFor();
  assert.doesNotMatch(await page.locator('#sheet-host').innerText(), /ARREST ONLY/);
  await app.close();
});

test('a faulty profile is refused whole with every fault named; a changed one is kept, saved and taken in again', async () => {
  const app = await begin();
  const { page } = app;
  await app.goto('/profile/limits');
  await page.locator('.settings').waitFor();
  assert.deepEqual(await axe(page), []);
  const id = '#set-arrest-flag-minutes';
  await page.click(`${id}-change`);
  await page.fill(`${id}-value`, '4O');
  await page.fill(`${id}-source`, 'Invented meeting, 01-Jul-2026');
  await page.fill(`${id}-why`, 'Agreed');
  await page.click(`${id}-save`);
  await page.locator(`${id}-value-wrong`, { hasText: 'Did you mean 40' }).waitFor();
  assert.equal(await page.inputValue(`${id}-value`), '4O'); // what was typed stays
  assert.deepEqual(await axe(page), []);
  await page.fill(`${id}-value`, '40');
  await page.click(`${id}-save`);
  await page.locator('#profile-did', { hasText: 'Kept on this device.' }).waitFor();
  await app.reload();
  await page.locator(id, { hasText: '40 min' }).waitFor();
  assert.match(await page.locator(id).innerText(), /A\. Surgeon: changed, before: 41 min\. Agreed\./);
  const coming = page.waitForEvent('download');
  await page.click('#profile-export');
  const good = JSON.parse(fs.readFileSync(await (await coming).path(), 'utf8'));
  const dir = temporary('profile');
  const put = (name, content) => {
    fs.writeFileSync(path.join(dir, name), typeof content === 'string' ? content : JSON.stringify(content));
    return path.join(dir, name);
  };
  const bad = structuredClone(good);
  bad.entries.find((e) => e.id === 'arrest.flag-minutes').value = 4000;
  bad.entries.push({ ...bad.entries[0] });
  for (const [file, faults] of [
    [put('bad.json', bad), ['4000 is outside 1 to 150 min', 'This entry stands twice']],
    [put('cut.json', JSON.stringify(good).slice(0, 500)), ['ends in the middle']],
    [put('other.json', { hello: 1 }), ['not a unit profile']],
    [put('empty.json', ''), ['It is empty']],
  ]) {
    await page.setInputFiles('#profile-import', file);
    await page.locator('#profile-refused', { hasText: path.basename(file) }).waitFor();
    const said = await page.locator('#profile-refused').innerText();
    for (const fault of faults) assert.ok(said.includes(fault), said);
    assert.match(await page.locator(id).innerText(), /40 min/); // the last good one stays
  }
  good.entries.find((e) => e.id === 'arrest.flag-minutes').value = 39;
  good.unit = 'Invented unit';
  await page.setInputFiles('#profile-import', put('good.json', good));
  await page.locator('#profile-offer').waitFor();
  assert.match(await page.locator('#profile-offer').innerText(), /40 min .* becomes 39 min/);
  assert.deepEqual(await axe(page), []);
  await page.click('#profile-use');
  await page.locator('#profile-did', { hasText: 'Kept on this device.' }).waitFor();
  await app.reload();
  await page.locator(id, { hasText: '39 min' }).waitFor();
  await home(page);
  await page.locator('.children').waitFor();
  fs.rmSync(dir, { recursive: true });
  await app.close();
});

test('a limit of days in and a list before removal are added for what has none', async () => {
  const app = await begin();
  const { page } = app;
  await app.goto('/profile/days-in');
  await page.click('#profile-add-yes');
  await page.locator('#profile-add-wrong', { hasText: 'Choose what it is for.' }).waitFor();
  const listed = await page.locator('#profile-add option').allInnerTexts();
  assert.ok(!listed.includes('Arterial line: umbilical arterial'), 'what has an entry is not offered again');
  await page.selectOption('#profile-add', 'central-venous-line.femoral');
  await page.click('#profile-add-yes');
  const days = '#set-dwell-central-venous-line-femoral';
  await page.fill(`${days}-value`, '5');
  await page.fill(`${days}-source`, 'Invented unit, 01-Jul-2026');
  assert.deepEqual(await axe(page), []);
  await page.click(`${days}-save`);
  await page.click(`${days}-activate`);
  await page.click(`${days}-yes`);
  await page.locator('#profile-did', { hasText: 'is in force.' }).waitFor();
  await page.locator(days, { hasText: '5 days' }).waitFor();
  await app.goto('/profile/removal');
  await page.selectOption('#profile-add', 'arterial-line');
  await page.click('#profile-add-yes');
  const list = '#set-removal-arterial-line';
  await page.fill(`${list}-value`, 'Heparin off\nPulse felt beyond it');
  await page.fill(`${list}-source`, 'Invented unit, 01-Jul-2026');
  await page.click(`${list}-save`);
  await page.locator('#profile-did', { hasText: 'was changed.' }).waitFor();
  await app.reload();
  await page.locator(list, { hasText: 'Pulse felt beyond it' }).waitFor();
  await app.close();
});

test('a dose of the unit\'s own is added, set, activated and taken off again', async () => {
  const app = await begin();
  const { page } = app;
  const address = new URL(page.url()).pathname.replace(/\/section.*/, '');
  await app.goto('/profile/emergency-card');
  await page.click('#profile-add-yes');
  await page.locator('#profile-add-wrong', { hasText: 'It has no name.' }).waitFor();
  await page.fill('#profile-add', 'Adrenaline');
  await page.click('#profile-add-yes');
  await page.locator('#profile-add-wrong', { hasText: 'stands in the list already' }).waitFor();
  assert.equal(await page.inputValue('#profile-add'), 'Adrenaline'); // what was typed stays
  await page.fill('#profile-add', 'Magnesium sulfate');
  await page.click('#profile-add-yes');
  const id = '#set-emergency-magnesium-sulfate';
  await page.selectOption(`${id}-unit`, 'mg');
  await page.fill(`${id}-routes`, 'intravenous');
  await page.fill(`${id}-perKg0`, '25');
  await page.fill(`${id}-max0`, '2000');
  await page.fill(`${id}-amount`, '100');
  await page.fill(`${id}-named`, '10 mg/mL'); // a tenfold slip
  await page.fill(`${id}-source`, 'Invented unit, 01-Jul-2026');
  await page.click(`${id}-save`);
  await page.locator(`${id}-form .wrong`, { hasText: 'which is 10 mg in each mL, and the amount is 100' }).waitFor();
  await page.fill(`${id}-named`, '100 mg/mL');
  assert.deepEqual(await axe(page), []);
  await page.click(`${id}-save`);
  await page.click(`${id}-activate`);
  await page.click(`${id}-yes`);
  await page.locator('#profile-did', { hasText: 'Magnesium sulfate is in force.' }).waitFor();
  await app.goto(`${address}/values`);
  await page.locator('.dose', { hasText: 'Magnesium sulfate' }).waitFor();
  assert.match(await page.locator('.dose', { hasText: 'Magnesium sulfate' }).innerText(), /80 mg = 0\.8 mL of 100 mg\/mL/); // 25 × 3.2
  await app.goto('/profile/emergency-card');
  await page.click(`${id}-drop`);
  await page.locator('#profile-did', { hasText: 'taken off the list' }).waitFor();
  assert.equal(await page.locator(id).count(), 0);
  await app.close();
});

test('two tabs on one device have one profile', async () => {
  const app = await begin();
  await app.goto('/profile/emergency-card');
  const second = await app.context.newPage();
  await second.goto(`${server.url}/profile/emergency-card`);
  await app.shown(second);
  await app.page.click('#set-emergency-shock-activate');
  await app.page.click('#set-emergency-shock-yes');
  await second.locator('#set-emergency-shock', { hasText: 'Activated by A. Surgeon' }).waitFor();
  await app.close();
});
