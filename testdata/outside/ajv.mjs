// Judges whole notes with ajv, in one process: node ajv.mjs <generated schemas>
// <definitions> <notes> <edits>. Notes and edits hold one JSON text a line, as
// schema/verdicts_test.go writes them; the verdicts come out one digit a line.
// It stops if a schema does not fit the draft-07 metaschema or strict mode.
import fs from 'node:fs';
import path from 'node:path';
import Ajv from 'ajv';

const [generated, definitions, notesFile, editsFile] = process.argv.slice(2);
const lines = (file) => fs.readFileSync(file, 'utf8').split('\n').filter(Boolean).map((l) => JSON.parse(l));
const read = (file) => JSON.parse(fs.readFileSync(file, 'utf8'));
const strict = { strict: true, strictRequired: false, validateSchema: true };
// strictRequired asks that each "required" stands beside the "properties" it
// names; ours stand in branches of "allOf", where draft-07 lets them stand.

// The definitions as written, with our own words registered rather than silenced.
const words = new Set();
const sources = ['sections', 'items'].flatMap((dir) => fs.readdirSync(path.join(definitions, dir))
  .filter((f) => f.endsWith('.json')).map((f) => read(path.join(definitions, dir, f))));
(function collect(v) {
  if (!v || typeof v !== 'object') return;
  for (const [k, x] of Object.entries(v)) {
    if (k.startsWith('x-')) words.add(k);
    else collect(x);
  }
})(sources.map((s) => s.properties && { ...s }));
const written = new Ajv(strict);
for (const w of words) written.addKeyword({ keyword: w });
for (const s of sources) {
  if (!written.validateSchema(s)) throw new Error(`${s.$id ?? s.title}: ${written.errorsText()}`);
  written.compile(s);
}

const compiled = {};
for (const f of fs.readdirSync(generated).filter((f) => f.endsWith('.schema.json'))) {
  const ajv = new Ajv(strict);
  const schema = read(path.join(generated, f));
  if (!ajv.validateSchema(schema)) throw new Error(`${f} does not fit the draft-07 metaschema: ${ajv.errorsText()}`);
  compiled[f.replace('.schema.json', '')] = ajv.compile(schema);
}

const child = (at, step) => (Array.isArray(at) ? typeof step === 'number' : at && typeof at === 'object' && typeof step === 'string') && Object.hasOwn(at, step) ? at[step] : undefined;
function apply(note, edits) { // null where nothing is changed
  const undo = [];
  for (const { at, set = null, del } of edits ?? []) {
    const holder = at.slice(0, -1).reduce(child, note);
    const step = at.at(-1);
    const list = Array.isArray(holder);
    if (!holder || typeof holder !== 'object' || typeof step !== (list ? 'number' : 'string')) continue;
    const had = Object.hasOwn(holder, step);
    if (list && (del || !had)) continue;
    const was = holder[step];
    undo.push(() => { if (had) holder[step] = was; else delete holder[step]; });
    if (del) delete holder[step];
    else holder[step] = set;
  }
  return () => undo.reverse().forEach((u) => u());
}

const notes = lines(notesFile);
const kinds = notes.map((n) => n.kind);
const out = [];
for (const { note, edits } of lines(editsFile)) {
  const undo = apply(notes[note], edits);
  out.push(compiled[kinds[note]](notes[note]) ? 1 : 0);
  undo();
}
process.stdout.write(JSON.stringify({ words: words.size, sources: sources.length, schemas: Object.keys(compiled).length }) + '\n' + out.join('\n') + '\n');
