import { defineFunction, fault, numeral, written, type Fault } from '../../engine/index.ts';

const INCH = 0.0254;
const POUND_PER_INCH = 4.4482216152605 / INCH;

interface Withdrawal {
  readonly factor: number;
  readonly gravityPower: number;
  readonly diameterPower: number;
  /** Part of the value that is left in end grain; 0: none may be taken. */
  readonly endGrain: number;
}

const FASTENERS: ReadonlyMap<string, Withdrawal> = new Map([
  ['wood screw', { factor: 2850, gravityPower: 2, diameterPower: 1, endGrain: 0 }],
  ['lag screw', { factor: 1800, gravityPower: 1.5, diameterPower: 0.75, endGrain: 0.75 }],
  ['nail', { factor: 1380, gravityPower: 2.5, diameterPower: 1, endGrain: 0 }],
]);

/** Reference withdrawal value, N for each m of thread (nail: of penetration), for a diameter in m. */
export function withdrawalValue(
  fastener: string,
  specificGravity: number,
  diameter: number,
  grain: string,
): number | Fault {
  const kind = FASTENERS.get(fastener.trim().toLowerCase());
  if (!kind)
    return fault(
      `“${fastener}” is not a fastener with published values here.`,
      'Write wood screw, lag screw or nail.',
    );
  if (!(specificGravity >= 0.3 && specificGravity <= 0.75))
    return fault(
      `A specific gravity of ${numeral(specificGravity)} lies outside the published ${written('0.31')} to ${written('0.73')}.`,
      'Copy the specific gravity for design of the wood that takes the thread.',
    );
  if (!(diameter >= 0.05 * INCH && diameter <= 1.25 * INCH))
    return fault(
      `The diameter lies outside ${written('0.05 in')} to ${written('1 1/4 in')}.`,
      `Type the shank diameter, for #10 ${written('0.190 in')}.`,
    );
  const direction = grain.trim().toLowerCase();
  if (direction !== 'side' && direction !== 'end')
    return fault(
      `“${grain}” is not a direction of grain.`,
      'Write side (across the grain) or end (into the end of a piece).',
    );
  if (direction === 'end' && kind.endGrain === 0)
    return fault(
      `A ${fastener.trim()} in end grain may carry nothing in withdrawal.`,
      'Turn the fixing so that the thread goes into side grain, or set a block of side grain.',
    );
  const part = direction === 'end' ? kind.endGrain : 1;
  const value = kind.factor * specificGravity ** kind.gravityPower * (diameter / INCH) ** kind.diameterPower;
  return value * part * POUND_PER_INCH;
}

export const withdrawalValueFunction = defineFunction({
  name: 'withdrawal_value',
  summary: 'Reference withdrawal value of one fastener for each length of thread (nail: of penetration).',
  source:
    'National Design Specification for Wood Construction (AWC), chapter 12: wood screw 2850 G² D, lag screw 1800 G^1.5 D^0.75, nail 1380 G^2.5 D, lb/in; lag in end grain × 0.75, wood screw in end grain none. A nail in end grain is refused as well.',
  limits:
    'Dry wood at room temperature, predrilled as the standard says; times the load duration factor (permanent 0.9). The tapered tip of a lag is no thread. Reference values: nothing is divided by a safety factor here.',
  parameters: [
    { name: 'fastener', type: { kind: 'text' }, summary: 'wood screw, lag screw or nail' },
    {
      name: 'specific_gravity',
      type: { kind: 'quantity', unit: '' },
      summary: 'For design, of the wood that holds the thread',
    },
    { name: 'diameter', type: { kind: 'quantity', unit: 'm' }, summary: 'Of the shank' },
    { name: 'grain', type: { kind: 'text' }, summary: 'side or end' },
  ],
  result: { kind: 'quantity', unit: 'N/m' },
  example: {
    formula: 'withdrawal_value("lag screw", 0.5, 0.25 in, "side")',
    arguments: ['lag screw', 0.5, 0.00635, 'side'],
    result: 39403.53793045719,
  },
  compute: withdrawalValue,
});
