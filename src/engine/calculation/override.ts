/** Rows of a computed column whose value was typed over: read as what the formula gives, once that is known. */
import { parseUnit, unitsOf } from '../quantity/index.ts';
import { fault } from '../formula/library.ts';
import { describeType, type QuantityType } from '../formula/type.ts';
import type { Book } from './book.ts';
import { enter, PLAIN, type Entered } from './entry.ts';
import type { GraphNode } from './node.ts';
import { BLANK, FAULT, VALUE, type Storage } from './storage.ts';

/** Reads all rows that are typed over afresh, since the formula's type may be another now. */
export function enterOverrides(book: Book, node: GraphNode): void {
  const data = node.data;
  if (!data || data.overrides.size === 0) return;
  for (const row of data.overrides) enterOverride(book, node, row, data.entries[row] ?? '');
  book.changedRows.set(node.id, [0, data.rows]);
}

/** Puts what was typed into one row; without a type it waits for `enterOverrides`. */
export function enterOverride(book: Book, node: GraphNode, row: number, text: string): void {
  const data = node.data;
  if (!data || node.type === undefined) return;
  const entered = read(book, node, text);
  for (const field of data.fields) {
    field.values[row] = entered.state === VALUE ? entered.value : NaN;
    field.states[row] = entered.state;
  }
  if (entered.cause) data.causes.set(row, entered.cause);
  else data.causes.delete(row);
  if (entered.plusMinus !== undefined) data.plusMinus.set(row, entered.plusMinus);
  else data.plusMinus.delete(row);
}

function read(book: Book, node: GraphNode, text: string): Entered {
  const { type } = node;
  const { storage } = book;
  switch (type?.kind) {
    case 'quantity': {
      const unit = node.unit === '' ? undefined : parseUnit(node.unit);
      if (unit && !('problem' in unit)) return enter(storage, 'number', text, unit, undefined);
      if (type.dimension === PLAIN.dimension) return enter(storage, 'number', text, PLAIN, undefined);
      return withItsUnit(storage, text, type);
    }
    case 'logical': {
      const word = text.trim().toLowerCase();
      if (word === '') return { value: NaN, state: BLANK };
      if (/^(?:yes|true|no|false)$/.test(word))
        return { value: word === 'yes' || word === 'true' ? 1 : 0, state: VALUE };
      return refused(`"${text.trim()}" is neither yes nor no`, 'type yes or no');
    }
    case 'record':
      return refused(
        'a row of several results cannot be typed over',
        'give one of its fields a column, and type over that',
      );
    default:
      return enter(storage, 'text', text, undefined, node.choices);
  }
}

/** Where the column names no unit, what is typed must bring one. */
function withItsUnit(storage: Storage, text: string, type: QuantityType): Entered {
  const unit = unitsOf(type.dimension, type.reading)[0];
  const free = enter(storage, 'number', text, undefined, undefined);
  const bare = free.state === VALUE && free.unit === undefined;
  if (!bare) return enter(storage, 'number', text, unit, undefined);
  if (free.value === 0 && !type.reading) return free;
  return refused(
    `'${text.trim()}' needs a unit: the formula gives ${describeType(type)}`,
    unit ? `type for instance ${text.trim()} ${unit.text}` : 'type it with its unit',
  );
}

function refused(problem: string, suggestion: string): Entered {
  return { value: NaN, state: FAULT, cause: { fault: fault(problem, suggestion) } };
}
