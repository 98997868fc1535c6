// The bytes that a first visit downloads until ready to work offline, icons
// apart: what the files weigh, and what a browser was seen to fetch. What is
// fetched once the app can be used is a figure of its own.
import { execFileSync } from 'node:child_process';
import { root } from '../browser/harness.mjs';
import { firstVisit } from '../browser/first-visit.mjs';

const text = execFileSync('go', ['run', '.build/size.go'], { cwd: root, encoding: 'utf8' });
const line = (words) => {
  const found = text.split('\n').find((l) => l.includes(words));
  if (!found) throw new Error(`.build/size.go no longer prints "${words}"`);
  return Number(found.trim().split(/\s+/)[0]);
};
const weighed = line('first visit until ready');
const after = line('fetched after that');
const seen = await firstVisit();
console.log(`first-visit\t${weighed}\tbytes\tbudget 1700000`);
console.log(`first-visit-seen\t${seen.total}\tbytes\tbodies fetched by Chromium, icons apart; files weigh ${weighed}`);
console.log(`fetched-after\t${after}\tbytes\tbudget 1000000; the reader of dictations and the invented children, once the app can be used`);
