/** What a month of steady weather does to the water between the layers. */
import { AIR_PERMEABILITY, profile, type Airs, type Layers, type Profile } from './assembly-section.ts';
import { endFlows, gathering } from './taut-string.ts';

export interface MonthOfWater {
  /** kg/m² that came in from the room, and that went out, in the whole month. */
  readonly inflow: number;
  readonly outflow: number;
  /** At the end of the month, of each plane, kg/m². */
  readonly water: readonly number[];
  /** The profile at the start of the month. */
  readonly start: Profile;
}

/** More changes from wet to dry than this do not happen in a month. */
const MOST_CHANGES = 10_000;

/**
 * Carries the water of each plane (kg/m²) through `seconds` of one climate. A wet plane is held at saturation and may
 * dry; a plane that falls dry within the month is let go at that moment, so that nothing dries which is not there and
 * what comes in is what goes out and what stays.
 */
export function monthOfWater(
  layers: Layers,
  airs: Airs,
  before: readonly number[],
  seconds: number,
): MonthOfWater {
  const water = [...before];
  const isWet = (plane: number): boolean => (water[plane] ?? 0) > 0;
  const start = profile(layers, airs, isWet);
  let [inflow, outflow, left] = [0, 0, seconds];
  let now = start;
  for (let change = 0; change < MOST_CHANGES && left > 0; change++) {
    const rates = now.corners.map((corner, i) =>
      corner.plane < 0 ? 0 : AIR_PERMEABILITY * gathering(now.corners, i),
    );
    let step = left;
    now.corners.forEach(({ plane }, i) => {
      const rate = rates[i] ?? 0;
      if (rate < 0) step = Math.min(step, (water[plane] ?? 0) / -rate);
    });
    now.corners.forEach(({ plane }, i) => {
      const rate = rates[i] ?? 0;
      if (plane < 0) return;
      const old = water[plane] ?? 0;
      // The plane that set the step is dry to the last digit.
      water[plane] = rate < 0 && old / -rate <= step ? 0 : old + rate * step;
    });
    const flows = endFlows(now.corners);
    inflow += AIR_PERMEABILITY * flows.into * step;
    outflow += AIR_PERMEABILITY * flows.out * step;
    left -= step;
    if (left > 0) now = profile(layers, airs, isWet);
  }
  return { inflow, outflow, water: now.planes.map((_, plane) => water[plane] ?? 0), start };
}
