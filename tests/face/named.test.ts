import { expect, test } from 'vitest';
import { named } from '../../src/face/named.ts';

const labels = new Map([['tests.indoor_temperature', 'Tests, Indoor']]);
const session = { label: (name: string) => labels.get(name) ?? name };

test('columns in what the engine says are called by their labels', () => {
  expect(named(session, 'tests.indoor_temperature is empty in row 1: type it there')).toBe(
    'Tests, Indoor is empty in row 1: type it there',
  );
  expect(named(session, 'at 20.5 Pa, e.g. other.name')).toBe('at 20.5 Pa, e.g. other.name');
});
