import { plainWords } from '../../src/engine/index.ts';

/** What a function gave, its words as the engine takes them over: without the marks about their numbers. */
export function plain<T>(given: T): T {
  if (typeof given === 'string') return plainWords(given).text as T;
  if (typeof given !== 'object' || given === null) return given;
  return Object.fromEntries(Object.entries(given).map(([field, value]) => [field, plain(value)])) as T;
}
