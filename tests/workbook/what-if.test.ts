import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { FunctionLibrary, type CellState } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { brent } from '../../src/workbook/brent.ts';
import {
  compare,
  effects,
  ranked,
  readWorkbook,
  solve,
  tightness,
  withOverride,
  withScenario,
  Workbook,
  writeWorkbook,
} from '../../src/workbook/index.ts';

const library = new FunctionLibrary(tradeFunctions);

function demo(): Workbook {
  const opened = readWorkbook(readFileSync('templates/juniper-hollow.json', 'utf8'));
  if ('code' in opened) throw new Error(opened.found);
  return new Workbook(opened.document, library);
}

function number(state: CellState): number {
  return state.state === 'value' && typeof state.value === 'number' ? state.value : NaN;
}

function tried(workbook: Workbook, overrides: Parameters<typeof withScenario>[2]['overrides']): Workbook {
  const made = withScenario(workbook.document, library, { name: 'tried', overrides });
  if ('problem' in made) throw new Error(made.problem);
  return made;
}

describe('Brent’s method', () => {
  it('finds the root that Brent’s book brackets: x³ − 2x − 5 between 2 and 3 is 2.0945514815423265', () => {
    const f = (x: number) => x ** 3 - 2 * x - 5;
    expect(brent(f, 2, 3, f(2), f(3), 1e-14)?.x).toBeCloseTo(2.0945514815423265, 13);
  });

  it('finds every bracketed root of a cubic, and says nothing where there is none', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5, max: 5, noNaN: true }),
        fc.double({ min: 0.1, max: 3, noNaN: true }),
        (root, steepness) => {
          const f = (x: number) => steepness * (x - root) + (x - root) ** 3;
          expect(Math.abs((brent(f, -6, 7, f(-6), f(7), 1e-12)?.x ?? NaN) - root)).toBeLessThan(1e-9);
          expect(brent((x) => x * x + 1, -1, 1, 2, 2, 1e-12)).toBeUndefined();
        },
      ),
    );
  });
});

