/** How far a true value may be from its result: Student's t at the degrees of freedom of the budget. */
import { studentQuantile, type Budget } from '../engine/index.ts';

/** Stands for infinitely many degrees of freedom: a normal distribution. */
const MANY = 1e10;

/** What a standard uncertainty is multiplied with, so that the true value is at most that much above with `probability`. */
export function coverageFactor({ degreesOfFreedom }: Budget, probability: number): number {
  return studentQuantile(
    probability,
    Number.isFinite(degreesOfFreedom) ? Math.max(1, degreesOfFreedom) : MANY,
  );
}

/** What the true value stays within to one side, with a chance of 95 %, SI. */
export function oneSided95(budget: Budget): number {
  return coverageFactor(budget, 0.95) * budget.uncertainty;
}
