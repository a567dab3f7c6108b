import { defineFunction, fault, type Fault } from '../../engine/index.ts';
import { outside } from './wood-density.ts';

/** Density (kg/m³) at a moisture content under 30 % (share) from the basic specific gravity, green volume. */
export function densityFromBasicGravity(basicGravity: number, moisture: number): number | Fault {
  const wrong = outside(basicGravity, moisture);
  if (wrong) return wrong;
  if (moisture > 0.3)
    return fault(
      'The relation holds up to 30 % moisture content.',
      'Above it the volume stays: weigh the piece instead.',
    );
  const atMoisture = basicGravity / (1 - 0.265 * basicGravity * (1 - moisture / 0.3));
  return 1000 * atMoisture * (1 + moisture);
}

const number = { kind: 'quantity', unit: '' } as const;

export const densityFromBasicGravityFunction = defineFunction({
  name: 'density_from_basic_gravity',
  summary: 'Density of wood at a moisture content, from its basic specific gravity (green volume).',
  source:
    'Wood Handbook, FPL-GTR-190 (2010), chapter 4, for the method; its two constants from memory, check. 1000 kg/m³ is 62.43 lb/ft³.',
  limits: 'Up to 30 % moisture content. Basic specific gravity: ovendry mass over green volume.',
  parameters: [
    { name: 'basic_gravity', type: number, summary: 'Ovendry mass over green volume' },
    { name: 'moisture', type: number, summary: 'Moisture content' },
  ],
  result: { kind: 'quantity', unit: 'kg/m3' },
  example: {
    formula: 'density_from_basic_gravity(0.55, 12 %)',
    arguments: [0.55, 0.12],
    result: 675.0315051230072,
  },
  compute: densityFromBasicGravity,
});
