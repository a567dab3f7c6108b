/** Which differences between a job and its template are the job’s own figures and not news of the template. */
import type { MergeDifference, Pair, PartOfDocument } from '../../workbook/index.ts';

export function isJobData(difference: MergeDifference, pair: Pair): boolean {
  const { key, kind, field, what } = difference;
  const parts = [pair.a.get(key), pair.b.get(key)];
  if (kind === 'document')
    return field !== undefined && field !== 'compared' && field !== 'printed' && field !== 'titleBlock';
  if (kind === 'scenario') return true;
  if (kind === 'cell' && field === 'text') {
    return parts.some((part) => isInput(part) || isView(part));
  }
  if (kind === 'row') {
    const table = parts.map((part) => part && (pair.a.get(part.parent) ?? pair.b.get(part.parent)));
    if (table.some(isInput)) return true;
    return field?.startsWith('entry:') === true && isInput(pair.a.get(field.slice('entry:'.length)));
  }
  if (kind === 'table' && what === 'order' && difference.slot === 'rows') return parts.some(isInput);
  return false;
}

function isInput(part: PartOfDocument | undefined): boolean {
  return part?.fields.get('input') === true;
}

/** Which row of a table is looked at: chosen anew all the time. */
function isView(part: PartOfDocument | undefined): boolean {
  return typeof part?.fields.get('choices') === 'string';
}
