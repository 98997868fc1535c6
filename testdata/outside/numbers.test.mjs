// Holds the program's unit conversions and check characters against independent
// libraries. The Go side prints what it says (feed/main.go); here nothing of the
// program is used to decide what is right.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import path from 'node:path';
import test from 'node:test';
import { Mod37_2 } from '@konfirm/iso7064';
import bwipjs from 'bwip-js';
import { gtin, mod37_2 } from 'cdigit';
import { check } from '../outside.mjs';

const root = path.resolve(import.meta.dirname, '../..');
const done = spawnSync('go', ['run', './testdata/outside/feed'], { cwd: root, encoding: 'utf8', maxBuffer: 1 << 26 });
assert.equal(done.status, 0, done.stderr);
const feed = JSON.parse(done.stdout);

test('units convert as an independent UCUM implementation converts them', () => {
  const ucum = createRequire(import.meta.url)('@lhncbc/ucum-lhc').UcumLhcUtils.getInstance();
  // UCUM leaves no conversion between arbitrary units, not even from thousandths
  // of one: their prefixes are checked on an amount. A difference of
  // temperatures is checked in kelvin.
  const standIn = (unit) => unit
    .replace('[iU]', 'mol')
    .replace(/^Cel\//, 'K/');
  let n = 0;
  for (const { from, to, value, got } of feed.units) {
    const r = ucum.convertUnitTo(standIn(from), value, standIn(to));
    assert.equal(r.status, 'succeeded', `${from} to ${to}: ${r.msg}`);
    assert.ok(Math.abs(r.toVal - got) <= 1e-9 * Math.max(1e-9, Math.abs(r.toVal)), `${value} ${from} is ${r.toVal} ${to} by UCUM, ${got} here`);
    n++;
  }
  assert.ok(n > 500);
  check('@lhncbc/ucum-lhc 7.1.10, unit conversions', n);
});

test('GS1 check digits agree with cdigit', () => {
  for (const { body, check: c } of feed.gtin) assert.equal(gtin.compute(body), c, body);
  check('cdigit 5.0.1, GS1 check digits', feed.gtin.length);
});

test('ISO 7064 mod 37-2 agrees with two libraries', () => {
  for (const { body, check: c } of feed.mod37) {
    assert.equal(mod37_2.compute(body), c, body);
    assert.ok(Mod37_2.validate(body + c), body + c);
  }
  check('cdigit 5.0.1, ISO 7064 mod 37-2', feed.mod37.length);
  check('@konfirm/iso7064 2.1.3, mod 37-2', feed.mod37.length);
});

const accepts = (options) => {
  try {
    bwipjs.raw(options);
    return true;
  } catch {
    return false;
  }
};

test('GS1 element strings are refused where bwip-js refuses them', () => {
  for (const { text, refused } of feed.gs1) {
    assert.equal(accepts({ bcid: 'gs1datamatrix', text }), !refused, text);
  }
  const no = feed.gs1.filter((x) => x.refused).length;
  assert.ok(no > 100 && no < 250, `${no} refused`);
  check('bwip-js 4.11.4, GS1 element strings', feed.gs1.length);
});

test('HIBC check characters are doubted where bwip-js refuses them', () => {
  for (const { text, doubted } of feed.hibc) {
    assert.equal(accepts({ bcid: 'hibcdatamatrix', text: text.slice(1), validatecheck: true }), !doubted, text);
  }
  const no = feed.hibc.filter((x) => x.doubted).length;
  assert.ok(no > 50 && no < 150, `${no} doubted`);
  check('bwip-js 4.11.4, HIBC check characters', feed.hibc.length);
});
