/**
 * Steps from each format of the workbook file to the next. A step takes a file of format `to - 1` as parsed JSON
 * and gives one of format `to`. Steps are never changed once released: a frozen file of every format stays in the
 * tests and must open for ever.
 */

export type JsonObject = Readonly<Record<string, unknown>>;

export interface Migration {
  readonly to: number;
  /** What is different, in a sentence. */
  readonly what: string;
  readonly step: (file: JsonObject) => JsonObject;
}

export interface FormatChain {
  /** The format that is written. */
  readonly current: number;
  readonly steps: readonly Migration[];
}

/** Format 1 is the first, so there is no step yet. */
export const FORMATS: FormatChain = { current: 1, steps: [] };

/** What this version writes, and the newest it may write over. */
export const FILE_FORMAT = FORMATS.current;

/** What is wrong with a chain: a mistake of ours, found by the tests. */
export function gapIn(chain: FormatChain): string | undefined {
  for (let to = 2; to <= chain.current; to++) {
    const place = chain.steps[to - 2];
    if (place?.to !== to) return `step ${String(to - 1)} must lead to format ${String(to)}`;
  }
  return chain.steps.length === chain.current - 1 ? undefined : 'there are steps past the current format';
}

/** The file in the current format; each step sees what the one before it made. */
export function migrate(file: JsonObject, from: number, chain: FormatChain): JsonObject {
  return chain.steps.filter(({ to }) => to > from).reduce((current, { step }) => step(current), file);
}
