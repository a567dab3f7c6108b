/** The store in the browser's database. The only file that knows the package. */
import { openDB, type DBSchema, type IDBPDatabase, type IDBPTransaction } from 'idb';
import { checksumOf } from '../../workbook/index.ts';
import {
  OtherVersion,
  WriteConflict,
  type FileMemory,
  type KeptFile,
  type KeptHead,
  type KeptRecords,
  type LogEntry,
  type Snapshot,
  type StoreChange,
  type WorkbookStore,
} from './store.ts';

interface Schema extends DBSchema {
  heads: { key: string; value: KeptHead };
  snapshots: { key: [string, number]; value: Snapshot };
  log: { key: [string, number]; value: LogEntry };
  files: { key: string; value: KeptFile };
}

export const DATABASE = 'close-in';
const VERSION = 3;
const EVERYTHING = ['heads', 'snapshots', 'log', 'files'] as const;

export class DeviceStore implements WorkbookStore, FileMemory {
  #opening: Promise<IDBPDatabase<Schema>> | undefined;
  #opened: IDBPDatabase<Schema> | undefined;

  async heads(): Promise<readonly KeptHead[]> {
    return patiently(async () => (await this.#database()).getAll('heads'));
  }

  async read(id: string): Promise<KeptRecords | undefined> {
    return patiently(() => this.#read(id));
  }

  async #read(id: string): Promise<KeptRecords | undefined> {
    const transaction = (await this.#database()).transaction(['heads', 'snapshots', 'log']);
    const [head, snapshots, log] = await Promise.all([
      transaction.objectStore('heads').get(id),
      transaction.objectStore('snapshots').getAll(ofOne(id)),
      transaction.objectStore('log').getAll(ofOne(id)),
    ]);
    return head && { head, snapshots: snapshots.reverse(), log };
  }

  async snapshot(id: string, sequence: number): Promise<Snapshot | undefined> {
    return patiently(async () => (await this.#database()).get('snapshots', [id, sequence]));
  }

  async write({ expects, head, snapshot, log = [], drop }: StoreChange): Promise<void> {
    const { id } = head;
    const transaction = (await this.#database()).transaction(['heads', 'snapshots', 'log'], 'readwrite', {
      durability: 'strict',
    });
    // Said once the transaction is over; until then it is nobody's unhandled failure.
    transaction.done.catch(() => undefined);
    const heads = transaction.objectStore('heads');
    const found = await heads.get(id);
    if (found?.sequence !== expects) {
      transaction.abort();
      throw new WriteConflict(found);
    }
    const snapshots = transaction.objectStore('snapshots');
    const entries = transaction.objectStore('log');
    const asked: Promise<unknown>[] = [heads.put(head)];
    if (snapshot) asked.push(snapshots.put(snapshot));
    for (const entry of log) asked.push(entries.put(entry));
    if (drop) {
      asked.push(snapshots.delete(IDBKeyRange.bound([id, -1], [id, drop.snapshotsBefore], false, true)));
      asked.push(entries.delete(IDBKeyRange.bound([id, -1], [id, drop.logUpTo])));
    }
    // A request may succeed and the transaction still fail, so both are waited for.
    await Promise.all([...asked, transaction.done]);
  }

  leave({ expects, head, snapshot, log = [] }: StoreChange): void {
    const transaction = this.#opened?.transaction(['heads', 'snapshots', 'log'], 'readwrite');
    if (!transaction) return;
    const heads = transaction.objectStore('heads');
    // What is there already was written by another, or by a write that was on its way: then all of this is refused.
    const asked: Promise<unknown>[] = [transaction.done];
    for (const entry of log) asked.push(transaction.objectStore('log').add(entry));
    asked.push(expects === undefined ? heads.add(head) : heads.put(head));
    if (snapshot) asked.push(transaction.objectStore('snapshots').put(snapshot));
    for (const each of asked) each.catch(() => undefined);
    transaction.commit();
  }

  async remove(id: string): Promise<void> {
    const transaction = (await this.#database()).transaction(EVERYTHING, 'readwrite');
    await Promise.all([
      transaction.objectStore('heads').delete(id),
      transaction.objectStore('files').delete(id),
      transaction.objectStore('snapshots').delete(ofOne(id)),
      transaction.objectStore('log').delete(ofOne(id)),
      transaction.done,
    ]);
  }

  async file(id: string): Promise<KeptFile | undefined> {
    return patiently(async () => (await this.#database()).get('files', id));
  }

  async files(): Promise<readonly KeptFile[]> {
    return patiently(async () => (await this.#database()).getAll('files'));
  }

  async setFile(kept: KeptFile): Promise<void> {
    await (await this.#database()).put('files', kept);
  }

  async removeFile(id: string): Promise<void> {
    await (await this.#database()).delete('files', id);
  }

  #database(): Promise<IDBPDatabase<Schema>> {
    this.#opening ??= this.#open().catch((problem: unknown) => {
      this.#opening = undefined;
      throw problem;
    });
    return this.#opening;
  }

  async #open(): Promise<IDBPDatabase<Schema>> {
    // Whatever asks for a newer version, or breaks the connection, finds it closed; the next operation opens anew.
    const forget = () => {
      this.#opening = undefined;
      this.#opened = undefined;
    };
    return new Promise((resolve, reject) => {
      openDB<Schema>(DATABASE, VERSION, {
        upgrade: (database, from, _to, transaction) => {
          // Whatever fails leaves the former version as it was, and the opening is refused.
          upgrade(database, from, transaction).catch(() => {
            transaction.abort();
          });
        },
        blocked: () => {
          reject(new OtherVersion('another tab holds an older version of this page: close it'));
        },
        blocking: (_current, _wanted, event) => {
          forget();
          (event.target as IDBDatabase).close();
        },
        terminated: forget,
      }).then(
        (database) => {
          this.#opened = database;
          resolve(database);
        },
        (problem: unknown) => {
          const isNewer = problem instanceof DOMException && problem.name === 'VersionError';
          reject(
            isNewer
              ? new OtherVersion('a newer version of this page keeps them: load this page again')
              : (problem as Error),
          );
        },
      );
    });
  }
}

/** Milliseconds before each further attempt. */
const PAUSES = [100, 300, 900, 2000, 4000];

/**
 * Right after the browser or the device went down the database may be held still, or be mending itself: reading then
 * fails for a moment, and what is kept must not pass for gone.
 */
async function patiently<T>(read: () => Promise<T>): Promise<T> {
  for (const pause of PAUSES) {
    try {
      return await read();
    } catch (problem) {
      if (!passes(problem)) throw problem;
    }
    await new Promise((resolve) => setTimeout(resolve, pause));
  }
  return read();
}

/** Names of the Indexed Database API for what is nobody's mistake: the store did not open, or broke off. */
function passes(problem: unknown): boolean {
  return (
    problem instanceof DOMException && (problem.name === 'UnknownError' || problem.name === 'AbortError')
  );
}

function ofOne(id: string): IDBKeyRange {
  return IDBKeyRange.bound([id, -1], [id, Infinity]);
}

/** What version 1 kept: the file of each workbook, whole. */
interface KeptAsText {
  readonly id: string;
  readonly title: string;
  readonly text: string;
  readonly savedAt: number;
}

async function upgrade(
  database: IDBPDatabase<Schema>,
  from: number,
  transaction: IDBPTransaction<Schema, (typeof EVERYTHING)[number][], 'versionchange'>,
): Promise<void> {
  database.createObjectStore('files', { keyPath: 'id' });
  if (from === 2) return;
  database.createObjectStore('heads', { keyPath: 'id' });
  database.createObjectStore('snapshots', { keyPath: ['id', 'sequence'] });
  database.createObjectStore('log', { keyPath: ['id', 'sequence'] });
  if (from !== 1) return;
  const former = (transaction as unknown as IDBPTransaction<unknown, string[], 'versionchange'>).objectStore(
    'workbooks',
  );
  for (const { id, title, text, savedAt } of (await former.getAll()) as KeptAsText[]) {
    const snapshot = { id, sequence: 0, text, checksum: checksumOf(text), at: savedAt };
    const head = { id, title, format: 1, sequence: 0, writer: '', createdAt: savedAt, savedAt };
    await transaction.objectStore('snapshots').put(snapshot);
    await transaction.objectStore('heads').put({ ...head, characters: text.length });
  }
  (database as unknown as IDBPDatabase).deleteObjectStore('workbooks');
}
