/** What a difference is called, and both sides of it as texts. */
import { counted } from '../../workbook/index.ts';
import { readEntry } from '../../engine/index.ts';
import type { MergeDifference, Pair, PartOfDocument } from '../../workbook/index.ts';
import { ownUnit } from '../display.ts';
import { isBareNumber } from '../entry.ts';

export type Group = 'conflict' | 'value' | 'formula' | 'structure';

export interface Told {
  readonly difference: MergeDifference;
  readonly group: Group;
  /** `Air test · What is tested`. */
  readonly where: string;
  /** `Floor area`, or `Readings, row 3, Flow`. */
  readonly label: string;
  /** `value`, `formula`, `only there`. */
  readonly what: string;
  readonly mine: string;
  readonly theirs: string;
}

const FIELDS: Readonly<Record<string, string>> = {
  name: 'name',
  label: 'label',
  title: 'title',
  type: 'kind of value',
  unit: 'unit',
  places: 'decimals',
  plusMinus: 'what ± means',
  pinned: 'unit stays as it is',
  choices: 'choices',
  input: 'asked of a new job',
  note: 'note',
  photos: 'photos',
  formula: 'formula',
  hidden: 'hidden',
  brief: 'in the line of a row on a phone',
  each: 'uncertainty of each value',
  shared: 'error that all values share',
  footer: 'what stands under it',
  reasonColumn: 'column of reasons',
  shownBy: 'rows shown',
  figure: 'kind of figure',
  bindings: 'what it shows',
  overrides: 'values tried',
  units: 'units of the job',
  titleBlock: 'title block',
  compared: 'results that scenarios are compared by',
  printed: 'parts chosen for the report',
};

/** Book-keeping of the workbook itself, of no interest to a person. */
const UNTOLD: ReadonlySet<string> = new Set(['hasScenarios', 'template', 'about', 'versions', 'id']);

export function isTold({ field }: MergeDifference): boolean {
  return field === undefined || !UNTOLD.has(field);
}

export function told(difference: MergeDifference, pair: Pair): Told {
  const { key, field, what } = difference;
  const mine = pair.a.get(key);
  const theirs = pair.b.get(key);
  const part = mine ?? theirs;
  const unit = unitOf(difference, pair);
  const isFormula =
    field !== undefined &&
    [difference.from, difference.to].some((text) => holdsFormula(text, field, part, pair));
  const group: Group =
    difference.changedBy === 'both'
      ? 'conflict'
      : isFormula
        ? 'formula'
        : isValue(difference)
          ? 'value'
          : 'structure';
  return {
    difference,
    group,
    where: whereOf(part, pair),
    label: labelOf(part, difference, pair),
    what:
      what === 'changed'
        ? (FIELDS[field ?? ''] ?? (isFormula ? 'formula' : 'value'))
        : { added: 'only there', removed: 'only here', moved: 'stands elsewhere', order: 'order' }[what],
    mine: what === 'changed' ? textOf(difference.from, unit) : sideOf(difference, mine, pair, 'from'),
    theirs: what === 'changed' ? textOf(difference.to, unit) : sideOf(difference, theirs, pair, 'to'),
  };
}

function isValue({ what, kind, field }: MergeDifference): boolean {
  if (kind === 'row') return true;
  return what === 'changed' && kind === 'cell' && field === 'text';
}

function holdsFormula(text: unknown, field: string, part: PartOfDocument | undefined, pair: Pair): boolean {
  if (field === 'formula') return true;
  if (typeof text !== 'string' || text === '') return false;
  if (field.startsWith('entry:')) {
    const column = pair.a.get(field.slice('entry:'.length));
    return column?.fields.has('formula') === true;
  }
  if (field !== 'text' || part?.kind !== 'cell') return false;
  if (part.fields.get('type') !== 'number') return text.trimStart().startsWith('=');
  return !('literal' in readEntry(text, ownUnit(unitField(part))));
}

/** The unit that a bare number in it means. */
function unitOf({ key, field }: MergeDifference, { a, b }: Pair): string {
  const from = field?.startsWith('entry:') ? field.slice('entry:'.length) : field === 'text' ? key : '';
  return unitField(a.get(from) ?? b.get(from));
}

function unitField(part: PartOfDocument | undefined): string {
  const unit = part?.fields.get('unit');
  return typeof unit === 'string' ? unit : '';
}

