/** A text may begin with a heading: a short first line, then a blank one. */

export interface Headed {
  readonly heading: string;
  readonly body: string;
}

export function headed(text: string): Headed {
  const match = /^([^\n]{1,70})\n[ \t]*\n(.*)$/su.exec(text);
  return match ? { heading: match[1] ?? '', body: match[2] ?? '' } : { heading: '', body: text };
}
