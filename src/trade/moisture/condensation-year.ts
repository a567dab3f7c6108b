import { fault, type Fault } from '../../engine/index.ts';
import { airsFault, layersFault, type Airs, type Layers } from './assembly-section.ts';
import { monthOfWater, type MonthOfWater } from './condensation-month.ts';

export interface Month {
  readonly seconds: number;
  readonly airs: Airs;
}

export interface CondensationYear {
  /** In the order of the months given; kg/m². */
  readonly months: readonly (MonthOfWater & { readonly gained: number; readonly held: number })[];
  /** Most water at the end of a month, kg/m². */
  readonly most: number;
  /** Water left after the twelve months, kg/m²: more every year, where above zero. */
  readonly left: number;
  /** The month in which condensation begins; −1 where none does. */
  readonly begins: number;
  /** Layer in or behind which the most water lies; −1 where there is none. */
  readonly wettestLayer: number;
}

const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

/**
 * The year's water, month by month, from dry at the beginning of the month in which condensation begins. Where it
 * begins more than once a year, the beginning with the most water counts.
 */
export function condensationYear(layers: Layers, months: readonly Month[]): CondensationYear | Fault {
  const wrong = layersFault(layers);
  if (wrong) return wrong;
  for (const [i, { seconds, airs }] of months.entries()) {
    const bad = airsFault(airs);
    if (bad) return fault(`Month ${String(i + 1)}. ${bad.fault}`, bad.suggestion);
    if (!(seconds > 0 && seconds < 1e9))
      return fault(`Month ${String(i + 1)} has no days.`, 'For instance 31.');
  }
  const wets = months.map(({ airs, seconds }) => sum(monthOfWater(layers, airs, [], seconds).water) > 0);
  const beginnings = wets.flatMap((wet, i) => (wet && wets.at(i - 1) === false ? [i] : []));
  if (beginnings.length === 0) beginnings.push(wets[0] === true ? 0 : -1);
  const years = beginnings.map((begin) => yearFrom(layers, months, begin));
  return years.reduce((a, b) => (b.most > a.most ? b : a));
}

function yearFrom(layers: Layers, months: readonly Month[], begins: number): CondensationYear {
  const found: (CondensationYear['months'][number] | undefined)[] = months.map(() => undefined);
  let water: readonly number[] = [];
  let [most, wettestLayer] = [0, -1];
  for (let k = 0; k < months.length; k++) {
    const at = (Math.max(begins, 0) + k) % months.length;
    const month = months[at];
    if (!month) break;
    const after = monthOfWater(layers, month.airs, water, month.seconds);
    const held = sum(after.water);
    found[at] = { ...after, held, gained: held - sum(water) };
    if (held > most) {
      most = held;
      wettestLayer = after.start.layerOf[after.water.indexOf(Math.max(...after.water))] ?? -1;
    }
    water = after.water;
  }
  return {
    months: found.filter((month) => month !== undefined),
    most,
    left: sum(water),
    begins,
    wettestLayer,
  };
}
