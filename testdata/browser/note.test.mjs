// The note, filled in the browser: all of it by keyboard alone; typing fast; undo;
// what outlives a reload; two tabs; a store that refuses; hostile names.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { App, Server, root, until } from './harness.mjs';

const definitions = JSON.parse(fs.readFileSync(path.join(root, 'schema/generated/definitions.json')));
const wanted = JSON.parse(fs.readFileSync(path.join(root, 'testdata/notes/stage1.json')));

let server;
before(async () => { server = await Server.start(); });
after(async () => { await server.stop(); });

const focused = (page) => page.evaluate(() => document.activeElement?.id ?? '');
const idOf = (letter, at) => `${letter}-${at.replaceAll('.', '-')}`;

// tabTo presses Tab, or Shift and Tab if it lies behind, until the element of that
// id has the focus.
async function tabTo(page, id, most = 120) {
  for (let i = 0; i < most; i++) {
    const way = await page.evaluate((to) => {
      const [here, there] = [document.activeElement, document.getElementById(to)];
      if (here?.id === to) return 'here';
      return here && there && here !== document.body && here.compareDocumentPosition(there) & Node.DOCUMENT_POSITION_PRECEDING ? 'back' : 'on';
    }, id);
    if (way === 'here') return;
    await page.keyboard.press(way === 'back' ? 'Shift+Tab' : 'Tab');
  }
  throw new Error(`Tab does not lead to ${id}: the focus is on ${await focused(page)}`);
}

async function kept(page) {
  await page.waitForFunction(() => document.getElementById('kept').textContent === 'Kept on this device');
}

async function begin(app, { child = true } = {}) {
  await app.goto('/');
  const { page } = app;
  await page.locator('#new-child').waitFor();
  await tabTo(page, 'who-name');
  await page.keyboard.type('A. Surgeon');
  await tabTo(page, 'role-surgeon');
  await page.keyboard.press('Space');
  await tabTo(page, 'who-save');
  await page.keyboard.press('Enter');
  if (!child) return;
  await page.locator('#new-child:not([disabled])').waitFor();
  await tabTo(page, 'new-child');
  await page.keyboard.press('Enter');
  await page.locator('#begin-stage1').waitFor();
  await until('the focus is taken to the new screen', async () => ['heading', 'new-note'].includes(await focused(page)));
  await tabTo(page, 'begin-stage1');
  await page.keyboard.press('Enter');
  await page.locator('.fields').waitFor();
}

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const day = (iso) => `${iso.slice(8, 10)}-${months[Number(iso.slice(5, 7)) - 1]}-${iso.slice(0, 4)}`;

// enter fills one field by keyboard. It returns false where it cannot: a
// reference to an item, since none is listed here.
async function enter(page, def, at, value) {
  const id = idOf('e', at);
  const label = (v) => def['x-labels']?.[v] ?? def.items?.['x-labels']?.[v] ?? v;
  const format = def['x-format'];
  if (format === 'item' || format === 'items') return false;
  if (def.type === 'array') {
    const all = def.items.enum;
    for (const v of value) {
      if (all.length > 18) {
        await tabTo(page, idOf('x', at));
        await page.keyboard.type(label(v));
        await page.keyboard.press('Enter');
        await page.waitForTimeout(1100); // the browser's own search by typing forgets after a second
        continue;
      }
      const i = all.indexOf(v);
      await page.locator(`#${id}`).waitFor();
      await tabTo(page, i ? `${id}-${i}` : id);
      await page.keyboard.press('Space');
    }
    return true;
  }
  if (def.enum || def.type === 'boolean') {
    const all = def.enum ?? [true, false];
    const i = all.indexOf(value);
    await tabTo(page, id);
    if (all.length > 9) {
      await page.keyboard.type(label(value));
      await page.keyboard.press('Tab');
      return true;
    }
    await page.keyboard.press('Space');
    for (let n = 0; n < i; n++) await page.keyboard.press('ArrowDown');
    assert.equal(await focused(page), i ? `${id}-${i}` : id);
    await page.waitForTimeout(50); // what it brings with it appears
    return true;
  }
  await tabTo(page, id);
  if (format === 'moment') {
    await page.keyboard.type(value.slice(11, 16).replace(':', ''));
    await page.keyboard.press('Tab');
    if (await page.evaluate(() => document.activeElement.value) !== day(value)) {
      await page.keyboard.press('Control+a');
      await page.keyboard.type(day(value));
    }
  } else {
    await page.keyboard.type(format === 'date' ? day(value) : String(value));
  }
  await page.keyboard.press('Tab');
  return true;
}

