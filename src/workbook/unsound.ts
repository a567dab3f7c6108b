/** Why a document, or a part of one, is not sound. */
import { grouped } from './limits.ts';

export type UnsoundCode = 'bad-name' | 'duplicate-name' | 'bad-id' | 'duplicate-id' | 'limit' | 'wrong-shape';

export interface Unsound {
  readonly code: UnsoundCode;
  /** In words: `table readings, column flow`. */
  readonly where: string;
  readonly found: string;
  readonly expected: string;
  readonly suggestion: string;
}

export function limitPassed(where: string, what: string, count: number, most: number): Unsound | undefined {
  if (count <= most) return undefined;
  return {
    code: 'limit',
    where,
    found: `${grouped(count)} ${what}`,
    expected: `at most ${grouped(most)} ${what}`,
    suggestion:
      what === 'characters' ? 'Shorten it, or split it over several cells.' : 'Split it into several.',
  };
}
