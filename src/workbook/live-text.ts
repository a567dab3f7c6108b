/**
 * Texts with live names in them: `{ach50}` stands for what that cell shows, `{fit.exponent}` for a record's field,
 * `{tests.stage}` for the entries of a column. `{{` is a brace. Prose and every note may hold them.
 */
import { nearest } from '../engine/index.ts';
import type { Cell, Item, Sheet, Table, WorkbookDocument } from './document.ts';
import type { Edit } from './edit-kinds.ts';
import { itemsOf } from './locate.ts';

export type TextPart =
  | { readonly kind: 'words'; readonly text: string }
  /** `start` and `end` enclose the name without its braces. */
  | { readonly kind: 'name'; readonly name: string; readonly start: number; readonly end: number }
  | { readonly kind: 'faulty'; readonly text: string; readonly message: string; readonly suggestion: string };

const PATH = /^\p{L}[\p{L}\p{M}\p{N}_]*(?:\.\p{L}[\p{L}\p{M}\p{N}_]*)?$/u;
const NOTHING_NAMED = 'For a brace that stands for itself write {{.';

export function textParts(text: string): TextPart[] {
  const parts: TextPart[] = [];
  let words = '';
  const add = (part: TextPart) => {
    if (words !== '') parts.push({ kind: 'words', text: words });
    words = '';
    parts.push(part);
  };
  let at = 0;
  for (let open = text.indexOf('{'); open >= 0; open = text.indexOf('{', at)) {
    words += text.slice(at, open);
    if (text.charAt(open + 1) === '{') {
      words += '{';
      at = open + 2;
      continue;
    }
    const inside = /[^{}\n]*/y;
    inside.lastIndex = open + 1;
    const found = inside.exec(text)?.[0] ?? '';
    const close = open + 1 + found.length;
    if (text.charAt(close) !== '}') {
      const shown = text.slice(open, close);
      add({
        kind: 'faulty',
        text: shown,
        message: `“${brief(shown)}” has no closing brace.`,
        suggestion: `Write {name}. ${NOTHING_NAMED}`,
      });
      at = close;
      continue;
    }
    at = close + 1;
    const name = found.trim().normalize('NFC');
    const start = open + 1 + (found.length - found.trimStart().length);
    if (PATH.test(name)) add({ kind: 'name', name, start, end: start + found.trim().length });
    else add(notAName(text.slice(open, at), name));
  }
  words += text.slice(at);
  if (words !== '') parts.push({ kind: 'words', text: words });
  return parts;
}

function notAName(text: string, inside: string): TextPart {
  if (inside === '')
    return {
      kind: 'faulty',
      text,
      message: 'Nothing stands between the braces.',
      suggestion: `Write the name of a cell there. ${NOTHING_NAMED}`,
    };
  return {
    kind: 'faulty',
    text,
    message: `“${brief(inside)}” is not the name of a cell.`,
    suggestion: `Give it a cell of its own, and write that cell’s name here. ${NOTHING_NAMED}`,
  };
}

function brief(text: string): string {
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}

export interface TextFault {
  readonly message: string;
  readonly suggestion?: string;
  /** A name that may be meant. */
  readonly replacement?: string;
}

/** Why a name in a text stands for nothing, if so. What a cell's own state says is not asked here. */
export function textFault(
  name: string,
  named: ReadonlyMap<string, Cell | Table>,
  fields: (name: string) => readonly string[],
): TextFault | undefined {
  const [first = '', second] = name.split('.');
  const item = named.get(first);
  if (!item) {
    const near = nearest(first, named.keys());
    return meant(`Nothing is named ${first}.`, near && [near, second].filter(Boolean).join('.'));
  }
  if (item.kind === 'table') {
    const columns = item.columns.map((column) => column.name);
    if (second !== undefined && columns.includes(second)) return undefined;
    if (second === undefined) {
      const [column] = columns;
      return {
        message: `${first} is a table.`,
        suggestion: `Name a cell${column === undefined ? '.' : `, or a column: {${first}.${column}}.`}`,
      };
    }
    const near = nearest(second, columns);
    return meant(`The table ${first} has no column ${second}.`, near && `${first}.${near}`);
  }
  if (second === undefined) return undefined;
  const known = fields(first);
  if (known.includes(second)) return undefined;
  // A cell that has no answer yet has no fields either: its own state says why.
  if (known.length === 0) return { message: `${first} has no part named ${second}.` };
  const near = nearest(second, known) ?? known[0];
  return meant(`${first} has no part named ${second}.`, near && `${first}.${near}`);
}

function meant(message: string, near: string | undefined): TextFault {
  return near === undefined
    ? { message, suggestion: 'Type { and choose a name from the list.' }
    : { message, suggestion: `Did you mean {${near}}?`, replacement: near };
}

/** A text of the document in which names may stand. */
export interface LiveText {
  /** Of the text itself, or of the item, section or sheet that the note belongs to. */
  readonly id: string;
  /** For lists and messages: `text “Before you begin”`, `note to Air changes`. */
  readonly label: string;
  readonly text: string;
  readonly edit: (text: string) => Edit;
}

