import fs from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { loadModule } from './module.mjs';

const QUERY = '.json?document';
/** Where the tools for JSON do not look. */
const MADE = '\0document:';
const READ = fileURLToPath(new URL('../../src/workbook/file/read.ts', import.meta.url));

/** @type {Promise<unknown> | undefined} */
let reading;
/** Once for all files. */
async function reader() {
  const module = await (reading ??= loadModule(READ));
  return /** @type {typeof import('../../src/workbook/file/read.ts')} */ (module).readWorkbook;
}

/**
 * A workbook that comes with the program, `templates/NAME.json?document`, as the document that reading its file gives:
 * it is read and checked when the program is built, and not again on every first visit.
 * @returns {import('vite').Plugin}
 */
export function documents() {
  return {
    name: 'documents',
    enforce: 'pre',
    resolveId(source, importer) {
      if (!source.endsWith(QUERY) || importer === undefined) return undefined;
      return MADE + path.resolve(path.dirname(importer), source.slice(0, -QUERY.length));
    },
    async load(id) {
      if (!id.startsWith(MADE)) return undefined;
      const file = `${id.slice(MADE.length)}.json`;
      this.addWatchFile(file);
      return { code: documentCode(await readDocument(file)), map: null };
    },
  };
}

/**
 * The document in a workbook file.
 * @param {string} file
 * @returns {Promise<unknown>}
 */
export async function readDocument(file) {
  const readWorkbook = await reader();
  const opened = readWorkbook(await fs.readFile(file, 'utf8'));
  if ('document' in opened && opened.warnings.length === 0) return opened.document;
  throw new Error(
    `${path.basename(file)} is no sound workbook: ${JSON.stringify('code' in opened ? opened : opened.warnings)}`,
  );
}

/**
 * As a module; a browser reads so long a text sooner than an object that is written out.
 * @param {unknown} document
 */
export function documentCode(document) {
  const text = JSON.stringify(document).replaceAll(/[\\'\u2028\u2029]/gu, (sign) =>
    sign === '\\' || sign === "'" ? `\\${sign}` : `\\u${sign.charCodeAt(0).toString(16)}`,
  );
  return `export default JSON.parse('${text}');\n`;
}
