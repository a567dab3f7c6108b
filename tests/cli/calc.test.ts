import { readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import type { Answer } from '../../src/cli/report.ts';
import { expectRelative } from '../trade/closeness.ts';
import { calc, ownFiles } from './calc-run.ts';

const template = (name: string) => fileURLToPath(new URL(`../../templates/${name}`, import.meta.url));
const AIR = template('air-test.json');
const HOUSE = template('juniper-hollow.json');

const file = ownFiles();

async function json(...argv: string[]): Promise<Record<string, Answer>> {
  return JSON.parse((await calc(...argv, '--json')).out) as Record<string, Answer>;
}

const HEADING = 'house pressure (Pa),measured flow (m3/h)';
/** Q = 60 m³/h · (p / 1 Pa)^0.65. */
const EXACT = [
  [10, 268.0101552906],
  [20, 420.5530118317],
  [30, 547.3688339544],
  [40, 659.9184108114],
  [50, 762.92483635],
  [60, 858.9137656098],
];
const exact = () => file('exact.csv', [HEADING, ...EXACT.map((row) => row.join())].join('\n'));

describe('an office runs a test through the template', () => {
  test('readings from a file, values from the command line, results as they stand on the worksheet', async () => {
    const run = await calc(
      AIR,
      ...['--table', `readings=${exact()}`, '--set', 'building_volume=500 m3', '--set', 'target_ach50=2'],
      ...['--get', 'pressure_exponent', '--get', 'q50', '--get', 'ach50', '--get', 'verdict_ach50'],
    );
    expect(run.errors).toEqual([]);
    expect(run.code).toBe(0);
    const lines = run.out.split('\n');
    expect(lines).toHaveLength(4);
    expect(lines[0]).toMatch(/^pressure_exponent {2}0\.65/u);
    expect(lines[1]).toMatch(/^q50 {16}449.* cfm$/u);
    expect(lines[2]).toMatch(/^ach50 {14}1\.5.* 1\/h$/u);
    expect(lines[3]).toBe('verdict_ach50      met');
  });

  test('as JSON: value in the unit, and in SI', async () => {
    const found = await json(
      AIR,
      ...[`--table=readings=${exact()}`, '--set=building_volume=500 m3'],
      ...['--get', 'q50', '--get', 'ach50', '--get', 'verdict_ach50', '--get', 'shown_test'],
    );
    const { q50, ach50, shown_test } = found;
    expect(Object.keys(found)).toEqual(['q50', 'ach50', 'verdict_ach50', 'shown_test']);
    expect(Object.keys(q50 ?? {}).sort()).toEqual(
      ['message', 'si', 'state', 'text', 'uncertainty', 'unit', 'value'].sort(),
    );
    expect(q50).toMatchObject({ state: 'value', unit: 'cfm', message: null });
    expectRelative(q50?.si, 762.92483635 / 3600, 1e-11);
    expectRelative(q50?.value, 762.92483635 / (0.3048 ** 3 * 60), 1e-11);
    expectRelative(ach50?.value, 762.92483635 / 500, 1e-11);
    expect(shown_test).toEqual({
      state: 'value',
      text: 'first',
      value: 'first',
      unit: '',
      si: null,
      uncertainty: null,
      message: null,
    });
  });

  test('a file with decimal commas is asked about, and read as it says', async () => {
    const rows = [HEADING.replace(',', ';'), ...EXACT.map((row) => row.join(';').replaceAll('.', ','))];
    const given = [AIR, '--table', `readings=${file('commas.csv', rows.join('\n'))}`, '--get', 'q50'];
    const refused = await calc(...given);
    expect(refused.code).toBe(2);
    const advice = refused.errors.filter((line) => line.includes('decimal points'));
    expect(advice).toHaveLength(1);
    expect(advice[0]).toMatch(/; if they are decimal points, give --decimal-comma\.$/u);
    expectRelative((await json(...given, '--decimal-comma')).q50?.si, 762.92483635 / 3600, 1e-11);
  });

  test('a column is an array, one entry a row; fields of records go by a dot', async () => {
    const found = (await json(
      AIR,
      ...['--table', `readings=${exact()}`, '--get', 'readings.flow', '--get', 'tests.fit.exponent'],
      ...['--get', 'shown_fit.exponent', '--get', 'shown_fit'],
    )) as unknown as Record<string, Answer[]>;
    const flows = found['readings.flow'] ?? [];
    expect(flows).toHaveLength(EXACT.length);
    flows.forEach((one, row) => {
      expectRelative(one.si, (EXACT[row]?.[1] ?? NaN) / 3600, 1e-12, `row ${row + 1}`);
    });
    expectRelative(found['tests.fit.exponent']?.[0]?.value, 0.65, 1e-11);
    expectRelative((found['shown_fit.exponent'] as unknown as Answer).value, 0.65, 1e-11);
    expect((found.shown_fit as unknown as Answer).text).toMatch(/^a record of \d+ values$/u);
  });

  test('a ± typed comes out as a standard uncertainty, in the unit and in the text', async () => {
    const { target_ach50 } = await json(AIR, '--set', 'target_ach50=1.2 ± 0.1', '--get', 'target_ach50');
    expect(target_ach50).toMatchObject({ text: '1.20 ± 0.10 1/h', value: 1.2, unit: '1/h' });
    expectRelative(target_ach50?.uncertainty, 0.1, 1e-12);
  });

  test('a ± that cannot be told is no ± 0: neither in the text nor in JSON', async () => {
    const cell = (name: string, text: string) => ({
      kind: 'cell',
      id: name,
      name,
      label: '',
      type: 'number',
      text,
    });
    const items = [
      cell('lean', '0 ± 0.1'),
      cell('squared', 'lean ^ 2'),
      cell('likely', 'chance(squared <= 1)'),
    ];
    const sheets = [{ id: 'one', title: 'One', sections: [{ id: 'all', title: 'All', items }] }];
    const flat = file(
      'flat.json',
      JSON.stringify({ app: 'close-in', format: 1, title: 'Flat', units: 'si', sheets }),
    );
    const { squared, likely } = await json(flat, '--get', 'squared', '--get', 'likely');
    expect(squared).toMatchObject({ state: 'value', text: '0, ± not told', value: 0, uncertainty: null });
    expect(squared?.message).toContain('flat');
    expect(likely).toMatchObject({ state: 'blank', value: null });
  });

  test('without --get every cell is printed, and blanks are no mistake', async () => {
    const blank = await calc(AIR);
    expect(blank).toMatchObject({ code: 0, errors: [] });
    expect(blank.out).toMatch(/^building_volume +\(blank\) nothing typed yet$/mu);
    const house = await calc(HOUSE);
    expect(house).toMatchObject({ code: 0, errors: [] });
    expect(house.out).toMatch(/^ach50 +1\.0\d+ ± 0\.\d+ 1\/h$/mu);
    expect(house.out).toMatch(/^main_wing_height +18\.4\d+ ft$|^main_wing_height +18' 5"$/mu);
  });

  test('--list prints every name with label, unit and kind', async () => {
    const run = await calc(AIR, '--list');
    expect(run.code).toBe(0);
    expect(run.out).toMatch(/^building_volume +Volume inside the air barrier +ft3 +typed number$/mu);
    expect(run.out).toMatch(/^shown_test +Test shown +typed choice$/mu);
    expect(run.out).toMatch(/^ach50 +Air changes at 50 Pa +1\/h +computed number$/mu);
    expect(run.out).toMatch(/^readings +Readings +table, 0 rows$/mu);
    expect(run.out).toMatch(/^readings\.house_pressure +House +Pa +typed number$/mu);
    expect(run.out).toMatch(/^readings\.flow +Flow +cfm +computed column$/mu);
    const listed = JSON.parse((await calc(AIR, '--list', '--json')).out) as { name: string }[];
    expect(listed.map(({ name }) => name)).toContain('tests.direction');
    expect(listed[0]).toEqual({ name: 'shown_test', label: 'Test shown', unit: '', kind: 'typed choice' });
  });

  test('the file itself is never written', async () => {
    const copy = file('copy.json', readFileSync(AIR, 'utf8'));
    await calc(copy, '--set', 'building_volume=500 m3', '--table', `readings=${exact()}`);
    expect(readFileSync(copy, 'utf8')).toBe(readFileSync(AIR, 'utf8'));
  });
});

describe('exit code 1: what was asked is no value', () => {
  test('blank: what has to be typed first', async () => {
    const run = await calc(AIR, '--table', `readings=${exact()}`, '--get', 'q50', '--get', 'margin_ach50');
    expect(run.code).toBe(1);
    expect(run.errors).toEqual(['margin_ach50: waits for target_ach50, building_volume']);
    expect(run.out).toContain('(blank) waits for target_ach50, building_volume');
  });

  test('faulty, and waiting for it', async () => {
    const run = await calc(
      AIR,
      '--set',
      'building_volume=5 kg',
      '--get',
      'building_volume',
      '--get',
      'ach50',
    );
    expect(run.code).toBe(1);
    expect(run.errors[0]).toBe(
      "building_volume: '5 kg' is a mass; this entry is a volume; type for instance 20 ft³",
    );
    const found = await json(AIR, '--set', 'building_volume=5 kg', '--get', 'building_volume');
    expect(found.building_volume).toMatchObject({ state: 'fault', text: '', value: null, si: null });
  });

  test('a formula that is wrong: the place is marked', async () => {
    const run = await calc(AIR, '--set', 'building_volume=floor_area * 3', '--get', 'building_volume');
    expect(run.code).toBe(1);
    expect(run.errors[0]).toContain('floor_area * 3');
    expect(run.errors[0]).toContain('^');
    expect(run.errors[0]).toMatch(/volume/u);
  });

  test('rows of a column are named', async () => {
    const one = file('one.csv', `${HEADING}\n10,268\n20,x\n`);
    const run = await calc(AIR, '--table', `readings=${one}`, '--get', 'readings.measured_flow');
    expect(run.code).toBe(1);
    expect(run.errors).toContain(
      "readings.measured_flow, row 2: 'x' is not a number; type for instance 20 cfm",
    );
    expect(run.errors[0]).toMatch(/one\.csv, line 3, measured_flow: found .*expected a value in cfm/u);
  });
});

describe('exit code 2: nothing can be calculated', () => {
  const cases: readonly (readonly [string, () => readonly string[], RegExp])[] = [
    ['no file named', () => [], /^the workbook file is missing$/u],
    ['a file that is not there', () => ['nowhere.json'], /^cannot read nowhere\.json$/u],
    ['a folder', () => [path.dirname(file('empty', ''))], /^cannot read /u],
    ['two files', () => [AIR, HOUSE], /^one workbook at a time/u],
    [
      'broken JSON',
      () => [file('broken.json', '{"app": "close-in", ')],
      /broken\.json, line 1, character 2\d: found the end of the file, expected a key/u,
    ],
    [
      'another kind of file',
      () => [file('other.json', '{"a": 1}')],
      /other\.json, the file: found no "app"/u,
    ],
    ['an unknown name', () => [AIR, '--get', 'q51'], /^nothing is named q51; --list prints every name$/u],
    ['an unknown field', () => [AIR, '--get', 'shown_fit.q51'], /^nothing is named shown_fit\.q51/u],
    [
      'an unknown field of a column',
      () => [AIR, '--get', 'tests.fit.q51'],
      /^nothing is named tests\.fit\.q51/u,
    ],
    ['a field of a plain number', () => [AIR, '--get', 'q50.x'], /^nothing is named q50\.x/u],
    ['an unknown column', () => [AIR, '--get', 'readings.q51'], /^nothing is named readings\.q51/u],
    [
      'a table',
      () => [AIR, '--get', 'tests'],
      /^tests is a table: ask for one of its columns, for instance/u,
    ],
    ['words of objects', () => [AIR, '--get', '__proto__'], /^nothing is named __proto__/u],
    ['an unknown cell to type in', () => [AIR, '--set', 'q51=1'], /^no cell is named q51/u],
    ['an unknown table', () => [AIR, '--table', 'q51=x.csv'], /^no table is named q51/u],
    ['no value', () => [AIR, '--get'], /^--get needs a value after it$/u],
    ['no name', () => [AIR, '--set', 'building_volume'], /^--set needs NAME=…, found "building_volume"$/u],
    ['an unknown option', () => [AIR, '--verbose'], /^there is no option --verbose$/u],
    ['a CSV file that is not there', () => [AIR, '--table', 'readings=no.csv'], /^cannot read no\.csv$/u],
    [
      'a CSV file without the columns',
      () => [AIR, '--table', `readings=${file('bad.csv', 'a,b\n1,2\n')}`],
      /bad\.csv, line 1: found a first line without a heading of the table: a, b, expected headings such as/u,
    ],
    [
      'a decimal comma that broke a line apart',
      () => [
        AIR,
        '--table',
        `readings=${file('comma.csv', `${HEADING}\n10,268\n20,420,7\n`)}`,
        '--get',
        'q50',
      ],
      /comma\.csv, line 3: found 3 fields, expected 2 fields/u,
    ],
    [
      'a heading in a unit of another kind',
      () => [
        AIR,
        '--table',
        `readings=${file('unit.csv', 'house pressure (ft),measured flow (m3/h)\n1,2\n')}`,
      ],
      /unit\.csv, line 1, house_pressure: found the unit ft in the heading/u,
    ],
    [
      'a name too long',
      () => {
        const name = `b${'x'.repeat(60)}`;
        return [file('long.json', readFileSync(AIR, 'utf8').replaceAll('"building_volume"', `"${name}"`))];
      },
      /long\.json, cell bx{59}: The name has 61 characters; 60 is the most\.$/u,
    ],
    ['an empty CSV file', () => [AIR, '--table', `readings=${file('empty.csv', '')}`], /found nothing/u],
  ];

  test.each(cases)('%s', async (_, argv, message) => {
    const run = await calc(...argv());
    expect(run.code).toBe(2);
    expect(run.out).toBe('');
    expect(
      run.errors.some((line) => message.test(line)),
      run.errors.join('\n'),
    ).toBe(true);
  });
});

test('columns of a CSV file that the table does not have are told, and the rest is read', async () => {
  const text = `${HEADING},who read it\n10,268.01,A\n20,420.55,B\n30,547.37,B\n`;
  const run = await calc(AIR, '--table', `readings=${file('more.csv', text)}`, '--get', 'q50');
  expect(run.code).toBe(0);
  expect(run.errors).toHaveLength(1);
  expect(run.errors[0]).toMatch(
    /more\.csv: the table readings takes no column “who read it”; it was left out$/u,
  );
});

test('a heading in a unit of another kind is told once, as that', async () => {
  const text = 'house pressure (Pa),measured flow (kg)\n10,268.01\n20,420.55\n';
  const run = await calc(AIR, '--table', `readings=${file('mass.csv', text)}`, '--get', 'q50');
  expect(run.errors.filter((line) => /measured.flow/u.test(line))).toEqual([
    expect.stringContaining('measured_flow: found the unit kg in the heading, which is mass'),
  ]);
});

test('--help prints the usage, and the usage names the exit codes', async () => {
  const run = await calc('--help');
  expect(run.code).toBe(0);
  for (const option of ['--set', '--table', '--get', '--list', '--json', 'exit code'])
    expect(run.out).toContain(option);
});

test('a scenario of the workbook, and a value found for a target', async () => {
  const other = await json(HOUSE, '--scenario', 'pressurised instead', '--get', 'shown_test');
  expect(other.shown_test?.value).toBe('sealed, pressurised');
  expect((await calc(HOUSE, '--scenario', 'no such')).code).toBe(2);
  const solved = await json(
    HOUSE,
    ...['--solve', 'margin_ach50 = 0 1/h by target_ach50 from 0.5 1/h to 2 1/h'],
    ...['--get', 'target_ach50', '--get', 'ach50'],
  );
  expectRelative(solved.target_ach50?.value, solved.ach50?.value as number, 1e-6);
  const none = await calc(HOUSE, '--solve', 'margin_ach50 = 0 1/h by target_ach50 from 2 1/h to 3 1/h');
  expect(none.code).toBe(1);
  expect((await calc(HOUSE, '--solve', 'what')).code).toBe(2);
});

test('what has only a quick answer yet is worked out in full before it is printed', async () => {
  const { code, out } = await calc(template('trim.json'), '--get', 'trim_profiles.status');
  expect(code).toBe(0);
  expect(out).toContain('least length, proved');
  expect(out).not.toContain('not proved');
}, 60_000);
