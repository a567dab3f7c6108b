/** Which rows a person wants to see. A way of looking only: nothing is changed, and figures and sums take all rows. */
import { localText } from '../locale.ts';
import { hasLimits, within, type Limits } from './number-limits.ts';

export interface Filter {
  /** Rows whose text holds this, capitals or not. */
  readonly text: string;
  /** Rows whose text is one of these; undefined lets all pass. */
  readonly values: ReadonlySet<string> | undefined;
  /** Rows whose number is no less than this, and no more than that, as they were typed; empty lets all pass. */
  readonly least: string;
  readonly most: string;
}

export const NO_FILTER: Filter = { text: '', values: undefined, least: '', most: '' };

export function isOpen({ text, values, least, most }: Filter): boolean {
  return text.trim() === '' && values === undefined && least === '' && most === '';
}

/** What is asked of one column, and what stands there. */
export interface Asked {
  readonly filter: Filter;
  readonly limits: Limits;
  readonly text: (row: number) => string;
  readonly number: (row: number) => number | undefined;
}

export interface Found {
  readonly rows: number[];
  /** Rows left out for nothing else than that no number stands where one is asked for. */
  readonly blank: number;
}

/** The rows to be seen; `always` are those that stay whatever is asked. */
export function letThrough(
  rows: readonly number[],
  asked: readonly Asked[],
  always: (row: number) => boolean,
): Found {
  const wordy = asked.filter(({ filter }) => filter.text.trim() !== '' || filter.values !== undefined);
  const limited = asked.filter(({ limits }) => hasLimits(limits));
  let blank = 0;
  const found = rows.filter((row) => {
    if (always(row)) return true;
    if (!wordy.every(({ filter, text }) => passes(filter, text(row)))) return false;
    let without = false;
    for (const { limits, number } of limited) {
      const value = number(row);
      if (value === undefined) without = true;
      else if (!within(limits, value)) return false;
    }
    if (without) blank += 1;
    return !without;
  });
  return { rows: found, blank };
}

export function passes({ text, values }: Pick<Filter, 'text' | 'values'>, shown: string): boolean {
  if (values !== undefined && !values.has(shown)) return false;
  return shown.toLowerCase().includes(text.trim().toLowerCase());
}

/** What the filter lets through, in words; of the limits those that can be read. */
export function filterText({ text, values, least, most }: Filter, limits: Limits): string {
  const parts = [];
  const from = limits.least === undefined ? '' : said(least);
  const to = limits.most === undefined ? '' : said(most);
  if (from !== '' && to !== '') parts.push(`is between ${from} and ${to}`);
  else if (from !== '') parts.push(`is at least ${from}`);
  else if (to !== '') parts.push(`is at most ${to}`);
  if (text.trim() !== '') parts.push(`holds “${text.trim()}”`);
  if (values !== undefined) {
    const list = [...values].map((value) => (value === '' ? 'blank' : value));
    parts.push(
      list.length === 0 ? 'is nothing' : `is ${list.slice(0, 4).join(' or ')}${list.length > 4 ? ' …' : ''}`,
    );
  }
  return parts.join(' and ');
}

function said(limit: string): string {
  return localText(limit).replace(/^-/u, '−');
}