export function nameOf(part: PartOfDocument | undefined): string {
  if (!part) return '';
  for (const field of ['label', 'title', 'name', 'text', 'id']) {
    const text = part.fields.get(field);
    if (typeof text === 'string' && text !== '') return text.length > 70 ? `${text.slice(0, 69)}…` : text;
  }
  return part.kind;
}

function labelOf(part: PartOfDocument | undefined, { field, kind }: MergeDifference, pair: Pair): string {
  if (kind === 'document') return 'The job';
  if (kind === 'row' && part) {
    const tables = [pair.a.get(part.parent), pair.b.get(part.parent)];
    const table = tables[0] ?? tables[1];
    // A row of the other side alone is counted there.
    const places = tables.map((each) => each?.children.get('rows')?.indexOf(part.key) ?? -1);
    const place = places.find((at) => at >= 0) ?? -1;
    const first = [...part.fields].find(([name]) => name.startsWith('entry:'))?.[1];
    const called = typeof first === 'string' ? ` (${first})` : '';
    const column = field?.startsWith('entry:') ? pair.a.get(field.slice('entry:'.length)) : undefined;
    return [`${nameOf(table)}, row ${String(place + 1)}${called}`, nameOf(column)].filter(Boolean).join(', ');
  }
  if (kind === 'column' && part)
    return `${nameOf(pair.a.get(part.parent) ?? pair.b.get(part.parent))}, ${nameOf(part)}`;
  const word = {
    sheet: 'Worksheet ',
    section: 'Section ',
    scenario: 'Scenario ',
    figure: 'Figure ',
    prose: 'Text ',
  };
  return `${kind in word ? word[kind as keyof typeof word] : ''}${nameOf(part)}`;
}

function whereOf(part: PartOfDocument | undefined, { a, b }: Pair): string {
  const titles: string[] = [];
  for (
    let at = part && (a.get(part.parent) ?? b.get(part.parent));
    at;
    at = a.get(at.parent) ?? b.get(at.parent)
  )
    if ((at.kind === 'sheet' || at.kind === 'section') && nameOf(at) !== at.fields.get('id'))
      titles.unshift(nameOf(at));
  return titles.join(' · ');
}

function textOf(value: unknown, unit: string): string {
  if (value === undefined || value === '') return 'nothing';
  if (typeof value === 'string') return unit !== '' && isBareNumber(value) ? `${value} ${unit}` : value;
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') return String(value);
  if (typeof value !== 'object' || value === null) return '';
  if (
    Array.isArray(value) &&
    value.some((each) => typeof each === 'object' && each !== null && 'data' in each)
  )
    return counted(value.length, 'photo');
  if (Array.isArray(value)) return value.map((each) => textOf(each, '')).join(', ');
  return Object.entries(value)
    .map(([name, each]) => `${name}: ${textOf(each, '')}`)
    .join('; ');
}

function sideOf(
  difference: MergeDifference,
  part: PartOfDocument | undefined,
  pair: Pair,
  side: 'from' | 'to',
): string {
  const { what } = difference;
  if (what === 'moved')
    return nameOf(pair.a.get(String(difference[side])) ?? pair.b.get(String(difference[side])));
  if (what === 'order') {
    const keys = difference[side] as readonly string[];
    const names = keys.slice(0, 6).map((key) => nameOf(pair.a.get(key) ?? pair.b.get(key)));
    return names.join(', ') + (keys.length > 6 ? ' …' : '');
  }
  if (!part) return 'not there';
  return contents(part);
}

function contents(part: PartOfDocument): string {
  const count = (slot: 'sections' | 'items' | 'columns' | 'rows', one: string, many?: string) => {
    const { length } = part.children.get(slot) ?? [];
    return part.children.has(slot) ? counted(length, one, many) : '';
  };
  const found = [
    count('sections', 'section'),
    count('items', 'entry', 'entries'),
    count('columns', 'column'),
    count('rows', 'row'),
  ].filter(Boolean);
  if (found.length > 0) return found.join(', ');
  const texts = [...part.fields].flatMap(([field, value]) =>
    field.startsWith('entry:') ? [String(value)] : [],
  );
  if (texts.length > 0) return texts.slice(0, 6).join(' · ');
  const text = part.fields.get('text') ?? part.fields.get('formula');
  return typeof text === 'string' && text !== '' ? textOf(text, unitField(part)) : 'there';
}
