// Goes through the gallery: every screen in every state.
import assert from 'node:assert/strict';

// through opens every state in turn, inside the app, and calls judge with its name.
export async function through(app, judge) {
  const { page } = app;
  await app.goto('/gallery');
  await page.locator('.gallery-list a').nth(50).waitFor();
  const names = await page.locator('.gallery-list a').evaluateAll((all) => all.map((a) => a.getAttribute('href').split('/').pop()));
  await page.locator('.gallery-list a').first().click();
  for (const [i, name] of names.entries()) {
    await page.waitForURL(`**/gallery/${name}`);
    await page.locator('.gallery-bar', { hasText: `${i + 1} of ${names.length}:` }).waitFor();
    await page.locator('.gallery-room').waitFor();
    // The sheet is drawn when typing rests; what is drawn late is waited for.
    if (name.startsWith('sheet')) await page.locator('.sheet-block').first().waitFor();
    await page.waitForTimeout(name.startsWith('sheet') || name.startsWith('labels') || name.startsWith('section') ? 350 : 150);
    assert.equal(await page.locator('.gallery-room .fault').count(), 0, `${name} cannot be drawn`);
    await judge(name);
    if (i + 1 < names.length) await page.locator('.gallery-bar a', { hasText: 'Next' }).click();
  }
  return names.length;
}
