/** Formulas by chance: mostly sound, some not, over the names of `random-workbook.ts`. Equal seeds, equal text. */

/** Numbers from 0 up to 1 (mulberry32, a public-domain generator; any other would do). */
export type Chance = () => number;

export function chanceFrom(seed: number): Chance {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export function pick<T>(chance: Chance, list: readonly T[]): T {
  return list[Math.floor(chance() * list.length)]!;
}

export type Kind = 'plain' | 'length' | 'text' | 'logical' | 'record';

/** Names end in nothing of meaning to the engine; here they say what a cell most often holds. */
export const CELLS: Readonly<Record<Kind, readonly string[]>> = {
  plain: ['n1', 'n2', 'n3', 'n4'],
  length: ['l1', 'l2', 'l3'],
  text: ['t1', 't2'],
  logical: ['q1'],
  record: ['r1', 'r2'],
};
export const TABLES = ['walls', 'rooms'] as const;
export const COLUMNS: Readonly<Record<Kind, readonly string[]>> = {
  plain: ['a', 'b', 'n4'],
  length: ['w', 'h'],
  text: ['k', 'm'],
  logical: ['p'],
  record: ['s'],
};
export const KEYS = ['"A"', '"B"', '"C"', '"D"', '"a  b"', '"a b"'] as const;

/** Where a formula stands: in a cell, in a row of a table, or inside a column argument over a table. */
export interface Place {
  readonly table?: string;
  readonly over?: string;
}

export function formula(chance: Chance, kind: Kind, place: Place, depth = 3): string {
  // One in thirty is of another kind, so that mistakes come and go.
  const wanted = chance() < 0.03 ? pick(chance, ['plain', 'length', 'text', 'logical'] as const) : kind;
  if (depth <= 0 || chance() < 0.3) return leaf(chance, wanted, place);
  const inner = (k: Kind): string => formula(chance, k, place, depth - 1);
  const general = chance();
  if (general < 0.1) return `(${inner('logical')} ? ${inner(wanted)} : ${inner(wanted)})`;
  if (general < 0.16 && wanted !== 'record') return `otherwise(${inner(wanted)}, ${inner(wanted)})`;
  if (general < 0.26 && place.over === undefined) return lookup(chance, wanted, place);
  switch (wanted) {
    case 'plain':
      return plain(chance, place, inner);
    case 'length':
      return length(chance, place, inner);
    case 'text':
      return chance() < 0.5 ? leaf(chance, 'text', place) : `label(${inner('plain')})`;
    case 'logical':
      return logical(chance, place, inner);
    case 'record':
      return place.over === undefined
        ? `spread(${over(chance, 'length', place)})`
        : leaf(chance, 'record', place);
  }
}

function leaf(chance: Chance, kind: Kind, place: Place): string {
  const r = chance();
  if (place.over !== undefined && r < 0.7) return `${place.over}.${pick(chance, COLUMNS[kind])}`;
  if (place.table !== undefined && r < 0.6) return pick(chance, COLUMNS[kind]);
  if (r < 0.93 || kind === 'record') return pick(chance, CELLS[kind]);
  switch (kind) {
    case 'plain':
      return pick(chance, ['0', '1', '2', '2.5', '-3']);
    case 'length':
      return pick(chance, ['0 ft', '1 ft', '2 m', '30 in', '-1 ft', '0']);
    case 'text':
      return pick(chance, KEYS);
    case 'logical':
      return pick(chance, ['true', 'false']);
  }
}

/** A column argument. */
function over(chance: Chance, kind: Kind, place: Place): string {
  const table = pick(chance, TABLES);
  const inside: Place = { ...place, over: table };
  const r = chance();
  if (r < 0.4) return `${table}.${pick(chance, COLUMNS[kind])}`;
  const body = formula(chance, kind, inside, 1);
  if (r < 0.7) return `where(${body}, ${formula(chance, 'logical', inside, 1)})`;
  return body;
}

function lookup(chance: Chance, kind: Kind, place: Place): string {
  const table = pick(chance, TABLES);
  return `lookup(${table}.${pick(chance, COLUMNS[kind])}, ${table}.${pick(chance, COLUMNS.text)}, ${leaf(chance, 'text', place)})`;
}

function plain(chance: Chance, place: Place, inner: (k: Kind) => string): string {
  switch (Math.floor(chance() * 14)) {
    case 0:
      return `${inner('plain')} + ${inner('plain')}`;
    case 1:
      return `(${inner('plain')} - ${inner('plain')})`;
    case 2:
      return `(${inner('plain')}) * (${inner('plain')})`;
    case 3:
      return `(${inner('plain')}) / (${inner('plain')})`;
    case 4:
      return `(${inner('length')}) / (${inner('length')})`;
    case 5:
      return `(${inner('plain')}) ^ ${pick(chance, ['2', '3', '0', '-1', '0.5'])}`;
    case 6:
      return `-(${inner('plain')})`;
    case 7:
      return `${pick(chance, ['abs', 'sqrt', 'exp', 'log', 'round', 'floor', 'ceil', 'sin'])}(${inner('plain')})`;
    case 8:
      return `${pick(chance, ['min', 'max'])}(${inner('plain')}, ${inner('plain')})`;
    case 9:
      return place.over === undefined
        ? `${pick(chance, ['sum', 'full_sum', 'mean', 'min', 'max'])}(${over(chance, 'plain', place)})`
        : inner('plain');
    case 10:
      return place.over === undefined
        ? `count(${over(chance, pick(chance, ['plain', 'length', 'text', 'logical'] as const), place)})`
        : inner('plain');
    case 11:
      return `${leaf(chance, 'record', place)}.ratio`;
    case 12:
      return `halve(${inner('plain')})`;
    default:
      return `${inner('plain')} + 1`;
  }
}

function length(chance: Chance, place: Place, inner: (k: Kind) => string): string {
  switch (Math.floor(chance() * 8)) {
    case 0:
      return `${inner('length')} + ${inner('length')}`;
    case 1:
      return `(${inner('length')} - ${inner('length')})`;
    case 2:
      return `(${inner('length')}) * (${inner('plain')})`;
    case 3:
      return `(${inner('length')}) / (${inner('plain')})`;
    case 4:
      return `sqrt((${inner('length')}) * (${inner('length')}))`;
    case 5:
      return place.over === undefined
        ? `${pick(chance, ['sum', 'full_sum', 'mean', 'min', 'max'])}(${over(chance, 'length', place)})`
        : inner('length');
    case 6:
      return `${leaf(chance, 'record', place)}.${pick(chance, ['least', 'most'])}`;
    default:
      return `max(${inner('length')}, 1 ft, ${inner('length')})`;
  }
}

function logical(chance: Chance, place: Place, inner: (k: Kind) => string): string {
  switch (Math.floor(chance() * 8)) {
    case 0:
    case 1:
      return `(${inner('plain')} ${pick(chance, ['<', '<=', '>', '>=', '==', '!='])} ${inner('plain')})`;
    case 2:
      return `(${inner('length')} ${pick(chance, ['<', '>='])} ${inner('length')})`;
    case 3:
      return `(${leaf(chance, 'text', place)} ${pick(chance, ['==', '!='])} ${leaf(chance, 'text', place)})`;
    case 4:
      return `(${inner('logical')} ${pick(chance, ['and', 'or'])} ${inner('logical')})`;
    case 5:
      return `not (${inner('logical')})`;
    default:
      return `is_blank(${inner(pick(chance, ['plain', 'length', 'text'] as const))})`;
  }
}
