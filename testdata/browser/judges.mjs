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
  // Colours that are still on their way to others are nobody's; what is folded away stands still.
  await page.evaluate(async () => {
    await new Promise((done) => { requestAnimationFrame(() => requestAnimationFrame(done)); });
    await Promise.allSettled(document.getAnimations().filter((a) => a.effect.target.checkVisibility() && a.effect.getComputedTiming().endTime < 5000).map((a) => a.finished));
  });
  const found = await page.evaluate(async (only) => (await window.axe.run(document, { resultTypes: ['violations'], ...(only.length && { runOnly: only }) })).violations
    .flatMap((v) => v.nodes.map((n) => `${v.id} (${v.impact}): ${v.help}: ${n.target.join(' ')}: ${n.failureSummary.replace(/\s+/g, ' ')}`)), rules);
  check('axe-core 4.14.1, rules of WCAG 2.0 to 2.2 and best practice');
  return found;
}

// outOfReach runs in the page and lists what cannot be reached or read on it as it
// stands. A part that scrolls sideways by itself, a strip or a table, may be wider than the window.
export const outOfReach = () => {
  const out = [];
  const root = document.documentElement;
  if (root.scrollWidth - root.clientWidth > 1) out.push(`the page is ${root.scrollWidth - root.clientWidth} px wider than the window`);
  const swept = (el) => {
    for (let p = el.parentElement; p; p = p.parentElement) if (/auto|scroll/.test(getComputedStyle(p).overflowX)) return true;
    return false;
  };
  for (const el of document.querySelectorAll('main :is(button, a, input, select, textarea, label.tick), nav a, .bar :is(a, button)')) {
    const box = el.getBoundingClientRect();
    if (!el.offsetParent || box.width < 2 || el.closest('svg, .sheet-host') || swept(el)) continue;
    const name = `${el.tagName} ${el.id || el.className} “${el.textContent.trim().slice(0, 30)}”`;
    if (box.left < -1 || box.right > root.clientWidth + 1) out.push(`${name} lies from ${box.left.toFixed(0)} to ${box.right.toFixed(0)} of ${root.clientWidth}`);
    const style = getComputedStyle(el);
    if (el.matches('button, a') && style.overflow === 'hidden' && style.textOverflow !== 'ellipsis' && el.scrollHeight > el.clientHeight + 2) out.push(`${name} is cut`);
  }
  // What stays in place while one scrolls must leave room to read.
  let held = 0;
  for (const el of document.querySelectorAll('body *')) {
    const style = getComputedStyle(el);
    const box = el.getBoundingClientRect();
    if (/fixed|sticky/.test(style.position) && style.visibility !== 'hidden' && box.height > 0 && box.width > root.clientWidth / 2 && box.bottom > 0 && box.top < root.clientHeight &&
      (style.position === 'fixed' || box.top <= 1 || box.bottom >= root.clientHeight / 2) && !el.closest('.items-map, .rail, .beside')) held += Math.min(box.height, root.clientHeight);
  }
  if (held > root.clientHeight * 0.65) out.push(`what stays in place takes ${held.toFixed(0)} px of ${root.clientHeight}`);
  return out;
};

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
