/**
 * Format 1 of the workbook file. The schema copies the fields it knows into fresh objects, so nothing else from a
 * file reaches the program. Ids may be left out by hand and are then made; they are always written.
 */
import * as v from 'valibot';
import { LIMITS } from '../limits.ts';

export const APP = 'close-in';

const TEXT = 'text in double quotes';
const words = v.exactOptional(v.string(TEXT), '');
const text = v.string(TEXT);
const id = v.exactOptional(v.string('an id in double quotes'));
const yesOrNo = v.exactOptional(v.boolean('true or false'));
const PLACES = `a whole number from 0 to ${String(LIMITS.places)}`;
const places = v.exactOptional(
  v.pipe(v.number(PLACES), v.integer(PLACES), v.minValue(0, PLACES), v.maxValue(LIMITS.places, PLACES)),
);
const type = v.exactOptional(
  v.picklist(['number', 'text', 'choice'], '"number", "text" or "choice"'),
  'number',
);
const plusMinus = v.exactOptional(v.picklist(['standard', '95', 'limits'], '"standard", "95" or "limits"'));
const CHOICES = 'a list of texts, or "table.column"';
const TEXTS = 'a list of texts';
const settled = v.exactOptional(v.array(v.string(TEXTS), TEXTS));
const choices = v.exactOptional(v.union([v.array(v.string(CHOICES)), v.string(CHOICES)], CHOICES));

function list<T extends v.GenericSchema>(item: T, message: string) {
  return v.array(item, message);
}

export const CellShape = v.object(
  {
    kind: v.literal('cell'),
    id,
    name: text,
    label: words,
    type,
    text: words,
    unit: words,
    places,
    plusMinus,
    pinned: yesOrNo,
    choices,
    settled,
    input: yesOrNo,
    note: words,
  },
  'a cell in { }',
);

export const ColumnShape = v.object(
  {
    id,
    name: text,
    label: words,
    type,
    unit: words,
    formula: v.exactOptional(text),
    places,
    plusMinus,
    pinned: yesOrNo,
    choices,
    settled,
    hidden: yesOrNo,
    brief: yesOrNo,
    each: v.exactOptional(text),
    shared: v.exactOptional(text),
    footer: v.exactOptional(
      v.picklist(['sum', 'mean', 'min', 'max', 'count'], '"sum", "mean", "min", "max" or "count"'),
    ),
    input: yesOrNo,
    note: words,
  },
  'a column in { }',
);

export const PhotoShape = v.object(
  { id: text, caption: v.exactOptional(text), taken: v.exactOptional(text), data: text },
  'a photo in { }',
);

/** Any object: what is in it is looked at row by row, and copied, where the table's columns are known. */
const row = v.custom<Readonly<Record<string, unknown>>>(
  (value) => typeof value === 'object' && value !== null && !Array.isArray(value),
  'a row in { }',
);

export const TableShape = v.object(
  {
    kind: v.literal('table'),
    id,
    name: text,
    label: words,
    note: words,
    reasonColumn: v.exactOptional(text),
    shownBy: v.exactOptional(v.object({ column: text, cell: text }, 'a column and a cell in { }')),
    input: yesOrNo,
    columns: list(ColumnShape, 'a list of columns'),
    /** Objects of column name to typed text, with `$id`, `$note` and `$photos`: read by `rowsFrom`. */
    rows: v.exactOptional(list(row, 'a list of rows'), () => []),
  },
  'a table in { }',
);

export const FigureShape = v.object(
  {
    kind: v.literal('figure'),
    id,
    figure: text,
    title: words,
    bindings: v.exactOptional(
      v.record(v.string(), v.string('a name in double quotes'), 'names in { }'),
      () => ({}),
    ),
  },
  'a figure in { }',
);

export const ProseShape = v.object({ kind: v.literal('prose'), id, text }, 'a text in { }');

export const ItemShape = v.variant(
  'kind',
  [CellShape, TableShape, FigureShape, ProseShape],
  '"kind": "cell", "table", "figure" or "prose"',
);

export const SectionShape = v.object(
  { id, title: words, note: words, items: list(ItemShape, 'a list of items') },
  'a section in { }',
);

export const SheetShape = v.object(
  {
    id,
    title: words,
    note: words,
    status: v.exactOptional(text),
    sections: list(SectionShape, 'a list of sections'),
  },
  'a sheet in { }',
);

const OverrideShape = v.union(
  [v.object({ cell: text, text }), v.object({ table: text, row: text, column: text, text })],
  'a cell, or a table with row and column, and a text in { }',
);

export const ScenarioShape = v.object(
  { id: text, name: text, note: words, overrides: list(OverrideShape, 'a list of values to try') },
  'a scenario in { }',
);

export const FileShape = v.object(
  {
    app: v.literal(APP),
    format: v.number(),
    title: words,
    about: v.exactOptional(text),
    template: v.exactOptional(
      v.object({ id: text, title: text, version: text }, 'id, title and version in { }'),
    ),
    versions: v.exactOptional(list(text, 'a list of fingerprints')),
    units: v.exactOptional(v.picklist(['us', 'si'], '"us" or "si"'), 'us'),
    titleBlock: v.exactOptional(
      v.object(
        { result: text, target: text, margin: text, says: v.exactOptional(text) },
        'result, target and margin in { }',
      ),
    ),
    scenarios: v.exactOptional(list(ScenarioShape, 'a list of scenarios')),
    compared: v.exactOptional(list(text, 'a list of ids')),
    printed: v.exactOptional(list(text, 'a list of ids')),
    sheets: list(SheetShape, 'a list of sheets'),
    /** Named by their ids in the rows: at the end, so that a person reads the rest first. */
    photos: v.exactOptional(list(PhotoShape, 'a list of photos')),
  },
  'a workbook in { }',
);

export type FileInFormat = v.InferOutput<typeof FileShape>;
export type TableInFile = v.InferOutput<typeof TableShape>;
export type PhotoInFile = v.InferOutput<typeof PhotoShape>;
export type RowInFile = TableInFile['rows'][number];
