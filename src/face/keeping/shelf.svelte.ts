/** The workbooks kept on this device: the list, and what can be done with one that is not open. */
import {
  readWorkbook,
  writeWorkbook,
  checksumOf,
  FILE_FORMAT,
  type WorkbookDocument,
} from '../../workbook/index.ts';
import type { Tabs } from './lease.ts';
import { letsKeepNothing, reasonOf } from './recorder.ts';
import { freshId, OtherVersion, type KeptHead, type KeptRecords, type WorkbookStore } from './store.ts';

/** Deleted workbooks can be brought back for so long. */
const DAYS_DELETED = 30;
const DAY = 86_400_000;
const MOST_VERSIONS = 60;
/** Of all of them together, but for the newest. */
const MOST_CHARACTERS = 30_000_000;

export interface Problem {
  readonly problem: string;
}

export class Shelf {
  readonly store: WorkbookStore;
  readonly #tabs: Tabs;
  /** Newest first. */
  heads = $state.raw<readonly KeptHead[]>([]);
  problem = $state('');
  /** The browser lets the page keep nothing, so that nothing can be missing from the list. */
  keepsNothing = false;

  readonly #there: readonly KeptHead[] = $derived(
    this.heads.filter((head) => head.deletedAt === undefined && head.version === undefined),
  );
  readonly kept: readonly KeptHead[] = $derived(this.#there.filter((head) => head.template === undefined));
  /** The person's own. */
  readonly templates: readonly KeptHead[] = $derived(
    this.#there.filter((head) => head.template !== undefined),
  );
  readonly deleted: readonly KeptHead[] = $derived(this.heads.filter((head) => head.deletedAt !== undefined));

  constructor(store: WorkbookStore, tabs: Tabs) {
    this.store = store;
    this.#tabs = tabs;
    tabs.listen(({ kind }) => {
      if (kind === 'list' || kind === 'saved') void this.refresh();
    });
  }

  async refresh(): Promise<void> {
    try {
      const heads = await this.store.heads();
      this.heads = [...heads].sort((a, b) => b.savedAt - a.savedAt);
      this.problem = '';
      this.keepsNothing = false;
    } catch (problem) {
      this.keepsNothing = letsKeepNothing(problem);
      // Another version says itself what to do.
      const again = problem instanceof OtherVersion ? '' : ' Load this page again.';
      this.problem = `The workbooks on this device cannot be listed: ${reasonOf(problem)}.${again}`;
    }
  }

  /** The workbook's file as it would be saved. */
  async text(id: string): Promise<string | Problem> {
    try {
      const { recoverFrom } = await import('./recovery.ts');
      const kept = await recoverFrom(this.store, id);
      if (!kept) return { problem: 'It is no longer kept on this device.' };
      return 'problem' in kept.found ? kept.found : kept.found.text;
    } catch (problem) {
      return { problem: `It could not be read: ${reasonOf(problem)}.` };
    }
  }

  /** Opened from a file of this name before, and not edited since: the same again is no other workbook. */
  async sameFile(name: string, text: string): Promise<string | undefined> {
    await this.refresh();
    for (const { id, filed, sequence } of this.kept) {
      const isAsOpened = filed?.how === 'opened' && filed.name === name && filed.sequence === sequence;
      if (isAsOpened && (await this.text(id)) === text) return id;
    }
    return undefined;
  }

  async rename(id: string, title: string): Promise<void> {
    const { recover } = await import('./recovery.ts');
    await this.#change(id, async (records) => {
      const found = recover(records);
      const opened = 'problem' in found ? found : readWorkbook(found.text);
      if (!('document' in opened) || opened.readOnly !== undefined) return 'It cannot be renamed here.';
      const sequence = records.head.sequence + 1;
      const edit = JSON.stringify({ kind: 'set-document', patch: { title } });
      const at = Date.now();
      await this.store.write({
        expects: records.head.sequence,
        head: { ...records.head, title, sequence, writer: this.#tabs.name, savedAt: at },
        log: [{ id, sequence, text: edit, checksum: checksumOf(edit), at }],
      });
      return undefined;
    });
  }

  async duplicate(id: string): Promise<void> {
    const text = await this.text(id);
    const opened = typeof text === 'string' ? readWorkbook(text) : text;
    if (!('document' in opened)) {
      this.problem = `It could not be copied. ${'problem' in opened ? opened.problem : opened.found}`;
      return;
    }
    await this.keepCopy({ ...opened.document, title: `${opened.document.title}, copy` });
  }

  /** A workbook beside the others, as it is; true where it is on the device now. */
  async keepCopy(document: WorkbookDocument): Promise<boolean> {
    await this.#try(() => this.store.write(wholeOf(document)));
    return this.problem === '';
  }

  /** A template of the person's own; true where it is on the device now. */
  async keepTemplate(document: WorkbookDocument): Promise<boolean> {
    await this.#try(async () => {
      const whole = wholeOf(document);
      await this.store.write({
        ...whole,
        head: { ...whole.head, template: { about: document.about ?? '' } },
      });
    });
    return this.problem === '';
  }

  /** A workbook as it was saved as a file. Where it cannot be kept, a later merge asks more. */
  async keepVersion(version: string, document: WorkbookDocument): Promise<void> {
    if (this.heads.some((head) => head.version === version)) return;
    const whole = wholeOf(document, versionId(version));
    await this.store.write({ ...whole, head: { ...whole.head, version } }).catch(() => undefined);
    await this.refresh();
    const versions = this.heads.filter((head) => head.version !== undefined);
    let characters = 0;
    for (const [at, head] of versions.entries()) {
      characters += head.characters;
      if (at >= MOST_VERSIONS || (at > 0 && characters > MOST_CHARACTERS))
        await this.store.remove(head.id).catch(() => undefined);
    }
  }

  async versionText(version: string): Promise<string | Problem> {
    return this.text(versionId(version));
  }

  /** Into the list of the deleted, from where it can be brought back. */
  async remove(id: string): Promise<void> {
    await this.#change(id, ({ head }) => this.#setDeleted(head, Date.now()));
  }

  async restore(id: string): Promise<void> {
    await this.#change(id, ({ head }) => this.#setDeleted(head, undefined));
  }

  async removeForGood(id: string): Promise<void> {
    await this.#try(() => this.store.remove(id));
  }

  /** Those deleted a month ago go for good. */
  async clearOld(): Promise<void> {
    for (const { id, deletedAt } of this.deleted)
      if (deletedAt !== undefined && Date.now() - deletedAt > DAYS_DELETED * DAY)
        await this.removeForGood(id);
  }

  async #setDeleted({ deletedAt: _, ...head }: KeptHead, at: number | undefined): Promise<undefined> {
    await this.store.write({
      expects: head.sequence,
      head: at === undefined ? head : { ...head, deletedAt: at },
    });
  }

  /** Only while no tab is writing it. */
  async #change(id: string, run: (records: KeptRecords) => Promise<string | undefined>): Promise<void> {
    const locks = (navigator as Partial<Navigator>).locks;
    const change = async () => {
      const records = await this.store.read(id);
      const refused = records ? await run(records) : 'It is no longer kept on this device.';
      if (refused !== undefined) throw new Error(refused);
    };
    await this.#try(async () => {
      if (!locks) return change();
      await locks.request(`close-in workbook ${id}`, { ifAvailable: true }, async (lock) => {
        if (!lock) throw new Error('It is open in another tab: do it there, or close that tab.');
        await change();
      });
    });
  }

  async #try(run: () => Promise<void>): Promise<void> {
    let failed = '';
    try {
      await run();
    } catch (problem) {
      failed = reasonOf(problem);
    }
    await this.refresh();
    this.problem ||= failed;
    this.#tabs.tell('list', '');
  }
}

function versionId(version: string): string {
  return `version-${version}`;
}

/** A workbook to be kept anew, whole. */
function wholeOf(document: WorkbookDocument, id = freshId()) {
  const text = writeWorkbook(document);
  const at = Date.now();
  const head: KeptHead = {
    id,
    title: document.title,
    format: FILE_FORMAT,
    sequence: 0,
    writer: '',
    createdAt: at,
    savedAt: at,
    characters: text.length,
  };
  return { expects: undefined, head, snapshot: { id, sequence: 0, text, checksum: checksumOf(text), at } };
}
