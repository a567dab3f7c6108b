import { numeral } from '../../engine/index.ts';

/** A pressure inside a message. */
export function pressureText(pascal: number): string {
  return `${numeral(pascal)} Pa`;
}
