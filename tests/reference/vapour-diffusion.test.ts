/** Vapour diffusion against the closed form for one plane, an independent solution for several, and its own laws. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  condensationYear,
  faceState,
  interstitialSaturation,
  monthOfWater,
  type Airs,
  type Layers,
  type Month,
} from '../../src/trade/index.ts';
import { expectRelative, sound } from '../trade/closeness.ts';
import { plain } from '../trade/plain.ts';
import { obstacleFlows } from './obstacle.ts';

const K = 273.15;
const AIR = 2e-10;
const NO_CURVE = { humidity: [], thickness: [] };

function wall(...layers: readonly (readonly [resistance: number, thickness: number])[]): Layers {
  return {
    resistance: layers.map(([r]) => r),
    thickness: layers.map(([, sd]) => sd),
    variable: layers.map(() => 0),
    curve: NO_CURVE,
  };
}
function airs(indoor: number, rhIn: number, outdoor: number, rhOut: number): Airs {
  return {
    indoor: indoor + K,
    outdoor: outdoor + K,
    indoorPressure: rhIn * interstitialSaturation(indoor + K),
    outdoorPressure: rhOut * interstitialSaturation(outdoor + K),
  };
}

/** Winter of DIN 4108-3: 20 °C 50 %, −5 °C 80 %, 90 days. */
const WINTER = airs(20, 0.5, -5, 0.8);
const NINETY_DAYS = 90 * 86400;

/** Constructed: board, membrane, wool, sheathing, and wood fibre outside where given. */
const G1 = (membrane: number): Layers =>
  wall([0.13, 0], [0.05, 0.125], [0, membrane], [4, 0.14], [0.012 / 0.13, 0.6], [0.04, 0]);
const G2 = (membrane: number): Layers =>
  wall([0.13, 0], [0.05, 0.125], [0, membrane], [4, 0.14], [0.012 / 0.13, 0.6], [1.5, 0.18], [0.04, 0]);

describe('one condensing plane, the constructed wall', () => {
  it('has the temperatures and pressures worked out apart', () => {
    const at = (layer: number) => sound(faceState(G1(0), WINTER, layer));
    expect(at(1).temperature - K).toBeCloseTo(19.2463, 4);
    expect(at(2).temperature - K).toBeCloseTo(18.9565, 4);
    expect(at(4).temperature - K).toBeCloseTo(-4.233, 4);
    expect(at(5).temperature - K).toBeCloseTo(-4.7681, 4);
    expectRelative(at(4).saturation, 428.3183, 1e-6);
    expectRelative(WINTER.indoorPressure, 1168.4756, 1e-7);
    expectRelative(WINTER.outdoorPressure, 320.9448, 1e-7);
    expectRelative((AIR * (at(4).saturation - WINTER.outdoorPressure)) / 0.6, 3.579116e-8, 1e-6);
  });

  it.each([0, 0.1, 0.25, 1, 2, 5, 10, 50])('membrane of %d m: the closed form', (membrane) => {
    const found = sound(faceState(G1(membrane), WINTER, 4));
    const inside = 0.125 + membrane + 0.14;
    const closed =
      AIR *
      ((WINTER.indoorPressure - found.saturation) / inside -
        (found.saturation - WINTER.outdoorPressure) / 0.6);
    const free =
      WINTER.indoorPressure - ((WINTER.indoorPressure - WINTER.outdoorPressure) * inside) / (inside + 0.6);
    expect(free > found.saturation).toBe(closed > 0);
    expectRelative(found.condensing, Math.max(closed, 0), 1e-9);
    expectRelative(found.pressure, Math.min(free, found.saturation), 1e-9);
  });

  it('with wood fibre outside: 1.943667 kg/m² in 90 days, and 0.627116 behind a membrane of 0.25 m', () => {
    const bare = sound(faceState(G2(0), WINTER, 4));
    expect(bare.temperature - K).toBeCloseTo(2.0209, 4);
    expectRelative(bare.saturation, 706.345, 1e-6);
    expectRelative(bare.condensingInAll, 2.499572e-7, 1e-6);
    expectRelative(bare.condensingInAll * NINETY_DAYS, 1.943667, 1e-6);
    const membrane = sound(faceState(G2(0.25), WINTER, 4));
    expectRelative(membrane.condensingInAll, 8.064759e-8, 1e-6);
    expectRelative(membrane.condensingInAll * NINETY_DAYS, 0.627116, 1e-6);
  });

  it('a textbook board (Çengel and Ghajar, Heat and Mass Transfer 5e, chapter 14): 8.32 kg in a day', () => {
    // Permeance 2.86e-9 kg/(s m² Pa), 3 × 8 m, 20 °C and 60 % against no vapour.
    const board = wall([0.13, 0], [0.05, AIR / 2.86e-9], [0.04, 0]);
    const dry: Airs = { ...airs(20, 0.6, 20, 0), outdoorPressure: 0 };
    const { inflow } = monthOfWater(board, dry, [], 86400);
    expectRelative(inflow * 24, 8.322, 2e-3);
  });
});

