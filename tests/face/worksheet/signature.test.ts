import { expect, test } from 'vitest';
import { FunctionLibrary } from '../../../src/engine/index.ts';
import { BUILTINS } from '../../../src/engine/formula/builtins.ts';
import { signatureOf } from '../../../src/face/worksheet/signature.ts';
import { tradeFunctions } from '../../../src/trade/index.ts';

const library = new FunctionLibrary(tradeFunctions);

test('every function of the trade says what each of its arguments is', () => {
  for (const definition of library.all()) {
    for (const [argument, parameter] of definition.parameters.entries()) {
      const found = signatureOf(library, { name: definition.name, argument });
      expect(found?.parameters[found.current], definition.name).toBe(parameter.name);
      expect(found?.about, definition.name).toContain(parameter.summary);
    }
    const past = signatureOf(library, { name: definition.name, argument: definition.parameters.length });
    expect(past?.current).toBe(-1);
  }
});

test('every builtin shows the argument being typed, and when there are too many', () => {
  for (const [name, { least, most }] of BUILTINS) {
    for (let argument = 0; argument < least; argument++) {
      const found = signatureOf(library, { name, argument });
      expect(found?.parameters[found.current], name).toBeDefined();
    }
    expect(signatureOf(library, { name, argument: most })?.current, name).toBe(-1);
  }
});

test('a name that is no function has no signature', () => {
  expect(signatureOf(library, { name: 'q50', argument: 0 })).toBeUndefined();
});
