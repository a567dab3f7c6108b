import { defineFunction, numeral } from '../../engine/index.ts';
import { pressureText } from './pressure-text.ts';

/** Empty unless the point stands out at this level; then how far, and what the fit would be without it. */
export function pointRemark(
  pressure: number,
  studentizedResidual: number,
  outlierProbability: number,
  level: number,
  exponentWithout: number,
  flow50Change: number,
): string {
  if (!(outlierProbability < level)) return '';
  const change = Math.abs(flow50Change * 100);
  const size = Number.isFinite(studentizedResidual)
    ? `studentised residual ${numeral(studentizedResidual, 1)}`
    : 'all others lie on one line';
  const moved =
    change < 0.05
      ? 'the flow at 50 Pa would stay as it is'
      : `the flow at 50 Pa would be ${numeral(change, 1)} % ${flow50Change > 0 ? 'higher' : 'lower'}`;
  return `the point at ${pressureText(Number(pressure.toFixed(1)))} looks off (${size}): check what was typed; without it ${moved} and the exponent ${numeral(exponentWithout, 3)}`;
}

const number = { kind: 'quantity', unit: '' } as const;

export const pointRemarkFunction = defineFunction({
  name: 'point_remark',
  summary: 'Says when a point looks off, and what would change without it; empty when it does not.',
  source: 'Words for the results of leave_one_out.',
  limits: 'A remark only: leaving a point out, with a reason, is up to the person who read it.',
  parameters: [
    { name: 'induced_pressure', type: { kind: 'quantity', unit: 'Pa' }, summary: 'Of the point' },
    { name: 'studentized_residual', type: number, summary: 'From leave_one_out' },
    { name: 'outlier_probability', type: number, summary: 'From leave_one_out' },
    { name: 'level', type: number, summary: 'Probability under which a point is remarked on' },
    { name: 'exponent_without', type: number, summary: 'From leave_one_out' },
    { name: 'flow50_change', type: number, summary: 'From leave_one_out' },
  ],
  result: { kind: 'text' },
  example: {
    formula: 'point_remark(46 Pa, -11.2, 0.0008, 0.05, 0.632, 0.0152)',
    arguments: [46, -11.2, 0.0008, 0.05, 0.632, 0.0152],
    result:
      'the point at 46 Pa looks off (studentised residual −11.2): check what was typed; without it the flow at 50 Pa would be 1.5 % higher and the exponent 0.632',
  },
  compute: pointRemark,
});
