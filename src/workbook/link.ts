/** A workbook as the fragment of an address, and back. What packs and unpacks is loaded when it is first needed. */
import type { WorkbookDocument } from './document.ts';
import type { LinkError, LinkRead } from './file/link.ts';

/** In characters: what some chat programs cut, and what is no longer worth trying. */
export const LINK_LENGTHS = { cutByChat: 2_000, tooLong: 8_000 } as const;

export type { LinkError } from './file/link.ts';

/** True for a fragment (`#…`) that was made to hold a workbook, whole or not. */
export function isLink(fragment: string): boolean {
  return /^#?workbook[.=]/u.test(fragment);
}

export async function writeLink(document: WorkbookDocument): Promise<string> {
  const { writeFragment } = await import('./file/link.ts');
  return writeFragment(document);
}

/** The workbook's file text, or why the link is refused. */
export async function readLink(fragment: string): Promise<LinkRead | LinkError> {
  const { readFragment } = await import('./file/link.ts');
  return readFragment(fragment);
}
