/** A store in memory that behaves as a browser's database may: it can fail, be slow, or lose an answer. */
import {
  WriteConflict,
  type KeptHead,
  type KeptRecords,
  type LogEntry,
  type Snapshot,
  type StoreChange,
  type WorkbookStore,
} from '../../../src/face/keeping/store.ts';

/** What happens to one operation: refused, cut off halfway, done but the answer is lost, or late. */
export type FaultKind = 'fail' | 'lost answer' | 'late';

export class FaultyStore implements WorkbookStore {
  readonly head = new Map<string, KeptHead>();
  readonly snapshots = new Map<string, Snapshot>();
  readonly log = new Map<string, LogEntry>();
  /** Operations so far, reading ones too. */
  operations = 0;
  /** Decides by the number of the operation, from 1. */
  faultAt: (operation: number) => FaultKind | undefined = () => undefined;

  heads(): Promise<KeptHead[]> {
    return this.#operate(() => [...this.head.values()]);
  }

  read(id: string): Promise<KeptRecords | undefined> {
    return this.#operate(() => {
      const head = this.head.get(id);
      if (!head) return undefined;
      const own = <T extends { readonly id: string; readonly sequence: number }>(records: Map<string, T>) =>
        [...records.values()].filter((record) => record.id === id).sort((a, b) => a.sequence - b.sequence);
      return { head, snapshots: own(this.snapshots).reverse(), log: own(this.log) };
    });
  }

  snapshot(id: string, sequence: number): Promise<Snapshot | undefined> {
    return this.#operate(() => this.snapshots.get(`${id} ${sequence}`));
  }

  write({ expects, head, snapshot, log = [], drop }: StoreChange): Promise<void> {
    return this.#operate(() => {
      const found = this.head.get(head.id);
      if (found?.sequence !== expects) throw new WriteConflict(found);
      this.head.set(head.id, structuredClone(head));
      if (snapshot) this.snapshots.set(`${head.id} ${snapshot.sequence}`, structuredClone(snapshot));
      for (const entry of log) this.log.set(`${head.id} ${entry.sequence}`, structuredClone(entry));
      for (const [key, { id, sequence }] of this.snapshots)
        if (drop && id === head.id && sequence < drop.snapshotsBefore) this.snapshots.delete(key);
      for (const [key, { id, sequence }] of this.log)
        if (drop && id === head.id && sequence <= drop.logUpTo) this.log.delete(key);
    });
  }

  /** As a database does it for a page that goes: at once, and nothing where one of the entries is there already. */
  leave({ expects, head, snapshot, log = [] }: StoreChange): void {
    if (expects === undefined && this.head.has(head.id)) return;
    if (log.some(({ sequence }) => this.log.has(`${head.id} ${sequence}`))) return;
    this.head.set(head.id, structuredClone(head));
    if (snapshot) this.snapshots.set(`${head.id} ${snapshot.sequence}`, structuredClone(snapshot));
    for (const entry of log) this.log.set(`${head.id} ${entry.sequence}`, structuredClone(entry));
  }

  remove(id: string): Promise<void> {
    return this.#operate(() => {
      this.head.delete(id);
      for (const records of [this.snapshots, this.log])
        for (const [key, record] of records) if (record.id === id) records.delete(key);
    });
  }

  async #operate<T>(run: () => T): Promise<T> {
    const fault = this.faultAt(++this.operations);
    if (fault === 'late') for (let wait = 0; wait < 25; wait++) await Promise.resolve();
    else await Promise.resolve();
    if (fault === 'fail') throw new DOMException('no room', 'QuotaExceededError');
    const result = run();
    if (fault === 'lost answer') throw new DOMException('the connection was lost', 'UnknownError');
    return result;
  }
}

/** One character of a kept text changed, its checksum left as it was. */
export function damaged<T extends { readonly text: string }>(record: T, at: number): T {
  const place = at % record.text.length;
  const changed = String.fromCharCode(record.text.charCodeAt(place) ^ 1);
  return { ...record, text: record.text.slice(0, place) + changed + record.text.slice(place + 1) };
}