const layer = fc.tuple(
  fc.double({ min: 0.02, max: 0.25, noNaN: true }),
  fc.double({ min: 0.02, max: 3, noNaN: true }),
);
const climate = fc
  .record({
    indoor: fc.double({ min: 15, max: 25, noNaN: true }),
    rhIn: fc.double({ min: 0.2, max: 0.9, noNaN: true }),
    outdoor: fc.double({ min: -25, max: 22, noNaN: true }),
    rhOut: fc.double({ min: 0.3, max: 0.98, noNaN: true }),
  })
  .map(({ indoor, rhIn, outdoor, rhOut }) => airs(indoor, rhIn, outdoor, rhOut));
const layered = fc
  .array(layer, { minLength: 2, maxLength: 6 })
  .map((layers) => wall([0.13, 0], ...layers, [0.04, 0]));

/** Positions and saturation at the faces between the layers, from first principles. */
function faces(layers: Layers, air: Airs): { positions: number[]; saturation: number[]; length: number } {
  const total = layers.resistance.reduce((a, b) => a + b);
  const length = layers.thickness.reduce((a, b) => a + b);
  const positions: number[] = [];
  const saturation: number[] = [];
  let [r, s] = [0, 0];
  layers.resistance.forEach((resistance, i) => {
    r += resistance;
    s += layers.thickness[i]!;
    if (i === 0 || i >= layers.resistance.length - 2) return;
    positions.push(s);
    saturation.push(interstitialSaturation(air.indoor + ((air.outdoor - air.indoor) * r) / total));
  });
  return { positions, saturation, length };
}

describe('several planes', () => {
  it('two condensing planes agree with the obstacle problem, solved apart', () => {
    // Two tight layers with wool between and outside: water gathers inside of both.
    const layers = wall([0.13, 0], [0.2, 0.2], [0.2, 0.05], [0.05, 2], [0.2, 0.05], [0.05, 6], [0.04, 0]);
    const air = airs(20, 0.8, -20, 0.9);
    const { positions, saturation, length } = faces(layers, air);
    const other = obstacleFlows(positions, saturation, air.indoorPressure, air.outdoorPressure, length);
    const wet = other.gathering.filter((g) => g > 1);
    expect(wet.length).toBeGreaterThanOrEqual(2);
    positions.forEach((_, i) => {
      const found = sound(faceState(layers, air, i + 2));
      expectRelative(found.pressure, other.pressures[i]!, 1e-9);
      expect(Math.abs(found.condensing - AIR * other.gathering[i]!)).toBeLessThan(1e-9 * AIR * 1e4);
    });
  });

  it('any wall in any air agrees with the obstacle problem', () => {
    fc.assert(
      fc.property(layered, climate, (layers, air) => {
        const { positions, saturation, length } = faces(layers, air);
        const other = obstacleFlows(positions, saturation, air.indoorPressure, air.outdoorPressure, length);
        positions.forEach((_, i) => {
          const found = sound(faceState(layers, air, i + 2));
          expectRelative(found.pressure, other.pressures[i]!, 1e-8);
        });
      }),
      { numRuns: 200 },
    );
  });
});

describe('laws', () => {
  it('nothing is lost: what comes in is what goes out and what stays', () => {
    fc.assert(
      fc.property(layered, fc.array(climate, { minLength: 1, maxLength: 6 }), (layers, months) => {
        let water: readonly number[] = [];
        for (const air of months) {
          const after = monthOfWater(layers, air, water, 30 * 86400);
          const sum = (list: readonly number[]) => list.reduce((a, b) => a + b, 0);
          const stays = sum(after.water) - sum(water);
          const size = Math.abs(after.inflow) + Math.abs(after.outflow) + sum(water);
          expect(Math.abs(after.inflow - after.outflow - stays)).toBeLessThanOrEqual(1e-9 * size);
          for (const amount of after.water) expect(amount).toBeGreaterThanOrEqual(0);
          water = after.water;
        }
      }),
    );
  });

  it('more insulation outside, open to vapour, never brings more condensation', () => {
    const cold = climate.filter((air) => air.indoor > air.outdoor);
    fc.assert(
      fc.property(
        layered,
        cold,
        fc.double({ min: 0, max: 3, noNaN: true }),
        fc.double({ min: 0.01, max: 3, noNaN: true }),
        (layers, air, some, more) => {
          const insulated = (r: number): Layers => ({
            ...layers,
            resistance: layers.resistance.with(-1, 0.04 + r),
          });
          const water = (r: number) => sound(faceState(insulated(r), air, 1)).condensingInAll;
          expect(water(some + more)).toBeLessThanOrEqual(water(some) * (1 + 1e-9) + 1e-22);
        },
      ),
    );
  });

  it('a tighter inner membrane never brings more condensation', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 10, noNaN: true }),
        fc.double({ min: 0.01, max: 10, noNaN: true }),
        (some, more) => {
          const water = (sd: number) => sound(faceState(G1(sd), WINTER, 1)).condensingInAll;
          expect(water(some + more)).toBeLessThanOrEqual(water(some) * (1 + 1e-9));
        },
      ),
    );
  });

  it('slices within a layer change nothing where the water gathers between layers', () => {
    const halves = wall([0.13, 0], [0.05, 0.125], [2, 0.07], [2, 0.07], [0.012 / 0.13, 0.6], [0.04, 0]);
    expectRelative(
      sound(faceState(halves, WINTER, 1)).condensingInAll,
      sound(faceState(G1(0), WINTER, 1)).condensingInAll,
      1e-12,
    );
  });
});

