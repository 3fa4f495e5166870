// The sample of each format in the public @automerge/automerge package: the same fields, and a change made there.
// By hand: node --test tests/web/automerge.test.mjs
import assert from 'node:assert/strict';
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { test } from 'node:test';

const Automerge = createRequire(new URL('../../ui/package.json', import.meta.url))('@automerge/automerge');
const sample = (name) => new URL(`../formats/${name}`, import.meta.url);
const bytes = new Uint8Array(readFileSync(sample('v1.job.automerge')));
const expected = JSON.parse(readFileSync(sample('v1.job.json'), 'utf8'));

/** The document with one change made by the package, under a name and a time that are always the same. */
function changed() {
  const before = Automerge.load(bytes, { actor: 'e15e'.repeat(8) });
  const after = Automerge.change(before, { time: 0 }, (job) => {
    job.venue.walk_m = 62;
    job.venue.contact = 'Porter’s lodge ☎ 12';
    job.doors.lift.width_mm = 1010;
    job.items[Object.keys(job.items)[0]].bags = [20, 100];
  });
  // the package's own save may compress, which job files never do: its change is put after the document instead
  return Buffer.concat([bytes, Automerge.getLastLocalChange(after)]);
}

const first = 'a0a0'.repeat(8);
const second = 'b0b0'.repeat(8);

/** The document with one field set by two devices that did not know of each other: their two changes put after it. */
function apart() {
  const change = (actor, walk, time) =>
    Automerge.getLastLocalChange(Automerge.change(Automerge.load(bytes, { actor }), { time }, (job) => (job.venue.walk_m = walk)));
  return Buffer.concat([bytes, change(first, 51, 1_790_000_000), change(second, 52, 1_790_000_060)]);
}

if (process.argv.includes('--write')) {
  writeFileSync(sample('v1.changed-elsewhere.automerge'), changed());
  writeFileSync(sample('v1.set-apart.automerge'), apart());
}

test('the package reads the same fields', () => {
  assert.deepEqual(JSON.parse(JSON.stringify(Automerge.load(bytes))), expected);
});

test('the package’s change is the one that is merged natively', () => {
  assert.deepEqual(changed(), readFileSync(sample('v1.changed-elsewhere.automerge')));
});

test('the package sets the field apart that is asked about natively, and the same value holds', () => {
  assert.deepEqual(apart(), readFileSync(sample('v1.set-apart.automerge')));
  const doc = Automerge.load(new Uint8Array(apart()));
  const values = Object.entries(Automerge.getConflicts(doc.venue, 'walk_m')).map(([op, value]) => [op.split('@')[1], value]);
  assert.deepEqual(values.sort(), [[first, 51], [second, 52]]);
  assert.equal(doc.venue.walk_m, 52);
});
