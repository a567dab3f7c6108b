/** Whether texts answer a search: each of its words stands somewhere in them, so “dew point” finds dew_point. */
export function answers(search: string, texts: readonly string[]): boolean {
  const all = texts.join(' ').toLowerCase();
  return search
    .toLowerCase()
    .split(/\s+/u)
    .every((word) => all.includes(word));
}