describe('drying', () => {
  const month = (air: Airs): Month => ({ seconds: 30 * 86400, airs: air });
  const cold = month(airs(20, 0.5, -5, 0.8));
  const warm = month(airs(20, 0.5, 15, 0.7));

  it('goes on only while there is water, and stops at none', () => {
    const year = sound(condensationYear(G1(0), [cold, cold, cold, warm, warm, warm]));
    const held = year.months.map((m) => m.held);
    expect(held[2]).toBeGreaterThan(held[1] ?? NaN);
    expect(held[3]).toBeLessThan(held[2] ?? NaN);
    expect(Math.min(...held)).toBeGreaterThanOrEqual(0);
    expect(year.begins).toBe(0);
    expect(year.most).toBe(held[2]);
    expect(sound(condensationYear(G1(0), [warm, warm])).most).toBe(0);
    expect(sound(condensationYear(G1(0), [warm, warm])).begins).toBe(-1);
  });

  it('begins with the month in which condensation begins, wherever the list begins', () => {
    const round = [warm, warm, warm, cold, cold, cold];
    const turned = sound(condensationYear(G1(0), round));
    expect(turned.begins).toBe(3);
    expectRelative(turned.most, sound(condensationYear(G1(0), [...round].reverse())).most, 1e-12);
    expect(turned.months[0]?.held).toBeLessThan(turned.months[5]?.held ?? NaN);
  });

  it('by the closed form: held at saturation, the plane loses to both sides', () => {
    const air = warm.airs;
    const plane = interstitialSaturation(sound(faceState(G1(0), air, 4)).temperature);
    const loss = AIR * ((plane - air.indoorPressure) / 0.265 + (plane - air.outdoorPressure) / 0.6);
    const start = monthOfWater(G1(0), WINTER, [], NINETY_DAYS).water;
    const full = start.reduce((a, b) => a + b);
    const after = monthOfWater(G1(0), air, start, 3600).water.reduce((a, b) => a + b);
    expectRelative(full - after, loss * 3600, 1e-6);
  });
});

describe('a membrane that follows its humidity', () => {
  const curve = { humidity: [0.3, 0.9], thickness: [10, 0.25] };
  const variable: Layers = { ...G2(1), variable: [0, 0, 1, 0, 0, 0, 0], curve };

  it('takes the thickness that its own humidity asks for', () => {
    const { membrane } = sound(faceState(variable, WINTER, 3));
    const fixed = { ...G2(membrane) };
    const inner = sound(faceState(fixed, WINTER, 2));
    const outer = sound(faceState(fixed, WINTER, 3));
    const humidity = (inner.pressure / inner.saturation + outer.pressure / outer.saturation) / 2;
    expectRelative(membrane, 10 * (0.25 / 10) ** ((Math.max(humidity, 0.3) - 0.3) / 0.6), 1e-8);
  });

  it('taken at its humid value it seems to condense; at its own it does not', () => {
    expect(sound(faceState(G2(0.25), WINTER, 4)).condensingInAll).toBeGreaterThan(0);
    expect(sound(faceState(variable, WINTER, 4)).condensingInAll).toBe(0);
  });

  it.each([
    [{ humidity: [0.5, 0.3], thickness: [5, 1] }, /Point 2 .* out of order: its humidity/u],
    [
      { humidity: [0.3, 0.5], thickness: [1, 5] },
      /Point 2 .* out of order: the membrane would become tighter/u,
    ],
    [{ humidity: [30, 90], thickness: [5, 1] }, /Point 1 .*between 0 and 100 %/u],
    [{ humidity: [0.3], thickness: [0] }, /above zero/u],
    [NO_CURVE, /no points/u],
  ])('is refused out of order: %o', (bad, message) => {
    expect(faceState({ ...variable, curve: bad }, WINTER, 1)).toMatchObject({
      fault: expect.stringMatching(message) as string,
    });
  });
});

it('refuses layers and airs that are none', () => {
  expect(faceState(G1(-1), WINTER, 1)).toHaveProperty('fault');
  expect(faceState(wall([0.13, 0], [0.04, 0]), WINTER, 1)).toMatchObject({
    fault: 'No layer holds vapour back.',
  });
  expect(faceState(G1(0), { ...WINTER, indoor: 20 }, 1)).toHaveProperty('fault');
  expect(faceState(G1(0), { ...WINTER, indoorPressure: 5000 }, 1)).toHaveProperty('fault');
  expect(plain(faceState(G1(0), WINTER, 9))).toMatchObject({ fault: 'There is no layer 9.' });
});
