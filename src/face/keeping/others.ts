/** Another workbook beside the open one: to compare with, or to copy worksheets from. */
import { foundWords, readWorkbook, sharedVersion, type WorkbookDocument } from '../../workbook/index.ts';
import type { Shelf } from './shelf.svelte.ts';

export interface Other {
  readonly title: string;
  readonly document: WorkbookDocument;
  /** The version that both come from, where it is on this device. */
  readonly base?: WorkbookDocument;
  /** It is the template of the open job, in this version. */
  readonly version?: string;
}

export function otherFrom(title: string, text: string): Other | { readonly problem: string } {
  const opened = readWorkbook(text);
  // Whoever merges a file that is not known whole takes what is missing for taken out.
  if ('document' in opened && opened.readOnly !== undefined)
    return {
      problem: `${title} was not opened: a newer Close-in saved it, and what is new in it would be taken for left out. Load this page again to get that version.`,
    };
  if ('document' in opened) return { title, document: opened.document };
  return { problem: `${title} was not opened. In ${opened.where}: ${foundWords(opened)}` };
}

export async function commonBase(
  shelf: Shelf,
  mine: readonly string[],
  theirs: WorkbookDocument,
): Promise<WorkbookDocument | undefined> {
  const version = sharedVersion(mine, theirs.versions ?? []);
  const text = version === undefined ? undefined : await shelf.versionText(version);
  const opened = typeof text === 'string' ? readWorkbook(text) : undefined;
  return opened && 'document' in opened ? opened.document : undefined;
}
