/**
 * What kind of value fits at the end of a formula's beginning: what the cell is to hold; in a sum or a comparison what
 * stands on its other side; in a product what is still missing; in a call what its definition says.
 */
import { DIMENSIONLESS, divide, parseUnit, type FunctionLibrary, type Type } from '../engine/index.ts';

/** A kind that names can be held against; a dimension says no more than what it is made of. */
export type Wanted = number | 'text' | 'logical';

export interface Kinds {
  readonly library: FunctionLibrary;
  /** What a part of the formula yields, where that can be told. */
  typeOf(text: string): Type | undefined;
}

interface Open {
  /** Place of the bracket. */
  readonly at: number;
  /** The function before it; empty where it only groups. */
  readonly call: string;
  argument: number;
  /** Where the argument begins. */
  from: number;
}

/** `whole`: what the formula is to yield. */
export function wantedAt(before: string, whole: Wanted | undefined, kinds: Kinds): Wanted | undefined {
  const text = before.replace(/^\s*=/u, '');
  const inner = innermost(text);
  if (!inner) return inChoice(text, whole, kinds);
  const { at, call, argument, from } = inner;
  const goal =
    call === '' ? wantedAt(text.slice(0, at), whole, kinds) : ofParameter(kinds.library, call, argument);
  return inChoice(text.slice(from), goal, kinds);
}

export function wantedBy(type: Type | undefined): Wanted | undefined {
  if (type?.kind === 'quantity') return type.dimension;
  return type?.kind === 'text' || type?.kind === 'logical' ? type.kind : undefined;
}

function ofParameter(library: FunctionLibrary, call: string, argument: number): Wanted | undefined {
  const type = library.get(call)?.parameters[argument]?.type;
  if (type?.kind === 'text' || type?.kind === 'logical') return type.kind;
  if (type?.kind !== 'quantity') return undefined;
  const unit = parseUnit(type.unit);
  return 'problem' in unit ? undefined : unit.dimension;
}

/** Behind a condition either branch is what the whole is; of the condition itself nothing is known. */
function inChoice(text: string, goal: Wanted | undefined, kinds: Kinds): Wanted | undefined {
  const [, last] = splitAtLast(text, /[?:]|\b(?:and|or|not)\b/u);
  const [left, right] = splitAtLast(last, /[<>!=]=?/u);
  return left === undefined ? inSum(last, goal, kinds) : inSum(right, wantedBy(kinds.typeOf(left)), kinds);
}

function inSum(text: string, goal: Wanted | undefined, kinds: Kinds): Wanted | undefined {
  const [left, term] = splitAtLast(text, /(?<=[\p{L}\p{N}_)"'′″%²³]\s*)[-+−]/u);
  if (left === undefined) return inProduct(term, goal, kinds);
  return inProduct(term, wantedBy(kinds.typeOf(left)) ?? goal, kinds);
}

function inProduct(term: string, goal: Wanted | undefined, kinds: Kinds): Wanted | undefined {
  const begun = /^[-+−\s]*(.*?)\s*([*/^])\s*$/su.exec(term);
  if (!begun) return goal;
  const [, factor = '', sign] = begun;
  const known = wantedBy(kinds.typeOf(factor));
  if (sign === '^') return DIMENSIONLESS;
  if (typeof goal !== 'number' || typeof known !== 'number') return undefined;
  return sign === '*' ? divide(goal, known) : divide(known, goal);
}

function innermost(text: string): Open | undefined {
  const open: Open[] = [];
  for (const { sign, at } of outsideTexts(text)) {
    const last = open.at(-1);
    if (sign === '(') {
      const call = /([\p{L}][\p{L}\p{N}_]*)\s*$/u.exec(text.slice(0, at))?.[1] ?? '';
      open.push({ at, call: /^(?:and|or|not)$/u.test(call) ? '' : call, argument: 0, from: at + 1 });
    } else if (sign === ')') open.pop();
    else if (sign === ',' && last) {
      last.argument += 1;
      last.from = at + 1;
    }
  }
  return open.at(-1);
}

/** What stands before and behind the last such sign that is in no bracket; undefined before where there is none. */
function splitAtLast(text: string, sign: RegExp): [before: string | undefined, behind: string] {
  let depth = 0;
  const plain = Array.from({ length: text.length }, () => '\0');
  for (const { sign: each, at } of outsideTexts(text)) {
    if (each === '(') depth += 1;
    if (depth === 0) plain[at] = each;
    if (each === ')') {
      depth -= 1;
      if (depth === 0) plain[at] = each;
    }
  }
  const found = [...plain.join('').matchAll(new RegExp(sign, 'gu'))].at(-1);
  if (!found) return [undefined, text];
  return [text.slice(0, found.index), text.slice(found.index + found[0].length)];
}

/** The signs of a formula, those in quoted texts left out. Behind a number a quote is the sign of inches. */
function* outsideTexts(formula: string): Generator<{ sign: string; at: number }> {
  for (let at = 0; at < formula.length; at++) {
    const sign = formula.charAt(at);
    if (sign === '"' && !/[\d½¼¾⅛⅜⅝⅞]\s*$/u.test(formula.slice(0, at))) {
      const end = formula.indexOf('"', at + 1);
      if (end < 0) return;
      at = end;
    } else yield { sign, at };
  }
}
