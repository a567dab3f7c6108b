/**
 * Opens a workbook file: size, nesting and keys, version, migrations, shape, names. Whatever is wrong comes back
 * as one FileError that says where, what was found, what was expected and what to do; nothing throws.
 */
import * as v from 'valibot';
import type { WorkbookDocument } from '../document.ts';
import { LIMITS, grouped } from '../limits.ts';
import { namesOf, tablesOf } from '../locate.ts';
import { emptyRegister, enter } from '../soundness.ts';
import { documentFrom } from './assemble.ts';
import { placeInFile, type FileError, type FileWarning } from './file-error.ts';
import { APP, FileShape } from './format.ts';
import { inspectJson, lineAndCharacter } from './json.ts';
import { FORMATS, migrate, type FormatChain, type JsonObject } from './migrations.ts';
import { unknownFields } from './unknown-fields.ts';

export type { FileError, FileErrorCode, FileWarning } from './file-error.ts';

export interface Opened {
  readonly document: WorkbookDocument;
  readonly warnings: readonly FileWarning[];
  /** Present when the workbook must not be written over, and why. */
  readonly readOnly?: string;
}

export function readWorkbook(text: string, chain: FormatChain = FORMATS): Opened | FileError {
  const parsed = parsedJson(text);
  if ('code' in parsed) return parsed;
  const version = versionOf(parsed.value);
  if (typeof version !== 'object') return opened(parsed.value as JsonObject, version, chain);
  return version;
}

/** An object and not a bare value, so that a file holding a `code` of its own is not taken for an error. */
function parsedJson(text: string): { readonly value: unknown } | FileError {
  if (text.length > LIMITS.fileCharacters) {
    return {
      code: 'too-large',
      where: 'the file',
      found: `${grouped(text.length)} characters`,
      expected: `at most ${grouped(LIMITS.fileCharacters)}`,
      suggestion: 'Split the job over several workbooks.',
    };
  }
  const json = text.startsWith('\ufeff') ? text.slice(1) : text;
  const other = otherKind(json);
  if (other) return other;
  const problem = inspectJson(json, LIMITS.jsonDepth);
  if (!problem) return { value: JSON.parse(json) as unknown };
  const suggestions = {
    'not-json': 'Take an unchanged copy of the file, or mend this place in a text editor.',
    'too-deep': 'This is no workbook file: choose another.',
    'duplicate-key': 'Take one of the two out in a text editor.',
  };
  return {
    code: problem.code,
    where: lineAndCharacter(json, problem.at),
    found: problem.found,
    expected: problem.expected,
    suggestion: suggestions[problem.code],
  };
}

