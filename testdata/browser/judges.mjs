// Independent judges of what the app shows: axe for accessibility, the Nu HTML
// Checker for markup.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { check } from '../outside.mjs';
import { root, temporary } from './harness.mjs';

const modules = path.join(root, 'testdata/node_modules');
const axeSource = fs.readFileSync(path.join(modules, 'axe-core/axe.min.js'), 'utf8');

// axe examines the page as it stands and returns what it finds, one line each; with
// rules, by these alone.
export async function axe(page, ...rules) {
  // Evaluated by the driver, so that the page's content policy stays as it is.
  if (!await page.evaluate(() => 'axe' in window)) await page.evaluate(axeSource);
  // Colours that are still on their way to others are nobody's.
  await page.evaluate(async () => {
    await new Promise((done) => { requestAnimationFrame(() => requestAnimationFrame(done)); });
    await Promise.allSettled(document.getAnimations().filter((a) => a.effect.getComputedTiming().endTime < 5000).map((a) => a.finished));
  });
  const found = await page.evaluate(async (only) => (await window.axe.run(document, { resultTypes: ['violations'], ...(only.length && { runOnly: only }) })).violations
    .flatMap((v) => v.nodes.map((n) => `${v.id} (${v.impact}): ${v.help}: ${n.target.join(' ')}: ${n.failureSummary.replace(/\s+/g, ' ')}`)), rules);
  check('axe-core 4.14.1, rules of WCAG 2.0 to 2.2 and best practice');
  return found;
}

// vnu checks HTML documents, all in one process (it takes a second to start),
// and returns its complaints, one line each. Documents: [{name, html}].
export function vnu(documents) {
  const dir = temporary('html');
  const files = documents.map(({ name, html }) => {
    const file = path.join(dir, `${name.replace(/[^\w-]/g, '-')}.html`);
    fs.writeFileSync(file, html);
    return file;
  });
  const done = spawnSync('java', ['-jar', path.join(modules, 'vnu-jar/build/dist/vnu.jar'), '--format', 'json', '--exit-zero-always', ...files],
    { encoding: 'utf8', maxBuffer: 1 << 26 });
  fs.rmSync(dir, { recursive: true });
  if (done.error || !done.stderr) throw new Error(`the HTML checker did not run: ${done.error ?? 'it said nothing'}`);
  check('Nu HTML Checker, vnu-jar 26.9.27', documents.length);
  return JSON.parse(done.stderr).messages.filter((m) => m.type === 'error' || m.subType === 'warning')
    .map((m) => `${path.basename(m.url ?? '')}:${m.lastLine}: ${m.type}: ${m.message}`);
}
