/**
 * The same engine from the command line: opens a workbook, sets cells and tables, prints what is asked. Exit code 0:
 * everything asked for is a value; 1: something is not; 2: wrong usage or an unreadable file.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { FunctionLibrary } from '../engine/index.ts';
import { finishers, tradeFunctions } from '../trade/index.ts';
import {
  csvFiles,
  foundWords,
  importEdit,
  scenarioEdit,
  solve,
  readWorkbook,
  tablesOf,
  unfinishedFor,
  Workbook,
  type CsvProblem,
  type Edit,
} from '../workbook/index.ts';
import { readOptions, USAGE, type Options } from './options.ts';
import { answer, list, names, printLines, shownNames, unknownName, type Answer } from './report.ts';

type Print = (line: string) => void;

export function main(
  argv: readonly string[],
  print: Print = (line) => process.stdout.write(`${line}\n`),
  complain: Print = (line) => process.stderr.write(`${line}\n`),
): Promise<number> {
  return calc(argv, print, complain);
}

async function calc(argv: readonly string[], print: Print, complain: Print): Promise<number> {
  const options = readOptions(argv);
  if ('problem' in options) {
    complain(options.problem);
    complain(USAGE);
    return 2;
  }
  if (options.help) {
    print(USAGE);
    return 0;
  }
  const workbook = open(options, complain);
  if (!workbook) return 2;
  if (!(await applyAll(workbook, options, complain))) return 2;
  if (options.solve) {
    const solved = solve(workbook, options.solve);
    if (!solved.found) {
      complain(solved.suggestion === undefined ? solved.problem : `${solved.problem} ${solved.suggestion}`);
      return 1;
    }
    if (!apply(workbook, solved.edit, complain)) return 2;
    if (!options.json) print(`${options.solve.input} = ${solved.text}`);
  }
  if (options.list) {
    if (options.json) print(JSON.stringify(list(workbook), null, 2));
    else for (const line of names(workbook)) print(line);
    if (options.get.length === 0) return 0;
  }
  const asked = options.get.length > 0 ? options.get : shownNames(workbook);
  await finish(workbook, asked, complain);
  const answers = new Map<string, Answer | Answer[]>();
  for (const name of asked) {
    const found = answer(workbook, name);
    if (found === undefined) {
      complain(unknownName(workbook, name));
      return 2;
    }
    answers.set(name, found);
  }
  if (options.json) print(JSON.stringify(Object.fromEntries(answers), null, 2));
  else for (const line of printLines(answers)) print(line);
  const told = [...answers].flatMap(([name, found]) =>
    Array.isArray(found)
      ? found.map((one, row) => [`${name}, row ${row + 1}`, one] as const)
      : [[name, found] as const],
  );
  const missing = told.filter(([, { state }]) =>
    options.get.length > 0 ? state !== 'value' : state !== 'value' && state !== 'blank',
  );
  for (const [name, { message, state }] of missing) complain(`${name}: ${message ?? state}`);
  return missing.length === 0 ? 0 : 1;
}

/** Longest time for one answer that is worked out to its end. */
const SECONDS = 30;

/** The solver's WebAssembly, wherever this file was bundled to. */
function solverPlace(): string {
  return createRequire(import.meta.url).resolve('highs/runtime');
}

/** Works out in full what is printed and has only a quick answer yet. */
async function finish(workbook: Workbook, asked: readonly string[], complain: Print): Promise<void> {
  const tried = new Set<string>();
  for (;;) {
    const task = unfinishedFor(workbook, asked).find(({ key }) => !tried.has(key));
    const finisher = task && finishers[task.name];
    if (!finisher) return;
    tried.add(task.key);
    try {
      const answer = await finisher(task.arguments, { seconds: SECONDS, wasm: solverPlace() });
      if (!answer.full)
        complain(`${task.where}: the best answer found in ${SECONDS} s stands; it is not proved`);
      workbook.answer(task.key, answer);
    } catch {
      complain(`${task.where}: the solver could not be run here; the quick answer stands`);
    }
  }
}