// fields lists the concrete paths of the fields shown, inside a list or not.
const fields = (page, inside) => page.evaluate((selector) => [...document.querySelectorAll(selector)]
  .filter((el) => !el.hidden).map((el) => el.dataset.path), inside);

test('a whole note by keyboard alone', async () => {
  const app = await App.open(server.url, { timezoneId: 'Europe/London' });
  const { page } = app;
  await begin(app);
  const entered = new Map();
  let rows = 0;
  for (let sections = 0; ; sections++) {
    const section = new URL(page.url()).pathname.split('/section/')[1] ?? 'child';
    const defs = definitions.sections[section].properties;
    const values = wanted[section] ?? {};
    const done = new Set();
    for (;;) { // fields appear as they become relevant
      const at = (await fields(page, '.fields > .field')).find((p) => !done.has(p));
      if (!at) break;
      done.add(at);
      const name = at.split('.')[1];
      const value = values[name];
      if (value === undefined) continue;
      if (defs[name].items?.properties) {
        for (const row of value) {
          await tabTo(page, idOf('e', at), 120);
          await page.keyboard.press('Enter');
          rows++;
          const list = idOf('l', at);
          await until('the new entry is open and has the focus', async () => (await focused(page)).startsWith(`e-${section}-${name}-`));
          const told = new Set();
          for (;;) {
            const inner = (await fields(page, `[id^="${list}-"] .row-body .field`)).find((p) => !told.has(p));
            if (!inner) break;
            told.add(inner);
            const last = inner.split('.').pop();
            if (row[last] !== undefined && await enter(page, defs[name].items.properties[last], inner, row[last])) entered.set(inner, row[last]);
          }
        }
      } else if (await enter(page, defs[name], at, value)) {
        entered.set(at, value);
      }
    }
    await page.keyboard.press('Escape');
    if (!await page.locator('.neighbours .next').count()) break;
    const next = await page.locator('.neighbours .next').getAttribute('href');
    if (next.endsWith('/review')) break;
    for (let i = 0; i < 60 && await page.evaluate(() => !document.activeElement.matches('.neighbours .next')); i++) await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.waitForURL(`**${next}`);
    await until('the focus is taken to the next section', async () => await focused(page) === 'heading');
    assert.ok(sections < 40);
  }
  await kept(page);
  // What left as a file is what was typed.
  await page.goto(page.url().replace(/\/note\/.*/, ''));
  await page.locator('#export').waitFor();
  const coming = page.waitForEvent('download');
  await tabTo(page, 'export', 200);
  await page.keyboard.press('Enter');
  const file = await (await coming).path();
  const recorded = new Map();
  for (const line of fs.readFileSync(file, 'utf8').trim().split('\n')) {
    const e = JSON.parse(line);
    if (e.kind === 'field set') recorded.set(e.body.path, e.body.decimal ?? e.body.value);
  }
  const wrong = [];
  for (const [at, value] of entered) {
    const got = recorded.get(at);
    const same = typeof value === 'number' ? Number(got) === value
      : Array.isArray(value) ? JSON.stringify([...got ?? []].sort()) === JSON.stringify([...value].sort())
      : /^\d{4}-.*T/.test(String(value)) ? String(got).startsWith(value.slice(0, 16)) : got === value;
    if (!same) wrong.push(`${at}: ${JSON.stringify(got)}, typed ${JSON.stringify(value)}`);
  }
  assert.deepEqual(wrong, []);
  assert.ok(entered.size > 200, `only ${entered.size} fields were entered`);
  assert.ok(rows > 20, `only ${rows} rows were added`);
  await app.close();
});

