// Holds how dictation reads numbers in words, and how it changes units, against
// libraries that are not ours. The Go side prints what it reads
// (go run ./schema/dictation/score -feed); nothing of it decides what is right.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import path from 'node:path';
import test from 'node:test';
import { check } from '../outside.mjs';

const require = createRequire(import.meta.url);
const root = path.resolve(import.meta.dirname, '../..');
const done = spawnSync('go', ['run', './schema/dictation/score', '-feed'], { cwd: root, encoding: 'utf8', maxBuffer: 1 << 26 });
assert.equal(done.status, 0, done.stderr);
const feed = JSON.parse(done.stdout);

test('numbers in words are read as an independent library reads them', () => {
  // The library is right on plain cardinals and decimals only; "one oh five",
  // "three and a half" and times of day are cases of our own in the Go tests.
  const { wordsToNumbers } = require('words-to-numbers');
  let n = 0;
  for (const { words, got } of feed.numbers) {
    const want = wordsToNumbers(words);
    assert.equal(Number(got), Number(want), `${words}: ${want} by the library, ${got} here`);
    n++;
  }
  assert.ok(n > 2000);
  check('words-to-numbers 1.5.1, numbers in words', n);
});

test('said units are changed as an independent UCUM implementation changes them', () => {
  const ucum = require('@lhncbc/ucum-lhc').UcumLhcUtils.getInstance();
  // Names of ours for units whose UCUM form is written otherwise, and arbitrary
  // units, which UCUM does not convert, as amounts.
  const standIn = (u) => ({ '[mu]': 'm', lb: '[lb_av]', k: u }[u] ?? u).replaceAll('[iU]', 'mol');
  let n = 0;
  for (const { value, from, to, got } of feed.units) {
    const r = ucum.convertUnitTo(standIn(from), Number(value), standIn(to));
    assert.equal(r.status, 'succeeded', `${from} to ${to}: ${r.msg}`);
    // Factors that are not whole are rounded to one place beyond what was said.
    const places = (value.split('.')[1] ?? '').length + 1;
    const exact = Math.abs(Math.log10(r.toVal / Number(value)) % 1) < 1e-9;
    const slack = exact ? 1e-9 * Math.max(1e-9, r.toVal) : 0.5 * 10 ** -places + 1e-9;
    assert.ok(Math.abs(r.toVal - Number(got)) <= slack, `${value} ${from} is ${r.toVal} ${to} by UCUM, ${got} here`);
    n++;
  }
  assert.ok(n > 100);
  check('@lhncbc/ucum-lhc 7.1.10, units said in dictation', n);
});
