/** A label inside a sentence: `Air changes at 50 Pa` begins small, `ACH50` stays. */
export function inSentence(label: string): string {
  const [first = '', second = ''] = label;
  const isName = second !== second.toLowerCase();
  return isName ? label : first.toLowerCase() + label.slice(1);
}

/** What an axis or a column is, with its unit: what is not known leaves no comma behind. */
export function titled(...parts: readonly (string | undefined)[]): string {
  return parts.filter(Boolean).join(', ');
}