test('typing fast loses nothing, and a reload keeps what was being typed', async () => {
  const app = await App.open(server.url);
  const { page } = app;
  await begin(app);
  const text = 'Arch 3 mm at its narrowest; ductal tissue to the left carotid. '.repeat(6).trim();
  await page.goto(`${page.url().replace(/\/section.*/, '')}/section/work`);
  await page.locator('#e-work-findings').click();
  await page.keyboard.type(text);
  assert.equal(await page.inputValue('#e-work-findings'), text);
  assert.equal(await focused(page), 'e-work-findings');
  await page.keyboard.press('Home');
  await page.keyboard.press('Control+Home');
  await page.keyboard.type('Found: ');
  assert.equal(await page.inputValue('#e-work-findings'), `Found: ${text}`);
  await kept(page);
  await page.reload();
  await page.locator('#e-work-findings').waitFor();
  assert.equal(await page.inputValue('#e-work-findings'), `Found: ${text}`);
  await page.locator('#e-work-estimatedLoss').fill('3O'); // the letter
  await page.locator('#e-work-estimatedLoss').press('Tab');
  await page.locator('#f-work-estimatedLoss .wrong').waitFor();
  await kept(page);
  await page.reload();
  await page.locator('#f-work-estimatedLoss .wrong').waitFor();
  assert.equal(await page.inputValue('#e-work-estimatedLoss'), '3O');
  await app.close();
});

// A mark for less than or more than comes before the box as soon as it is typed.
test('a bound typed key by key keeps its digits, and gives way to a number', async () => {
  const app = await App.open(server.url);
  const { page } = app;
  await begin(app);
  await page.goto(`${page.url().replace(/\/section.*/, '')}/section/gas`);
  const box = page.locator('#e-gas-lactate');
  for (const [typed, shown] of [['>15', '> 15'], ['1.2', '1.2'], ['<0.5', '< 0.5']]) {
    await box.click();
    await page.keyboard.press('Control+a');
    await page.keyboard.type(typed, { delay: 60 });
    await page.keyboard.press('Tab');
    await page.waitForFunction((want) => {
      const amount = document.querySelector('#e-gas-lactate').closest('.amount');
      return `${amount.querySelector('.bound').textContent} ${document.querySelector('#e-gas-lactate').value}`.trim() === want;
    }, shown);
  }
  await app.close();
});

test('undo and redo, by button and by key', async () => {
  const app = await App.open(server.url);
  const { page } = app;
  await begin(app);
  await page.fill('#e-child-surname', 'Testchild');
  await page.press('#e-child-surname', 'Tab');
  await page.click('label:has(#e-child-sex)');
  await page.waitForFunction(() => document.getElementById('e-child-sex').checked);
  await page.click('#undo');
  await page.waitForFunction(() => !document.getElementById('e-child-sex').checked);
  await page.click('#undo');
  await page.waitForFunction(() => document.getElementById('e-child-surname').value === '');
  await page.click('#redo');
  await page.waitForFunction(() => document.getElementById('e-child-surname').value === 'Testchild');
  // The focus follows what was done again: from the heading it is not the entry's own undo.
  const atSurname = () => page.waitForFunction(() => document.activeElement?.id === 'e-child-surname');
  await atSurname();
  await page.locator('#heading').focus();
  await page.keyboard.press('Control+z');
  await page.waitForFunction(() => document.getElementById('e-child-surname').value === '');
  await atSurname();
  await page.locator('#heading').focus();
  await page.keyboard.press('Control+Shift+z');
  await page.waitForFunction(() => document.getElementById('e-child-surname').value === 'Testchild');
  // The beginning of the note itself is taken back: the child's page, and the note's
  // address says that it is not here.
  const note = page.url();
  await atSurname();
  await page.click('#undo');
  await page.waitForFunction(() => document.getElementById('e-child-surname').value === '');
  await page.click('#undo');
  await page.locator('#begin-stage1').waitFor();
  await page.goBack();
  await page.locator('#heading', { hasText: 'This note is not here' }).waitFor();
  await page.click('#redo');
  await page.locator('#e-child-surname').waitFor();
  assert.equal(page.url(), note);
  await app.close();
});

