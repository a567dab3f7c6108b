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

export function typedNumbers(session: Session): Cell[] {
  return cells(session).filter((cell) => {
    const state = session.state(cell.name);
    return (
      cell.type === 'number' &&
      ((state.state === 'value' && state.typed) || state.state === 'blank') &&
      !/[a-z_]{3,}\(/i.test(cell.text)
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
