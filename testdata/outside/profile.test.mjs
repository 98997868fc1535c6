// The unit profile's own schema passes the draft-07 metaschema, and an
// independent validator accepts the shipped default and refuses what it should.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import test from 'node:test';
import Ajv from 'ajv';
import { check } from '../outside.mjs';

const dir = path.resolve(import.meta.dirname, '../../schema/profile');
const schema = JSON.parse(fs.readFileSync(path.join(dir, 'profile.schema.json')));
const shipped = fs.readFileSync(path.join(dir, 'default.json'), 'utf8');

test('the profile schema is a draft-07 schema and holds the shipped default', () => {
  const ajv = new Ajv({ strict: true, strictTypes: false, strictRequired: false, allErrors: true });
  assert.ok(ajv.validateSchema(schema), JSON.stringify(ajv.errors));
  const valid = ajv.compile(schema);
  assert.ok(valid(JSON.parse(shipped)), JSON.stringify(valid.errors?.slice(0, 3)));
  const edits = [
    ['"fairlead-profile/1"', '"fairlead-profile/9"'], ['"value": 41,', '"value": "41",'], ['"mark": "C", "source": "Wypij', '"mark": "Z", "source": "Wypij'],
    ['"perKg": 0.01', '"perKg": 0'], ['"unit": "mg"', '"unit": "mcg"'], ['"effect": "dose"', '"effect": "advice"'], ['"empty": "Set by the unit."', '"comment": ""'],
    ['"value": 41,', '"value": 41, "active": {"by": "", "at": "2026-07-14"},'], ['"value": [260, 300]', '"value": [260]'],
  ];
  for (const [from, to] of edits) {
    assert.ok(shipped.includes(from), from);
    assert.ok(!valid(JSON.parse(shipped.replace(from, to))), `${from} became ${to} and was accepted`);
  }
  check('ajv 8.20.0, draft-07 metaschema and verdicts on the unit profile', edits.length + 2);
});
