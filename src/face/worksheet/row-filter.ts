/** Which rows a person wants to see. A way of looking only: nothing is changed, and figures and sums take all rows. */

export interface Filter {
  /** Rows whose text holds this, capitals or not. */
  readonly text: string;
  /** Rows whose text is one of these; undefined lets all pass. */
  readonly values: ReadonlySet<string> | undefined;
}

export const NO_FILTER: Filter = { text: '', values: undefined };

export function isOpen({ text, values }: Filter): boolean {
  return text.trim() === '' && values === undefined;
}

export function passes({ text, values }: Filter, shown: string): boolean {
  if (values !== undefined && !values.has(shown)) return false;
  return shown.toLowerCase().includes(text.trim().toLowerCase());
}

/** What the filter lets through, in words. */
export function filterText({ text, values }: Filter): string {
  const parts = [];
  if (text.trim() !== '') parts.push(`holds “${text.trim()}”`);
  if (values !== undefined) {
    const list = [...values].map((value) => (value === '' ? 'blank' : value));
    parts.push(
      list.length === 0 ? 'is nothing' : `is ${list.slice(0, 4).join(' or ')}${list.length > 4 ? ' …' : ''}`,
    );
  }
  return parts.join(' and ');
}
