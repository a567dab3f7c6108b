import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import vm from 'node:vm';
import { expect, test } from 'vitest';
import { readWorkbook } from '../../src/workbook/index.ts';
import { documentCode, readDocument } from './documents.mjs';

const TEMPLATES = path.resolve('templates');

/** What a page gets from the module. */
function made(code: string): unknown {
  const value: unknown = vm.runInThisContext(code.replace('export default ', ''));
  return value;
}

test.each(fs.readdirSync(TEMPLATES).filter((name) => name.endsWith('.json')))(
  '%s is the same document as its file',
  async (name) => {
    const file = path.join(TEMPLATES, name);
    const opened = readWorkbook(fs.readFileSync(file, 'utf8'));
    expect(opened).toEqual({ document: made(documentCode(await readDocument(file))), warnings: [] });
  },
);

test('any sign of a text comes through', () => {
  const document = { title: 'It\'s 5\u2032 3\u2033, \\ "so" \n \u2028 \u2029 \u00b1 \ud83c\udfe0' };
  expect(made(documentCode(document))).toEqual(document);
});

test('a file that is no sound workbook stops the build, with what is wrong in it', async () => {
  const file = path.join(fs.mkdtempSync(path.join(os.tmpdir(), 'documents-')), 'odd.json');
  fs.writeFileSync(file, '{ "app": "close-in", "format": 1, "title": "Odd", "sheets": 3 }');
  await expect(readDocument(file)).rejects.toThrow(/^odd\.json is no sound workbook: .*sheets/);
});
