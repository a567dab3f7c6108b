/** Several worksheets copied together, so that what one of them reads of another is read of its copy. */
import { copyPart, type Copied } from './copy-part.ts';
import type { Sheet, WorkbookDocument } from './document.ts';
import { freeId, idsOf } from './identity.ts';

export interface CopiedSheets extends Pick<Copied<Sheet>, 'renamed' | 'outside'> {
  readonly sheets: readonly Sheet[];
}

export function copySheets(sheets: readonly Sheet[], into: WorkbookDocument): CopiedSheets {
  const [first] = sheets;
  if (!first) return { sheets: [], renamed: new Map(), outside: new Set() };
  const whole = { ...first, sections: sheets.flatMap(({ sections }) => sections) };
  const { part, renamed, outside } = copyPart(whole, into);
  const ids = idsOf({ ...into, sheets: [...into.sheets, part] });
  let at = 0;
  const copies = sheets.map((sheet, index): Sheet => {
    const sections = part.sections.slice(at, (at += sheet.sections.length));
    const id = index === 0 ? part.id : freeId(sheet.id, ids);
    ids.add(id);
    return { ...sheet, id, sections };
  });
  return { sheets: copies, renamed, outside };
}
