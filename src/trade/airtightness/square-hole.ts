import { defineFunction } from '../../engine/index.ts';

const INCH = 0.0254;

/** Inches as on a tape, to the nearest eighth. */
function tape(metres: number): string {
  const eighths = Math.round((metres / INCH) * 8);
  const whole = Math.floor(eighths / 8);
  let above = eighths % 8;
  let below = 8;
  while (above !== 0 && above % 2 === 0) {
    above /= 2;
    below /= 2;
  }
  const part = above === 0 ? '' : `${String(above)}/${String(below)}`;
  return [whole === 0 && part !== '' ? '' : String(whole), part].filter((each) => each !== '').join(' ');
}

/**
 * An area as the square hole that a person looks for: “4 1/8 in × 4 1/8 in (105 mm × 105 mm)”. Both systems stand in
 * the words, because words do not follow the switch between them.
 */
export function squareHole(area: number): string {
  if (!(area > 0)) return 'no hole';
  const side = Math.sqrt(area);
  if (side < INCH / 16) return `under 1/8 in × 1/8 in (3 mm × 3 mm)`;
  const millimetres = String(Math.round(side * 1000));
  return `${tape(side)} in × ${tape(side)} in (${millimetres} mm × ${millimetres} mm)`;
}

export const squareHoleFunction = defineFunction({
  name: 'square_hole',
  summary: 'An area in words: the side of a square hole on a tape, in inches and in millimetres.',
  source: 'Geometry; to the nearest 1/8 in and 1 mm.',
  limits: 'Says “no hole” at zero and below.',
  parameters: [{ name: 'area', type: { kind: 'quantity', unit: 'm2' }, summary: 'Area of the hole' }],
  result: { kind: 'text' },
  example: {
    formula: 'square_hole(16.8 in2)',
    arguments: [0.010838688],
    result: '4 1/8 in × 4 1/8 in (104 mm × 104 mm)',
  },
  compute: squareHole,
});
