/** How the column arguments of a call stand together. */
import type { CallSite, VectorProgram } from '../formula/compile.ts';

export type LibrarySite = CallSite & { readonly kind: 'library' };

/** Column arguments that are read side by side, row by row. */
export function columnGroups(
  site: LibrarySite,
): { readonly index: number; readonly vector: VectorProgram }[][] {
  const groups = new Map<string | undefined, { readonly index: number; readonly vector: VectorProgram }[]>();
  site.arguments.forEach((argument, index) => {
    if (argument.kind !== 'column') return;
    const name = site.definition.parameters[index]?.table;
    const group = groups.get(name);
    if (group) group.push({ index, vector: argument.vector });
    else groups.set(name, [{ index, vector: argument.vector }]);
  });
  return [...groups.values()];
}
