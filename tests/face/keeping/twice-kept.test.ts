import { beforeEach, expect, test } from 'vitest';
import { recoverFrom } from '../../../src/face/keeping/recovery.ts';
import { SecondCopies } from '../../../src/face/keeping/second-copy.ts';
import type { KeptHead, LogEntry, Snapshot } from '../../../src/face/keeping/store.ts';
import { TwiceKept } from '../../../src/face/keeping/twice-kept.ts';
import { checksumOf, writeWorkbook } from '../../../src/workbook/index.ts';
import { damaged, FaultyStore } from './faulty-store.ts';
import { OwnFolder } from './own-folder.ts';

const EMPTY = { units: 'us', sheets: [] } as const;

let first: FaultyStore;
let folder: OwnFolder;

beforeEach(() => {
  first = new FaultyStore();
  folder = new OwnFolder();
});

/** A page that has just been opened. */
function opened(): TwiceKept {
  return new TwiceKept(first, new SecondCopies(() => Promise.resolve(folder as never)));
}

const head = (sequence: number, more: Partial<KeptHead> = {}): KeptHead => ({
  id: 'job',
  title: `Job ${sequence}`,
  format: 1,
  sequence,
  writer: '',
  createdAt: 0,
  savedAt: sequence,
  characters: 10,
  ...more,
});
const record = (sequence: number, text: string) => ({
  id: 'job',
  sequence,
  text,
  checksum: checksumOf(text),
  at: sequence,
});
const titled = (sequence: number) => ({ ...EMPTY, title: `Job ${sequence}` });
const snapshot = (sequence: number): Snapshot => record(sequence, writeWorkbook(titled(sequence)));
const entry = (sequence: number): LogEntry =>
  record(sequence, JSON.stringify({ kind: 'set-document', patch: { title: `Job ${sequence}` } }));
const edit = (sequence: number) => ({
  expects: sequence - 1,
  head: head(sequence),
  log: [entry(sequence)],
});

async function typed(store: TwiceKept, edits: number): Promise<void> {
  await store.write({ expects: undefined, head: head(0), snapshot: snapshot(0) });
  for (let n = 1; n <= edits; n++) await store.write(edit(n));
}

function loseDatabase(): void {
  first.head.clear();
  first.snapshots.clear();
  first.log.clear();
}

test('what the database lost comes back whole, and is told once', async () => {
  await typed(opened(), 5);
  const before = await first.read('job');
  loseDatabase();
  const store = opened();
  expect(await store.heads()).toEqual([head(5)]);
  expect(await store.read('job')).toEqual(before);
  const [note, ...others] = store.takeNotes();
  expect(note).toContain('From the second copy on this device came back: “Job 5”.');
  expect(others).toEqual([]);
  expect(store.takeNotes()).toEqual([]);
});

test('an edit adds a line to the copy; a snapshot begins it anew', async () => {
  const store = opened();
  await typed(store, 3);
  const whole = folder.files.get('job.whole');
  expect(folder.files.get('job.since')?.split('\n')).toHaveLength(4);
  await store.write({ expects: 3, head: head(3), snapshot: snapshot(3) });
  expect(folder.files.get('job.whole')).not.toBe(whole);
  expect(folder.files.get('job.since')).toBe('');
  await store.write({ expects: 3, head: head(3), drop: { snapshotsBefore: 3, logUpTo: 3 } });
  await store.write(edit(4));
  loseDatabase();
  expect(await opened().heads()).toEqual([head(4)]);
  expect((await first.read('job'))?.snapshots).toEqual([snapshot(3)]);
  expect((await first.read('job'))?.log).toEqual([entry(4)]);
});

test('another page may have written: the copy is made anew from what the database holds', async () => {
  const store = opened();
  await typed(store, 2);
  await opened().write(edit(3));
  await store.write(edit(4));
  loseDatabase();
  await opened().heads();
  expect((await first.read('job'))?.log.map(({ sequence }) => sequence)).toEqual([1, 2, 3, 4]);
});

test('a copy that cannot be written takes nothing from the first, and is whole with the next edit', async () => {
  const store = opened();
  await typed(store, 2);
  folder.failures = 1;
  await store.write(edit(3));
  expect(first.head.get('job')?.sequence).toBe(3);
  await store.write(edit(4));
  loseDatabase();
  await opened().heads();
  expect((await first.read('job'))?.log.map(({ sequence }) => sequence)).toEqual([1, 2, 3, 4]);
});

test('killed between the whole and what came since, the copy is what it was or newer', async () => {
  const store = opened();
  await typed(store, 3);
  const since = folder.files.get('job.since') ?? '';
  await store.write({ ...edit(4), snapshot: snapshot(4) });
  // The second file as it was, with its last line cut short.
  folder.files.set('job.since', since.slice(0, -9));
  loseDatabase();
  await opened().heads();
  expect(first.head.get('job')).toEqual(head(4));
  expect((await first.read('job'))?.snapshots).toEqual([snapshot(4)]);
});

test('what was kept before there were copies is copied, but for versions, which only merges ask for', async () => {
  await first.write({ expects: undefined, head: head(0), snapshot: snapshot(0) });
  const version = head(0, { id: 'version-1', version: '1' });
  await first.write({ expects: undefined, head: version, snapshot: { ...snapshot(0), id: 'version-1' } });
  await opened().heads();
  await expect.poll(() => [...folder.files.keys()]).toEqual(['job.whole', 'job.since']);
  await opened().write({ expects: 0, head: version });
  expect([...folder.files.keys()]).toEqual(['job.whole', 'job.since']);
});

test('what is damaged in the database is read from the second copy, which is not made from it', async () => {
  await typed(opened(), 3);
  for (const [key, kept] of first.snapshots) first.snapshots.set(key, damaged(kept, 50));
  const store = opened();
  const mended = await recoverFrom(store, 'job');
  expect(mended?.found).toMatchObject({
    text: writeWorkbook(titled(3)),
    sequence: 3,
    lost: ['What this device kept of it was damaged. It is whole again, from its second copy.'],
  });
  await store.write(edit(4));
  expect(folder.files.get('job.whole')).toContain(JSON.stringify(snapshot(0).text));
  // The copy is behind now: what it lacks is not passed over in silence.
  expect((await recoverFrom(store, 'job'))?.found).toHaveProperty('problem');
});

test('what is removed for good does not come back', async () => {
  const store = opened();
  await typed(store, 1);
  await store.remove('job');
  expect(folder.files.size).toBe(0);
  expect(await opened().heads()).toEqual([]);
});

test('without files of its own the page keeps workbooks as before', async () => {
  const refusing = () => Promise.reject(new DOMException('not here', 'SecurityError'));
  const store = new TwiceKept(first, new SecondCopies(refusing));
  expect(await store.heads()).toEqual([]);
  await typed(store, 6);
  expect((await store.read('job'))?.head.sequence).toBe(6);
  await store.remove('job');
  expect(await store.heads()).toEqual([]);
});

test('nobody waits for long for a copy that is stuck', { timeout: 10_000 }, async () => {
  const stuck = new TwiceKept(first, new SecondCopies(() => new Promise(() => undefined)));
  await stuck.write({ expects: undefined, head: head(0), snapshot: snapshot(0) });
  expect(first.head.get('job')?.sequence).toBe(0);
});
