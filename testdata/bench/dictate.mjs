// How long the reader of dictations takes in the browser, in its own worker: a
// thousand words at once, and one new word at the end of six hundred.
import fs from 'node:fs';
import path from 'node:path';
import { App, Server, root } from '../browser/harness.mjs';

// Dictations of the corpus, one after the other: stage 1, as people talk.
const dir = path.join(root, 'testdata/dictation/tuned');
const all = fs.readdirSync(dir).filter((f) => f.startsWith('stage1')).sort()
  .map((f) => fs.readFileSync(path.join(dir, f), 'utf8').split('\n---\n')[1].trim()).join(' ').split(/\s+/);
const words = (n) => all.slice(0, n).join(' ');

const server = await Server.start();
const app = await App.open(server.url);
await app.page.goto(server.url);
await app.page.waitForFunction(() => window.fairlead?.restReady, { timeout: 60_000 });
const seen = await app.page.evaluate(async ({ thousand, sixHundred, more }) => {
  const worker = new Worker('/web/words.js');
  const ask = (text) => new Promise((resolve) => {
    worker.onmessage = ({ data }) => resolve(data.took);
    worker.postMessage({ number: 1, kind: 'stage1', text });
  });
  const whole = [];
  for (let i = 0; i < 12; i++) { await ask(`other ${i}`); whole.push(await ask(thousand)); }
  const word = [];
  let text = sixHundred;
  await ask(text);
  for (const next of more) { text += ` ${next}`; word.push(await ask(text)); }
  return { whole: whole.slice(2), word };
}, { thousand: words(1000), sixHundred: words(600), more: all.slice(600, 660) });
await app.close();
await server.stop();

const at = (values, part) => values.slice().sort((a, b) => a - b)[Math.floor((values.length - 1) * part)].toFixed(1);
console.log(`dictate-1000-browser\t${at(seen.whole, 0.5)}\tms\tat most 100; median of ${seen.whole.length}`);
console.log(`dictate-word-browser\t${at(seen.word, 0.5)}\tms\tat most 16; one word more on 600, ${seen.word.length} words`);
console.log(`dictate-word-browser-95\t${at(seen.word, 0.95)}\tms\tone word more on 600; at most 16 for the median`);
