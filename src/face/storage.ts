/** Workbooks kept on this device. A promise that resolves means the transaction completed, not only that it began. */
import { openDB, type DBSchema, type IDBPDatabase } from 'idb';

export interface KeptWorkbook {
  readonly id: string;
  readonly title: string;
  readonly text: string;
  readonly savedAt: number;
}

interface Schema extends DBSchema {
  workbooks: { key: string; value: KeptWorkbook; indexes: { savedAt: number } };
}

let opening: Promise<IDBPDatabase<Schema>> | undefined;

function database(): Promise<IDBPDatabase<Schema>> {
  opening ??= openDB<Schema>('close-in', 1, {
    upgrade(db) {
      db.createObjectStore('workbooks', { keyPath: 'id' }).createIndex('savedAt', 'savedAt');
    },
    terminated() {
      opening = undefined;
    },
  }).catch((problem: unknown) => {
    opening = undefined;
    throw problem;
  });
  return opening;
}

export async function keep(workbook: KeptWorkbook): Promise<void> {
  const transaction = (await database()).transaction('workbooks', 'readwrite', { durability: 'strict' });
  await Promise.all([transaction.store.put(workbook), transaction.done]);
}

export async function keptWorkbooks(): Promise<KeptWorkbook[]> {
  return (await (await database()).getAllFromIndex('workbooks', 'savedAt')).reverse();
}

export async function forget(id: string): Promise<void> {
  await (await database()).delete('workbooks', id);
}
