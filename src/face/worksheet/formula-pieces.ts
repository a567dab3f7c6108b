/** A formula's text cut into names that lead somewhere, plain text, and the place of a mistake. */
import { standingOf, type Outline } from '../outline.ts';

export interface Piece {
  readonly text: string;
  /** A cell or column this names. */
  readonly name?: string;
  /** True where a diagnostic points. */
  readonly marked: boolean;
}

const NAME = /[\p{L}][\p{L}\p{N}_]*(?:\.[\p{L}][\p{L}\p{N}_]*)?/gu;

/** `own`: columns of the table whose formula it is. */
export function piecesOf(
  text: string,
  outline: Outline,
  span?: { start: number; end: number },
  own: readonly string[] = [],
): Piece[] {
  const cuts = new Set([0, text.length]);
  const names = new Map<number, string>();
  for (const match of text.matchAll(NAME)) {
    if (!standingOf(outline, match[0]) && !own.includes(match[0])) continue;
    names.set(match.index, match[0]);
    cuts.add(match.index).add(match.index + match[0].length);
  }
  const marked = span && { start: Math.min(span.start, text.length), end: Math.min(span.end, text.length) };
  if (marked) cuts.add(marked.start).add(marked.end);
  const at = [...cuts].sort((a, b) => a - b);
  const pieces: Piece[] = [];
  let name: { text: string; end: number } | undefined;
  for (let i = 0; i + 1 < at.length; i++) {
    const start = at[i] ?? 0;
    const end = at[i + 1] ?? text.length;
    const begins = names.get(start);
    if (begins !== undefined) name = { text: begins, end: start + begins.length };
    else if (name && start >= name.end) name = undefined;
    pieces.push({
      text: text.slice(start, end),
      marked: marked !== undefined && start >= marked.start && end <= marked.end,
      ...(name ? { name: name.text } : {}),
    });
  }
  return pieces;
}
