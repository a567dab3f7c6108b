import type { Diagnostic } from '../view.ts';

/** The text with what a diagnostic suggests in the place of the mistake. */
export function repaired(text: string, { span }: Diagnostic, replacement: string): string {
  return text.slice(0, span.start) + replacement + text.slice(span.end);
}