/** A table, a photo, a letter: not a workbook that was damaged on the way. */
function otherKind(text: string): FileError | undefined {
  const start = text.trimStart().slice(0, 40);
  if (/^[{[]/u.test(start)) return undefined;
  const [line = ''] = start.split(/[\r\n]/u);
  // eslint-disable-next-line no-control-regex -- what no text holds
  const isText = !/[\u0000-\u0008\ufffd]/u.test(line);
  return {
    code: 'not-a-workbook',
    where: 'the file',
    found: line === '' ? 'nothing' : isText ? `a text that begins with “${line}”` : 'no text',
    expected: 'a workbook saved by Close-in',
    suggestion:
      'Choose another file. A CSV file goes in at the table it belongs to: “Rows”, then “Import CSV…”.',
  };
}

function versionOf(file: unknown): number | FileError {
  const isObject = typeof file === 'object' && file !== null && !Array.isArray(file);
  const { app, format } = isObject ? (file as JsonObject) : {};
  if (app !== APP) {
    return {
      code: 'not-a-workbook',
      where: 'the file',
      found: app === undefined ? 'no "app" field' : `"app": ${shown(app)}`,
      expected: `"app": "${APP}"`,
      suggestion: 'This is another kind of file: choose a workbook saved by Close-in.',
    };
  }
  if (typeof format !== 'number' || !Number.isInteger(format) || format < 1) {
    return {
      code: 'wrong-shape',
      where: 'format',
      found: format === undefined ? 'no "format" field' : shown(format),
      expected: 'a whole number, 1 or more',
      suggestion: 'Take an unchanged copy of the file.',
    };
  }
  return format;
}

function opened(file: JsonObject, format: number, chain: FormatChain): Opened | FileError {
  if (format <= chain.current) {
    const current = migrated(file, format, chain);
    return 'code' in current ? current : inCurrentFormat(current.file);
  }
  const newer = `a workbook of format ${String(format)}`;
  const known = `format ${String(chain.current)} or older`;
  const result = inCurrentFormat(file);
  if ('code' in result) {
    return {
      code: 'newer-format',
      where: result.where,
      found: newer,
      expected: known,
      suggestion: 'It was saved by a newer Close-in: load this page again to get that version.',
    };
  }
  const readOnly = `This is ${newer}; this version knows ${known}. It is open for reading only, and parts that are new may be missing.`;
  return { ...result, readOnly };
}

/** A step may stumble over a file that was never sound in its old format; that is the file's fault. */
function migrated(
  file: JsonObject,
  format: number,
  chain: FormatChain,
): { readonly file: JsonObject } | FileError {
  try {
    return { file: migrate(file, format, chain) };
  } catch {
    return {
      code: 'wrong-shape',
      where: 'the file',
      found: `a file that does not hold what format ${String(format)} asks for`,
      expected: `a sound workbook of format ${String(format)}`,
      suggestion: 'Take an unchanged copy of the file.',
    };
  }
}

function inCurrentFormat(file: JsonObject): Opened | FileError {
  const shape = v.safeParse(FileShape, file, { abortEarly: true });
  if (!shape.success) return shapeError(file, shape.issues[0]);
  const assembled = documentFrom(shape.output);
  if ('code' in assembled) return assembled;
  const { document } = assembled;
  const unsound = enter(emptyRegister(), { sheets: document.sheets });
  if (unsound) return unsound;
  return { document, warnings: [...unknownFields(file), ...assembled.warnings, ...leadingNowhere(document)] };
}

const SHAPES: ReadonlyMap<string, string> = new Map([
  ['undefined', 'nothing'],
  ['Array', 'a list'],
  ['Object', 'an object in { }'],
]);

function shapeError(file: JsonObject, issue: v.BaseIssue<unknown>): FileError {
  const keys = (issue.path ?? []).map(({ key }) => key as string | number);
  const missing = issue.type === 'object' && issue.received === 'undefined';
  return {
    code: 'wrong-shape',
    where: placeInFile(file, missing ? keys.slice(0, -1) : keys),
    found: missing
      ? `no ${issue.expected ?? ''} field`
      : (SHAPES.get(issue.received) ?? issue.received.slice(0, 80)),
    expected: missing ? `a ${issue.expected ?? ''} field` : issue.message,
    suggestion: 'Mend this place in a text editor, or take an unchanged copy of the file.',
  };
}

function shown(value: unknown): string {
  return JSON.stringify(value).slice(0, 60);
}

/** References by name that formulas do not check. They stay as they are: the thing may be made again. */
function leadingNowhere(document: WorkbookDocument): FileWarning[] {
  const warnings: FileWarning[] = [];
  const names = namesOf(document);
  const lookFor = (where: string, name: string, found: boolean) => {
    if (!found) warnings.push({ where, message: `There is no ${name} in the workbook.` });
  };
  const { says: _text, ...roles } = document.titleBlock ?? {};
  for (const [role, name] of Object.entries(roles)) {
    lookFor(`titleBlock, ${role}`, `cell “${name}”`, names.get(name)?.kind === 'cell');
  }
  for (const table of tablesOf(document)) {
    const has = (column: string) => table.columns.some(({ name }) => name === column);
    const where = `table ${table.name}`;
    const { reasonColumn, shownBy } = table;
    if (reasonColumn !== undefined) {
      lookFor(`${where}, reasonColumn`, `column “${table.name}.${reasonColumn}”`, has(reasonColumn));
    }
    if (shownBy) {
      lookFor(`${where}, shownBy`, `column “${table.name}.${shownBy.column}”`, has(shownBy.column));
      lookFor(`${where}, shownBy`, `cell “${shownBy.cell}”`, names.get(shownBy.cell)?.kind === 'cell');
    }
  }
  return warnings;
}
