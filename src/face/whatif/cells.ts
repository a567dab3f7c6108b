/** The cells that what-if offers: results to look at, and typed numbers to try others for. */
import type { Cell } from '../../workbook/index.ts';
import type { Session } from '../session.svelte.ts';

function cells(session: Session): Cell[] {
  return [...session.outline.byName.values()].flatMap(({ item }) => (item.kind === 'cell' ? [item] : []));
}

/** Cells whose value is a computed number. */
export function computedCells(session: Session): Cell[] {
  return cells(session).filter((cell) => {
    const state = session.state(cell.name);
    return state.state === 'value' && !state.typed && typeof state.value === 'number';
  });
}

/** Those typed, or with nothing in them yet: a formula whose value is blank is no input. */
export function typedNumbers(session: Session): Cell[] {
  return cells(session).filter((cell) => {
    const state = session.state(cell.name);
    return (
      cell.type === 'number' &&
      ((state.state === 'value' && state.typed) || (state.state === 'blank' && cell.text.trim() === ''))
    );
  });
}

/** Cells that a person typed, numbers, texts and choices: all of them can be tried. */
export function typedCells(session: Session): Cell[] {
  return cells(session).filter((cell) => {
    const state = session.state(cell.name);
    return state.state === 'value' && state.typed;
  });
}

export interface CellOption {
  readonly value: string;
  readonly words: string;
  /** The worksheet. */
  readonly group: string;
}

/**
 * Cells as a list offers them, by worksheets, since labels such as “Rule” stand on more than one; where one worksheet
 * has a label twice the section follows it, and where that is the same the name.
 */
export function cellOptions(session: Session, cells: readonly Cell[]): CellOption[] {
  const listed = cells.map((cell) => {
    const sheet = session.outline.sheetOf.get(cell.id);
    const section = sheet?.sections.find(({ items }) => items.some(({ id }) => id === cell.id));
    return { cell, words: cell.label || cell.name, group: sheet?.title ?? '', section: section?.title ?? '' };
  });
  return listed.map(({ cell, words, group, section }) => {
    const alike = listed.filter((each) => each.words === words && each.group === group);
    const isTold = section !== '' && alike.filter((each) => each.section === section).length === 1;
    const apart = alike.length === 1 ? '' : ` · ${isTold ? section : cell.name}`;
    return { value: cell.name, words: `${words}${apart}`, group };
  });
}
