/**
 * Two workbooks that went different ways since one version, put together: what only one of them changed is taken,
 * what both changed differently is asked. Without the version they come from, every difference is asked.
 */
import { aligned } from './align.ts';
import { partsOf, type Parts } from './parts.ts';
import { common, pairOf, same, taking, type Pair, type PartDifference } from './differences.ts';
import type { WorkbookDocument } from './document.ts';
import type { Edit, EditProblem } from './edit-kinds.ts';
import { called, nameOf, renamedSince, type Renamed } from './follow-names.ts';
import { emptyRegister, enter } from './soundness.ts';
import { toProblem } from './edit-table.ts';

/** Who changed it since the common version; `both` is a conflict, `unknown` where there is no such version. */
export type ChangedBy = 'mine' | 'theirs' | 'both' | 'unknown';

export interface MergeDifference extends PartDifference {
  readonly changedBy: ChangedBy;
}

export interface Merge {
  /** Both under the names that they get where nobody chooses, so that no renaming shows in a formula. */
  readonly pair: Pair;
  readonly differences: readonly MergeDifference[];
  readonly mine: WorkbookDocument;
  readonly theirs: WorkbookDocument;
  readonly renamed: readonly Renamed[];
}

export function mergeOf(
  base: WorkbookDocument | undefined,
  mine: WorkbookDocument,
  theirs: WorkbookDocument,
): Merge {
  const renamed = base ? renamedSince(base, mine, theirs) : [];
  const pair = pairUnder(renamed, mine, theirs, isNamedByTheirs);
  // Where both go by one name now, so does what they come from.
  const names = renamed.flatMap((each) => {
    const rename = each.to(each.base);
    const name = nameOf(pair.from, rename);
    return name === undefined || name !== nameOf(pair.to, rename) ? [] : [each.to(name)];
  });
  const origin = base && partsOf(aligned(pair.from, called(base, names)));
  const found = pair.differences.map((difference) => ({
    ...difference,
    changedBy: origin ? changedBy(difference, origin, pair) : 'unknown',
  }));
  return { pair, differences: [...renamings(renamed, found), ...found], mine, theirs, renamed };
}

/** Names that differ and no longer stand among the differences, since both go by one of them. */
function renamings(renamed: readonly Renamed[], found: readonly MergeDifference[]): MergeDifference[] {
  const known = new Set(found.map(({ id }) => id));
  return renamed.flatMap(({ key, kind, base, mine, theirs }) => {
    const id = `${key}#name`;
    if (mine === theirs || theirs === base || known.has(id)) return [];
    const by = whose(base, mine, theirs);
    return [{ id, what: 'changed', kind, key, field: 'name', from: mine, to: theirs, changedBy: by }];
  });
}

function isNamedByTheirs({ base, mine }: Renamed): boolean {
  return mine === base;
}

/** Both under the names of the one or the other. */
function pairUnder(
  renamed: readonly Renamed[],
  mine: WorkbookDocument,
  theirs: WorkbookDocument,
  byTheirs: (renamed: Renamed) => boolean,
): Pair {
  const differing = renamed.filter((each) => each.mine !== each.theirs);
  const taken = differing.filter(byTheirs).map((each) => each.to(each.theirs));
  const kept = differing.filter((each) => !byTheirs(each)).map((each) => each.to(each.mine));
  return pairOf(called(mine, taken), called(theirs, kept));
}

/** Whether theirs goes in where nobody has chosen. */
export function isTaken({ changedBy: who }: MergeDifference): boolean {
  return who === 'theirs';
}

/** Mine, with what is taken of theirs; or why the two cannot stand in one workbook. */
export function merged(
  { pair: usual, differences, mine, theirs, renamed }: Merge,
  takes: (difference: MergeDifference) => boolean = isTaken,
): WorkbookDocument | EditProblem {
  const chosen = new Set(differences.filter(takes).map(({ id }) => id));
  const byTheirs = ({ key }: Renamed) => chosen.has(`${key}#name`);
  const isUsual = renamed.every(
    (each) => each.mine === each.theirs || byTheirs(each) === isNamedByTheirs(each),
  );
  const pair = isUsual ? usual : pairUnder(renamed, mine, theirs, byTheirs);
  const document = taking(pair, ({ id }) => chosen.has(id));
  const unsound = enter(emptyRegister(), { sheets: document.sheets });
  return unsound ? toProblem(unsound) : document;
}

function changedBy(difference: PartDifference, base: Parts, { a, b }: Pair): ChangedBy {
  const { key, what, field, slot } = difference;
  const origin = base.get(key);
  if (what === 'added') {
    if (!origin) return 'theirs';
    return isUntouched(key, base, b) ? 'mine' : 'both';
  }
  if (what === 'removed') {
    if (!origin) return 'mine';
    return isUntouched(key, base, a) ? 'theirs' : 'both';
  }
  if (!origin) return 'both';
  const [mine, theirs] = [a.get(key), b.get(key)];
  if (what === 'moved') return whose(origin.parent, mine?.parent, theirs?.parent);
  if (what === 'changed' && field !== undefined)
    return whose(origin.fields.get(field), mine?.fields.get(field), theirs?.fields.get(field));
  if (slot === undefined) return 'both';
  const lists = [origin, mine, theirs].map((part) => part?.children.get(slot) ?? []);
  const [first = [], second = [], third = []] = lists;
  const shared = common(common(first, second), third);
  return whose(common(first, shared), common(second, shared), common(third, shared));
}

function whose(base: unknown, mine: unknown, theirs: unknown): ChangedBy {
  if (same(base, mine)) return 'theirs';
  return same(base, theirs) ? 'mine' : 'both';
}

/** Whether a part, with all that it holds, is as it was. */
function isUntouched(key: string, base: Parts, now: Parts): boolean {
  const [before, after] = [base.get(key), now.get(key)];
  if (!before || !after || !same([...before.fields].sort(), [...after.fields].sort())) return false;
  return [...after.children].every(([slot, children]) => {
    const former = before.children.get(slot) ?? [];
    return same(former, children) && children.every((child) => isUntouched(child, base, now));
  });
}

/** One step that makes `from` into `to`, and its undoing brings `from` back. Sheets that stay the same are not touched. */
export function editTo(from: WorkbookDocument, to: WorkbookDocument, label: string): Edit {
  const { sheets: old, ...fieldsBefore } = from;
  const { sheets, ...fields } = to;
  const patch = new Map<string, unknown>();
  for (const key of new Set([...Object.keys(fieldsBefore), ...Object.keys(fields)])) {
    const value = (fields as Record<string, unknown>)[key];
    if (!same((fieldsBefore as Record<string, unknown>)[key], value)) patch.set(key, value ?? null);
  }
  const wanted = new Map(sheets.map((sheet) => [sheet.id, sheet]));
  const kept = old.filter((sheet) => same(sheet, wanted.get(sheet.id))).map(({ id }) => id);
  const stay = new Set(kept);
  // Those that stay must already stand in their order; else all are put in anew.
  if (
    !same(
      kept,
      sheets.map(({ id }) => id).filter((id) => stay.has(id)),
    )
  )
    stay.clear();
  const edits: Edit[] = old.flatMap(({ id }): Edit[] =>
    stay.has(id) ? [] : [{ kind: 'remove-sheet', sheet: id }],
  );
  for (const [at, sheet] of sheets.entries())
    if (!stay.has(sheet.id)) edits.push({ kind: 'insert-sheet', at, sheet });
  if (patch.size > 0) edits.push({ kind: 'set-document', patch: Object.fromEntries(patch) });
  return { kind: 'batch', label, edits };
}
