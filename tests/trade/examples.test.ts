import { describe, expect, it } from 'vitest';
import { tradeFunctions } from '../../src/trade/index.ts';
import { plain } from './plain.ts';
import { expectRelative } from './closeness.ts';

describe('the example of every trade function', () => {
  it.each(tradeFunctions.map((definition) => [definition.name, definition] as const))(
    '%s gives its result',
    (name, definition) => {
      const { arguments: given, result: expected } = definition.example;
      expect(given, 'arguments').toBeDefined();
      expect(given).toHaveLength(definition.parameters.length);
      const actual: unknown = plain(definition.compute(...((given ?? []) as never[])));
      if (typeof expected === 'number') expectRelative(actual, expected, 1e-9, name);
      else if (typeof expected !== 'object') expect(actual).toBe(expected);
      else {
        expect(Object.keys(actual as object)).toEqual(Object.keys(expected));
        for (const [field, value] of Object.entries(expected)) {
          const found = (actual as Record<string, unknown>)[field];
          if (typeof value === 'number' && !Number.isNaN(value))
            expectRelative(found, value, 1e-9, `${name}.${field}`);
          else expect(found, `${name}.${field}`).toBe(value);
        }
      }
    },
  );

  it('stands under a name of its own, with a source, limits and a record that has the declared fields', () => {
    const names = tradeFunctions.map((definition) => definition.name);
    expect(new Set(names).size).toBe(names.length);
    for (const { name, source, limits, result, example } of tradeFunctions) {
      expect(name).toMatch(/^[a-z][a-z0-9_]*$/);
      expect(source.length, name).toBeGreaterThan(10);
      expect(limits.length, name).toBeGreaterThan(10);
      if (result.kind === 'record') expect(Object.keys(example.result)).toEqual(Object.keys(result.fields));
    }
  });
});
