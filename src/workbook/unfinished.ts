/** Answers that take seconds, as far as some results rest on them. */
import type { DeferredTask } from '../engine/index.ts';
import type { Workbook } from './workbook.ts';

/** What is still to be finished before these cells and columns say what they will say in the end. */
export function unfinishedFor(workbook: Workbook, names: readonly string[]): DeferredTask[] {
  const wanted = workbook.unfinished();
  if (wanted.length === 0) return [];
  const reached = new Set(names);
  for (const name of reached) {
    const [first = '', second] = name.split('.');
    // A record's field rests on its cell, that of a column on the column.
    if (second !== undefined) reached.add(first);
    for (const from of workbook.precedents(name)) reached.add(from);
  }
  return wanted.filter((task) => reached.has(task.where));
}
