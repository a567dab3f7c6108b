import { defineFunction, fault, type Fault } from '../../engine/index.ts';

export interface AssemblyResistance {
  /** Heat runs straight through, each way through the layers by itself: the most that the wall can resist. */
  readonly upperLimit: number;
  /** Every plane between layers has one temperature: the least. */
  readonly lowerLimit: number;
  /** Mean of the two. */
  readonly combined: number;
  /** Largest relative error of the mean: (upper − lower) / (2 × mean). */
  readonly errorBound: number;
}

/** Ways through the layers double with each framed layer. */
const MOST_FRAMED = 12;

/**
 * Resistance of layers in series, surface films among them, of which some are framed: resistance between the framing
 * and through it (both m² K/W; equal where a layer has none) and the share of framing (fraction). The framing of one
 * layer is taken to stand without regard to that of another.
 */
export function assemblyResistance(
  clear: readonly number[],
  framing: readonly number[],
  share: readonly number[],
): AssemblyResistance | Fault {
  if (clear.length === 0) return { upperLimit: NaN, lowerLimit: NaN, combined: NaN, errorBound: NaN };
  const layers = clear.map((r, i) => ({ clear: r, framing: framing[i] ?? NaN, share: share[i] ?? NaN }));
  for (const [i, layer] of layers.entries()) {
    const at = `Layer ${String(i + 1)}`;
    if (!(layer.share >= 0 && layer.share <= 1))
      return fault(
        `${at}: the share of framing must lie between 0 and 100 %.`,
        'Write it with its unit: 16 %.',
      );
    if (!(layer.clear >= 0 && layer.framing >= 0 && layer.clear < 1e6 && layer.framing < 1e6))
      return fault(`${at}: a resistance is missing or below zero.`, 'A thin membrane may have 0.');
    if (layer.share > 0 && layer.share < 1 && (layer.clear === 0) !== (layer.framing === 0))
      return fault(`${at}: one of its two resistances is zero.`, 'Give both, or no share of framing.');
  }
  const framed = layers.filter((layer) => layer.share > 0 && layer.clear !== layer.framing);
  if (framed.length > MOST_FRAMED)
    return fault(
      `${String(framed.length)} layers are framed; at most ${String(MOST_FRAMED)} can be.`,
      'Join layers with the same framing into one.',
    );
  const plain = layers.reduce((sum, layer) => (framed.includes(layer) ? sum : sum + layer.clear), 0);
  const lowerLimit = framed.reduce(
    (sum, layer) => sum + 1 / ((1 - layer.share) / layer.clear + layer.share / layer.framing),
    plain,
  );
  if (!(lowerLimit > 0)) return fault('The layers have no resistance at all.', 'Give the surface films too.');
  let through = 0;
  for (let way = 0; way < 2 ** framed.length; way++) {
    let part = 1;
    let resistance = plain;
    framed.forEach((layer, bit) => {
      const inFraming = (way >> bit) % 2 === 1;
      part *= inFraming ? layer.share : 1 - layer.share;
      resistance += inFraming ? layer.framing : layer.clear;
    });
    through += part / resistance;
  }
  const upperLimit = 1 / through;
  const combined = (upperLimit + lowerLimit) / 2;
  return { upperLimit, lowerLimit, combined, errorBound: (upperLimit - lowerLimit) / (2 * combined) };
}

const resistance = { kind: 'quantity', unit: 'm2 K/W' } as const;
const number = { kind: 'quantity', unit: '' } as const;

export const assemblyResistanceFunction = defineFunction({
  name: 'assembly_resistance',
  summary: 'Resistance of a layered assembly with framing: upper limit, lower limit and their mean.',
  source:
    'Combined method of ISO 6946 (upper limit by parallel paths, lower limit by isothermal planes, mean of both). Checked against the wood-frame wall U-factors of ASHRAE 90.1 appendix A, and against a framed-wall example of the 2002 approved document L1 of England and Wales (its numbers from memory).',
  limits:
    'Wood framing, not steel. The framing of one layer stands without regard to that of another. Surface films are layers. At most 12 framed layers.',
  parameters: [
    { name: 'clear', type: resistance, column: true, summary: 'Between the framing, one for each layer' },
    {
      name: 'framing',
      type: resistance,
      column: true,
      summary: 'Through the framing; the same where there is none',
    },
    {
      name: 'framing_share',
      type: number,
      column: true,
      summary: 'Share of framing in the area of the layer',
    },
  ],
  result: {
    kind: 'record',
    fields: {
      upper_limit: { type: resistance, summary: 'By parallel paths' },
      lower_limit: { type: resistance, summary: 'By isothermal planes' },
      combined: { type: resistance, summary: 'Mean of the two limits' },
      error_bound: { type: number, summary: 'Largest relative error of the mean' },
    },
  },
  example: {
    arguments: [
      [0.04, 0.132, 0.18, 0.077, 3.684, 0.05, 0.13],
      [0.04, 0.132, 0.18, 0.077, 1.077, 0.05, 0.13],
      [0, 0, 0, 0, 0.15, 0, 0],
    ],
    result: {
      upper_limit: 3.484749043114032,
      lower_limit: 3.3116790640645752,
      combined: 3.398214053589304,
      error_bound: 0.02546484363847752,
    },
  },
  compute: (clear: readonly number[], framing: readonly number[], share: readonly number[]) => {
    const found = assemblyResistance(clear, framing, share);
    if ('fault' in found) return found;
    return {
      upper_limit: found.upperLimit,
      lower_limit: found.lowerLimit,
      combined: found.combined,
      error_bound: found.errorBound,
    };
  },
});
