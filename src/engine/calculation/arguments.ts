/** How the column arguments of a call stand together. */
import type { CallSite, VectorProgram } from '../formula/compile.ts';

export type LibrarySite = CallSite & { readonly kind: 'library' };

interface Place {
  readonly index: number;
  readonly vector: VectorProgram;
}

const known = new WeakMap<LibrarySite, readonly (readonly Place[])[]>();

/** Column arguments that are read side by side, row by row. */
export function columnGroups(site: LibrarySite): readonly (readonly Place[])[] {
  let groups = known.get(site);
  if (!groups) {
    groups = grouped(site);
    known.set(site, groups);
  }
  return groups;
}

function grouped(site: LibrarySite): Place[][] {
  const groups = new Map<string | undefined, Place[]>();
  site.arguments.forEach((argument, index) => {
    if (argument.kind !== 'column') return;
    const name = site.definition.parameters[index]?.table;
    const group = groups.get(name);
    if (group) group.push({ index, vector: argument.vector });
    else groups.set(name, [{ index, vector: argument.vector }]);
  });
  return [...groups.values()];
}
