import { defineFunction } from '../../engine/index.ts';

/** The names of a column in one line, each once, in their order. */
export function listed(names: readonly string[]): string {
  return [...new Set(names.filter((name) => name !== ''))].join(', ');
}

export const listedFunction = defineFunction({
  name: 'listed',
  summary: 'Names of a column in one line, each once: listed(where(rooms.room, rooms.height > 9 ft)).',
  source: 'Definition.',
  limits: 'Empty where no row is left.',
  parameters: [{ name: 'names', type: { kind: 'text' }, column: true, summary: 'A column, or rows of it' }],
  result: { kind: 'text' },
  gathers: true,
  example: { arguments: [['bath_1', 'bedroom_3', 'bath_1']], result: 'bath_1, bedroom_3' },
  compute: listed,
});
