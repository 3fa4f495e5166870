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

if (process.argv.includes('--write')) writeFileSync(sample('v1.changed-elsewhere.automerge'), changed());

test('the package reads the same fields', () => {
  assert.deepEqual(JSON.parse(JSON.stringify(Automerge.load(bytes))), expected);
});

test('the package’s change is the one that is merged natively', () => {
  assert.deepEqual(changed(), readFileSync(sample('v1.changed-elsewhere.automerge')));
});
