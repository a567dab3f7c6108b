/** What a key of the pad does to a text: the whole text afterwards and where the caret stands. */

export interface Typed {
  readonly text: string;
  readonly caret: number;
}

export function typeIn(text: string, from: number, to: number, added: string): Typed {
  return { text: text.slice(0, from) + added + text.slice(to), caret: from + added.length };
}

export function erase(text: string, from: number, to: number): Typed {
  return typeIn(text, from < to ? from : Math.max(0, from - 1), to, '');
}

/** What begins with a name or a bracket, or multiplies: there a minus takes away. A unit may have both behind a number. */
const FORMULA = /^\s*[-−]?\s*[\p{L}_(=]|[*×^]/u;

/** A minus comes and goes at the front of a number, wherever the caret is; in a formula it stands where it is typed. */
export function turnSign(text: string, caret: number, to = caret): Typed {
  if (FORMULA.test(text))
    return typeIn(text, caret, to, /[\p{L}\p{N}_)]$/u.test(text.slice(0, caret)) ? ' - ' : '-');
  const sign = /^\s*[-−]\s*/u.exec(text)?.[0];
  if (sign === undefined) return { text: `-${text}`, caret: caret + 1 };
  return { text: text.slice(sign.length), caret: Math.max(0, caret - sign.length) };
}

/** One key for both marks: feet first, inches once there are feet, or behind a fraction, which no one has of a foot. */
export function mark(text: string, from: number, to: number): Typed {
  return typeIn(text, from, to, /['′]|\/\d+\s*$/u.test(text.slice(0, from)) ? '"' : "' ");
}

/** A fraction goes behind whole inches with a space. */
export function fraction(text: string, from: number, to: number, written: string): Typed {
  return typeIn(text, from, to, /\d$/u.test(text.slice(0, from)) ? ` ${written}` : written);
}

/** A unit goes behind the number, in the place of one that stands there. */
export function withUnit(text: string, unit: string): Typed {
  const bare = text.replace(/\s*[\p{L}°%$Δ][^\d±]*$/u, '').trimEnd();
  const next = `${bare} ${unit}`;
  return { text: next, caret: next.length };
}
