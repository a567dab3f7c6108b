/** What the properties of cells and of columns have in common: how their texts are read and checked. */
import { counted } from '../../workbook/index.ts';
import { parseUnit } from '../../engine/index.ts';
import type { Cell, EntryType, NameProblem } from '../../workbook/index.ts';
import { columnOf } from '../outline.ts';
import type { Session } from '../session.svelte.ts';

export const KINDS: readonly { readonly value: EntryType; readonly words: string }[] = [
  { value: 'number', words: 'number' },
  { value: 'text', words: 'text' },
  { value: 'choice', words: 'one of a list' },
];

export const FOOTERS = [
  { value: '', words: 'nothing' },
  { value: 'sum', words: 'sum' },
  { value: 'mean', words: 'mean' },
  { value: 'min', words: 'smallest' },
  { value: 'max', words: 'largest' },
  { value: 'count', words: 'how many' },
] as const;

export const DECIMALS = [
  { value: '', words: 'as many as needed' },
  ...Array.from({ length: 7 }, (_, places) => ({ value: String(places), words: String(places) })),
];

/** Units most often wanted here; any other can be typed. */
export const UNITS = [
  'ft',
  'in',
  'ft2',
  'ft3',
  'm',
  'mm',
  'm2',
  'm3',
  'Pa',
  'inH2O',
  'cfm',
  'm3/h',
  'L/s',
  '1/h',
  'degF',
  'degC',
  '%',
  'min',
  'h',
  'lb',
  'kg',
  'W',
];

export function kindFrom(value: string): EntryType {
  return KINDS.find((kind) => kind.value === value)?.value ?? 'number';
}

export function unitProblem(text: string): NameProblem | undefined {
  if (text.trim() === '') return undefined;
  const unit = parseUnit(text.trim());
  if (!('problem' in unit)) return undefined;
  return 'suggestion' in unit && typeof unit.suggestion === 'string'
    ? { problem: unit.problem, suggestion: unit.suggestion }
    : { problem: unit.problem };
}

/** Typed choices: one a line, or `table.column`. */
export function choicesFrom(session: Session, text: string): readonly string[] | string | null {
  const lines = text
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean);
  const [only] = lines;
  if (only === undefined) return null;
  return lines.length === 1 && columnOf(session.outline, only) ? only : [...new Set(lines)];
}

export function choicesText(choices: Cell['choices']): string {
  return choices === undefined ? '' : typeof choices === 'string' ? choices : choices.join('\n');
}

export function choicesHint(session: Session, text: string): string {
  const found = choicesFrom(session, text);
  if (found === null) return 'One a line, or a column: table.column';
  return typeof found === 'string'
    ? 'The entries of that column'
    : `${counted(found.length, 'choice')}, one a line`;
}
