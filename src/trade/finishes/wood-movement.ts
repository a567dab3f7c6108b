import { defineFunction, fault, numeral, type Fault } from '../../engine/index.ts';

/** The linear form holds between these moisture contents. */
const LINEAR_FROM = 0.06;
const LINEAR_TO = 0.14;
/** Fibre saturation: above it wood keeps its size. */
const SATURATION = 0.3;
const ROUNDING = 1e-9;

export interface WoodMovement {
  /** Change of size, m; negative where it shrinks. */
  readonly change: number;
  readonly form: 'linear' | 'wide range';
}

/**
 * Change of a size (m) across the grain when the wood goes from one moisture content to another (shares).
 * `coefficient`: change per unit of moisture content (0.212 is 0.00212 for each percent); `shrinkage`: green to ovendry, a share.
 */
export function woodMovement(
  size: number,
  coefficient: number,
  shrinkage: number,
  from: number,
  to: number,
): WoodMovement | Fault {
  if (!(size >= 0))
    return fault('The size across the grain is negative.', 'Type a width or depth above zero.');
  for (const moisture of [from, to])
    if (!(moisture >= 0 && moisture <= SATURATION))
      return fault(
        `A moisture content of ${numeral(moisture * 100)} % is outside 0 to 30 %, where wood moves.`,
        'Above about 30 % wood does not swell further: type 30 %, or check the meter.',
      );
  if (from === to) return { change: 0, form: 'linear' };
  if (isLinear(from) && isLinear(to)) return { change: size * coefficient * (to - from), form: 'linear' };
  if (!(shrinkage > 0 && shrinkage < 1))
    return fault(
      'The shrinkage from green to ovendry must lie between 0 and 100 %.',
      'Type the figure for this species and direction.',
    );
  return {
    change: (size * (to - from)) / (SATURATION / shrinkage - SATURATION + from),
    form: 'wide range',
  };
}

function isLinear(moisture: number): boolean {
  return moisture >= LINEAR_FROM - ROUNDING && moisture <= LINEAR_TO + ROUNDING;
}

const number = { kind: 'quantity', unit: '' } as const;

export const woodMovementFunction = defineFunction({
  name: 'wood_movement',
  summary: 'How much a piece of wood swells or shrinks across the grain as its moisture content changes.',
  source:
    'Wood Handbook, FPL-GTR-190 (2010), chapter 13: between 6 and 14 % change = size × coefficient × difference. Outside, size × difference / (30/S − 30 + start), in percent, S the shrinkage from green to ovendry: its use from there, its form from memory.',
  limits:
    '0 to 30 % moisture content. Width is likely overestimated and thickness underestimated. A coefficient belongs to one direction: tangential across a flat-sawn face, radial across a quarter-sawn one.',
  parameters: [
    {
      name: 'size',
      type: { kind: 'quantity', unit: 'm' },
      summary: 'Across the grain, at the first moisture',
    },
    { name: 'coefficient', type: number, summary: 'Change for each unit of moisture content (1/%)' },
    { name: 'shrinkage', type: number, summary: 'Green to ovendry, same direction' },
    { name: 'moisture_from', type: number, summary: 'Moisture content now' },
    { name: 'moisture_to', type: number, summary: 'Moisture content later' },
  ],
  result: {
    kind: 'record',
    fields: {
      change: { type: { kind: 'quantity', unit: 'm' }, summary: 'Change of size; negative where it shrinks' },
      form: { type: { kind: 'text' }, summary: 'Which of the two relations was used' },
    },
  },
  example: {
    formula: 'wood_movement(9 in, 0.00248 1/%, 7.1 %, 8 %, 12 %).change',
    arguments: [0.2286, 0.248, 0.071, 0.08, 0.12],
    result: { change: 0.002267712, form: 'linear' },
  },
  compute: (size: number, coefficient: number, shrinkage: number, from: number, to: number) => {
    const moved = woodMovement(size, coefficient, shrinkage, from, to);
    return 'fault' in moved ? moved : { change: moved.change, form: moved.form };
  },
});
