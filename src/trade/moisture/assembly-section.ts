/** A wall as vapour and heat see it: cut into slices, each face a place where water could gather. */
import { fault, type Fault } from '../../engine/index.ts';
import { interstitialSaturation } from './interstitial-saturation.ts';
import { curveFault, curveThickness, type MembraneCurve } from './membrane-curve.ts';
import { pressureAt, tautString, type Plane, type StringPoint } from './taut-string.ts';

/** Permeability of still air to vapour, kg/(m s Pa). From memory for ISO 13788. */
export const AIR_PERMEABILITY = 2e-10;

/** A layer with more resistance than this, m² K/W, is cut into slices of no more. From memory for ISO 13788. */
const SLICE = 0.25;

/** Layers from inside to outside, films among them. */
export interface Layers {
  /** m² K/W. */
  readonly resistance: readonly number[];
  /** Equivalent air layer, m; of the variable membrane a value that its curve replaces. */
  readonly thickness: readonly number[];
  /** 1 where the thickness follows the membrane curve, else 0. */
  readonly variable: readonly number[];
  readonly curve: MembraneCurve;
}

/** Air on both sides: K and Pa. */
export interface Airs {
  readonly indoor: number;
  readonly outdoor: number;
  readonly indoorPressure: number;
  readonly outdoorPressure: number;
}

export interface Face {
  readonly temperature: number;
  /** Equivalent air layer from the inside up to this face, m. */
  readonly position: number;
}

export interface Profile {
  readonly planes: readonly Plane[];
  readonly corners: readonly StringPoint[];
  /** Outer face of each layer. */
  readonly faces: readonly Face[];
  /** Layer in which, or at whose outer face, a plane lies. */
  readonly layerOf: readonly number[];
  /** Equivalent air layer that the variable membrane takes here, m; NaN without one. */
  readonly membrane: number;
}

export function layersFault({ resistance, thickness, variable, curve }: Layers): Fault | undefined {
  for (const [i, r] of resistance.entries()) {
    if (!(r >= 0 && r < 100)) return fault(`Layer ${String(i + 1)} has no resistance.`, 'A membrane has 0.');
    const sd = thickness[i] ?? NaN;
    if (!(sd >= 0 && sd < 1e7))
      return fault(
        `Layer ${String(i + 1)} has no equivalent air layer.`,
        'A film has 0 m; a board has its thickness times its resistance factor.',
      );
  }
  const variables = variable.filter((flag) => flag !== 0).length;
  if (variables > 1)
    return fault(
      'More than one layer follows the membrane curve.',
      'Let one follow it, and type the others.',
    );
  if (!(resistance.reduce((a, b) => a + b, 0) > 0))
    return fault('The layers have no resistance at all.', 'Give the surface films too.');
  if (!(thickness.reduce((a, b) => a + b, 0) > 0))
    return fault('No layer holds vapour back.', 'Give the layers their equivalent air layer.');
  if (variables === 1 && curve.humidity.length === 0)
    return fault('The membrane curve has no points.', 'Type its humidities and equivalent air layers.');
  return variables === 1 ? curveFault(curve) : undefined;
}

export function airsFault({ indoor, outdoor, indoorPressure, outdoorPressure }: Airs): Fault | undefined {
  const wrong = (kelvin: number, pressure: number, where: string): Fault | undefined => {
    if (!(kelvin > 193.15 && kelvin < 343.15))
      return fault(`${where}: this is no temperature of air at a house.`, '68 degF is 20 degC.');
    if (!(pressure >= 0 && pressure <= interstitialSaturation(kelvin) * (1 + 1e-9)))
      return fault(
        `${where}: the vapour pressure lies above saturation or below zero.`,
        'Relative humidity lies between 0 and 100 %.',
      );
    return undefined;
  };
  return wrong(indoor, indoorPressure, 'Indoors') ?? wrong(outdoor, outdoorPressure, 'Outdoors');
}

/** Part of a layer, and what saturates at its outer face. */
interface Slice {
  readonly layer: number;
  /** Equivalent air layer; of the variable membrane its part of the whole. */
  readonly thickness: number;
  readonly saturation: number;
}

/** The steady profile. `wet` says which planes hold water; planes keep their order from call to call. */
export function profile(layers: Layers, airs: Airs, wet: (plane: number) => boolean): Profile {
  const at = layers.variable.findIndex((flag) => flag !== 0);
  const total = layers.resistance.reduce((a, b) => a + b, 0);
  const temperature = (r: number): number => airs.indoor + ((airs.outdoor - airs.indoor) * r) / total;
  const temperatures: number[] = [];
  const slices: Slice[] = [];
  let r = 0;
  layers.resistance.forEach((resistance, layer) => {
    const thickness = layer === at ? 1 : (layers.thickness[layer] ?? NaN);
    const count = thickness > 0 ? Math.max(1, Math.ceil(resistance / SLICE)) : 1;
    for (let slice = 1; slice <= count; slice++)
      slices.push({
        layer,
        thickness: thickness / count,
        saturation: interstitialSaturation(temperature(r + (resistance * slice) / count)),
      });
    r += resistance;
    temperatures.push(temperature(r));
  });
  const solve = (membrane: number): Profile => {
    const { planes, layerOf, positions } = planesOf(slices, at, membrane);
    const length = positions[positions.length - 1] ?? NaN;
    const corners = tautString(planes, length, airs.indoorPressure, airs.outdoorPressure, wet);
    const faces = temperatures.map((kelvin, layer) => ({
      temperature: kelvin,
      position: positions[layer] ?? NaN,
    }));
    return { planes, corners, faces, layerOf, membrane };
  };
  if (at < 0) return solve(NaN);
  // The membrane's humidity decides its thickness, which decides its humidity: halve until both agree.
  const excess = (humidity: number): number =>
    meanHumidity(solve(curveThickness(layers.curve, humidity)), airs, at) - humidity;
  let [low, high] = [0, 1];
  if (excess(high) >= 0) low = high;
  while (high - low > 1e-12) {
    const middle = (low + high) / 2;
    if (excess(middle) > 0) low = middle;
    else high = middle;
  }
  return solve(curveThickness(layers.curve, (low + high) / 2));
}

/** Mean relative humidity of both faces of a layer. */
function meanHumidity({ faces, corners }: Profile, airs: Airs, layer: number): number {
  const humidity = (face: Face | undefined): number =>
    face
      ? pressureAt(corners, face.position) / interstitialSaturation(face.temperature)
      : airs.indoorPressure / interstitialSaturation(airs.indoor);
  return (humidity(faces[layer - 1]) + humidity(faces[layer])) / 2;
}

/** Where water could gather, and the position of the outer face of each layer. */
function planesOf(
  slices: readonly Slice[],
  at: number,
  membrane: number,
): { readonly planes: Plane[]; readonly layerOf: number[]; readonly positions: number[] } {
  const planes: Plane[] = [];
  const layerOf: number[] = [];
  const positions: number[] = [];
  let position = 0;
  for (const { layer, thickness, saturation } of slices) {
    position += layer === at ? membrane * thickness : thickness;
    positions[layer] = position;
    if (!(position > 0)) continue;
    const end = planes.length - 1;
    const last = planes[end];
    if (!last || position > last.position) {
      planes.push({ position, saturation });
      layerOf.push(layer);
    } else if (saturation < last.saturation) {
      // No vapour resistance between them: the colder of the two decides.
      planes[end] = { position, saturation };
      layerOf[end] = layer;
    }
  }
  // A plane lies between vapour resistances; the last one would lie in the outdoor air.
  planes.pop();
  layerOf.pop();
  return { planes, layerOf, positions };
}