describe('solve', () => {
  it.each([
    [{}, /^8 ft$/u],
    [{ target: '4.41' }, /^7\.9 ft$/u],
    [{ target: '2' }, /^8\.5857864\d+ ft$/u],
    [{ target: '0' }, /^10 ft$/u],
    [{ target: '30' }, /goes from 25 ft² to 25 ft² and does not pass 30 ft²/u],
    [{ target: '-1' }, /as near as 0 ft² at 10 ft, and does not pass -1 ft²/u],
  ])('finds a target that is passed and left again between the bounds, %o', (change, said) => {
    const cell = { kind: 'cell', type: 'number', note: '' } as const;
    const items = [
      { ...cell, id: 'l', name: 'length', label: '', text: '9', unit: 'ft' },
      { ...cell, id: 's', name: 'squared', label: '', text: '(length - 10 ft) ^ 2', unit: 'ft2' },
    ];
    const sections = [{ id: 'all', title: 'All', note: '', items }];
    const sheets = [{ id: 'one', title: 'One', note: '', sections }];
    const question = { result: 'squared', target: '4', input: 'length', from: '5', to: '15' };
    const workbook = new Workbook({ title: 'Turn', units: 'us', sheets }, library);
    const answer = solve(workbook, { ...question, ...change });
    expect(answer.found ? answer.text : answer.problem).toMatch(said);
  });

  it('makes the air changes reach the second target by changing a width, and writes nothing', () => {
    const workbook = demo();
    const before = writeWorkbook(workbook.document);
    const answer = solve(workbook, {
      result: 'ach50',
      target: '1.0',
      input: 'main_wing_width',
      from: '20 ft',
      to: `35' 0"`,
    });
    if (!answer.found) throw new Error(answer.problem);
    expect(number(answer.after) * 3600).toBeCloseTo(1, 8);
    expect(answer.text).toMatch(/^26\.9\d+ ft$/);
    expect(writeWorkbook(workbook.document)).toBe(before);
    workbook.apply(answer.edit);
    expect(number(workbook.state('ach50')) * 3600).toBeCloseTo(1, 8);
    workbook.undo();
    expect(writeWorkbook(workbook.document)).toBe(before);
  });

  it('reads bare numbers and tells its answer in the units that it is asked in', () => {
    const answer = solve(demo(), {
      result: 'main_wing_length',
      target: '20',
      input: 'main_wing_length',
      from: '10',
      to: '30',
      units: { result: 'm', input: 'm' },
    });
    if (!answer.found) throw new Error(answer.problem);
    expect(answer.text).toBe('20 m');
    const none = solve(demo(), {
      result: 'ach50',
      target: '100',
      input: 'main_wing_width',
      from: '6',
      to: '10',
      units: { result: '1/h', input: 'm' },
    });
    expect(none.found ? '' : none.problem).toMatch(/goes from .* 1\/h to .* does not pass 100/);
  });

  it('changes an entry of a table as well: what the outer board must add for the wall to reach R 55', () => {
    const workbook = demo();
    const before = writeWorkbook(workbook.document);
    const question = {
      result: 'shown_r_upper',
      target: '55 h ft2 degF/Btu',
      input: 'assembly_layers.r_clear[10]',
      from: '4',
      to: '12',
    };
    const answer = solve(workbook, question);
    if (!answer.found) throw new Error(answer.problem);
    expect(answer.text).toMatch(/^8\.\d+ h ft2 degF\/Btu$/);
    expect(writeWorkbook(workbook.document)).toBe(before);
    workbook.apply(answer.edit);
    // 1 h ft² °F/Btu is 0.17611018 m² K/W (NIST SP 811, appendix B.8).
    expect(number(workbook.state('shown_r_upper'))).toBeCloseTo(55 * 0.17611018, 6);
    expect(workbook.columnState('assembly_layers', 'r_clear', 9)).toMatchObject({ typed: true });
    workbook.undo();
    expect(writeWorkbook(workbook.document)).toBe(before);
    // A result in a table can be asked for too.
    const row = solve(workbook, { ...question, result: 'assemblies.r_total[1]', target: '54' });
    if (!row.found) throw new Error(row.problem);
    workbook.apply(row.edit);
    expect(number(workbook.columnState('assemblies', 'r_total', 0))).toBeCloseTo(54 * 0.17611018, 6);
  });

  it.each([
    ['24 ± 0.1 ft', / ft ± 0\.1 ft$/],
    ['24 ft ± 3 cm', / ft ± 0\.0984\d+ ft$/],
    ['24 ft ± 2 %', / ft ± 2 %$/],
  ])('keeps the ± of the input: %s', (typed, kept) => {
    const workbook = demo();
    workbook.apply({ kind: 'set-cell', cell: 'main_wing_width', patch: { text: typed } });
    const answer = solve(workbook, {
      result: 'ach50',
      target: '1.0',
      input: 'main_wing_width',
      from: '20 ft',
      to: '35 ft',
    });
    if (!answer.found) throw new Error(answer.problem);
    expect(answer.text).toMatch(kept);
    workbook.apply(answer.edit);
    expect(number(workbook.state('ach50')) * 3600).toBeCloseTo(1, 8);
    const names = workbook.budget('ach50')?.lines.map((line) => line.source);
    expect(names).toContain('main_wing_width');
  });

  it.each([
    [
      { from: '30 ft', to: '40 ft' },
      /no solution in the range: ach50 goes from 0\.9\d+ 1\/h to 0\.7\d+ 1\/h/,
    ],
    [{ from: '30 Pa' }, /lower bound/],
    [{ target: '3 ft' }, /target/],
    [{ input: 'q50' }, /not a typed number/],
    [{ input: 'assembly_layers.thickness[1]' }, /not a typed number/],
    [{ input: 'assembly_layers.thickness[12]' }, /Nothing is named assembly_layers\.thickness\[12\]/],
    [{ input: 'assembly_layers.width[1]' }, /Nothing is named/],
    [{ result: 'verdict_ach50' }, /no value/],
    [{ from: '20 ft', to: '20 ft' }, /equal/],
    [{ from: '' }, /missing/],
  ])('says why there is no answer for %o', (change, message) => {
    const question = {
      result: 'ach50',
      target: '1.0',
      input: 'main_wing_width',
      from: '15 ft',
      to: '25 ft',
    };
    const answer = solve(demo(), { ...question, ...change });
    expect(answer).toMatchObject({ found: false, problem: expect.stringMatching(message) as string });
  });

  it('does not take a jump for a solution', () => {
    const workbook = demo();
    const section = workbook.document.sheets[0]?.sections[0]?.id ?? '';
    workbook.apply({
      kind: 'insert-item',
      section,
      at: 0,
      item: {
        kind: 'cell',
        id: 'step',
        name: 'step',
        label: '',
        type: 'number',
        text: 'main_wing_width > 20 ft ? 2 : 1',
        unit: '',
        note: '',
      },
    });
    const answer = solve(workbook, {
      result: 'step',
      target: '1.5',
      input: 'main_wing_width',
      from: '15 ft',
      to: '25 ft',
    });
    expect(answer).toMatchObject({ found: false, problem: expect.stringContaining('jumps over') as string });
  });
});

