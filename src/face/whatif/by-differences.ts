/** Says which functions' sensitivities were found by small differences, and in which formulas. */
import type { Budget } from '../../engine/index.ts';

/** `label` gives the words for a cell or column; of `own` the budget is. Blank where all are exact. */
export function byDifferencesText(
  { byDifferences }: Pick<Budget, 'byDifferences'>,
  label: (name: string) => string,
  own: { readonly name: string; readonly row?: number | undefined },
): string {
  const places = new Map<string, { readonly words: string; readonly rows: number[] }>();
  for (const { function: called, name, row } of byDifferences) {
    const isOwn = name === own.name && row === own.row;
    const where = isOwn ? 'this formula' : label(name) || name;
    const place = places.get(`${called} in ${where}`) ?? { words: `${called} in ${where}`, rows: [] };
    places.set(place.words, place);
    if (row !== undefined && !isOwn) place.rows.push(row + 1);
  }
  const said = [...places.values()].map(({ words, rows: [first, ...more] }) => {
    if (first === undefined) return words;
    return more.length === 0 ? `${words}, row ${first}` : `${words}, ${more.length + 1} rows`;
  });
  return said.length === 0 ? '' : `found by small differences, not exactly: ${said.join('; ')}`;
}
