/** Names of cells, tables and columns: what may be one, and what to type instead. */
import { LIMITS } from './limits.ts';

export interface NameProblem {
  readonly problem: string;
  readonly suggestion?: string;
}

/**
 * ASCII letters, Latin-1 letters, Greek letters; no ª º µ, and no Greek letter that is drawn like a Latin one
 * (capitals ΑΒΕΖΗΙΚΜΝΟΡΤΥΧ, small ιουν), so two names that look equal are equal.
 */
const LETTER = 'A-Za-z\u00c0-\u00d6\u00d8-\u00f6\u00f8-\u00ffΓΔΘΛΞΠΣΦΨΩα-θκ-μξπ-τφ-ω';
const NAME = new RegExp(`^[${LETTER}][${LETTER}0-9_]*$`);
const NAME_CHARACTER = new RegExp(`[${LETTER}0-9_]`);

const LOOK_ALIKE = new Map([
  ...pairs('ΑΒΕΖΗΙΚΜΝΟΡΤΥΧιονυ', 'ABEZHIKMNOPTYXiovu'),
  ...pairs('АВЕЅІЈКМНОРСТХаесорхуіјѕ', 'ABESIJKMHOPCTXaecopxyijs'),
  ...pairs('\u00aa\u00ba\u00b5', 'aoμ'),
]);

/** Zero-width characters, bidirectional controls, and the other invisible ones. */
const INVISIBLE = /[\p{Cf}\p{Cc}\p{Zl}\p{Zp}\u115f\u1160\u3164\uffa0]/u;

/** Every object answers to these words, so text that is used as a key must never be one. */
export const OBJECT_WORDS: ReadonlySet<string> = new Set(Object.getOwnPropertyNames(Object.prototype));

export function isName(text: string): boolean {
  return text.length <= LIMITS.nameCharacters && NAME.test(text) && !OBJECT_WORDS.has(text);
}

/** What was typed as a name, in the one form in which names are kept. */
export function normalName(typed: string): string {
  return typed.trim().normalize('NFC');
}

/**
 * Why `typed` cannot be a name, or nothing. `taken` holds the names in use in the same place; `reserved` tells why
 * a word is kept (“h is a unit, the hour”).
 */
export function checkName(
  typed: string,
  taken: { has(name: string): boolean },
  reserved: (word: string) => string | undefined = () => undefined,
): NameProblem | undefined {
  const name = normalName(typed);
  if (name === '')
    return { problem: 'A name is missing.', suggestion: 'Type a word, such as house_pressure.' };
  const spelling = spellingProblem(name);
  if (spelling) return spelling;
  if (OBJECT_WORDS.has(name)) {
    return { problem: `“${name}” is a word the program keeps for itself.`, suggestion: `Type ${name}_1.` };
  }
  const reason = reserved(name);
  if (reason !== undefined) {
    const problem = /[.!?]$/.test(reason) ? reason : `${reason}.`;
    return { problem, suggestion: `Type ${freeName(`${name}_value`, taken)}.` };
  }
  if (taken.has(name)) {
    return { problem: `The name “${name}” is already taken.`, suggestion: `Type ${freeName(name, taken)}.` };
  }
  return undefined;
}

/** `wish`, or `wish_2`, `wish_3` …: the first that is free. */
export function freeName(wish: string, taken: { has(name: string): boolean }): string {
  let name = wish.slice(0, LIMITS.nameCharacters);
  for (let n = 2; taken.has(name); n++) {
    const ending = `_${String(n)}`;
    name = wish.slice(0, LIMITS.nameCharacters - ending.length) + ending;
  }
  return name;
}

/** A name made of any words: “House pressure, Pa” gives `house_pressure_pa`. */
export function nameFrom(words: string): string {
  const plain = Array.from(words.normalize('NFC'))
    .map((character) => LOOK_ALIKE.get(character) ?? character)
    .filter((character) => !INVISIBLE.test(character))
    .map((character) => (NAME_CHARACTER.test(character) ? character : '_'))
    .join('')
    .replace(/_+/g, '_')
    .replace(/^_|_$/g, '');
  const digits = /^[0-9_]+/.exec(plain)?.[0] ?? '';
  const rest = plain.slice(digits.length);
  const number = digits.replace(/_$/, '');
  const name = digits === '' ? plain : rest === '' ? `value_${number}` : `${rest}_${number}`;
  return name === '' || OBJECT_WORDS.has(name) ? 'value_1' : name.slice(0, LIMITS.nameCharacters);
}

function spellingProblem(name: string): NameProblem | undefined {
  if (name.length > LIMITS.nameCharacters) {
    const problem = `The name has ${String(name.length)} characters; ${String(LIMITS.nameCharacters)} is the most.`;
    return { problem, suggestion: 'Shorten it; the label has room for more words.' };
  }
  // Nearly all of the thousands of names in a file are sound.
  if (/^[a-z][a-z0-9_]*$/u.test(name)) return undefined;
  const suggestion = `Type ${nameFrom(name)}.`;
  for (const [index, character] of Array.from(name).entries()) {
    if (NAME_CHARACTER.test(character)) continue;
    if (INVISIBLE.test(character)) {
      return {
        problem: `The name holds an invisible character (${codeOf(character)}) at place ${String(index + 1)}.`,
        suggestion,
      };
    }
    const latin = LOOK_ALIKE.get(character);
    if (latin !== undefined) {
      const problem = `The “${character}” in “${name}” looks like ${latin} but is another letter (${codeOf(character)}).`;
      return { problem, suggestion };
    }
    const what = character === ' ' ? 'a space' : `“${character}”`;
    return { problem: `A name holds letters, digits and _ only, and “${name}” holds ${what}.`, suggestion };
  }
  if (!/^\p{L}/u.test(name)) {
    return { problem: `A name begins with a letter, and “${name}” does not.`, suggestion };
  }
  return undefined;
}

function codeOf(character: string): string {
  return `U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;
}

function pairs(from: string, to: string): [string, string][] {
  const targets = Array.from(to);
  return Array.from(from, (character, index) => [character, targets[index] ?? character]);
}
