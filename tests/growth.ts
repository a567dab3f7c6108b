/** Laws of growth: they hold on a slow machine as on a fast one, where a limit in seconds does not. */
import { expect } from 'vitest';

/** Microseconds; less than this the clock of the processor does not tell well. */
const LEAST = 10_000;

/** Microseconds of the processor. */
function work(run: () => void): number {
  const start = process.cpuUsage();
  run();
  return process.cpuUsage(start).user;
}

/** Ten times the size takes no more than forty times the work: growth in proportion takes ten, with the square a hundred. */
export function expectTenfold(run: (size: number) => void, size: number): void {
  run(size); // So that both are measured with the code at hand.
  const few = Math.max(
    LEAST,
    work(() => {
      run(size);
    }),
  );
  const many = work(() => {
    run(10 * size);
  });
  expect(many, 'microseconds for ten times the size').toBeLessThan(40 * few);
}
