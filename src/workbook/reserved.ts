/** Words that formulas read in another way than as a name. */
import { BUILTINS, isUnitSymbol, parseUnit, type FunctionLibrary } from '../engine/index.ts';
import type { WorkbookDocument } from './document.ts';
import type { FileWarning } from './file/file-error.ts';
import { itemsOf } from './locate.ts';

const GRAMMAR_WORDS: ReadonlySet<string> = new Set(['to', 'in', 'mod', 'xor', 'pi']);
/** Who writes them with capitals means the same, and the grammar says so. */
const IN_ANY_CASE: ReadonlySet<string> = new Set(['if', 'and', 'or', 'not', 'true', 'false']);

/** Says why a word cannot be a name, or nothing. */
export function reservedWord(word: string, library: FunctionLibrary): string | undefined {
  if (GRAMMAR_WORDS.has(word) || IN_ANY_CASE.has(word.toLowerCase()))
    return `“${word}” is a word of the formula language`;
  if (BUILTINS.has(word) || library.get(word)) return `“${word}” is a function`;
  if (!isUnitSymbol(word)) return undefined;
  const unit = parseUnit(word);
  return `“${word}” is a unit${'problem' in unit ? '' : ` (${unit.symbol})`}`;
}

/**
 * Names that a file brings although no name may be so: it was made elsewhere, or before the word was taken. They stay
 * as they are, since the formulas may read them rightly all the same.
 */
export function reservedNames(document: WorkbookDocument, library: FunctionLibrary): FileWarning[] {
  return [...itemsOf(document)].flatMap((item) => {
    if (item.kind !== 'cell' && item.kind !== 'table') return [];
    const own = warning(`${item.kind} ${item.name}`, item.name, library);
    const columns = item.kind === 'table' ? item.columns : [];
    return [...own, ...columns.flatMap(({ name }) => warning(`column ${item.name}.${name}`, name, library))];
  });
}

function warning(where: string, name: string, library: FunctionLibrary): FileWarning[] {
  const why = reservedWord(name, library);
  if (why === undefined) return [];
  const message = `${why}, and formulas may read it as that. Rename it, ${name}_value say.`;
  return [{ where, message }];
}
