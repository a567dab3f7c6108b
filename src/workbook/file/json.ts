/**
 * Looks at JSON text before it is parsed: how deep it nests, whether a key stands twice in one object, and where
 * a mistake is. JSON.parse would keep the last of two equal keys silently, and each browser words its complaints
 * differently. Grammar: RFC 8259. No recursion, one pass.
 */

export interface JsonProblem {
  readonly code: 'not-json' | 'too-deep' | 'duplicate-key';
  readonly at: number;
  readonly found: string;
  readonly expected: string;
}

const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const WORD = /true|false|null/y;
const UNICODE_ESCAPE = /[0-9a-fA-F]{4}/y;

/** The keys seen so far in each open object; `undefined` for an open list. */
type Open = Set<string> | undefined;

export function inspectJson(text: string, depthLimit: number): JsonProblem | undefined {
  const open: Open[] = [];
  let at = 0;
  const space = () => {
    for (;;) {
      const code = text.charCodeAt(at);
      if (code !== 32 && code !== 10 && code !== 13 && code !== 9) return;
      at++;
    }
  };
  const wrong = (expected: string): JsonProblem => ({
    code: 'not-json',
    at,
    found: shown(text, at),
    expected,
  });

  let expects: 'value' | 'value or ]' | 'key' | 'key or }' | 'after' = 'value';
  for (;;) {
    space();
    const character = text.charAt(at);
    const keys = open.at(-1);
    if (expects === 'after') {
      if (open.length === 0) return at < text.length ? wrong('the end of the file') : undefined;
      if (character === ',') expects = keys ? 'key' : 'value';
      else if (character !== (keys ? '}' : ']')) return wrong(keys ? 'a comma or }' : 'a comma or ]');
      else open.pop();
      at++;
    } else if (expects === 'key' || expects === 'key or }') {
      if (character === '}' && expects === 'key or }') {
        open.pop();
        at++;
        expects = 'after';
        continue;
      }
      const end = character === '"' ? endOfString(text, at) : undefined;
      if (end === undefined) return wrong('a key in double quotes');
      if (end < 0)
        return { code: 'not-json', at: -end, found: shown(text, -end), expected: 'the rest of a key' };
      const raw = text.slice(at + 1, end - 1);
      const key = raw.includes('\\') ? (JSON.parse(`"${raw}"`) as string) : raw;
      if (keys?.has(key)) {
        const found = `the key “${key.slice(0, 60)}” a second time`;
        return { code: 'duplicate-key', at, found, expected: 'each key once in an object' };
      }
      keys?.add(key);
      at = end;
      space();
      if (text.charAt(at) !== ':') return wrong('a colon');
      at++;
      expects = 'value';
    } else if (character === '{' || character === '[') {
      if (open.length >= depthLimit) {
        const found = `brackets inside brackets, more than ${String(depthLimit)} deep`;
        return { code: 'too-deep', at, found, expected: `at most ${String(depthLimit)} levels` };
      }
      open.push(character === '{' ? new Set() : undefined);
      expects = character === '{' ? 'key or }' : 'value or ]';
      at++;
    } else if (character === ']' && expects === 'value or ]') {
      open.pop();
      expects = 'after';
      at++;
    } else {
      const end = endOfPlainValue(text, at);
      if (end === undefined)
        return wrong('a value: text in double quotes, a number, true, false, null, { or [');
      if (end < 0)
        return { code: 'not-json', at: -end, found: shown(text, -end), expected: 'the rest of a text' };
      at = end;
      expects = 'after';
    }
  }
}

/** Place behind the value, minus the place of a mistake inside it, or nothing where no value begins. */
function endOfPlainValue(text: string, at: number): number | undefined {
  if (text.charAt(at) === '"') return endOfString(text, at);
  for (const pattern of [NUMBER, WORD]) {
    pattern.lastIndex = at;
    const match = pattern.exec(text)?.[0];
    if (match !== undefined) return at + match.length;
  }
  return undefined;
}

function endOfString(text: string, start: number): number {
  let at = start + 1;
  while (at < text.length) {
    const code = text.charCodeAt(at);
    if (code === 0x22) return at + 1;
    if (code < 0x20) return -at;
    if (code !== 0x5c) {
      at++;
      continue;
    }
    const escape = text.charAt(at + 1);
    if (escape === 'u') {
      UNICODE_ESCAPE.lastIndex = at + 2;
      if (!UNICODE_ESCAPE.test(text)) return -at;
      at += 6;
    } else if (escape !== '' && '"\\/bfnrt'.includes(escape)) {
      at += 2;
    } else {
      return -at;
    }
  }
  return -text.length;
}

function shown(text: string, at: number): string {
  if (at >= text.length) return text.trim() === '' ? 'nothing' : 'the end of the file';
  return `“${text.slice(at, at + 20).split(/[\r\n]/, 1)[0] ?? ''}”`;
}

/** `line 12, character 5` */
export function lineAndCharacter(text: string, at: number): string {
  let line = 1;
  let start = 0;
  for (let next = text.indexOf('\n'); next >= 0 && next < at; next = text.indexOf('\n', start)) {
    line++;
    start = next + 1;
  }
  return `line ${String(line)}, character ${String(at - start + 1)}`;
}
