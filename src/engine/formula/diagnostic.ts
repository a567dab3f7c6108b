/** A mistake in a formula, as a value: where it stands, what was found, what was expected, and one way out. */

import { closest } from '../quantity/index.ts';

export interface Span {
  readonly start: number;
  readonly end: number;
}

export interface Diagnostic {
  readonly code: string;
  readonly message: string;
  readonly span: Span;
  /** Both sides of a mismatch, or what stands there. */
  readonly found?: string;
  readonly expected?: string;
  /** One way out, in words. */
  readonly suggestion?: string;
  /** Text that may take the place of `span` to follow the suggestion. */
  readonly replacement?: string;
}

export interface DiagnosticParts {
  /** In the place of the message. */
  readonly message?: string;
  readonly found?: string;
  readonly expected?: string;
  readonly suggestion?: string;
  readonly replacement?: string;
}

export function diagnostic(
  code: string,
  span: Span,
  message: string,
  parts: DiagnosticParts = {},
): Diagnostic {
  return { code, message, span: { start: span.start, end: span.end }, ...parts };
}

export function isDiagnostic(value: unknown): value is Diagnostic {
  return typeof value === 'object' && value !== null && 'code' in value && 'span' in value;
}

/** The message in one line: of a circle it names the way round, without which nobody can break it. */
export function saidInLine({ code, message, found }: Diagnostic): string {
  return code === 'loop' && found !== undefined ? `${message}: ${found}` : message;
}

/** The whole message as text, the place marked under the formula. */
export function renderDiagnostic(text: string, d: Diagnostic): string {
  const start = Math.min(d.span.start, text.length);
  const marks = Math.max(1, Math.min(d.span.end, text.length) - start);
  const lines = [text, `${' '.repeat(start)}${'^'.repeat(marks)} ${d.message}`];
  const rows: [string, string][] = [];
  if (d.found !== undefined) rows.push(['found', d.found]);
  if (d.expected !== undefined) rows.push(['expected', d.expected]);
  if (d.suggestion !== undefined) rows.push(['instead', d.suggestion]);
  for (const [label, words] of rows)
    words.split('\n').forEach((line, i) => lines.push(`  ${(i === 0 ? label : '').padEnd(9)}${line}`));
  return lines.join('\n');
}

/** The nearest of `words`, when near enough to be meant. */
export function nearest(word: string, words: Iterable<string>): string | undefined {
  return closest(word, [...words]);
}
