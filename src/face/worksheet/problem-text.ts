/** What is wrong with a place in a file or a pasted block, in one sentence. */
import type { CsvProblem } from '../../workbook/index.ts';

export function problemText(problem: CsvProblem, word: 'line' | 'row'): string {
  const where = [`${word} ${problem.line}`, problem.column].filter((part) => part !== '').join(', ');
  return `${where}: found ${problem.found}, expected ${problem.expected}. ${problem.suggestion}`;
}
