/** What a text says where names stand in it: each as its cell shows it, or in words why it does not. */
import { textParts } from '../workbook/index.ts';
import { asText, show } from './display.ts';
import type { columnOf } from './outline.ts';
import type { Session } from './session.svelte.ts';
import { standingOfText, type Standing } from './verdict.ts';

export type Said =
  | { readonly kind: 'words'; readonly text: string }
  /** `tone`: how it stands; `name` leads there. */
  | {
      readonly kind: 'value';
      readonly text: string;
      readonly name: string;
      readonly tone: 'value' | 'soft' | 'fault';
    }
  | {
      readonly kind: 'faulty';
      readonly text: string;
      readonly message: string;
      readonly suggestion: string;
      readonly replacement?: string;
    };

/** Entries of a column that a text lists before it counts the rest. */
const LISTED = 20;

export function said(session: Session, text: string): Said[] {
  if (!text.includes('{')) return text === '' ? [] : [{ kind: 'words', text }];
  return textParts(text).map((part) => {
    if (part.kind !== 'name') return part;
    // Looked at first, so that whoever shows this looks again when the name comes to stand for something.
    void session.version(part.name);
    const fault = session.workbook.textFault(part.name);
    if (fault === undefined) return valueOf(session, part.name);
    const { message, suggestion = '', replacement } = fault;
    return {
      kind: 'faulty',
      text: `{${part.name}}`,
      message,
      suggestion,
      ...(replacement === undefined ? {} : { replacement }),
    };
  });
}

function valueOf(session: Session, name: string): Said {
  const column = session.column(name);
  if (column) return { kind: 'value', name, ...listOf(session, column) };
  const item = session.standing(name)?.item;
  const rule = item?.kind === 'cell' && item.name === name ? item : { unit: '' };
  const shown = show(session.state(name), rule, session.system);
  if (shown.kind === 'value' || shown.kind === 'text')
    return { kind: 'value', name, text: asText(shown), tone: 'value' };
  // In the midst of a sentence: what it is of, and why there is none.
  const why = shown.kind === 'faulty' ? `fault, ${shown.message}` : asText(shown) || 'not typed yet';
  const text = `(${labelIn(session, name)}: ${why})`;
  return { kind: 'value', name, text, tone: shown.kind === 'faulty' ? 'fault' : 'soft' };
}

function labelIn(session: Session, name: string): string {
  const item = session.standing(name)?.item;
  return item?.kind === 'cell' ? item.label || item.name : name;
}

/** A column stands in a text as the list of what is in its rows. */
function listOf(
  session: Session,
  { table, column }: NonNullable<ReturnType<typeof columnOf>>,
): { text: string; tone: 'value' | 'soft' } {
  const texts = table.rows
    .map((_, row) => asText(show(session.columnState(table.name, column.name, row), column, session.system)))
    .filter((text) => text !== '');
  if (texts.length === 0)
    return { text: `(${column.label || column.name}: nothing typed yet)`, tone: 'soft' };
  const rest = texts.length - LISTED;
  return {
    text: [...texts.slice(0, LISTED), ...(rest > 0 ? [`and ${rest} more`] : [])].join(', '),
    tone: 'value',
  };
}

/** The same where there is room for a few words only: nothing as long as anything in it has no value. */
export function saidShortly(session: Session, text: string): { text: string; standing: Standing } {
  const parts = said(session, text);
  let standing: Standing = '';
  for (const part of parts) {
    if (part.kind === 'words') continue;
    if (part.kind === 'faulty' || part.tone !== 'value') return { text: '', standing: '' };
    const item = session.standing(part.name)?.item;
    // What asks for something goes before what is settled.
    if (item?.kind === 'cell' && standing !== 'asking')
      standing = standingOfText(item, part.text) || standing;
  }
  return { text: parts.map((part) => part.text).join(''), standing };
}

/** The same in one run of text, for paper and for titles; what is wrong stands in brackets at its place. */
export function saidText(session: Session, text: string): string {
  return said(session, text)
    .map((part) => (part.kind === 'faulty' ? `[${part.text}: ${part.message}]` : part.text))
    .join('');
}
