/** What the scatter of a fit's data contributes to a result: sources of its own, with their degrees of freedom. */
import { invoke } from '../formula/library.ts';
import type { LibrarySite } from './arguments.ts';
import type { Sources } from './sources.ts';

/** `slopes` say how much of each of the call's results goes into the result; `where` and `place` tell calls apart. */
export function scatterParts(
  sources: Sources,
  { definition }: LibrarySite,
  where: string,
  place: number,
  values: Parameters<typeof invoke>[1],
  slopes: ReadonlyMap<string, number>,
): { readonly id: number; readonly part: number }[] {
  const scatter = definition.scatter && invoke(definition.scatter, values);
  if (!scatter) return [];
  const group = `scatter of ${where} (${place})`;
  const label = `scatter about the fit of ${where}`;
  return scatter.components.flatMap((shifts, j) => {
    let part = 0;
    for (const [name, slope] of slopes) part += slope * (shifts[name] ?? 0);
    if (part === 0) return [];
    const source = sources.intern(`${group} ${j}`, 'scatter', label, 1, scatter.degreesOfFreedom, group);
    return [{ id: source.id, part }];
  });
}
