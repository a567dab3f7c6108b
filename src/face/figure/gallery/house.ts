import { bound, cell, column, type Sample } from './sample.ts';

const rooms = {
  room: column('', ['Bedroom 1', 'Bedroom 2', 'Living', 'Kitchen', 'Bath']),
  room_unit: column('', ['North', 'North', 'South', 'South', 'North']),
  room_direction: column('', ['supply', 'supply', 'supply', 'exhaust', 'exhaust']),
  room_design: column('cfm', [15, 15, 40, 40, 30]),
  room_measured: column('cfm', [14.6, 9.8, 41, 39.5, 31]),
};

export const houseSamples: readonly Sample[] = [
  {
    kind: 'flow_balance',
    shows: 'one unit in balance, one not',
    bound: bound(
      {},
      {
        ...rooms,
        unit: column('', ['North', 'South']),
        unit_supply: column('cfm', [24.4, 41]),
        unit_exhaust: column('cfm', [31, 39.5]),
        unit_allowed: column('cfm', [3, 4]),
        unit_verdict: column('', ['out of balance', 'balanced']),
      },
    ),
  },
  { kind: 'flow_balance', shows: 'nothing bound', bound: bound({}) },
  {
    kind: 'house_flows',
    shows: 'two floors with what each room gets',
    bound: bound(
      {},
      {
        ...rooms,
        house_room: column('', ['Bedroom 1', 'Bedroom 2', 'Living', 'Kitchen', 'Bath']),
        floor: column('', ['upper', 'upper', 'main', 'main', 'upper']),
      },
    ),
  },
  { kind: 'house_flows', shows: 'nothing bound', bound: bound({}) },
  {
    kind: 'stages',
    shows: 'a result at each stage against two targets',
    bound: bound(
      {
        target: cell('First target, at most', 1.2, '1/h'),
        target_2: cell('Second target, at most', 1, '1/h'),
      },
      {
        stage: column('', ['membrane up', 'before board', 'sealed']),
        value: column('1/h', [1.9, 1.35, 1.04], [0.05, 0.04, 0.03]),
        low: column('1/h', [1.8, 1.27, 0.98]),
        high: column('1/h', [2, 1.43, 1.1]),
      },
    ),
  },
  { kind: 'stages', shows: 'nothing bound', bound: bound({}) },
  {
    kind: 'fan_and_ducts',
    shows: 'a fan curve that meets its ducts, and a unit whose rooms are not known yet',
    bound: bound(
      {},
      {
        unit: column('', ['North', 'South']),
        curve_unit: column('', ['North', 'North', 'North', 'North', 'South', 'South']),
        curve_flow: column('cfm', [0, 40, 60, 80, 0, 80]),
        curve_pressure: column('inH2O', [0.62, 0.49, 0.345, 0.17, 0.5, 0.1]),
        duct_pressure: column('inH2O', [0, 0.107, 0.241, 0.428, undefined, undefined]),
        operating_flow: column('cfm', [66.1, undefined]),
        operating_pressure: column('inH2O', [0.292, undefined]),
      },
    ),
  },
  { kind: 'fan_and_ducts', shows: 'nothing bound', bound: bound({}) },
];
