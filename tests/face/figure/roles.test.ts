import { describe, expect, test } from 'vitest';
import { readdirSync, readFileSync } from 'node:fs';
import { FunctionLibrary, parseUnit } from '../../../src/engine/index.ts';
import { bindingProblems, isGone } from '../../../src/face/figure/binding.ts';
import { samples } from '../../../src/face/figure/gallery/samples.ts';
import { figureKind, KIND_NAMES } from '../../../src/face/figure/kinds.ts';
import {
  askedKeys,
  figureNeeds,
  isNeeded,
  roleOf,
  type FigureNeeds,
} from '../../../src/face/figure/roles.ts';
import { Session } from '../../../src/face/session.svelte.ts';
import { tradeFunctions } from '../../../src/trade/index.ts';
import { itemsOf, readWorkbook, Workbook } from '../../../src/workbook/index.ts';

function needsOf(kind: string): FigureNeeds {
  const needs = figureNeeds(kind);
  if (!needs) throw new Error(`${kind} says nowhere what it is drawn from`);
  return needs;
}

function sessionOf(file: string): Session {
  const text = readFileSync(new URL(`../../../templates/${file}`, import.meta.url), 'utf8');
  const opened = readWorkbook(text);
  if ('code' in opened) throw new Error(opened.found);
  return new Session(new Workbook(opened.document, new FunctionLibrary(tradeFunctions)));
}

describe.each(KIND_NAMES)('the roles of %s', (kind) => {
  test('are said, each once, with units that are units', () => {
    const { about, roles } = needsOf(kind);
    expect(about).toMatch(/\.$/u);
    expect(new Set(roles.map(({ role }) => role)).size).toBe(roles.length);
    expect(roles.some(({ required }) => required)).toBe(true);
    for (const { unit, like } of roles) {
      if (unit !== undefined) expect(parseUnit(unit)).not.toHaveProperty('problem');
      if (like !== undefined) expect(roles.map(({ role }) => role)).toContain(like);
    }
  });

  test('are all that its samples are drawn from', () => {
    for (const sample of samples.filter((each) => each.kind === kind))
      for (const key of sample.bound.roles('')) expect(roleOf(needsOf(kind), key), key).toBeDefined();
  });
});

describe.each(readdirSync(new URL('../../../templates', import.meta.url)))('the figures of %s', (file) => {
  test('are bound to roles of their kind, each to something that fits it', () => {
    const session = sessionOf(file);
    for (const item of itemsOf(session.document)) {
      if (item.kind !== 'figure') continue;
      const needs = needsOf(item.figure);
      for (const key of Object.keys(item.bindings)) expect(roleOf(needs, key), key).toBeDefined();
      expect(bindingProblems(session, needs, item.bindings)).toEqual([]);
    }
  });
});

describe('a wrong binding', () => {
  const session = sessionOf('juniper-hollow.json');
  const said = (kind: string, bindings: Record<string, string>) =>
    bindingProblems(session, needsOf(kind), bindings).map(({ key, problem }) => `${key}: ${problem}`);

  test('is told with its place and the reason', () => {
    expect(said('bars', {})).toEqual(['value: Choose a column.']);
    expect(said('bars', { value: 'ach50' })).toEqual([
      'value: ach50 is one cell; this takes a column of a table.',
    ]);
    expect(said('bars', { value: 'readings' })).toEqual([
      'value: readings is a table; choose one of its columns.',
    ]);
    expect(said('bars', { value: 'gone.flow' })).toEqual([
      'value: Nothing is named gone.flow any more; choose a column of a table.',
    ]);
    // The column was deleted, the table stands.
    expect(said('bars', { value: 'readings.gone' })).toEqual([
      'value: Nothing is named readings.gone any more; choose a column of a table.',
    ]);
    expect(['readings.gone', 'gone', 'gone.flow'].every((name) => isGone(session, name))).toBe(true);
    expect(['readings.envelope_flow', 'readings', 'ach50'].some((name) => isGone(session, name))).toBe(false);
    expect(said('margin', { value: 'readings.envelope_flow' })).toEqual([
      'value: readings.envelope_flow is a column; this takes one cell.',
    ]);
    expect(said('margin', { value: 'test_method' })).toEqual([
      'value: test_method holds words; this takes numbers.',
    ]);
    expect(said('margin', { value: 'ach50', target: 'building_volume' })[0]).toMatch(
      /^target: building_volume is .*volume.*; this takes .*, as ach50 is\.$/u,
    );
    expect(
      said('power_law_fit', { pressure: 'readings.envelope_flow', flow: 'readings.envelope_flow' })[0],
    ).toMatch(/^pressure: .* this takes .*pressure/u);
  });

  test('so are columns of two tables that must stand side by side', () => {
    const found = said('points', { x: 'readings.induced_pressure', y: 'fit_curve.flow' });
    expect(found).toEqual(['y: fit_curve.flow must stand in the same table as readings.']);
  });
});

test('a role that may be bound again is asked for once more than it is bound', () => {
  const keys = (bindings: Record<string, string>) =>
    askedKeys(needsOf('points'), bindings)
      .filter(({ role }) => role.role === 'y')
      .map(({ key }) => key);
  expect(keys({})).toEqual(['y']);
  expect(keys({ y: 'a.b' })).toEqual(['y', 'y_2']);
  expect(keys({ y: 'a.b', y_3: 'a.c' })).toEqual(['y', 'y_3', 'y_2']);
});

test('of a role that may be bound again only the first is called needed', () => {
  const asked = askedKeys(needsOf('points'), { x: 'a.x', y: 'a.b' });
  expect(asked.filter(({ key, role }) => isNeeded(role, key)).map(({ key }) => key)).toEqual(['x', 'y']);
});

test('no two kinds are called alike: a person chooses by the title', () => {
  expect(new Set(KIND_NAMES.map((name) => figureKind(name)?.title)).size).toBe(KIND_NAMES.length);
});
