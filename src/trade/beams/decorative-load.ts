import { defineFunction, fault, quantityInWords, type Fault } from '../../engine/index.ts';

/** Load (N) of a decorative beam: its own mass and its finish (kg). Any other load is refused. */
export function decorativeLoad(mass: number, finishMass: number, otherLoad: number): number | Fault {
  if (otherLoad !== 0)
    return fault(
      `This beam is to carry ${quantityInWords(otherLoad, 'lbf', 0)} besides its own weight: that is structure, and is not worked out here.`,
      'Take the load off the beam, or have a licensed engineer design it and its supports.',
    );
  if (!(mass > 0) || !(finishMass >= 0))
    return fault('The weight of the beam must be above zero.', 'Check its size, its length and its wood.');
  return (mass + finishMass) * 9.80665;
}

export const decorativeLoadFunction = defineFunction({
  name: 'decorative_load',
  summary: 'What a decorative beam hangs on its supports: its own weight and its finish, nothing else.',
  source: 'Weight = mass × 9.80665 m/s² (standard gravity).',
  limits:
    'Refuses every other load (lamps over a few pounds, swings, plant hangers, roof, floor): structure belongs to a licensed engineer.',
  parameters: [
    { name: 'beam', type: { kind: 'quantity', unit: 'kg' }, summary: 'Mass of the beam' },
    {
      name: 'finish',
      type: { kind: 'quantity', unit: 'kg' },
      summary: 'Mass of stain, paint and trim on it',
    },
    { name: 'other_load', type: { kind: 'quantity', unit: 'N' }, summary: 'Anything else; must be 0' },
  ],
  result: { kind: 'quantity', unit: 'N' },
  example: { formula: 'decorative_load(40 kg, 1 kg, 0 N)', arguments: [40, 1, 0], result: 402.07265 },
  compute: decorativeLoad,
});
