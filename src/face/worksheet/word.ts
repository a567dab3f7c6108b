/** The beginning of a name that stands before the caret, where a name may stand. */

const BEFORE = /(?:^|[^\p{L}\p{N}_.])([\p{L}][\p{L}\p{N}_]*(?:\.[\p{L}\p{N}_]*)?)$/u;

/** Undefined after a number: there a unit stands, not a name. */
export function wordBefore(text: string, caret: number): { text: string; start: number } | undefined {
  const before = text.slice(0, caret);
  const match = BEFORE.exec(before);
  const word = match?.[1];
  if (word === undefined) return undefined;
  const start = caret - word.length;
  return /[\d.]\s*$/.test(before.slice(0, start)) ? undefined : { text: word, start };
}
