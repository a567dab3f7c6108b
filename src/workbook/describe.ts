/** A state in words and numbers. */
import {
  describeType,
  displayUnit,
  formatQuantity,
  parseUnit,
  saidInLine,
  type CellState,
} from '../engine/index.ts';

export function describeState(state: CellState, unitText: string, system: 'us' | 'si'): string {
  switch (state.state) {
    case 'value': {
      if (state.type.kind !== 'quantity' || typeof state.value !== 'number')
        return state.type.kind === 'logical' ? (state.value === true ? 'yes' : 'no') : String(state.value);
      const own = parseUnit(unitText);
      const unit = displayUnit(
        'problem' in own || unitText === '' ? undefined : own,
        state.type.dimension,
        state.type.reading,
        system,
      );
      const shown = formatQuantity(
        state.value,
        unit,
        state.plusMinus === undefined || state.doubt === 'flat' ? {} : { plusMinus: state.plusMinus },
      );
      return [shown.value, shown.plusMinus === undefined ? '' : `± ${shown.plusMinus}`, shown.unit]
        .filter((part) => part !== '')
        .join(' ');
    }
    case 'blank':
      return state.reason ?? (state.type ? `blank: ${describeType(state.type)}` : 'blank');
    case 'invalid':
      return saidInLine(state.diagnostic);
    case 'fault':
      return state.fault;
    case 'waiting':
      return `waits for ${state.for}`;
  }
}
