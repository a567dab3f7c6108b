import { defineFunction, type Fault, isFault } from '../../engine/index.ts';
import { airStreamFault, LAMINAR_BELOW } from './air-stream.ts';

/**
 * Darcy friction factor of a duct from Reynolds number and relative roughness (roughness / diameter), both plain
 * numbers: Colebrook's equation, solved by Newton's method in x = 1/√f; 64/Re below Re 2300.
 */
export function colebrookFrictionFactor(reynolds: number, roughness: number): number | Fault {
  const wrong = airStreamFault(reynolds, roughness);
  if (wrong) return wrong;
  if (reynolds === 0) return NaN;
  if (reynolds < LAMINAR_BELOW) return 64 / reynolds;
  const x = rootOf(reynolds, roughness);
  return 1 / (x * x);
}

/** x = −2 log10(r/3.7 + 2.51 x/Re), a decreasing function of x: Newton from above converges in a few steps. */
function rootOf(reynolds: number, roughness: number): number {
  let x = 6;
  for (let step = 0; step < 50; step++) {
    const inside = roughness / 3.7 + (2.51 * x) / reynolds;
    const off = x + 2 * Math.log10(inside);
    const slope = 1 + (2 / Math.LN10) * (2.51 / reynolds / inside);
    const next = x - off / slope;
    if (Math.abs(next - x) <= 1e-14 * x) return next;
    x = next;
  }
  return x;
}

export const colebrookFrictionFactorFunction = defineFunction({
  name: 'colebrook_friction_factor',
  summary: 'Darcy friction factor of a duct, by Colebrook’s equation.',
  source:
    'Colebrook 1939: 1/√f = −2 log10(ε/(3.7 D) + 2.51/(Re √f)); 64/Re for laminar flow. Checked against the printed friction table of an open engineering reference and against the approximation of Altshul and Tsal.',
  limits:
    'Re from 0, relative roughness 0 to 0.1. Between Re 2300 and 4000 a stream may be either laminar or turbulent: the turbulent, larger value is given. Unavailable without flow.',
  parameters: [
    { name: 'reynolds', type: { kind: 'quantity', unit: '' }, summary: 'Reynolds number of the stream' },
    { name: 'relative_roughness', type: { kind: 'quantity', unit: '' }, summary: 'Roughness over diameter' },
  ],
  result: { kind: 'quantity', unit: '' },
  example: {
    formula: 'colebrook_friction_factor(26157, 0.0006)',
    arguments: [26157, 0.0006],
    result: 0.025702219945123,
  },
  compute: colebrookFrictionFactor,
  partials: (reynolds: number, roughness: number) => {
    const f = colebrookFrictionFactor(reynolds, roughness);
    if (isFault(f) || !Number.isFinite(f)) return {};
    if (reynolds < LAMINAR_BELOW) return { result: [-64 / (reynolds * reynolds), 0] };
    const x = 1 / Math.sqrt(f);
    const inside = roughness / 3.7 + (2.51 * x) / reynolds;
    const k = 2 / Math.LN10 / inside;
    const slope = 1 + (k * 2.51) / reynolds;
    const byReynolds = (k * 2.51 * x) / (reynolds * reynolds) / slope;
    const byRoughness = -k / 3.7 / slope;
    const byX = -2 / (x * x * x);
    return { result: [byX * byReynolds, byX * byRoughness] };
  },
});
