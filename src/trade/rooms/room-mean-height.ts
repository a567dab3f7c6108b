import { defineFunction, fault, type Fault } from '../../engine/index.ts';

/** Mean height of a room, m: half-way between the height at the eave and the ridge, which are equal under a flat ceiling. */
export function roomMeanHeight(eaveHeight: number, ridgeHeight: number): number | Fault {
  if (!(eaveHeight > 0 && eaveHeight < Infinity))
    return fault(
      'This room has no height.',
      'Type it under Height; where the ceiling is uneven, under Average height.',
    );
  if (!(ridgeHeight >= eaveHeight && ridgeHeight < Infinity))
    return fault('The ridge of this room is lower than its eave.', 'Height is the lower one, at the eave.');
  return eaveHeight / 2 + ridgeHeight / 2;
}

const length = { kind: 'quantity', unit: 'm' } as const;

export const roomMeanHeightFunction = defineFunction({
  name: 'room_mean_height',
  summary: 'Mean height of a room under a flat ceiling or a ridge.',
  source: 'Geometry: a ceiling of even pitch is on average half-way between eave and ridge.',
  limits: 'Both slopes reach the same eave height. A room whose height is not above zero is refused.',
  parameters: [
    { name: 'eave_height', type: length, summary: 'Floor to flat ceiling, or to the eave' },
    { name: 'ridge_height', type: length, summary: 'Floor to ridge; under a flat ceiling the same again' },
  ],
  result: length,
  example: { formula: 'room_mean_height(2.7 m, 4.1 m)', arguments: [2.7, 4.1], result: 3.4 },
  compute: roomMeanHeight,
  partials: () => ({ result: [0.5, 0.5] }),
});
