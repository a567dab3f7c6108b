import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { Recorder, type Kept } from '../../../src/face/keeping/recorder.ts';
import { recover } from '../../../src/face/keeping/recovery.ts';
import { applyEdit, readWorkbook, writeWorkbook, type Edit } from '../../../src/workbook/index.ts';
import { damaged, FaultyStore, type FaultKind } from './faulty-store.ts';

const text = readFileSync(new URL('../../workbook/file/frozen/format-1.json', import.meta.url), 'utf8');

function template() {
  const opened = readWorkbook(text);
  if ('code' in opened) throw new Error(opened.found);
  return opened.document;
}

const cellIds = template()
  .sheets.flatMap(({ sections }) => sections.flatMap(({ items }) => items))
  .flatMap((item) => (item.kind === 'cell' ? [item.id] : []));

/** Edits of several kinds; equal numbers, equal edits. */
function editNumber(n: number): Edit {
  if (n % 7 === 0) return { kind: 'set-document', patch: { title: `Job ${n}` } };
  const cell = cellIds[n % cellIds.length] ?? '';
  if (n % 5 === 0)
    return {
      kind: 'batch',
      label: 'two',
      edits: [
        { kind: 'set-cell', cell, patch: { note: `note ${n}` } },
        { kind: 'set-cell', cell, patch: { text: `${n} ± 1` } },
      ],
    };
  return { kind: 'set-cell', cell, patch: { text: String(n) } };
}

/** The workbook after each of the edits, and its file. */
const documents = [template()];
for (let n = 1; n <= 200; n++) {
  const applied = applyEdit(documents[n - 1] ?? template(), editNumber(n));
  if ('problem' in applied) throw new Error(applied.problem);
  documents.push(applied.document);
}
const states = documents.map(writeWorkbook);

/** A tab in which the edits are made one after the other and recorded. */
class Tab {
  /** Edits made so far. */
  #done = 0;
  readonly told: Kept[] = [];
  /** Edits beside which the workbook was called saved while they still waited. */
  readonly tooEarly: number[] = [];
  /** Number of the newest edit that was called saved. */
  saved = 0;
  readonly recorder: Recorder;
  /** The page goes before the next edit would be written. */
  isGoing = false;
  readonly #retries: (() => void)[] = [];