/** Those that hold a brace: no other can name anything. */
export function* liveTexts(document: WorkbookDocument): Generator<LiveText> {
  for (const text of textsOfTitleBlock(document)) if (text.text.includes('{')) yield text;
  for (const sheet of document.sheets) yield* textsIn(sheet, textsOfSheet);
  for (const item of itemsOf(document)) yield* textsIn(item, textsOfItem);
}

/** An edit leaves most items and sheets as they were, and with them their texts. */
const known = new WeakMap<Item | Sheet, readonly LiveText[]>();

function textsIn<Holder extends Item | Sheet>(
  holder: Holder,
  texts: (holder: Holder) => Iterable<LiveText>,
): readonly LiveText[] {
  let found = known.get(holder);
  if (!found) {
    found = [...texts(holder)].filter(({ text }) => text.includes('{'));
    known.set(holder, found);
  }
  return found;
}

const parts = new WeakMap<LiveText, readonly TextPart[]>();

function partsOf(text: LiveText): readonly TextPart[] {
  let found = parts.get(text);
  if (!found) {
    found = textParts(text.text);
    parts.set(text, found);
  }
  return found;
}

/** Those with names in them that stand on one worksheet. */
export function* liveTextsOn(sheet: Sheet): Generator<LiveText> {
  yield* textsIn(sheet, textsOfSheet);
  for (const { items } of sheet.sections) for (const item of items) yield* textsIn(item, textsOfItem);
}

function* textsOfTitleBlock({ titleBlock }: WorkbookDocument): Generator<LiveText> {
  if (titleBlock?.says !== undefined)
    yield {
      id: 'title-block',
      label: 'title block',
      text: titleBlock.says,
      edit: (says) => ({ kind: 'set-document', patch: { titleBlock: { ...titleBlock, says } } }),
    };
}

/** Those of none of its items. */
function* textsOfSheet(sheet: Sheet): Generator<LiveText> {
  yield {
    id: sheet.id,
    label: `note to the sheet ${sheet.title}`,
    text: sheet.note,
    edit: (note) => ({ kind: 'set-sheet', sheet: sheet.id, patch: { note } }),
  };
  if (sheet.status !== undefined)
    yield {
      id: sheet.id,
      label: `status of the sheet ${sheet.title}`,
      text: sheet.status,
      edit: (status) => ({ kind: 'set-sheet', sheet: sheet.id, patch: { status } }),
    };
  for (const section of sheet.sections)
    yield {
      id: section.id,
      label: `note to ${section.title}`,
      text: section.note,
      edit: (note) => ({ kind: 'set-section', section: section.id, patch: { note } }),
    };
}

function* textsOfItem(item: Item): Generator<LiveText> {
  const { id } = item;
  if (item.kind === 'prose')
    yield {
      id,
      label: `text “${brief(item.text.trim().split('\n', 1)[0] ?? '')}”`,
      text: item.text,
      edit: (text) => ({ kind: 'set-prose', prose: id, text }),
    };
  if (item.kind === 'cell')
    yield {
      id,
      label: `note to ${item.label || item.name}`,
      text: item.note,
      edit: (note) => ({ kind: 'set-cell', cell: id, patch: { note } }),
    };
  if (item.kind !== 'table') return;
  const label = `note to ${item.label || item.name}`;
  yield {
    id,
    label,
    text: item.note,
    edit: (note) => ({ kind: 'set-table', table: id, patch: { note } }),
  };
  for (const column of item.columns)
    yield {
      id,
      label: `${label}, ${column.label || column.name}`,
      text: column.note,
      edit: (note) => ({ kind: 'set-column', table: id, column: column.id, patch: { note } }),
    };
  for (const [at, row] of item.rows.entries())
    if (row.note !== undefined)
      yield {
        id,
        label: `${label}, row ${at + 1}`,
        text: row.note,
        edit: (note) => ({ kind: 'set-row-note', table: id, row: row.id, note }),
      };
}

/** The same text with every name in braces written anew by `change`. */
export function withNames(text: string, change: (name: string) => string): string {
  let result = '';
  let from = 0;
  for (const part of textParts(text)) {
    if (part.kind !== 'name') continue;
    const changed = change(part.name);
    if (changed === part.name) continue;
    result += text.slice(from, part.start) + changed;
    from = part.end;
  }
  return from === 0 ? text : result + text.slice(from);
}

/** Texts in which the cell, one of its fields, or the column stands; of a table, any of its columns. */
export function textsNaming(document: WorkbookDocument, name: string): LiveText[] {
  return [...liveTexts(document)].filter((text) =>
    partsOf(text).some(
      (part) => part.kind === 'name' && (part.name === name || part.name.startsWith(`${name}.`)),
    ),
  );
}

export interface PlacedFault extends TextFault {
  readonly text: LiveText;
}

/** Everything in texts that stands for nothing, in reading order. */
export function* faultsInTexts(
  document: WorkbookDocument,
  named: ReadonlyMap<string, Cell | Table>,
  fields: (name: string) => readonly string[],
): Generator<PlacedFault> {
  for (const text of liveTexts(document)) {
    for (const part of partsOf(text)) {
      const fault =
        part.kind === 'faulty' ? part : part.kind === 'name' && textFault(part.name, named, fields);
      if (fault) yield { ...fault, text };
    }
  }
}
