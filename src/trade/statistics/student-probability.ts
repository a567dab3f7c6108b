import {
  defineFunction,
  fault,
  studentDensity,
  studentProbability,
  studentProbabilityByDof,
  type Fault,
} from '../../engine/index.ts';

/** Probability that Student's t is at most `t`. */
export function studentProbabilityOrFault(t: number, dof: number): number | Fault {
  if (Number.isNaN(t) || Number.isNaN(dof)) return NaN;
  if (!(dof >= 1) || !Number.isFinite(dof)) {
    return fault(
      'Student’s t needs at least 1 degree of freedom.',
      'A straight line through N points leaves N − 2: three points are the fewest that tell scatter.',
    );
  }
  return studentProbability(t, dof);
}

export const tProbability = defineFunction({
  name: 't_probability',
  summary: 'The probability that Student’s t stays at or under a value.',
  source:
    'Student’s t distribution, NIST Digital Library of Mathematical Functions 8.17 (incomplete beta function); method described in the code.',
  limits: 'Degrees of freedom 1 or more, not necessarily whole.',
  parameters: [
    { name: 't', type: { kind: 'quantity', unit: '' }, summary: 'Any number' },
    { name: 'degrees_of_freedom', type: { kind: 'quantity', unit: '' }, summary: '1 or more' },
  ],
  result: { kind: 'quantity', unit: '' },
  example: {
    formula: 't_probability(2.7764451051977943, 4)',
    arguments: [2.7764451051977943, 4],
    result: 0.975,
  },
  compute: studentProbabilityOrFault,
  partials: (t: number, dof: number) => ({
    result: [studentDensity(t, dof), studentProbabilityByDof(t, dof)],
  }),
});
