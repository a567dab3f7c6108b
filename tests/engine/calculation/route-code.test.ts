/** The code of routes comes late; nobody waits for it. */
import { afterEach, expect, test, vi } from 'vitest';

afterEach(() => vi.restoreAllMocks());

test('edits that want a route go the general way until its code is there', async () => {
  // Modules of their own: a test before this one in the same process may have sent for the code.
  vi.resetModules();
  const { routeCode, routesAtHand } = await import('../../../src/engine/calculation/route-code.ts');
  const { Engine, FunctionLibrary } = await import('../../../src/engine/index.ts');
  const made = vi.spyOn(WebAssembly, 'Module');
  const engine = new Engine(new FunctionLibrary([]));
  const cell = (name: string, text: string): void => engine.defineCell({ name, type: 'number', text });
  cell('source', '1');
  for (let k = 0; k < 300; k++) cell(`c${k}`, `= ${k === 0 ? '0' : `c${k - 1}`} + source`);
  engine.recalculate();
  const follow = (value: number): void => {
    cell('source', String(value));
    engine.recalculate();
    expect(engine.read('c299')).toMatchObject({ value: 300 * value });
  };
  for (let k = 2; k < 12; k++) follow(k);
  expect(routeCode()).toBeUndefined();
  expect(made).not.toHaveBeenCalled();
  await routesAtHand();
  follow(12);
  follow(13);
  expect(made).toHaveBeenCalledTimes(1);
});
