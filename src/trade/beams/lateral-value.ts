import { defineFunction, fault, numeral, written, type Fault } from '../../engine/index.ts';

const INCH = 0.0254;
const POUND = 4.4482216152605;
const PSI = POUND / INCH ** 2;

/** Dowel bearing strength under 1/4 in, psi, rounded to 50 as the tables do. */
function bearingStrength(specificGravity: number): number {
  return Math.round((16600 * specificGravity ** 1.84) / 50) * 50;
}

/**
 * Reference lateral value (N) of one nail or wood screw under 1/4 in, wood to wood, single shear. Lengths in m,
 * bending strength in Pa.
 */
export function lateralValue(
  diameter: number,
  rootDiameter: number,
  bendingStrength: number,
  sideThickness: number,
  penetration: number,
  sideGravity: number,
  mainGravity: number,
  grain = 'side',
): number | Fault {
  const shank = diameter / INCH;
  const d = rootDiameter / INCH;
  const ls = sideThickness / INCH;
  const p = penetration / INCH;
  if (grain.trim().toLowerCase() !== 'side')
    return fault(
      'Across the grain only: a fastener in end grain, or driven at a slant as a toe-nail, has no value here.',
      'Turn the fixing so that it goes into side grain, or set a block of side grain behind it.',
    );
  if (shank >= 0.25)
    return fault(
      `A fastener of ${written('1/4 in')} or more is outside of this sideways value: from there the direction of the grain counts.`,
      'Take more and thinner screws, or ask a licensed engineer.',
    );
  if (!(d >= 0.05 && d <= shank))
    return fault(
      d > shank
        ? 'The root under the thread is thicker than the shank.'
        : `The diameter under the thread is below ${written('0.05 in')}.`,
      'Type both diameters; a nail has one for both.',
    );
  for (const gravity of [sideGravity, mainGravity])
    if (!(gravity >= 0.3 && gravity <= 0.75))
      return fault(
        `A specific gravity of ${numeral(gravity)} lies outside the published ${written('0.31')} to ${written('0.73')}.`,
        'Copy the specific gravity for design of both woods.',
      );
  if (!(bendingStrength > 0))
    return fault('The bending strength must be above zero.', 'For small screws 90 ksi.');
  if (!(ls > 0))
    return fault('The cleat has no thickness.', 'Type the thickness of the piece under the head.');
  if (p < 6 * shank)
    return fault(
      'The fastener is less than 6 diameters deep in the framing: no value is published.',
      'Take a longer fastener or a thinner cleat.',
    );
  const fes = bearingStrength(sideGravity);
  const fem = bearingStrength(mainGravity);
  const fyb = bendingStrength / PSI;
  const kd = shank <= 0.17 ? 2.2 : 10 * shank + 0.5;
  const value = Math.min(...yieldModes(d, ls, p, fes, fem, fyb)) / kd;
  return value * Math.min(1, p / (10 * shank)) * POUND;
}

/** The six ways in which a dowel joint in single shear yields, lb, before the reduction term. */
function yieldModes(d: number, ls: number, lm: number, fes: number, fem: number, fyb: number): number[] {
  const re = fem / fes;
  const rt = lm / ls;
  const k1 =
    (Math.sqrt(re + 2 * re ** 2 * (1 + rt + rt ** 2) + rt ** 2 * re ** 3) - re * (1 + rt)) / (1 + re);
  const k2 = -1 + Math.sqrt(2 * (1 + re) + (2 * fyb * (1 + 2 * re) * d ** 2) / (3 * fem * lm ** 2));
  const k3 = -1 + Math.sqrt((2 * (1 + re)) / re + (2 * fyb * (2 + re) * d ** 2) / (3 * fem * ls ** 2));
  return [
    d * lm * fem,
    d * ls * fes,
    k1 * d * ls * fes,
    (k2 * d * lm * fem) / (1 + 2 * re),
    (k3 * d * ls * fem) / (2 + re),
    d ** 2 * Math.sqrt((2 * fem * fyb) / (3 * (1 + re))),
  ];
}

const length = { kind: 'quantity', unit: 'm' } as const;
const number = { kind: 'quantity', unit: '' } as const;

export const lateralValueFunction = defineFunction({
  name: 'lateral_value',
  summary: 'Reference lateral value of one nail or wood screw that holds a cleat to framing.',
  source:
    'Yield-limit equations of the National Design Specification for Wood Construction (AWC), single shear, from memory, not read; they give the 141 lb that its 2005 edition, table 11N, prints for a 16d nail.',
  limits:
    'Wood to wood, side grain, under 1/4 in, at least 6 diameters deep in the framing; from 6 to 10 diameters the value is taken by the part of 10. Root diameter and bending strength of screws are assumptions to check. Times the load duration factor. Not for end grain or for structure.',
  parameters: [
    { name: 'diameter', type: length, summary: 'Of the shank' },
    { name: 'root_diameter', type: length, summary: 'Under the thread; of a nail the shank again' },
    {
      name: 'bending_strength',
      type: { kind: 'quantity', unit: 'Pa' },
      summary: 'Bending yield strength of the fastener',
    },
    { name: 'side_thickness', type: length, summary: 'Of the piece under the head' },
    { name: 'penetration', type: length, summary: 'In the framing' },
    { name: 'side_gravity', type: number, summary: 'Specific gravity of the piece under the head' },
    { name: 'main_gravity', type: number, summary: 'Specific gravity of the framing' },
    { name: 'grain', type: { kind: 'text' }, summary: 'side: the only direction with a value here' },
  ],
  result: { kind: 'quantity', unit: 'N' },
  example: {
    formula: 'lateral_value(0.162 in, 0.162 in, 90 ksi, 1.5 in, 2 in, 0.5, 0.5, "side")',
    arguments: [0.0041148, 0.0041148, 620528156.3851526, 0.0381, 0.0508, 0.5, 0.5, 'side'],
    result: 626.7305547514859,
  },
  compute: lateralValue,
});
