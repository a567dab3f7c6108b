/**
 * Fingerprints of the files that a workbook was saved as. They travel in the file, so that two copies which went
 * different ways can find the version they both come from.
 */
import type { WorkbookDocument } from './document.ts';
import { checksumOf } from './file/checksum.ts';
import { writeWorkbook } from './file/write.ts';

/** Somebody who saves in place every few minutes still has the version that was sent away in the morning. */
const MOST = 60;

/** Of the workbook itself, whatever it was saved as before. */
export function versionOf(document: WorkbookDocument): string {
  const { versions: _, ...bare } = document;
  return checksumOf(writeWorkbook(bare));
}

/** The document as it goes into a file: with this version behind the former ones. */
export function stamped(document: WorkbookDocument, former: readonly string[] = []): WorkbookDocument {
  const version = versionOf(document);
  const before = [...new Set([...(document.versions ?? []), ...former])].filter((each) => each !== version);
  return { ...document, versions: [...before, version].slice(-MOST) };
}

/** The newest version that both were saved as, if any. */
export function sharedVersion(mine: readonly string[], theirs: readonly string[]): string | undefined {
  const known = new Set(mine);
  return [...theirs].reverse().find((version) => known.has(version));
}
