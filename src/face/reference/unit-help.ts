/** All units, by what they measure, made from the table of units. */
import {
  describeDimension,
  parseUnit,
  UNIT_ROWS,
  unitsOf,
  type Dimension,
  type Unit,
} from '../../engine/index.ts';

export interface UnitHelp {
  readonly name: string;
  readonly symbol: string;
  readonly also: readonly string[];
  /** `0.3048 m`: one of it in SI. */
  readonly size: string;
  readonly source: string;
}

export interface UnitGroup {
  /** `length`, `pressure, mass/(length·time²)`. */
  readonly measures: string;
  readonly units: readonly UnitHelp[];
}

const BASES = ['m', 'kg', 's', 'K', 'Pa', 'J', 'W', 'N'];

export function unitGroups(): UnitGroup[] {
  const groups = new Map<Dimension, Map<string, UnitHelp>>();
  const add = (unit: Unit, help: UnitHelp) => {
    const group = groups.get(unit.dimension) ?? new Map<string, UnitHelp>();
    // Spellings of an everyday expression that has a row of its own stand once.
    if (!group.has(help.name)) group.set(help.name, help);
    groups.set(unit.dimension, group);
  };
  for (const row of UNIT_ROWS) {
    const [name, ...also] = row.symbols;
    const unit = parseUnit(name);
    if ('problem' in unit) continue;
    add(unit, { name, symbol: unit.symbol, also, size: sizeOf(unit), source: row.source });
  }
  for (const [dimension, group] of groups)
    for (const unit of unitsOf(dimension, false)) {
      // A plain number is written without a unit.
      if (
        unit.text === '' ||
        [...group.values()].some((each) => each.name === unit.text || each.symbol === unit.symbol)
      )
        continue;
      add(unit, { name: unit.text, symbol: unit.symbol, also: [], size: sizeOf(unit), source: 'composed' });
    }
  return [...groups].map(([dimension, units]) => ({
    measures: describeDimension(dimension),
    units: [...units.values()],
  }));
}

function sizeOf(unit: Unit): string {
  if (unit.reading) return `its degree is ${number(unit.factor)} K; zero is ${number(unit.offset)} K`;
  const [si] = unitsOf(unit.dimension, false).filter((each) => each.factor === 1 && !each.reading);
  const base = BASES.find((word) => {
    const each = parseUnit(word);
    return !('problem' in each) && each.dimension === unit.dimension && each.factor === 1;
  });
  const name = si?.symbol ?? base ?? '';
  return [number(unit.factor), name === '' ? 'in SI base units' : name].join(' ');
}

function number(value: number): string {
  return String(Number(value.toPrecision(9)));
}
