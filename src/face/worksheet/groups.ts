/** A section in reading order, neighbouring cells taken together. Figures stand beside the sheet and are left out. */
import type { Cell, Prose, Section, Table } from '../../workbook/index.ts';

export type Group =
  | { readonly kind: 'cells'; readonly key: string; readonly cells: Cell[] }
  | { readonly kind: 'table'; readonly key: string; readonly table: Table }
  | { readonly kind: 'prose'; readonly key: string; readonly prose: Prose };

export function groupsOf(section: Section): Group[] {
  const groups: Group[] = [];
  for (const item of section.items) {
    const last = groups.at(-1);
    if (item.kind === 'cell') {
      if (last?.kind === 'cells') last.cells.push(item);
      else groups.push({ kind: 'cells', key: item.id, cells: [item] });
    } else if (item.kind === 'table') groups.push({ kind: 'table', key: item.id, table: item });
    else if (item.kind === 'prose') groups.push({ kind: 'prose', key: item.id, prose: item });
  }
  return groups;
}
