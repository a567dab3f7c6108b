import { defineFunction, fault, numeral, type Fault, type Parameter } from '../../engine/index.ts';
import {
  airsFault,
  AIR_PERMEABILITY,
  layersFault,
  profile,
  type Airs,
  type Layers,
} from './assembly-section.ts';
import { interstitialSaturation } from './interstitial-saturation.ts';
import { gathering, pressureAt } from './taut-string.ts';

const number = { kind: 'quantity', unit: '' } as const;

/** What every function of a layered assembly takes first; the curve stands in a table of its own. */
export const LAYER_PARAMETERS = [
  {
    name: 'resistance',
    type: { kind: 'quantity', unit: 'm2 K/W' },
    column: true,
    summary: 'Of each layer, inside to outside, surface films among them',
  },
  {
    name: 'air_layer',
    type: { kind: 'quantity', unit: 'm' },
    column: true,
    summary: 'Equivalent air layer of each layer; 0 for a film',
  },
  {
    name: 'follows_curve',
    type: number,
    column: true,
    summary: '1 for the layer whose equivalent air layer follows the membrane curve, else 0',
  },
  {
    name: 'curve_humidity',
    type: number,
    column: true,
    table: 'curve',
    summary: 'Relative humidity of each point of the membrane curve, rising',
  },
  {
    name: 'curve_air_layer',
    type: { kind: 'quantity', unit: 'm' },
    column: true,
    table: 'curve',
    summary: 'Equivalent air layer of each point, never rising',
  },
] as const satisfies readonly Parameter[];

/** A constructed wall, inside to outside: film, board, variable membrane, wool, sheathing, film. */
export const EXAMPLE_LAYERS: readonly (readonly number[])[] = [
  [0.13, 0.05, 0, 4, 0.012 / 0.13, 0.04],
  [0, 0.125, 1, 0.14, 0.6, 0],
  [0, 0, 1, 0, 0, 0],
  [0.3, 0.9],
  [1, 0.25],
];

export const SOLVER_SOURCE =
  'Steady vapour diffusion between two airs with condensation where saturation is reached (the method of Glaser; remembered for ISO 13788, from memory: permeability of air 2.0e-10 kg/(m s Pa), layers of more than 0.25 m² K/W cut into slices). Checked against the closed form for one condensing plane and against an independent solution of the obstacle problem for several.';
export const SOLVER_LIMITS =
  'No air leakage, no rain, no sun, no storage in the materials, no capillary flow: a leak in the air barrier carries more vapour than diffusion. Condensation on the inner surface is another check. At most one layer follows the curve.';

export function layersOf(
  resistance: readonly number[],
  thickness: readonly number[],
  variable: readonly number[],
  humidity: readonly number[],
  curveThickness: readonly number[],
): Layers {
  return { resistance, thickness, variable, curve: { humidity, thickness: curveThickness } };
}

/** What stands at the outer face of one layer, counted from 1 at the inside. */
export interface FaceState {
  readonly temperature: number;
  readonly pressure: number;
  readonly saturation: number;
  /** Gathering in this layer or at its outer face, and in the whole assembly, kg/(m² s). */
  readonly condensing: number;
  readonly condensingInAll: number;
  readonly membrane: number;
}

export function faceState(layers: Layers, airs: Airs, layer: number): FaceState | Fault {
  const wrong = layersFault(layers) ?? airsFault(airs);
  if (wrong) return wrong;
  const count = layers.resistance.length;
  const found = profile(layers, airs, () => false);
  const face = found.faces[layer - 1];
  if (!face)
    return fault(`There is no layer ${numeral(layer)}.`, `Layers are counted from 1 to ${String(count)}.`);
  let [condensing, condensingInAll] = [0, 0];
  found.corners.forEach(({ plane }, i) => {
    if (plane < 0) return;
    const rate = AIR_PERMEABILITY * gathering(found.corners, i);
    condensingInAll += rate;
    if (found.layerOf[plane] === layer - 1) condensing += rate;
  });
  return {
    temperature: face.temperature,
    pressure: pressureAt(found.corners, face.position),
    saturation: interstitialSaturation(face.temperature),
    condensing,
    condensingInAll,
    membrane: found.membrane,
  };
}

const reading = { kind: 'quantity', unit: 'degC' } as const;
const pressure = { kind: 'quantity', unit: 'Pa' } as const;
const rate = { kind: 'quantity', unit: 'kg/(m2 s)' } as const;

export const vapourProfileFunction = defineFunction({
  name: 'vapour_profile',
  summary:
    'Temperature, vapour pressure and saturation at the outer face of one layer, and what condenses there.',
  source: SOLVER_SOURCE,
  limits: SOLVER_LIMITS,
  parameters: [
    ...LAYER_PARAMETERS,
    { name: 'indoor_temperature', type: reading, summary: 'Air indoors' },
    { name: 'indoor_vapour_pressure', type: pressure, summary: 'Air indoors' },
    { name: 'outdoor_temperature', type: reading, summary: 'Air outdoors' },
    { name: 'outdoor_vapour_pressure', type: pressure, summary: 'Air outdoors' },
    { name: 'layer', type: number, summary: 'Whose outer face, counted from 1 at the inside' },
  ],
  result: {
    kind: 'record',
    fields: {
      temperature: { type: reading, summary: 'Of the face' },
      vapour_pressure: { type: pressure, summary: 'At the face' },
      saturation: { type: pressure, summary: 'At the temperature of the face' },
      condensing: { type: rate, summary: 'In this layer or at its outer face' },
      condensing_in_all: { type: rate, summary: 'In the whole assembly' },
      membrane_air_layer: {
        type: { kind: 'quantity', unit: 'm' },
        summary: 'Equivalent air layer that the variable membrane takes here',
      },
    },
  },
  // In the winter climate printed in DIN 4108-3.
  example: {
    arguments: [...EXAMPLE_LAYERS, 293.15, 1168.4755587774, 268.15, 320.9447837, 4],
    result: {
      temperature: 268.91703531930074,
      vapour_pressure: 428.31827910207494,
      saturation: 428.3182791020749,
      condensing: 9.614450468327933e-8,
      condensing_in_all: 9.614450468327933e-8,
      membrane_air_layer: 0.8569972289529367,
    },
  },
  compute: (
    resistance: readonly number[],
    thickness: readonly number[],
    variable: readonly number[],
    humidity: readonly number[],
    curveThickness: readonly number[],
    indoor: number,
    indoorPressure: number,
    outdoor: number,
    outdoorPressure: number,
    layer: number,
  ) => {
    const found = faceState(
      layersOf(resistance, thickness, variable, humidity, curveThickness),
      { indoor, outdoor, indoorPressure, outdoorPressure },
      layer,
    );
    if ('fault' in found) return found;
    return {
      temperature: found.temperature,
      vapour_pressure: found.pressure,
      saturation: found.saturation,
      condensing: found.condensing,
      condensing_in_all: found.condensingInAll,
      membrane_air_layer: found.membrane,
    };
  },
});