function open(options: Options, complain: Print): Workbook | undefined {
  let text: string;
  try {
    text = readFileSync(options.file, 'utf8');
  } catch {
    complain(`cannot read ${options.file}`);
    return undefined;
  }
  const opened = readWorkbook(text);
  if ('code' in opened) {
    complain(`${options.file}, ${opened.where}: ${foundWords(opened)}`);
    complain(opened.suggestion);
    return undefined;
  }
  const workbook = new Workbook(opened.document, new FunctionLibrary(tradeFunctions));
  for (const { where, message } of [...opened.warnings, ...workbook.reservedNames()])
    complain(`${options.file}, ${where}: ${message}`);
  return workbook;
}

async function applyAll(workbook: Workbook, options: Options, complain: Print): Promise<boolean> {
  for (const [name, text] of options.set) {
    const id = cellId(workbook, name);
    if (id === undefined) {
      complain(`no cell is named ${name}; --list prints every name`);
      return false;
    }
    if (!apply(workbook, { kind: 'set-cell', cell: id, patch: { text } }, complain)) return false;
  }
  for (const [name, file] of options.table) {
    const table = [...tablesOf(workbook.document)].find((t) => t.name === name);
    if (!table) {
      complain(`no table is named ${name}; --list prints every name`);
      return false;
    }
    let text: string;
    try {
      text = readFileSync(file, 'utf8');
    } catch {
      complain(`cannot read ${file}`);
      return false;
    }
    const { readCsv } = await csvFiles();
    const { decimalComma } = options;
    const decimalCommaWay = 'If they are decimal points, give --decimal-comma.';
    const reading = readCsv(text, table, { decimalComma, decimalCommaWay });
    for (const problem of reading.problems) complain(`${file}, ${problemText(problem)}`);
    for (const { role, told, text: heading } of reading.matched)
      if (role === 'unknown' && !told && heading.trim() !== '' && reading.rows.length > 0)
        complain(`${file}: the table ${name} takes no column “${heading.slice(0, 60)}”; it was left out`);
    if (reading.lost || reading.rows.length === 0) {
      const why =
        reading.problems.length === 0 ? 'there are no rows in it' : 'the file could not be read whole';
      complain(`${file}: nothing was calculated, because ${why}`);
      return false;
    }
    if (!apply(workbook, importEdit(workbook.document, table, reading, 'replace'), complain)) return false;
  }
  if (options.scenario === undefined) return true;
  const scenario = workbook.document.scenarios?.find((s) => s.name === options.scenario);
  if (scenario) return apply(workbook, scenarioEdit(workbook.document, scenario), complain);
  const known = (workbook.document.scenarios ?? []).map((s) => `"${s.name}"`).join(', ');
  complain(`no scenario is named "${options.scenario}"; the workbook has ${known === '' ? 'none' : known}`);
  return false;
}

function apply(workbook: Workbook, edit: Edit, complain: Print): boolean {
  const done = workbook.apply(edit);
  if (!('problem' in done)) return true;
  complain(done.suggestion === undefined ? done.problem : `${done.problem} ${done.suggestion}`);
  return false;
}

function cellId(workbook: Workbook, name: string): string | undefined {
  for (const sheet of workbook.document.sheets)
    for (const section of sheet.sections)
      for (const item of section.items) if (item.kind === 'cell' && item.name === name) return item.id;
  return undefined;
}

function problemText(problem: CsvProblem): string {
  const where = problem.column === '' ? `line ${problem.line}` : `line ${problem.line}, ${problem.column}`;
  const way = problem.suggestion.charAt(0).toLowerCase() + problem.suggestion.slice(1);
  return `${where}: found ${problem.found}, expected ${problem.expected}; ${way}`;
}