  constructor(store: FaultyStore, writer = 'tab') {
    let time = 0;
    this.recorder = new Recorder({
      store,
      id: 'job',
      writer,
      document: () => documents[this.#done] ?? template(),
      onstate: (kept, sequence) => {
        this.told.push(kept);
        // Saved means all of it: nothing waits.
        if (kept.state === 'saved') this.saved = Math.max(this.saved, sequence);
      },
      later: (milliseconds, run) => {
        if (milliseconds < 10_000) this.#retries.push(run);
        return () => undefined;
      },
      now: () => ++time,
      soon: (run) => {
        if (!this.isGoing) run();
      },
    });
  }

  /** Makes the next edit. */
  edit(): void {
    this.recorder.add(editNumber(++this.#done));
    if (this.told.at(-1)?.state === 'saved') this.tooEarly.push(this.#done);
  }

  /** The time has come to try again. */
  async retry(): Promise<void> {
    for (const run of this.#retries.splice(0)) run();
    await this.recorder.flush();
  }
}

/** 200 edits, now and then a pause in which the store can catch up. */
async function session(tab: Tab, edits = 200): Promise<void> {
  for (let n = 1; n <= edits; n++) {
    tab.edit();
    if (n % 3 === 0) await tab.recorder.flush();
    if (n % 40 === 0) await tab.retry();
  }
  await tab.retry();
}

async function reopened(store: FaultyStore) {
  store.faultAt = () => undefined;
  const records = await store.read('job');
  if (!records) throw new Error('nothing is kept');
  const recovered = recover(records);
  if ('problem' in recovered) throw new Error(recovered.problem);
  return { ...recovered, records };
}

describe('a page that goes', () => {
  test.each([0, 5])(
    'after %i edits that are kept hands over the next, and goes on where it comes back',
    async (kept) => {
      const store = new FaultyStore();
      const tab = new Tab(store);
      for (let n = 0; n < kept; n++) tab.edit();
      await tab.recorder.flush();
      tab.isGoing = true;
      tab.edit();
      tab.recorder.leave();
      tab.recorder.leave();
      expect((await reopened(store)).text).toBe(states[kept + 1]);
      tab.edit();
      await tab.retry();
      expect(tab.told.at(-1)?.state).toBe('saved');
      expect((await reopened(store)).text).toBe(states[kept + 2]);
    },
  );

  test('takes nothing from what another has written', async () => {
    const store = new FaultyStore();
    const tab = new Tab(store);
    tab.edit();
    await tab.recorder.flush();
    const { records } = await reopened(store);
    const entry = { id: 'job', sequence: 2, text: '', checksum: '', at: 1 };
    await store.write({ expects: 1, head: { ...records.head, sequence: 2, writer: 'other' }, log: [entry] });
    tab.isGoing = true;
    tab.edit();
    tab.recorder.leave();
    expect(store.head.get('job')?.writer).toBe('other');
  });
});

describe('a session of 200 edits', () => {
  test('is kept to the last edit, and leaves two snapshots and a short log', async () => {
    const store = new FaultyStore();
    const tab = new Tab(store);
    await session(tab);
    const { text: found, lost, records } = await reopened(store);
    expect(found).toBe(states[200]);
    expect(lost).toEqual([]);
    expect(tab.saved).toBe(200);
    expect(records.snapshots.length).toBeLessThanOrEqual(2);
    expect(records.log.length).toBeLessThan(200);
    expect(records.head.title).toBe('Job 196');
    expect(tab.told[0]).toEqual({ state: 'saving' });
    expect(tab.told.at(-1)?.state).toBe('saved');
  });

  const kinds: FaultKind[] = ['fail', 'lost answer', 'late'];
  test.each(kinds)(
    'with any one operation that ends in “%s”, loses nothing',
    { timeout: 120_000 },
    async (kind) => {
      const clean = new FaultyStore();
      await session(new Tab(clean));
      expect(clean.operations).toBeGreaterThan(60);
      for (let bad = 1; bad <= clean.operations; bad++) {
        const store = new FaultyStore();
        store.faultAt = (operation) => (operation === bad ? kind : undefined);
        const tab = new Tab(store);
        await session(tab);
        const found = await reopened(store);
        expect(found.text, `operation ${bad}`).toBe(states[200]);
        expect(found.lost).toEqual([]);
        expect(tab.saved).toBe(200);
      }
    },
  );

  test.each(kinds)(
    'cut off after any operation, the last one “%s”, holds every edit that was called saved',
    { timeout: 120_000 },
    async (kind) => {
      const clean = new FaultyStore();
      await session(new Tab(clean));
      for (let last = 2; last <= clean.operations; last++) {
        const store = new FaultyStore();
        // From here on the tab is dead: nothing it asks for is done.
        store.faultAt = (operation) => (operation < last ? undefined : operation === last ? kind : 'fail');
        const tab = new Tab(store);
        await session(tab);
        const { text: found, sequence } = await reopened(store);
        expect(sequence).toBeGreaterThanOrEqual(tab.saved);
        // Not a mixture: exactly the workbook as it was after one of the edits.
        expect(found).toBe(states[sequence]);
      }
    },
  );

  test('an edit that comes while a snapshot is written is not called saved before it is', async () => {
    let snapshots = 0;
    for (let later = 1; later <= 4; later++) {
      const store = new FaultyStore();
      const tab = new Tab(store);
      await session(tab, 100);
      const before = store.operations;
      store.faultAt = (operation) => {
        if (operation === before + later) tab.edit();
        return undefined;
      };
      // The log, the snapshot, reading it back, dropping what it replaces.
      tab.edit();
      await tab.retry();
      snapshots += store.snapshots.size - 1;
      expect(tab.tooEarly, `operation ${later}`).toEqual([]);
      expect((await reopened(store)).text).toBe(states[102]);
    }
    expect(snapshots).toBe(4);
  });

  test('a disk that stays full is told, editing goes on, and all is kept when there is room again', async () => {
    const store = new FaultyStore();
    const tab = new Tab(store);
    await session(tab, 10);
    store.faultAt = () => 'fail';
    for (let n = 11; n <= 30; n++) tab.edit();
    await tab.retry();
    expect(tab.told.at(-1)).toEqual({ state: 'failed', why: 'no room is left on this device: no room' });
    expect(tab.saved).toBe(10);
    expect(tab.recorder.unsaved).toBe(20);
    store.faultAt = () => undefined;
    await tab.retry();
    expect(tab.told.at(-1)?.state).toBe('saved');
    expect((await reopened(store)).text).toBe(states[30]);
  });
});

describe('two tabs that both believe they may write', () => {
  test('never mix: the later one is told, and what the first wrote stays', async () => {
    const store = new FaultyStore();
    const first = new Tab(store, 'first');
    const second = new Tab(store, 'second');
    first.edit();
    await first.recorder.flush();
    second.edit();
    second.edit();
    await second.recorder.flush();
    expect(second.told.at(-1)).toEqual({ state: 'overtaken' });
    first.edit();
    await first.recorder.flush();
    expect((await reopened(store)).text).toBe(states[2]);
  });
});

describe('what is kept, with a byte changed', () => {
  async function keptSession(edits: number) {
    const store = new FaultyStore();
    const tab = new Tab(store);
    await session(tab, edits);
    const { records } = await reopened(store);
    return records;
  }

  test('in the newest snapshot: the one before and the log bring everything back', async () => {
    const records = await keptSession(130);
    expect(records.snapshots).toHaveLength(2);
    for (let at = 0; at < 40; at++) {
      const [newest, former] = records.snapshots;
      if (!newest || !former) throw new Error('two snapshots');
      const found = recover({ ...records, snapshots: [damaged(newest, at * 997), former] });
      expect(found).toMatchObject({ text: states[130], lost: [] });
    }
  });

  test('in any entry of the log: every other edit is there, and the loss is told', async () => {
    const records = await keptSession(130);
    const [newest] = records.snapshots;
    for (const [index, entry] of records.log.entries()) {
      const log = records.log.with(index, damaged(entry, index * 13));
      const found = recover({ ...records, log });
      if ('problem' in found) throw new Error(found.problem);
      const covered = entry.sequence <= (newest?.sequence ?? 0);
      expect(found.lost).toHaveLength(covered ? 0 : 1);
      if (covered) expect(found.text).toBe(states[130]);
      else expect(readWorkbook(found.text)).toHaveProperty('document');
      expect(found.sequence).toBe(130);
    }
  });

  test('in both snapshots: says that nothing can be read', async () => {
    const records = await keptSession(130);
    const snapshots = records.snapshots.map((snapshot) => damaged(snapshot, 5));
    expect(recover({ ...records, snapshots })).toHaveProperty('problem');
  });

  test('editing goes on after damage, and the next opening finds everything', async () => {
    const records = await keptSession(30);
    const store = new FaultyStore();
    const [newest] = records.snapshots;
    const last = records.log.at(-1);
    if (!newest || !last) throw new Error('no log');
    store.head.set('job', records.head);
    store.snapshots.set(`job ${newest.sequence}`, newest);
    for (const entry of [...records.log.slice(0, -1), damaged(last, 3)])
      store.log.set(`job ${entry.sequence}`, entry);
    const before = recover(await store.read('job').then((kept) => kept ?? records));
    if ('problem' in before) throw new Error(before.problem);
    expect(before.lost).toHaveLength(1);
    const opened = readWorkbook(before.text);
    if ('code' in opened) throw new Error(opened.found);
    let { document } = opened;
    const recorder = new Recorder({
      store,
      id: 'job',
      writer: 'later',
      document: () => document,
      kept: await store.read('job'),
      damaged: true,
      onstate: () => undefined,
    });
    const edit = editNumber(31);
    const applied = applyEdit(document, edit);
    if ('problem' in applied) throw new Error(applied.problem);
    document = applied.document;
    recorder.add(edit);
    await recorder.flush();
    const after = await reopened(store);
    expect(after.lost).toEqual([]);
    expect(after.text).toBe(writeWorkbook(document));
  });
});

describe('an edit that is to be written a little later', () => {
  test('waits for that moment, unless everything is wanted on the device before', async () => {
    const store = new FaultyStore();
    let document = template();
    const due: (() => void)[] = [];
    const told: Kept['state'][] = [];
    const recorder = new Recorder({
      store,
      id: 'job',
      writer: 'tab',
      document: () => document,
      onstate: ({ state }) => told.push(state),
      soon: (run) => due.push(run),
    });
    const make = (n: number): void => {
      const applied = applyEdit(document, editNumber(n));
      if ('problem' in applied) throw new Error(applied.problem);
      document = applied.document;
      recorder.add(editNumber(n));
    };
    make(1);
    make(2);
    await Promise.resolve();
    expect(await store.read('job')).toBeUndefined();
    expect(recorder.unsaved).toBe(2);
    expect(told.at(-1)).toBe('saving');
    due.splice(0).forEach((run) => {
      run();
    });
    await recorder.flush();
    expect(recorder.unsaved).toBe(0);
    make(3);
    await recorder.flush();
    expect((await reopened(store)).text).toBe(writeWorkbook(document));
    const written = told.length;
    due.splice(0).forEach((run) => {
      run();
    });
    await Promise.resolve();
    expect(told).toHaveLength(written);
  });
});

describe('a workbook that a newer version keeps', () => {
  test('opens for reading only, as its last snapshot', async () => {
    const store = new FaultyStore();
    const tab = new Tab(store);
    await session(tab, 5);
    const { records } = await reopened(store);
    const found = recover({ ...records, head: { ...records.head, format: 2 } });
    expect(found).toMatchObject({ lost: [], text: records.snapshots[0]?.text });
    expect(found).toHaveProperty('readOnly', expect.stringContaining('newer version'));
  });
});