test('two tabs on one child see each other', async () => {
  const app = await App.open(server.url);
  const { page } = app;
  await begin(app);
  const second = await app.context.newPage();
  await second.goto(page.url());
  await second.locator('#e-child-surname').waitFor();
  await page.fill('#e-child-surname', 'Testchild');
  await page.press('#e-child-surname', 'Tab');
  await second.waitForFunction(() => document.getElementById('e-child-surname').value === 'Testchild');
  // What the one is typing stays the one's until it is meant: this cannot be.
  await page.fill('#e-child-birthWeight', '3,');
  await kept(page);
  await second.reload();
  await second.locator('#e-child-birthWeight').waitFor();
  assert.equal(await second.inputValue('#e-child-birthWeight'), '');
  // When its tab is gone, another takes it up.
  await page.close();
  await second.reload();
  await second.waitForFunction(() => document.getElementById('e-child-birthWeight')?.value === '3,');
  await app.close();
});

test('a store that is full: never called kept, nothing lost, offered as a file', async () => {
  const app = await App.open(server.url);
  const { page } = app;
  await page.addInitScript(() => {
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function full(...args) {
      if (window.noRoom) throw new DOMException('no room', 'QuotaExceededError');
      return put.apply(this, args);
    };
  });
  await begin(app);
  await kept(page);
  await page.evaluate(() => { window.noRoom = true; });
  await page.fill('#e-child-surname', 'Testchild');
  await page.waitForFunction(() => document.getElementById('kept').textContent !== 'Kept on this device');
  await page.press('#e-child-surname', 'Tab');
  await page.locator('#not-kept').waitFor();
  assert.match(await page.textContent('#not-kept'), /no room/);
  assert.equal(await page.textContent('#kept'), 'NOT KEPT');
  const coming = page.waitForEvent('download');
  await page.click('#not-kept-do');
  assert.match(fs.readFileSync(await (await coming).path(), 'utf8'), /Testchild/);
  await page.evaluate(() => { window.noRoom = false; });
  await page.click('#not-kept-again');
  await kept(page);
  await page.reload();
  await page.locator('#e-child-surname').waitFor();
  assert.equal(await page.inputValue('#e-child-surname'), 'Testchild');
  await app.close();
});

test('no store at all: said, and the app goes on', async () => {
  const app = await App.open(server.url);
  await app.page.addInitScript(() => {
    IDBFactory.prototype.open = () => { throw new DOMException('denied', 'SecurityError'); };
  });
  await begin(app);
  assert.equal(await app.page.textContent('#kept'), 'NOT KEPT');
  await app.page.fill('#e-child-surname', 'Testchild');
  await app.page.press('#e-child-surname', 'Tab');
  assert.match(await app.page.textContent('#not-kept'), /not being kept/);
  const coming = app.page.waitForEvent('download');
  await app.page.click('#not-kept-do');
  assert.match(fs.readFileSync(await (await coming).path(), 'utf8'), /Testchild/);
  await app.close();
});

test('hostile names are shown as they are and break nothing', async () => {
  const app = await App.open(server.url, { viewport: { width: 360, height: 740 } });
  const { page } = app;
  await begin(app);
  for (const name of ['<script>document.title="hit"</script>', '"><img src=x onerror="document.title=\'hit\'">', '\u202Egnp.exe', '👶🏽👩‍⚕️', 'x'.repeat(300)]) {
    await page.fill('#e-child-surname', name);
    await page.press('#e-child-surname', 'Tab');
    await until('the banner shows it', async () => (await page.textContent('.banner .who')).toUpperCase().startsWith(name.toUpperCase().slice(0, 60)));
    assert.equal(await page.inputValue('#e-child-surname'), name);
    assert.equal(await page.evaluate(() => document.querySelectorAll('#app script, #app img').length), 0);
    assert.doesNotMatch(await page.title(), /hit/);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    assert.ok(wide <= 1, `the page is ${wide} px too wide for ${name.slice(0, 20)}`);
    await page.goto(`${page.url().replace(/\/section.*|$/, '')}/sheet`);
    await page.locator('#sheet-host > *').first().waitFor();
    assert.equal(await page.evaluate(() => document.querySelectorAll('#app script, #app img').length), 0);
    await page.goto(page.url().replace('/sheet', '/section/child'));
    await page.locator('#e-child-surname').waitFor();
  }
  await app.close();
});
