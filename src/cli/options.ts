/** What may stand on the command line. */
import type { Question } from '../workbook/index.ts';

export const USAGE = `usage: npm run -s calc -- FILE [--set NAME=TEXT]… [--table NAME=FILE.csv]… [--get NAME]… [--scenario NAME]
       [--solve QUESTION] [--decimal-comma] [--list] [--json]

  --set NAME=TEXT      types TEXT into the cell NAME: a value with its unit ("500 m3"), or a formula
  --table NAME=FILE    puts the rows of a CSV file in the table NAME, in place of those it holds
  --get NAME           prints this cell, record.field or table.column; without it every cell is printed
  --scenario NAME      tries the values of this scenario of the workbook
  --solve QUESTION     finds the value of a typed cell, or entry of a table, that makes a result reach a target, and
                       goes on with it: "ach50 = 1.0 by building_volume from 400 m3 to 900 m3"
  --decimal-comma      reads the commas in numbers of the CSV files as decimal points
  --list               prints every name with its label, unit and kind
  --json               prints JSON

exit code: 0 all asked cells are values, 1 some are not, 2 wrong usage or an unreadable file`;

export interface Options {
  readonly file: string;
  readonly set: readonly (readonly [string, string])[];
  readonly table: readonly (readonly [string, string])[];
  readonly get: readonly string[];
  readonly scenario: string | undefined;
  readonly solve: Question | undefined;
  readonly decimalComma: boolean;
  readonly list: boolean;
  readonly json: boolean;
  readonly help: boolean;
}

const WITH_VALUE: ReadonlySet<string> = new Set(['--set', '--table', '--get', '--scenario', '--solve']);

export function readOptions(argv: readonly string[]): Options | { readonly problem: string } {
  const files: string[] = [];
  const set: [string, string][] = [];
  const table: [string, string][] = [];
  const get: string[] = [];
  let scenario: string | undefined;
  let solve: Question | undefined;
  let decimalComma = false;
  let list = false;
  let json = false;
  let help = false;
  for (let i = 0; i < argv.length; i++) {
    const given = argv[i] ?? '';
    const equals = given.startsWith('--') ? given.indexOf('=') : -1;
    const joined = equals > 0 && WITH_VALUE.has(given.slice(0, equals));
    const option = joined ? given.slice(0, equals) : given;
    if (WITH_VALUE.has(option)) {
      const value = joined ? given.slice(equals + 1) : argv[++i];
      if (value === undefined) return { problem: `${option} needs a value after it` };
      if (option === '--get') {
        get.push(value);
        continue;
      }
      if (option === '--scenario') {
        scenario = value;
        continue;
      }
      if (option === '--solve') {
        solve = readQuestion(value);
        if (!solve)
          return { problem: `--solve needs "RESULT = TARGET by INPUT from A to B", found "${value}"` };
        continue;
      }
      const at = value.indexOf('=');
      if (at <= 0) return { problem: `${option} needs NAME=…, found "${value}"` };
      (option === '--set' ? set : table).push([value.slice(0, at).trim(), value.slice(at + 1).trim()]);
    } else if (given === '--decimal-comma') decimalComma = true;
    else if (given === '--list') list = true;
    else if (given === '--json') json = true;
    else if (given === '--help' || given === '-h') help = true;
    else if (given.startsWith('--')) return { problem: `there is no option ${given}` };
    else files.push(given);
  }
  const [file, ...more] = files;
  if (more.length > 0) return { problem: `one workbook at a time; found ${files.join(', ')}` };
  if (file === undefined && !help) return { problem: 'the workbook file is missing' };
  return { file: file ?? '', set, table, get, scenario, solve, decimalComma, list, json, help };
}

function readQuestion(text: string): Question | undefined {
  const found = /^\s*(\S+)\s*=\s*(.+?)\s+by\s+(\S+)\s+from\s+(.+?)\s+to\s+(.+?)\s*$/.exec(text);
  if (!found) return undefined;
  const [, result = '', target = '', input = '', from = '', to = ''] = found;
  return { result, target, input, from, to };
}
