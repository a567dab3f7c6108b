/** What is wrong with a place in a file or a pasted block, in words that follow its place on the screen. */
import { localLimits } from '../locale.ts';
import type { CsvProblem, Table } from '../../workbook/index.ts';

/** `line`: what the person calls the line of the problem. */
export function problemText(problem: CsvProblem, table: Pick<Table, 'columns'>, line: string): string {
  const column = table.columns.find(({ name }) => name === problem.column);
  const where = [line, column?.label || problem.column].filter((part) => part !== '').join(', ');
  const suggestion = problem.suggestion.charAt(0).toUpperCase() + problem.suggestion.slice(1);
  return localLimits(`${where}: ${problem.found}; expected ${problem.expected}. ${suggestion}`);
}
