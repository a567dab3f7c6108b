import {
  defineFunction,
  fault,
  SMALLEST_PROBABILITY,
  studentQuantile,
  studentQuantileSlopes,
  type Fault,
} from '../../engine/index.ts';

export function studentQuantileOrFault(probability: number, dof: number): number | Fault {
  if (!(probability > 0 && probability < 1)) {
    return fault(
      'The probability must lie between 0 and 1.',
      'For two-sided 95 % limits write t_quantile(0.975, degrees_of_freedom).',
    );
  }
  if (!(dof >= 1) || !Number.isFinite(dof)) {
    return fault(
      'Student’s t needs at least 1 degree of freedom.',
      'A straight line through N points leaves N − 2: three points are the fewest that give limits.',
    );
  }
  if (probability < SMALLEST_PROBABILITY)
    return fault('The probability is too small to be of use (under 1e-100).');
  return studentQuantile(probability, dof);
}

export const tQuantile = defineFunction({
  name: 't_quantile',
  summary: 'The value that Student’s t stays under with the given probability.',
  source:
    'Student’s t distribution, NIST Digital Library of Mathematical Functions 8.17 (incomplete beta function); method described in the code.',
  limits: 'Probability between 0 and 1, exclusive; degrees of freedom 1 or more, not necessarily whole.',
  parameters: [
    {
      name: 'probability',
      type: { kind: 'quantity', unit: '' },
      summary: 'One-sided: 0.975 for two-sided 95 % limits',
    },
    {
      name: 'degrees_of_freedom',
      type: { kind: 'quantity', unit: '' },
      summary: 'Points less fitted parameters',
    },
  ],
  result: { kind: 'quantity', unit: '' },
  example: { formula: 't_quantile(0.975, 4)', arguments: [0.975, 4], result: 2.7764451051977943 },
  compute: studentQuantileOrFault,
  partials: (probability: number, dof: number) => {
    const quantile = studentQuantileOrFault(probability, dof);
    if (typeof quantile !== 'number') return {};
    const { byProbability, byDof } = studentQuantileSlopes(quantile, dof);
    return { result: [byProbability, byDof] };
  },
});
