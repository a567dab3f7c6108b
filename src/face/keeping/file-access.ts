/**
 * The browser's door to files that can be written again in place (File System Access; WICG draft, and the File
 * System Standard for the handles). Where it is missing or shut, a file is a download.
 */

/** What is used of a handle: the browser's own, which its database can keep. */
export interface FileHandle {
  readonly name: string;
  getFile(): Promise<File>;
  createWritable(): Promise<FileSystemWritableFileStream>;
  isSameEntry(other: FileHandle): Promise<boolean>;
  queryPermission(access: { mode: 'read' | 'readwrite' }): Promise<PermissionState>;
  requestPermission(access: { mode: 'read' | 'readwrite' }): Promise<PermissionState>;
}

/** What the file held when it was last read or written here. */
export interface Seen {
  readonly checksum: string;
  readonly characters: number;
  /** As the disk had it then: in milliseconds, and in bytes. */
  readonly modified: number;
  readonly bytes: number;
}

interface FileTypes {
  readonly description: string;
  readonly accept: Readonly<Record<string, readonly string[]>>;
}

interface Pickers {
  showOpenFilePicker(options: { id: string; types: readonly FileTypes[] }): Promise<FileHandle[]>;
  showSaveFilePicker(options: {
    id: string;
    suggestedName: string;
    types: readonly FileTypes[];
  }): Promise<FileHandle>;
}

const WORKBOOKS: FileTypes = { description: 'Workbook', accept: { 'application/json': ['.json'] } };
/** The browser remembers the folder under this name. */
const FOLDER = 'workbooks';

/** What a picker came to; `closed`: the person chose none; `shut`: the browser has no picker for this page. */
export type Picked = FileHandle | 'closed' | 'shut';

function pickers(): Partial<Pickers> {
  return globalThis as Partial<Pickers>;
}

/** Whether a file can be saved in place here. */
export function savesInPlace(): boolean {
  return pickers().showSaveFilePicker !== undefined;
}

export async function pickToOpen(): Promise<Picked> {
  return picked(async () => {
    const [handle] = (await pickers().showOpenFilePicker?.({ id: FOLDER, types: [WORKBOOKS] })) ?? [];
    return handle ?? 'shut';
  });
}

export async function pickToSave(suggestedName: string): Promise<Picked> {
  return picked(
    async () =>
      (await pickers().showSaveFilePicker?.({ id: FOLDER, suggestedName, types: [WORKBOOKS] })) ?? 'shut',
  );
}

async function picked(pick: () => Promise<Picked>): Promise<Picked> {
  try {
    return await pick();
  } catch (problem) {
    return nameOf(problem) === 'AbortError' ? 'closed' : 'shut';
  }
}

/** To be asked while the drop is being handled: afterwards the browser has forgotten what was dropped. */
export function droppedHandle(item: DataTransferItem | undefined): Promise<FileHandle | undefined> {
  const dropped = item as
    { getAsFileSystemHandle?: () => Promise<(FileHandle & { readonly kind: string }) | null> } | undefined;
  const asked = dropped?.getAsFileSystemHandle?.() ?? Promise.resolve(null);
  return asked.then(
    (handle) => (handle?.kind === 'file' ? handle : undefined),
    () => undefined,
  );
}

export function nameOf(problem: unknown): string {
  return problem instanceof Error ? problem.name : '';
}