describe('scenarios', () => {
  it('cancel what both sides share: another width changes the air changes by less than either is uncertain', () => {
    const workbook = demo();
    const other = tried(workbook, [{ cell: 'main_wing_width', text: `26' 2"` }]);
    const [row] = compare(workbook, other, ['ach50']);
    if (!row?.difference) throw new Error('no difference');
    const ratio = number(row.scenario) / number(row.base);
    expect(row.difference.value).toBeCloseTo(number(row.scenario) - number(row.base), 14);
    const u = workbook.budget('ach50')?.uncertainty ?? NaN;
    expect(row.difference.uncertainty / u).toBeCloseTo(Math.abs(ratio - 1), 6);
    expect(row.difference.exceeds).toBe(true);
  });

  it('do not touch the base, and a change that is only noise stays within its uncertainty', () => {
    const workbook = demo();
    const before = writeWorkbook(workbook.document);
    const other = tried(workbook, [{ cell: 'shown_test', text: 'sealed, pressurised' }]);
    expect(writeWorkbook(workbook.document)).toBe(before);
    const [row] = compare(workbook, other, ['ach50']);
    expect(row?.difference?.value).toBeGreaterThan(0);
  });

  it('override single rows of a table, leave out what is gone, and replace an override of the same place', () => {
    const workbook = demo();
    const [first] = [...workbook.document.sheets.flatMap((s) => s.sections.flatMap((x) => x.items))].filter(
      (item) => item.kind === 'table' && item.name === 'readings',
    );
    if (first?.kind !== 'table') throw new Error('no readings');
    const row = first.rows.find((r) => r.entries.test === 'sealed, depressurised')?.id ?? '';
    const overrides = [
      { table: first.id, row, column: 'fan_pressure', text: '120' },
      { table: first.id, row: 'gone', column: 'fan_pressure', text: '120' },
      { cell: 'gone', text: '1' },
    ];
    const other = tried(workbook, overrides);
    expect(number(other.state('q50'))).not.toBe(number(workbook.state('q50')));
    expect(withOverride(overrides, { cell: 'gone' }, undefined)).toHaveLength(2);
    expect(withOverride(overrides, { cell: 'gone' }, '2').at(-1)).toEqual({ cell: 'gone', text: '2' });
    const [typed] = overrides;
    if (!typed) throw new Error('no override');
    const changed = withOverride(overrides, { table: first.id, row, column: 'fan_pressure' }, '125');
    expect(changed).toEqual([{ ...typed, text: '125' }, ...overrides.slice(1)]);
  });

  it('are kept in the file and come back the same', () => {
    const { document } = demo();
    expect(document.scenarios?.length).toBeGreaterThan(0);
    const again = readWorkbook(writeWorkbook(document));
    expect('document' in again && again.document).toEqual(document);
  });
});

