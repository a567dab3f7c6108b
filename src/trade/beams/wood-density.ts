import { defineFunction, fault, numeral, written, type Fault } from '../../engine/index.ts';

/** lb/ft³ in kg/m³ */
const POUND_PER_CUBIC_FOOT = 0.45359237 / 0.028316846592;
/** Density of water as the formula gives it, kg/m³. */
const WATER = 62.4 * POUND_PER_CUBIC_FOOT;

/** Density (kg/m³) at a moisture content (share) from the specific gravity for design, ovendry mass and volume. */
export function woodDensity(specificGravity: number, moisture: number): number | Fault {
  const wrong = outside(specificGravity, moisture);
  if (wrong) return wrong;
  const percent = moisture * 100;
  return (WATER * specificGravity * (1 + moisture)) / (1 + specificGravity * 0.009 * percent);
}

export function outside(specificGravity: number, moisture: number): Fault | undefined {
  if (!(specificGravity >= 0.1 && specificGravity <= 1.3))
    return fault(
      `A specific gravity of ${numeral(specificGravity)} is not that of a wood (${written('0.1')} to ${written('1.3')}).`,
      'Copy it from the table of design values for the species.',
    );
  if (!(moisture >= 0 && moisture <= 2))
    return fault(
      `A moisture content of ${numeral(moisture * 100)} % cannot be right.`,
      'Type the reading of the moisture meter, for instance 12 %.',
    );
  return undefined;
}

const number = { kind: 'quantity', unit: '' } as const;

export const woodDensityFunction = defineFunction({
  name: 'wood_density',
  summary: 'Density of wood at a moisture content, from its specific gravity for design.',
  source:
    'National Design Specification for Wood Construction (AWC), the density form that goes with its specific gravities: 62.4 · G / (1 + 0.009 G m) · (1 + m/100), m in percent.',
  limits:
    'Specific gravity on ovendry mass and volume. For a weight of a decoration, not for design of structure.',
  parameters: [
    { name: 'specific_gravity', type: number, summary: 'For design, ovendry mass and volume' },
    { name: 'moisture', type: number, summary: 'Moisture content' },
  ],
  result: { kind: 'quantity', unit: 'kg/m3' },
  example: { formula: 'wood_density(0.5, 12 %)', arguments: [0.5, 0.12], result: 531.0713322008189 },
  compute: woodDensity,
  partials: (g: number, moisture: number) => {
    const density = woodDensity(g, moisture);
    if (typeof density !== 'number') return {};
    const swell = 1 + 0.9 * g * moisture;
    return { result: [density / (g * swell), density / (1 + moisture) - (density * 0.9 * g) / swell] };
  },
});
