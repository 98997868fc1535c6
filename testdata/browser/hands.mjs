// Two ways to work the app as a person does: by keyboard alone, and by touch. A
// test says what is pressed, chosen and typed; how it is done is said here.
import assert from 'node:assert/strict';
import { until } from './harness.mjs';

// kept waits until the page says that all that was done is kept.
export async function kept(page) {
  await page.waitForFunction(() => document.getElementById('kept')?.textContent === 'Kept on this device');
}

// A Keyboard never touches the mouse: it goes from one control to the next with
// Tab and counts the keys it needed to act.
export class Keyboard {
  constructor(page) { this.page = page; this.acts = 0; }

  async #to(selector) {
    const { page } = this;
    await page.locator(selector).first().waitFor({ state: 'attached' });
    for (let i = 0; i < 200; i++) {
      const where = await page.evaluate((to) => {
        const [here, there] = [document.activeElement, document.querySelector(to)];
        if (!there) return 'gone';
        if (here === there) return 'here';
        return here !== document.body && here.compareDocumentPosition(there) & Node.DOCUMENT_POSITION_PRECEDING ? 'behind' : 'ahead';
      }, selector);
      if (where === 'here') return;
      await page.keyboard.press(where === 'behind' ? 'Shift+Tab' : 'Tab');
    }
    throw new Error(`Tab does not lead to ${selector}`);
  }

  async press(selector) { await this.#to(selector); await this.page.keyboard.press('Enter'); this.acts++; }

  // tick marks a box, or goes through a group of choices with the arrow keys: Tab
  // leads only to the one that is chosen.
  async tick(selector) {
    const { page } = this;
    await page.locator(selector).first().waitFor({ state: 'attached' });
    const start = await page.evaluate((to) => {
      const el = document.querySelector(to);
      const on = el.name && document.querySelector(`input[name="${el.name}"]:checked`);
      return on ? `#${on.id}` : to;
    }, selector);
    await this.#to(start);
    if (start === selector) await page.keyboard.press('Space');
    for (let i = 0; i < 20 && !await page.evaluate((to) => document.activeElement.matches(to), selector); i++) await page.keyboard.press('ArrowDown');
    this.acts++;
  }

  async type(selector, text) {
    await this.#to(selector);
    await this.page.keyboard.press('Control+a');
    await this.page.keyboard.type(text);
    this.acts++;
  }

  async choose(selector, words) {
    await this.#to(selector);
    await this.page.keyboard.type(words);
    await this.page.keyboard.press('Tab');
    this.acts++;
  }
}

// A Finger taps. What it taps must be in sight, not covered, and 44 px or more.
export class Finger {
  constructor(page) { this.page = page; this.acts = 0; }

  async #tap(selector) {
    const at = this.page.locator(selector).first();
    await at.waitFor();
    await at.scrollIntoViewIfNeeded();
    const box = await at.boundingBox();
    assert.ok(box && box.width >= 43.5 && box.height >= 43.5, `${selector} is ${box?.width}×${box?.height}, too small for a finger`);
    await at.tap();
    this.acts++;
  }

  press(selector) { return this.#tap(selector); }

  tick(selector) { return this.#tap(`label:has(${selector})`); }

  async type(selector, text) { await this.#tap(selector); await this.page.locator(selector).first().fill(text); }

  async choose(selector, words) { await this.page.locator(selector).first().selectOption({ label: words }); this.acts++; }
}

// write says who is writing.
export async function write(hand, name, role) {
  await hand.type('#who-name', name);
  await hand.tick(`#role-${role.replaceAll(' ', '-')}`);
  await hand.press('#who-save');
}

// begin makes a new child with a name and a number, and a stage 1 note with the
// weight. It returns the address of the note.
export async function begin(hand, { surname = 'TESTERLY', number = 'T-1' } = {}) {
  const { page } = hand;
  await hand.press('#new-child:not([disabled])');
  await hand.press('#begin-stage1');
  await page.locator('.fields').waitFor();
  await hand.type('#e-child-surname', surname);
  await hand.type('#e-child-hospitalNumber', number);
  await hand.press('.neighbours .next');
  await hand.type('#e-measures-weight', '3.2');
  await kept(page);
  return page.url().replace(/\/section.*/, '');
}

// The items of the job: two taps each.
export const items = [
  ['airway', 'oral-tube', 'Oral tracheal tube'],
  ['intracardiac-line', 'right-atrial', 'Right atrial line'],
  ['arterial-line', 'umbilical-arterial', 'Umbilical arter'],
  ['pacing-wires', 'atrial', 'Atrial wires'],
  ['drain', 'mediastinal', 'Mediastinal drain'],
];

// list lists the items, and fails where one takes more than two taps.
export async function list(hand) {
  const { page } = hand;
  await hand.press('.tabs a[href$="/items"]');
  await page.locator('#kind-airway').waitFor();
  for (const [i, [kind, variety]] of items.entries()) {
    const before = hand.acts;
    await hand.press(`#kind-${kind}`);
    await hand.press(`#variety-${variety}`);
    await until(`item ${i + 1} stands in the list`, async () => await page.locator('.item-rows .item-row').count() === i + 1);
    assert.ok(hand.acts - before <= 2, `${variety} took ${hand.acts - before} taps to list`);
  }
  assert.deepEqual(await page.locator('.item-rows .flag').allTextContents(), items.map((_, i) => String(i + 1)));
  // The last is opened and shut, and stays in sight.
  for (const open of [1, 0]) {
    await hand.press('.item-row:last-child .item-head');
    await until('the item that was pressed is in sight', () => page.evaluate((n) => {
      const at = document.activeElement.getBoundingClientRect();
      return document.querySelectorAll('.item-fields').length === n && document.activeElement.matches('.item-row:last-child .item-head') && at.top > 0 && at.bottom < innerHeight;
    }, open));
  }
}

// confirm goes through the check of an occasion, one tap an item, but answers the
// nth otherwise: found, but different.
export async function confirm(hand, occasion, differs = -1) {
  const { page } = hand;
  await hand.press(`.tabs a[href$="/check/${occasion}"]`);
  await page.locator('#tally').waitFor();
  for (let i = 0; i < items.length; i++) {
    await page.locator('#next-found').waitFor();
    if (i === differs) {
      await hand.press('#next-other');
      const form = await page.locator('[id^="differs-"]').first().getAttribute('id');
      const item = form.slice('differs-'.length);
      await hand.press(`#differs-${item}`);
      await hand.press(`#differs-other-${item}`);
      await hand.type(`#differs-value-${item}`, 'Dressing wet');
      await hand.press(`#differs-save-${item}`);
      continue;
    }
    const before = hand.acts;
    await page.waitForTimeout(400); // a quicker second tap is taken for a tremor
    await hand.press('#next-found');
    assert.equal(hand.acts - before, 1, 'one tap confirms one item');
    await until('the answer is taken', async () => await page.locator('.check-row.is-answered, .check-row.is-unsettled').count() === i + 1);
  }
}

// names puts two names under the check that is on screen.
export async function names(hand, first, second, role) {
  const { page } = hand;
  await hand.press('#close-save');
  await page.locator('.closing .names li').first().waitFor();
  await hand.type('#close-name', second);
  await hand.choose('#close-role', role);
  await hand.press('#close-save');
  await page.locator('.closing .signed-words').waitFor();
  const under = await page.locator('.closing .names').innerText();
  assert.ok(under.includes(first) && under.includes(second), under);
}