describe('ranking', () => {
  it('shares add up to one, and the procedure leads in the demo', () => {
    const workbook = demo();
    const budget = workbook.budget('ach50');
    if (!budget) throw new Error('no budget');
    const sources = ranked(budget);
    expect(sources.reduce((sum, source) => sum + source.share, 0)).toBeCloseTo(1, 10);
    expect(sources[0]?.name).toBe('procedure_error');
    expect(sources.map((source) => source.name)).toContain('readings.house_pressure');
  });

  it('“if this were exact” is what the ± falls to when it is made so', () => {
    const workbook = demo();
    const budget = workbook.budget('ach50');
    if (!budget) throw new Error('no budget');
    const [first] = ranked(budget);
    workbook.apply({ kind: 'set-cell', cell: 'procedure_error', patch: { text: '0' } });
    expect(workbook.budget('ach50')?.uncertainty).toBeCloseTo(first?.without ?? NaN, 12);
  });

  it('“how tight” makes the ± what was asked for, where the source alone can', () => {
    const workbook = demo();
    const budget = workbook.budget('ach50');
    if (!budget) throw new Error('no budget');
    const [first] = ranked(budget);
    if (!first) throw new Error('no source');
    const wanted = budget.uncertainty * 0.6;
    const factor = tightness(budget, first, wanted) ?? NaN;
    workbook.apply({ kind: 'set-cell', cell: 'procedure_error', patch: { text: `0 ± ${3 * factor} %` } });
    expect((workbook.budget('ach50')?.uncertainty ?? NaN) / wanted).toBeCloseTo(1, 8);
    expect(tightness(budget, first, first.without * 0.99)).toBeUndefined();
  });

  it('a larger volume of one per cent lowers the air changes by one per cent, and nothing is left changed', () => {
    const workbook = demo();
    const before = writeWorkbook(workbook.document);
    const found = effects(workbook, 'ach50', 0.01);
    const height = found.find((each) => each.name === 'main_wing_width');
    expect(height?.change).toBeLessThan(0);
    expect(found[0] && Math.abs(found[0].change)).toBeGreaterThanOrEqual(Math.abs(height?.change ?? NaN));
    expect(writeWorkbook(workbook.document)).toBe(before);
  });

  it('one row of a table is ranked as a cell of the same formula is, and moved by the same inputs', () => {
    const workbook = demo();
    const [sheet] = workbook.document.sheets;
    const section = sheet?.sections[0]?.id ?? '';
    const twin = {
      kind: 'cell',
      id: 'twin',
      name: 'twin',
      label: 'Twin',
      type: 'number',
      unit: 'cfm',
      note: '',
      text: 'lookup(targets.allowed_q50, targets.target, "second target: area of envelope") - stage_q50',
    } as const;
    expect(workbook.apply({ kind: 'insert-item', section, at: 0, item: twin })).not.toHaveProperty('problem');
    const row = workbook.budget('targets.spare_flow', 1);
    const cell = workbook.budget('twin');
    if (!row || !cell) throw new Error('no budget');
    expect(row.uncertainty / cell.uncertainty).toBeCloseTo(1, 12);
    expect(ranked(row).map(({ name, share }) => [name, share.toFixed(9)])).toEqual(
      ranked(cell).map(({ name, share }) => [name, share.toFixed(9)]),
    );
    // The area counts in the second target, the volume in the first alone.
    const first = workbook.budget('targets.spare_flow', 0);
    const names = (budget: typeof first) => ranked(budget ?? cell).map(({ name }) => name);
    expect(names(row)).toContain('area_error');
    expect(names(row)).not.toContain('volume_error');
    expect(names(first)).toContain('volume_error');
    const ofRow = effects(workbook, 'targets.spare_flow', 0.01, 1);
    expect(ofRow.length).toBeGreaterThan(5);
    expect(ofRow).toEqual(effects(workbook, 'twin', 0.01));
    expect(ofRow).not.toEqual(effects(workbook, 'targets.spare_flow', 0.01, 0));
  });
});
