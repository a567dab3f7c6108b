/** The demo house as a document, and everything in it that shows a value. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { itemsOf, readWorkbook, tablesOf } from '../../src/workbook/index.ts';

type Opened = Extract<ReturnType<typeof readWorkbook>, { readonly document: unknown }>;
export type Document = Opened['document'];

export function demo(): Document {
  // The bench runs from the cache of bundled modules; `npm run` always starts in the top folder.
  const opened = readWorkbook(readFileSync(path.resolve('templates/juniper-hollow.json'), 'utf8'));
  if (!('document' in opened)) throw new Error(`the demo cannot be read: ${opened.found}`);
  return opened.document;
}

export interface Places {
  readonly cells: readonly string[];
  readonly rows: readonly { readonly table: string; readonly column: string; readonly row: number }[];
}

export function placesOf(document: Document): Places {
  const cells: string[] = [];
  for (const item of itemsOf(document)) if (item.kind === 'cell') cells.push(item.name);
  const rows = [...tablesOf(document)].flatMap((t) =>
    t.columns.flatMap((c) => t.rows.map((_, row) => ({ table: t.name, column: c.name, row }))),
  );
  return { cells, rows };
}

export function readingsOf(document: Document): {
  readonly table: ReturnType<typeof tablesOf> extends Generator<infer T> ? T : never;
  readonly column: string;
} {
  const table = [...tablesOf(document)].find((t) => t.name === 'readings');
  const column = table?.columns.find((c) => c.name === 'fan_pressure');
  if (!table || !column) throw new Error('the demo has no readings');
  return { table, column: column.id };
}
