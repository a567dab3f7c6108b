/** The room schedule of the Juniper Hollow house, held against its expected geometry (computed outside with NumPy). */
import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, test } from 'vitest';
import { Open } from './open.ts';

interface Expected {
  readonly geometry: Readonly<Record<string, number>>;
  readonly rooms: Readonly<Record<string, Readonly<Record<string, number>>>>;
}
const expected = JSON.parse(
  readFileSync(new URL('./juniper-hollow-house.json', import.meta.url), 'utf8'),
) as Expected;

let house: Open;
beforeEach(() => {
  house = new Open('juniper-hollow.json');
});

function expectClose(found: number, wanted: number): void {
  expect(Math.abs(found / wanted - 1)).toBeLessThan(1e-9);
}

describe('rooms', () => {
  const COLUMNS = [
    ['floor_area', 'ft2'],
    ['perimeter', 'ft'],
    ['wall_gross', 'ft2'],
    ['wall_net', 'ft2'],
    ['volume', 'ft3'],
  ] as const;

  test('every room has its areas, perimeter and volume', () => {
    for (const [room, wanted] of Object.entries(expected.rooms)) {
      for (const [column, unit] of COLUMNS)
        expectClose(house.at(`rooms.${column}`, room, unit), wanted[`${column}_${unit}`] ?? NaN);
      expectClose(house.at('rooms.openings_area', room, 'ft2'), wanted.openings_ft2 ?? NaN);
      expectClose(house.at('rooms.ceiling_area', room, 'ft2'), wanted.ceiling_ft2 ?? NaN);
      expect(house.textAt('rooms.check', room)).toBe('');
    }
    expect(Object.keys(expected.rooms)).toHaveLength(18);
    expect(house.number('rooms_to_check', '')).toBe(0);
    expect(house.number('bedroom_count', '')).toBe(4);
  });

  test('a room without height is told so in its row, and no total goes on without it', () => {
    house.enter('rooms', 'study', 'height', '');
    expect(house.stateAt('rooms.mean_height', 'study')).toMatchObject({
      state: 'fault',
      fault: 'This room has no height.',
      suggestion: 'Type it under Height; where the ceiling is uneven, under Average height.',
    });
    expect(house.textAt('rooms.check', 'study')).toBe('type a height');
    expect(house.state('room_volume').state).toBe('waiting');
    expect(house.number('rooms_to_check', '')).toBe(1);
    house.enter('rooms', 'study', 'average_height', '9 ft');
    expectClose(house.number('room_volume', 'ft3'), expected.geometry.sum_room_volume_ft3 ?? NaN);
  });

  test('two rooms of one name are both told so in their rows, and counted', () => {
    house.enter('rooms', 'box_room', 'room', 'pantry');
    for (const row of [4, 17])
      expect(house.textAt('rooms.check', row)).toBe('another room has this name: give one of them another');
    // The door to the room that has lost its name is the third.
    expect(house.number('rooms_to_check', '')).toBe(3);
  });

  test('an odd shape goes by its area and perimeter; without the perimeter it is asked for', () => {
    for (const column of ['length', 'width']) house.enter('rooms', 'landing', column, '');
    expect(house.textAt('rooms.check', 'landing')).toBe('type length and width, or area and perimeter');
    house.enter('rooms', 'landing', 'typed_area', '150');
    expect(house.textAt('rooms.check', 'landing')).toBe('type the perimeter too');
    house.enter('rooms', 'landing', 'typed_perimeter', '60 ft');
    expect(house.textAt('rooms.check', 'landing')).toBe('');
    expectClose(house.at('rooms.volume', 'landing', 'ft3'), 150 * 8.125);
    expectClose(house.at('rooms.wall_gross', 'landing', 'ft2'), 60 * 8.125);
  });

  test('a ceiling that slopes one way is as long as its slope', () => {
    house.enter('rooms', 'study', 'ceiling_slope', '0.75');
    expectClose(
      house.at('rooms.ceiling_area', 'study', 'ft2'),
      (expected.rooms.study?.ceiling_ft2 ?? NaN) * 1.25,
    );
  });

  test('a ridge below the eave and an opening into no room are told', () => {
    house.enter('rooms', 'hearth_room', 'ridge_height', '8 ft');
    expect(house.stateAt('rooms.volume', 'hearth_room').state).toBe('waiting');
    expect(house.stateAt('rooms.mean_height', 'hearth_room')).toMatchObject({
      fault: 'The ridge of this room is lower than its eave.',
    });
    house.enter('openings', 'D10', 'to_room', 'pantri');
    expect(house.textAt('openings.check', 'D10')).toContain('no room has this name');
  });
});

