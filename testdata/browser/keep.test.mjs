// The device's own store in a real browser: the conformance suite against the
// real IndexedDB, and what no test inside one page can do: kill the browser, open
// two tabs, fill the disk, refuse the storage. What is expected of IndexedDB is in
// the W3C's Indexed Database API 3.0.
import assert from 'node:assert/strict';
import crypto from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { setTimeout as sleep } from 'node:timers/promises';
import { App, Server, root, temporary, until } from './harness.mjs';
import { StorePage, drive } from './storepage.mjs';

const child = '0190f4a0-0000-7000-8000-00000000000a';
const id = (n) => `0190f4a0-0000-7000-8000-0001${String(n).padStart(8, '0')}`;

let store;
before(async () => { store = await StorePage.start(); });
after(async () => { await store.stop(); });

const appendOne = (page, n, words = `words ${n}`) => page.evaluate(([c, i, w]) => window.keep.append(c, [[i, w]]), [child, id(n), words]);
const eventsOf = (page, c = child) => page.evaluate(async (c) => {
  const events = await window.keep.events(c);
  return { ids: events.map(([i]) => i), bodies: events.map(([, b]) => b), trouble: events.trouble ?? '' };
}, c);

test('the conformance suite and the Go tests pass against the real IndexedDB', async () => {
  const app = await App.open(store.url);
  const said = [];
  app.page.on('console', (m) => said.push(m.text()));
  await app.page.goto(`${app.url}/`);
  await app.page.waitForFunction(() => document.getElementById('state').textContent.startsWith('exit'));
  const state = await app.page.locator('#state').innerText();
  const text = said.join('\n');
  assert.equal(state, 'exit 0', text);
  assert.match(text, /^PASS$/m);
  assert.ok(text.match(/^\s*--- PASS: TestLog\//gm).length >= 16, text);
  assert.doesNotMatch(text, /SKIP/);
  await app.close();
});

test('what was kept is there after the browser was closed and opened again', async () => {
  const app = await App.open(store.url);
  await drive(app);
  for (let n = 0; n < 5; n++) await appendOne(app.page, n);
  await app.page.evaluate((c) => window.keep.saveDraft(c, 'child.surname', 'half a wo'), child);
  await app.restart();
  await drive(app);
  assert.deepEqual((await eventsOf(app.page)).ids, [0, 1, 2, 3, 4].map(id));
  assert.match(await app.page.evaluate((c) => window.keep.drafts(c), child), /half a wo/);
  await app.page.evaluate((c) => window.keep.erase(c), child);
  await app.restart();
  await drive(app);
  assert.deepEqual((await eventsOf(app.page)).ids, []);
  await assert.rejects(appendOne(app.page, 9), /erased on this device/);
  await app.close();
});

// Proves the death of the process, not the loss of power.
test('killed in the middle of appending, all that was acknowledged is there', async () => {
  const rounds = process.env.FAIRLEAD_SOAK ? 30 : 4;
  const app = await App.open(store.url);
  const acknowledged = []; // outside the browser
  await app.context.exposeFunction('acknowledge', (i) => { acknowledged.push(i); });
  let n = 0;
  for (let round = 0; round < rounds; round++) {
    const page = await drive(app);
    const before = acknowledged.length;
    const going = page.evaluate(async ([c, from, size]) => {
      for (let k = from; ; k += size) {
        const batch = Array.from({ length: size }, (_, j) => [`0190f4a0-0000-7000-8000-0001${String(k + j).padStart(8, '0')}`, 'x'.repeat(500)]);
        await window.keep.append(c, batch);
        for (const [i] of batch) window.acknowledge(i);
      }
    }, [child, n, 1 + round % 3]).catch(() => {});
    while (acknowledged.length < before + 20) await sleep(5);
    await sleep((round * 37) % 90);
    await app.kill();
    await going;
    await app.restart();
    await app.context.exposeFunction('acknowledge', (i) => { acknowledged.push(i); });
    await drive(app);
    const { ids, trouble } = await eventsOf(app.page);
    assert.equal(trouble, '');
    const there = new Set(ids);
    assert.equal(there.size, ids.length, 'no event is there twice');
    const lost = acknowledged.filter((i) => !there.has(i));
    assert.deepEqual(lost, [], `of ${acknowledged.length} acknowledged`);
    n = ids.length;
    assert.deepEqual(ids, Array.from({ length: n }, (_, k) => id(k)), 'in order, without a gap');
  }
  assert.ok(acknowledged.length >= rounds * 20);
  await app.close();
});

test('two tabs append at once: all is there, in one order for both', async () => {
  const app = await App.open(store.url);
  const one = await drive(app);
  const two = await drive(app, await app.context.newPage());
  await eventsOf(one);
  await eventsOf(two);
  const many = (page, from) => page.evaluate(async ([c, from]) => {
    for (let k = 0; k < 60; k++) {
      await window.keep.append(c, [0, 1].map((j) => [`0190f4a0-0000-7000-8000-0001${String(from + 2 * k + j).padStart(8, '0')}`, 'x']));
    }
  }, [child, from]);
  await Promise.all([many(one, 1000), many(two, 2000)]);
  const [a, b] = [await eventsOf(one), await eventsOf(two)];
  assert.equal(a.trouble + b.trouble, '');
  assert.equal(a.ids.length, 240);
  assert.deepEqual(a.ids, b.ids);
  for (const from of [1000, 2000]) {
    assert.deepEqual(a.ids.filter((i) => Number(i.slice(-8)) >= from && Number(i.slice(-8)) < from + 1000),
      Array.from({ length: 120 }, (_, k) => id(from + k)), 'each tab in its own order');
  }
  await appendOne(one, 3000);
  await two.waitForFunction((c) => window.keep.heard.at(-1) === `grew: ${c} 1`, child);
  // Each knows that the other is at work, and no longer once it is closed.
  await one.evaluate(() => window.keep.hold('w1'));
  await two.evaluate(() => window.keep.hold('w2'));
  await one.waitForFunction(async () => (await window.keep.writers()).length === 2);
  await two.close();
  await one.waitForFunction(async () => String(await window.keep.writers()) === 'w1');
  await app.close();
});

test('no room: refused in words, nothing half kept, and kept again once there is room', async () => {
  const app = await App.open(store.url);
  await drive(app);
  await app.quota(300_000); // before the first write: Chromium remembers for a while how much room it found
  const append = (first, size) => app.page.evaluate(([c, a, b, w]) => window.keep.append(c, [[a, w], [b, w]]),
    [child, id(first), id(first + 1), 'x'.repeat(size)]).then(() => '', (e) => e.message);
  for (const first of [0, 2, 4]) assert.equal(await append(first, 5000), '');
  assert.match(await append(6, 400_000), /no room left: save the record as a file/);
  const full = await eventsOf(app.page);
  assert.equal(full.trouble, '');
  assert.deepEqual(full.ids, [0, 1, 2, 3, 4, 5].map(id), 'nothing of the refused action is there');
  await app.quota();
  await until('there is room again', async () => (await append(8, 400_000)) === '', { every: 1000 });
  assert.deepEqual((await eventsOf(app.page)).ids, [0, 1, 2, 3, 4, 5, 8, 9].map(id));
  await app.close();
});

// refusing is a profile with the browser's own setting that sites may keep
// nothing, as a person sets it.
function refusing() {
  const profile = temporary('refused');
  fs.mkdirSync(path.join(profile, 'Default'), { recursive: true });
  fs.writeFileSync(path.join(profile, 'Default/Preferences'), JSON.stringify({ profile: { default_content_setting_values: { cookies: 2 } } }));
  return profile;
}

test('storage refused by the browser: a sentence, no crash', async () => {
  const app = await App.open(store.url, { profile: refusing() });
  await app.page.goto(`${app.url}/?drive`);
  await app.page.waitForFunction(() => document.getElementById('state')?.textContent === 'driven');
  await assert.rejects(app.page.evaluate(() => window.keep.open()), /does not let this page keep anything/);
  await app.close();
});

test('without a secure connection it says what is needed', async () => {
  // A host name that is not localhost and resolves to this machine.
  const app = await App.open(store.url, { flags: ['--host-resolver-rules=MAP tablet.example 127.0.0.1, MAP [::1] 127.0.0.1'] });
  await app.page.goto(`${app.url.replace('localhost', 'tablet.example')}/?drive`).catch(() => {});
  await app.page.waitForFunction(() => document.getElementById('state')?.textContent === 'driven');
  await assert.rejects(app.page.evaluate(() => window.keep.open()), /secure connection \(https\)/);
  await app.close();
});

test('a newer version in another tab: this one gives way and says so', async () => {
  const app = await App.open(store.url);
  await drive(app);
  await appendOne(app.page, 0);
  const newer = await app.context.newPage();
  await newer.goto(`${app.url}/favicon.ico`);
  const opened = await newer.evaluate(() => new Promise((done) => {
    const r = indexedDB.open('fairlead', 2);
    r.onsuccess = () => done('opened');
    r.onblocked = () => done('blocked');
    r.onerror = () => done(r.error.name);
  }));
  assert.equal(opened, 'opened');
  await app.page.waitForFunction(() => window.keep.heard.some((h) => h.startsWith('closed: ') && h.includes('reload this page')));
  await assert.rejects(appendOne(app.page, 1), /reload this page/);
  await newer.close();
  await app.page.goto(`${app.url}/?drive`);
  await app.page.waitForFunction(() => document.getElementById('state')?.textContent === 'driven');
  await assert.rejects(app.page.evaluate(() => window.keep.open()), /newer version of this program/);
  await app.close();
});

// The whole database as its bytes lie in it, and the very files on the disk.
async function everythingIn(page) {
  return page.evaluate(async () => {
    const db = await new Promise((done, failed) => {
      const r = indexedDB.open('fairlead');
      r.onsuccess = () => done(r.result);
      r.onerror = () => failed(r.error);
    });
    const out = [];
    const walk = (v) => {
      if (v instanceof ArrayBuffer) v = new Uint8Array(v);
      if (v instanceof Uint8Array) { out.push(Array.from(v, (b) => String.fromCharCode(b)).join('')); return; }
      if (v && typeof v === 'object') { for (const [name, m] of Object.entries(v)) { out.push(name); walk(m); } return; }
      out.push(String(v));
    };
    for (const name of db.objectStoreNames) {
      const s = db.transaction(name).objectStore(name);
      for (const ask of [s.getAll(), s.getAllKeys()]) walk(await new Promise((done) => { ask.onsuccess = () => done(ask.result); }));
    }
    db.close();
    return out.join('\n');
  });
}

function filesBelow(dir) {
  return fs.readdirSync(dir, { withFileTypes: true, recursive: true }).filter((e) => e.isFile())
    .map((e) => path.join(e.parentPath ?? e.path, e.name));
}

test('nothing that was entered can be read in the database or in its files', async () => {
  const app = await App.open(store.url);
  await drive(app);
  const words = ['Plantedsurname', 'planted.path', 'Draftedwords'];
  await appendOne(app.page, 0, words[0]);
  await app.page.evaluate(([c, p, w]) => window.keep.saveDraft(c, p, w), [child, words[1], words[2]]);
  const all = await everythingIn(app.page);
  assert.ok(all.includes(child) && all.includes('ciphertext'), 'the look is a real one');
  for (const w of words) assert.ok(!all.includes(w), `${w} can be read`);
  await app.page.evaluate((c) => window.keep.erase(c), child);
  const left = await everythingIn(app.page);
  assert.ok(!left.includes('ciphertext') && !left.includes(id(0)) && left.includes('erased'), left);
  await app.context.close();
  const files = filesBelow(path.join(app.profile, 'Default/IndexedDB'));
  assert.ok(files.some((f) => fs.readFileSync(f).includes('ciphertext')), 'the look at the files is a real one');
  for (const f of files) {
    const bytes = fs.readFileSync(f);
    for (const w of words) {
      for (const encoding of ['utf8', 'utf16le']) assert.ok(!bytes.includes(Buffer.from(w, encoding)), `${w} stands in ${f}`);
    }
  }
  await app.close();
});

test('says what the browser promises', async () => {
  const app = await App.open(store.url);
  await drive(app);
  assert.match(await app.page.evaluate(() => window.keep.room()), /^Kept on this device\. The browser has .* used of the [\d.]+ [kMGT]B it allows\.$/);
  await app.close();
});

// testdata/ledger/store-1.json is a database of format 1. It was written by this
// program's first version, with one change: the keys were made extractable, so
// that they could be written down.
test('a database of every released format is read', async () => {
  const names = fs.readdirSync(path.join(root, 'testdata/ledger')).filter((f) => /^store-\d+\.json$/.test(f));
  const newest = Number(/const Format = (\d+)/.exec(fs.readFileSync(path.join(root, 'app/keep/doc.go'), 'utf8'))[1]);
  assert.deepEqual(names.sort(), Array.from({ length: newest }, (_, n) => `store-${n + 1}.json`));
  for (const name of names) {
    const sample = JSON.parse(fs.readFileSync(path.join(root, 'testdata/ledger', name)));
    const app = await App.open(store.url);
    await drive(app); // makes the empty database
    await app.page.evaluate(async (sample) => {
      const bytes = (s) => Uint8Array.from(atob(s), (c) => c.charCodeAt(0));
      const db = await new Promise((done) => { const r = indexedDB.open('fairlead'); r.onsuccess = () => done(r.result); });
      const keys = await Promise.all(sample.keys.map(async (k) => ({
        case: k.case, kid: k.kid,
        seal: await crypto.subtle.importKey('raw', bytes(k.seal), 'AES-GCM', false, ['encrypt', 'decrypt']),
        mark: await crypto.subtle.importKey('raw', bytes(k.mark), { name: 'HMAC', hash: 'SHA-256' }, false, ['sign']),
      })));
      const tx = db.transaction(['keys', 'events', 'drafts'], 'readwrite');
      for (const k of keys) tx.objectStore('keys').put(k);
      for (const what of ['events', 'drafts']) {
        for (const r of sample[what]) tx.objectStore(what).put({ ...r, nonce: bytes(r.nonce), ciphertext: bytes(r.ciphertext).buffer });
      }
      await new Promise((done, failed) => { tx.oncomplete = done; tx.onabort = () => failed(tx.error); });
      db.close();
    }, sample);
    for (const [c, want] of Object.entries(sample.holds)) {
      const got = await eventsOf(app.page, c);
      assert.equal(got.trouble, '');
      assert.deepEqual(got.ids.map((i, n) => [i, JSON.parse(got.bodies[n])]), want.events, name);
      assert.deepEqual(JSON.parse(await app.page.evaluate((c) => window.keep.drafts(c), c)), want.drafts);
      // The same event again is still known as the same; a draft still has its name.
      const [i, body] = want.events[0];
      await app.page.evaluate(([c, i, w]) => window.keep.append(c, [[i, w]]), [c, i, body.value]);
      await app.page.evaluate(([c, p]) => window.keep.saveDraft(c, p, 'typed on'), [c, want.drafts[0].path]);
      assert.equal((await eventsOf(app.page, c)).ids.length, want.events.length);
      assert.equal(JSON.parse(await app.page.evaluate((c) => window.keep.drafts(c), c)).length, want.drafts.length);
    }
    // The description in app/keep/doc.go is enough to read it without the program.
    const [r, k] = [sample.events[0], sample.keys[0]];
    const sealed = Buffer.from(r.ciphertext, 'base64');
    const open = crypto.createDecipheriv('aes-256-gcm', Buffer.from(k.seal, 'base64'), Buffer.from(r.nonce, 'base64'));
    open.setAAD(Buffer.from(`fairlead 1 event ${r.case} ${r.id}`));
    open.setAuthTag(sealed.subarray(-16));
    const event = JSON.parse(Buffer.concat([open.update(sealed.subarray(0, -16)), open.final()]).toString());
    assert.equal(event.id, r.id);
    assert.deepEqual(event.body, sample.holds[r.case].events[0][1]);
    await app.close();
  }
});

// What the whole app makes of it.

async function write(page) {
  await page.locator('.nothing-yet').waitFor(); // the store is open and read
  await page.fill('#who-name', 'A. Surgeon');
  await page.click('label:has(#role-surgeon)');
  await page.click('#who-save');
}

async function newChild(page) {
  await page.click('#new-child');
  await page.locator('#begin-stage1').waitFor();
}

async function says(page, words) {
  await page.waitForFunction((w) => document.getElementById('kept').textContent === w, words);
}

test('the app where nothing may be kept: works, says NOT KEPT throughout, forgets with the tab', async () => {
  const server = await Server.start();
  const app = await App.open(server.url, { profile: refusing() });
  const { page } = app;
  app.expect(/service worker|could not be kept|denied|SecurityError|access/i);
  await app.page.goto(server.url);
  await app.shown();
  await says(page, 'NOT KEPT');
  await page.locator('.store', { hasText: /Nothing can be kept on this device: .*Save it as a file/s }).waitFor();
  await write(page);
  await newChild(page);
  await page.click('.home');
  await page.locator('.children li').waitFor();
  await page.click('.children a');
  await page.locator('#begin-stage1').waitFor();
  await says(page, 'NOT KEPT');
  await app.screenshot('nothing-may-be-kept');
  await app.close();
  await server.stop();
});

test('the app: a damaged entry is said, what is left is shown, and nothing more is lost', async () => {
  const server = await Server.start();
  const app = await App.open(server.url);
  const { page } = app;
  await app.goto('/');
  await write(page);
  await newChild(page);
  await page.click('#begin-stage1');
  await page.locator('.fields').waitFor();
  await page.fill('#e-child-surname', 'Testchild');
  await page.press('#e-child-surname', 'Tab');
  await page.fill('#e-child-givenName', 'Ada');
  await page.press('#e-child-givenName', 'Tab');
  await says(page, 'Kept on this device');
  await page.evaluate(async () => {
    const db = await new Promise((done) => { const r = indexedDB.open('fairlead'); r.onsuccess = () => done(r.result); });
    const tx = db.transaction('events', 'readwrite');
    const all = tx.objectStore('events').index('seq').getAll();
    all.onsuccess = () => {
      const last = all.result.at(-1);
      new Uint8Array(last.ciphertext)[0] ^= 1;
      tx.objectStore('events').put(last);
    };
    await new Promise((done) => { tx.oncomplete = done; });
    db.close();
  });
  await app.reload();
  await page.locator('#unread').waitFor();
  assert.match(await page.locator('#unread').innerText(), /1 entry of this child's record cannot be read back on this device/);
  await page.locator('.fields').waitFor();
  assert.equal(await page.inputValue('#e-child-surname'), 'Testchild');
  await app.screenshot('damaged-entry');
  await app.close();
  await server.stop();
});

test('the app: a child erased in another tab is gone here, and other children are kept on', async () => {
  const server = await Server.start();
  const app = await App.open(server.url);
  const { page } = app;
  await app.goto('/');
  await write(page);
  await newChild(page);
  await says(page, 'Kept on this device');
  const erased = new URL(page.url()).pathname.split('/')[2];
  const other = await app.context.newPage();
  await other.goto(page.url());
  await app.shown(other);
  await other.click('#erase');
  await other.click('#erase-yes');
  await page.locator('#erase').filter({ hasText: 'another tab' }).waitFor();
  await newChild(page);
  await says(page, 'Kept on this device');
  const dump = await everythingIn(page);
  assert.ok(dump.includes(erased) && dump.includes('erased'));
  assert.equal(dump.split('ciphertext').length - 1, 1, 'the new child alone has a record');
  await app.close();
  await server.stop();
});

test('the app: wiping the device leaves no database behind, and another tab says so', async () => {
  const server = await Server.start();
  const app = await App.open(server.url);
  const { page } = app;
  await app.goto('/');
  await write(page);
  await newChild(page);
  await says(page, 'Kept on this device');
  const other = await app.context.newPage();
  await other.goto(page.url());
  await app.shown(other);
  await other.locator('#begin-stage1').waitFor();
  await page.goto(`${server.url}/device`);
  await page.click('#wipe');
  await page.click('#wipe-yes');
  await page.locator('.nothing-yet').waitFor();
  await says(other, 'NOT KEPT');
  await other.getByText(/reload this page/i).first().waitFor();
  const dump = await everythingIn(page);
  assert.ok(!dump.includes('ciphertext') && !dump.includes('seal'), dump);
  await app.close();
  await server.stop();
});
