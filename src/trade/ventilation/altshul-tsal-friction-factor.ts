import { defineFunction, type Fault, isFault } from '../../engine/index.ts';
import { airStreamFault } from './air-stream.ts';

/** From here on the first form holds as it is. */
const HIGH = 0.018;

function firstForm(reynolds: number, roughness: number): number {
  return 0.11 * Math.pow(roughness + 68 / reynolds, 0.25);
}

/**
 * Darcy friction factor without iteration: f′ = 0.11 (ε/D + 68/Re)^0.25; f = f′ from 0.018 on, else
 * 0.85 f′ + 0.0028. Both arguments are plain numbers.
 */
export function altshulTsalFrictionFactor(reynolds: number, roughness: number): number | Fault {
  const wrong = airStreamFault(reynolds, roughness);
  if (wrong) return wrong;
  if (reynolds === 0) return NaN;
  const f = firstForm(reynolds, roughness);
  return f >= HIGH ? f : 0.85 * f + 0.0028;
}

export const altshulTsalFrictionFactorFunction = defineFunction({
  name: 'altshul_tsal_friction_factor',
  summary: 'Darcy friction factor of a duct without iteration: a check beside Colebrook’s.',
  source:
    'Altshul and Tsal, as remembered from duct-design handbooks (from memory, not read there). Held against Colebrook’s equation within 2.5 %.',
  limits: 'Turbulent flow; relative roughness 0 to 0.1. Unavailable without flow.',
  parameters: [
    { name: 'reynolds', type: { kind: 'quantity', unit: '' }, summary: 'Reynolds number of the stream' },
    { name: 'relative_roughness', type: { kind: 'quantity', unit: '' }, summary: 'Roughness over diameter' },
  ],
  result: { kind: 'quantity', unit: '' },
  example: {
    formula: 'altshul_tsal_friction_factor(26157, 0.0006)',
    arguments: [26157, 0.0006],
    result: 0.026161915745431,
  },
  compute: altshulTsalFrictionFactor,
  partials: (reynolds: number, roughness: number) => {
    const f = altshulTsalFrictionFactor(reynolds, roughness);
    if (isFault(f) || !Number.isFinite(f)) return {};
    const first = firstForm(reynolds, roughness);
    const outer = (first >= HIGH ? 1 : 0.85) * first * 0.25 * (1 / (roughness + 68 / reynolds));
    return { result: [(outer * -68) / (reynolds * reynolds), outer] };
  },
});
