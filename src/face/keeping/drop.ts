/** What a dropped file is: rows for a table, or a workbook. */
import type { FileHandle } from './file-access.ts';
import type { Jobs } from './jobs.svelte.ts';
import { readFile, takeDropped } from './read-files.ts';
import { rowsIn } from './rows-file.ts';

export interface Dropped {
  readonly files: readonly File[];
  readonly handle: FileHandle | undefined;
  /** Name of the table it was dropped on. */
  readonly table: string | undefined;
}

export async function takeDrop(
  jobs: Jobs,
  { files: [file, ...more], handle, table }: Dropped,
): Promise<void> {
  if (!file) return;
  jobs.problem = '';
  jobs.notes =
    more.length === 0
      ? []
      : [
          `Only ${file.name} was taken: drop one file at a time. Left out: ${more.map(({ name }) => name).join(', ')}.`,
        ];
  if (mayBeWorkbook(file, await beginningOf(file))) {
    const read = await readFile(jobs, file, handle);
    if (read) await takeDropped(jobs, read);
    return;
  }
  const readOnly = jobs.current?.session.readOnly;
  const rows = readOnly === undefined ? await rowsIn(file) : { problem: readOnly };
  if ('problem' in rows) jobs.problem = rows.problem;
  else jobs.rows = { name: file.name, text: rows.text, table };
}

async function beginningOf(file: File): Promise<string> {
  return (await file.slice(0, 200).text()).trimStart();
}

function mayBeWorkbook({ name, type }: File, beginning: string): boolean {
  return /\.json$/iu.test(name) || type === 'application/json' || beginning.startsWith('{');
}
