/** A small invented workbook in which the examples of the language's own functions are worked out. */
import { BUILTINS, type FunctionLibrary } from '../../engine/index.ts';
import { Workbook, type Cell, type Column, type Table } from '../../workbook/index.ts';
import { asText, show, type DisplayRule } from '../display.ts';

export interface WorkedExample {
  readonly formula: string;
  readonly result: string;
  /** What the names in it stand for. */
  readonly names: readonly { readonly name: string; readonly text: string }[];
}

const GIVEN = [
  { name: 'result', text: '1.05 ± 0.03' },
  { name: 'target', text: '1.10' },
  { name: 'indoor', text: '20 degC' },
  { name: 'sill', text: '' },
] as const;

const COLUMNS: readonly Pick<Column, 'name' | 'type' | 'unit'>[] = [
  { name: 'room', type: 'text', unit: '' },
  { name: 'floor', type: 'number', unit: '' },
  { name: 'area', type: 'number', unit: 'ft2' },
];
const ROWS: readonly (readonly string[])[] = [
  ['living', '1', '280'],
  ['kitchen', '1', '160'],
  ['bedroom', '2', '200'],
];

function cell(name: string, text: string): Cell {
  return {
    kind: 'cell',
    id: `cell_${name}`,
    name,
    label: '',
    type: 'number',
    text,
    unit: name === 'indoor' ? 'degC' : name === 'sill' ? 'ft' : '',
    note: '',
  };
}

const rooms: Table = {
  kind: 'table',
  id: 'rooms',
  name: 'rooms',
  label: '',
  note: '',
  columns: COLUMNS.map((column) => ({ ...column, id: column.name, label: '', note: '' })),
  rows: ROWS.map((texts, at) => ({
    id: `r${at}`,
    entries: Object.fromEntries(COLUMNS.map(({ name }, column) => [name, texts[column] ?? ''])),
  })),
};

/** By the name of the function. */
export function workedExamples(library: FunctionLibrary): ReadonlyMap<string, WorkedExample> {
  const asked = [...BUILTINS].map(([name, { example }]) => ({
    ...cell(`example_of_${name}`, example),
    // The kind of the result is the formula's own affair.
    type: name === 'is_blank' ? ('text' as const) : ('number' as const),
    text: name === 'is_blank' ? `= ${example}` : example,
  }));
  const items = [...GIVEN.map(({ name, text }) => cell(name, text)), rooms, ...asked];
  const section = { id: 'section', title: '', note: '', items };
  const sheet = { id: 'sheet', title: '', note: '', sections: [section] };
  const workbook = new Workbook({ title: '', units: 'us', sheets: [sheet] }, library);
  return new Map(
    [...BUILTINS].map(([name, { example }]) => [
      name,
      {
        formula: example,
        result: asText(show(workbook.state(`example_of_${name}`), ruleOf(name), 'us')),
        names: namesIn(example),
      },
    ]),
  );
}

/** What is counted from absolute zero is told in kelvin, whatever the units of the job. */
function ruleOf(name: string): DisplayRule {
  return name === 'absolute' ? { unit: 'K', places: 2, pinned: true } : { unit: '' };
}

function namesIn(formula: string): { name: string; text: string }[] {
  const cells = GIVEN.filter(({ name }) => new RegExp(`\\b${name}\\b`, 'u').test(formula));
  const columns = COLUMNS.filter(({ name }) => formula.includes(`rooms.${name}`));
  return [
    ...cells.map(({ name, text }) => ({ name, text: text === '' ? 'not typed yet' : text })),
    ...columns.map(({ name, unit }) => {
      const texts = ROWS.map((row) => row[COLUMNS.findIndex((column) => column.name === name)] ?? '');
      return { name: `rooms.${name}`, text: [texts.join(', '), unit].filter(Boolean).join(' ') };
    }),
  ];
}
