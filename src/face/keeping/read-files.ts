/** Files that are opened, chosen or dropped: which workbook of this device they are, or that they are another. */
import { versionOf } from '../../workbook/index.ts';
import { unfiledEdits } from './backup.ts';
import type { FileHandle, Seen } from './file-access.ts';
import { LARGEST_FILE } from './files.ts';
import type { Jobs, ReadFile } from './jobs.svelte.ts';
import { readText, type FoundText } from './linked-file.ts';
import { otherFrom } from './others.ts';

/** A file that the browser gave a handle of, or that the system was asked to open with the installed app. */
export async function openHandle(jobs: Jobs, handle: FileHandle): Promise<void> {
  const file = await handle.getFile().catch(() => undefined);
  if (file) await openChosen(jobs, file, handle);
  else jobs.problem = `${handle.name} could not be read. Open it with the button “Open”.`;
}

export async function openChosen(jobs: Jobs, file: File, handle?: FileHandle): Promise<void> {
  const read = await readFile(jobs, file, handle);
  if (read) await openRead(jobs, read);
}

/** Undefined where it cannot be a workbook; the reason is told. */
export async function readFile(jobs: Jobs, file: File, handle?: FileHandle): Promise<ReadFile | undefined> {
  if (file.size <= LARGEST_FILE) return { name: file.name, handle, ...(await readText(file)) };
  jobs.problem = `${file.name} is larger than 50 MB and was not opened.`;
  return undefined;
}

/** Dropped on the page that asks for another workbook it is that one; elsewhere the person is asked. */
export async function takeDropped(jobs: Jobs, read: ReadFile): Promise<void> {
  if (jobs.panel !== 'compare' && jobs.panel !== 'copy') {
    jobs.dropped = read;
    return;
  }
  const other = otherFrom(read.name, read.text);
  if ('problem' in other) jobs.problem = other.problem;
  else if (jobs.panel === 'compare') await jobs.compareWith(other);
  else jobs.other = other;
}

/** The workbook in a file: the one of this device that is saved in it, where there is one. */
export async function openRead(jobs: Jobs, read: ReadFile): Promise<void> {
  const { name, handle, text, seen } = read;
  const own = handle && (await keptIn(jobs, handle));
  if (own && unfiledEdits(own.head) > 0 && own.seen.checksum !== seen.checksum) {
    // Both have gone on: the one with the edits is opened, and says what the file holds.
    if (own.head.id !== jobs.current?.keeper.id && !(await jobs.openKept(own.head.id))) return;
    await jobs.current?.saving.found({ text, seen });
    return;
  }
  const isOwn = own?.seen.checksum === seen.checksum;
  const same = isOwn ? own.head.id : handle ? undefined : await jobs.shelf.sameFile(name, text);
  if (same !== undefined && same !== jobs.current?.keeper.id) await jobs.openKept(same);
  else if (same !== undefined) jobs.notes = [`${name} is open already.`];
  if (same !== undefined) return;
  if (!(await openFileText(jobs, name, text, handle && { handle, seen }))) return;
  // Edited or not, it is there after a reload.
  if (!jobs.shelf.keepsNothing) await jobs.current?.keeper.keepWhole();
  if (!own) return;
  // What it held before can be brought back, like anything deleted.
  await jobs.device.removeFile(own.head.id).catch(() => undefined);
  await jobs.shelf.remove(own.head.id);
}

/** What another program has put into the file is opened from it; what was done here stays on this device. */
export async function openTheirs(jobs: Jobs, found: FoundText): Promise<void> {
  const { saving } = jobs.current ?? {};
  const file = saving?.file;
  if (!saving || !file) return;
  if (!(await openFileText(jobs, file.name, found.text, { handle: file.handle, seen: found.seen }))) return;
  await saving.forget();
  await jobs.current?.keeper.keepWhole();
}

async function openFileText(
  jobs: Jobs,
  name: string,
  text: string,
  file?: { readonly handle: FileHandle; readonly seen: Seen },
): Promise<boolean> {
  const filed = { sequence: 0, at: Date.now(), how: 'opened', name } as const;
  if (!(await jobs.openText(text, { from: name, file, filed })) || !jobs.current) return false;
  const { document, workbook } = jobs.current.session;
  const version = document.versions?.at(-1);
  if (version === undefined || version !== versionOf(document)) return true;
  // With the first change it is a version that two copies may come from.
  const stop = workbook.subscribe(({ edit }) => {
    if (!edit) return;
    stop();
    void jobs.shelf.keepVersion(version, document);
  });
  return true;
}

async function keptIn(jobs: Jobs, handle: FileHandle) {
  const files = await jobs.device.files().catch(() => []);
  if (files.length === 0) return undefined;
  await jobs.current?.keeper.flush();
  await jobs.shelf.refresh();
  for (const head of jobs.shelf.heads) {
    const file = head.deletedAt === undefined ? files.find(({ id }) => id === head.id) : undefined;
    const isSame = file && (await file.handle.isSameEntry(handle).catch(() => false));
    if (isSame) return { head, seen: file.seen };
  }
  return undefined;
}
