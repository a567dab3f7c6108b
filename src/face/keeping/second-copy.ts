/**
 * A second copy of every workbook that is kept on this device, in files of the page's own (File System Standard, the
 * origin private file system). A browser that was killed while its database was being written may find it unreadable
 * later; it then begins an empty one and tells nobody. Two files a workbook: it as a whole, and what came since.
 */
import { checksumOf } from '../../workbook/index.ts';
import type { KeptHead, KeptRecords, LogEntry, Snapshot, StoreChange } from './store.ts';

const FOLDER = 'second copies';
const WHOLE = '.whole';
const SINCE = '.since';
/** One at a time, over all tabs. */
const LOCK = 'close-in second copies';
/** Nobody waits longer for a second copy. */
const PATIENCE = 2_000;
/** After so many failures in a row the browser is not asked again while the page is open. */
const MOST_FAILURES = 3;

interface Whole {
  readonly head: KeptHead;
  readonly snapshot: Snapshot;
  readonly log: readonly LogEntry[];
}

/** One line of the second file. */
interface Since {
  readonly head: KeptHead;
  readonly log: readonly LogEntry[];
}

type Folder = Pick<FileSystemDirectoryHandle, 'getFileHandle' | 'removeEntry' | 'keys'>;

export class SecondCopies {
  readonly #open: () => Promise<Folder>;
  #folder: Promise<Folder> | undefined;
  #failures = 0;
  /** The edit up to which a copy is known to be complete. */
  readonly #upTo = new Map<string, number>();

  constructor(open: () => Promise<Folder> = ownFolder) {
    this.#open = open;
  }

  /** Of which workbooks there are copies. */
  async ids(): Promise<readonly string[]> {
    const ids: string[] = [];
    await this.#try(async (folder) => {
      for await (const name of folder.keys())
        if (name.endsWith(WHOLE)) ids.push(decodeURIComponent(name.slice(0, -WHOLE.length)));
    });
    return ids;
  }

  /** Undefined where there is none, or none that can be read. */
  async read(id: string): Promise<KeptRecords | undefined> {
    return this.#try(async (folder) => {
      const whole = parsed(await textOf(folder, id, WHOLE)) as Whole | undefined;
      if (whole?.head.id !== id || whole.snapshot.id !== id) return undefined;
      let { head } = whole;
      const log = [...whole.log];
      for (const line of (await textOf(folder, id, SINCE)).split('\n')) {
        const since = parsed(line) as Since | undefined;
        // What is older has come into the whole; what does not follow was cut short.
        if (!since || since.head.sequence < head.sequence) continue;
        head = since.head;
        log.push(...since.log);
      }
      return { head, snapshots: [whole.snapshot], log };
    });
  }

  /** Takes in a change that the workbook's first copy has undergone; `read` gives that copy. */
  async follow(change: StoreChange, read: () => Promise<KeptRecords | undefined>): Promise<void> {
    const { head, log = [], expects, snapshot } = change;
    // How a workbook stood once serves to merge others with it: it can be done without.
    if (head.version !== undefined) return;
    await this.#inTime(async (folder) => {
      const upTo = this.#upTo.get(head.id);
      this.#upTo.delete(head.id);
      if (snapshot === undefined && expects !== undefined && upTo === expects) {
        await append(folder, head.id, `${JSON.stringify({ head, log } satisfies Since)}\n`);
        this.#upTo.set(head.id, head.sequence);
        return;
      }
      const records = await read();
      if (records) await this.#write(folder, records);
    });
  }

  /** Writes a copy anew of what `read` gives. */
  async copy(read: () => Promise<KeptRecords | undefined>): Promise<void> {
    await this.#inTime(async (folder) => {
      const records = await read();
      if (records) await this.#write(folder, records);
    });
  }

  /** Takes a copy away, and the first one by `first` before anybody can copy that again. */
  async remove(id: string, first: () => Promise<void>): Promise<void> {
    let removed: Promise<void> | undefined;
    await this.#inTime(async (folder) => {
      this.#upTo.delete(id);
      for (const kind of [WHOLE, SINCE])
        await folder.removeEntry(fileName(id, kind)).catch((problem: unknown) => {
          if (!isMissing(problem)) throw problem;
        });
      removed = first();
      await removed.catch(() => undefined);
    });
    await (removed ?? first());
  }

  async #write(folder: Folder, { head, snapshots, log }: KeptRecords): Promise<void> {
    const [snapshot] = snapshots;
    // A damaged one must not take the place of a sound one.
    if (!snapshot || [snapshot, ...log].some(({ text, checksum }) => checksumOf(text) !== checksum)) return;
    const since = log.filter(({ sequence }) => sequence > snapshot.sequence);
    await replace(folder, head.id, WHOLE, JSON.stringify({ head, snapshot, log: since } satisfies Whole));
    await replace(folder, head.id, SINCE, '');
    this.#upTo.set(head.id, head.sequence);
  }

  /** Alone, over all tabs; whoever waits for it goes on after a while. */
  async #inTime(run: (folder: Folder) => Promise<void>): Promise<void> {
    if (this.#failures >= MOST_FAILURES) return;
    const { locks } = (globalThis as { navigator?: Partial<Navigator> }).navigator ?? {};
    const work = this.#try(async (folder) => {
      if (locks) await locks.request(LOCK, () => run(folder));
      else await run(folder);
    });
    let timer: ReturnType<typeof setTimeout> | undefined;
    const late = new Promise<void>((resolve) => {
      timer = setTimeout(() => {
        this.#failures++;
        resolve();
      }, PATIENCE);
    });
    await Promise.race([work, late]);
    clearTimeout(timer);
  }

  /** A second copy that fails takes nothing from the first: the next change writes it whole. */
  async #try<T>(run: (folder: Folder) => Promise<T>): Promise<T | undefined> {
    try {
      this.#folder ??= this.#open();
      const result = await run(await this.#folder);
      this.#failures = 0;
      return result;
    } catch {
      this.#folder = undefined;
      this.#failures++;
      return undefined;
    }
  }
}

async function ownFolder(): Promise<Folder> {
  // Some browsers have the files and write them in workers only.
  if (!('createWritable' in FileSystemFileHandle.prototype)) throw new Error('no files of its own');
  const root = await navigator.storage.getDirectory();
  return root.getDirectoryHandle(FOLDER, { create: true });
}

function fileName(id: string, kind: string): string {
  return `${encodeURIComponent(id)}${kind}`;
}

async function textOf(folder: Folder, id: string, kind: string): Promise<string> {
  try {
    const handle = await folder.getFileHandle(fileName(id, kind));
    return await (await handle.getFile()).text();
  } catch (problem) {
    if (isMissing(problem)) return '';
    throw problem;
  }
}

/** The browser writes beside the file and puts it in its place at the end: a kill leaves the one or the other. */
async function replace(folder: Folder, id: string, kind: string, text: string): Promise<void> {
  const handle = await folder.getFileHandle(fileName(id, kind), { create: true });
  const stream = await handle.createWritable();
  await stream.write(text);
  await stream.close();
}

async function append(folder: Folder, id: string, text: string): Promise<void> {
  const handle = await folder.getFileHandle(fileName(id, SINCE));
  const { size } = await handle.getFile();
  const stream = await handle.createWritable({ keepExistingData: true });
  await stream.write({ type: 'write', position: size, data: text });
  await stream.close();
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function isMissing(problem: unknown): boolean {
  return problem instanceof DOMException && problem.name === 'NotFoundError';
}