describe('envelope', () => {
  const NAMES: Readonly<Record<string, readonly [string, string]>> = {
    conditioned_floor_area_ft2: ['floor_area', 'ft2'],
    conditioned_volume_ft3: ['building_volume', 'ft3'],
    envelope_area_ft2: ['envelope_area', 'ft2'],
    slab_area_ft2: ['slab_area', 'ft2'],
    flat_ceiling_area_ft2: ['flat_ceiling_area', 'ft2'],
    vault_roof_area_ft2: ['vault_roof_area', 'ft2'],
    wall_area_gross_ft2: ['wall_area', 'ft2'],
    window_area_ft2: ['window_area', 'ft2'],
    exterior_door_area_ft2: ['exterior_door_area', 'ft2'],
    wall_area_net_ft2: ['wall_area_net', 'ft2'],
    height_above_slab_ft: ['height_above_slab', 'ft'],
    sum_room_floor_area_ft2: ['room_floor_area', 'ft2'],
    sum_room_volume_ft3: ['room_volume', 'ft3'],
    sum_room_perimeter_ft: ['room_perimeter', 'ft'],
    sum_room_wall_gross_ft2: ['room_wall_gross', 'ft2'],
    sum_room_wall_net_ft2: ['room_wall_net', 'ft2'],
    plaster_ceiling_area_ft2: ['plaster_ceiling_area', 'ft2'],
    board_ceiling_area_ft2: ['board_ceiling_area', 'ft2'],
    stair_opening_area_ft2: ['stair_opening_area', 'ft2'],
  };

  test('has its areas and volume, and the six surfaces add up to it', () => {
    for (const [key, [name, unit]] of Object.entries(NAMES))
      expectClose(house.number(name, unit), expected.geometry[key] ?? NaN);
    const areas = [0, 1, 2, 3, 4, 5].map((row) => house.at('envelope_surfaces.area', row, 'ft2'));
    expectClose(
      areas.reduce((a, b) => a + b),
      expected.geometry.envelope_area_ft2 ?? NaN,
    );
  });

  test('the bare sum of the rooms is a tenth short of the volume that the fan moves', () => {
    expect(house.number('rooms_short_of_volume', '%')).toBeCloseTo(10.26, 2);
  });
});

describe('one room’s height', () => {
  test('of the vaulted room moves volume, envelope, air changes and board together, in one recalculation', () => {
    const before = ['building_volume', 'envelope_area', 'ach50', 'room_wall_net', 'board_ceiling_area'].map(
      (name) => [name, house.state(name)] as const,
    );
    house.enter('rooms', 'hearth_room', 'height', `9' 6"`);
    for (const [name, was] of before) {
      const now = house.state(name);
      if (was.state !== 'value' || now.state !== 'value') throw new Error(name);
      expect(now.value, name).not.toBe(was.value);
    }
  });

  test('a lower ceiling in one flat room leaves the membrane where it is, a higher one lifts its storey', () => {
    const volume = house.number('building_volume', 'ft3');
    house.enter('rooms', 'living', 'height', `8' 6"`);
    expect(house.number('building_volume', 'ft3')).toBe(volume);
    house.enter('rooms', 'living', 'height', `9' 6"`);
    expectClose(house.number('building_volume', 'ft3'), volume + 44 * 26 * 0.5);
    expectClose(house.number('height_above_slab', 'ft'), 18 + 11 / 12);
  });

  test('with the volume from the room schedule every room’s height counts', () => {
    house.type('volume_from', 'room schedule');
    const volume = house.number('building_volume', 'ft3');
    expect(Math.abs(volume / (expected.geometry.conditioned_volume_ft3 ?? NaN) - 1)).toBeLessThan(1e-4);
    house.enter('rooms', 'pantry', 'height', `8' 0"`);
    expectClose(house.number('building_volume', 'ft3'), volume - 41.73263889 * 1.1143);
  });
});

describe('a house of another shape', () => {
  test('without a side wing its sizes are not waited for', () => {
    for (const name of ['side_wing_width', 'side_wing_length', 'side_wing_room']) house.type(name, '');
    expect(house.state('envelope_area').state).toBe('blank');
    house.type('side_wing', 'none');
    // Of the main wing alone, 44 ft × 26 ft, two storeys: by hand.
    const height = house.number('main_wing_height', 'ft');
    expectClose(house.number('slab_area', 'ft2'), 1144);
    expectClose(house.number('floor_area', 'ft2'), 2288);
    expectClose(house.number('wall_area', 'ft2'), 140 * height);
    expectClose(house.number('envelope_area', 'ft2'), 2 * 1144 + 140 * height);
    expectClose(house.number('building_volume', 'ft3'), 1144 * height);
    expectClose(house.number('height_above_slab', 'ft'), height);
  });

  test('of one storey the height goes to its own ceiling', () => {
    house.type('storey_count', '1');
    house.type('floor_structure_depth', '');
    const ground = Math.max(
      ...['living', 'dining', 'kitchen'].map((room) => house.at('rooms.height', room, 'ft')),
    );
    expectClose(house.number('main_wing_height', 'ft'), ground + 1.5 / 12);
    expectClose(house.number('floor_area', 'ft2'), 1144 + 20 * 20.5);
    expect(house.number('building_volume', 'ft3')).toBeGreaterThan(0);
  });
});
