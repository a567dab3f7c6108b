/** What is typed on site in the place of a value: read where it can mean one thing only, else told whole. */
import { describe, expect, test } from 'vitest';
import { Engine, FunctionLibrary, readEntry, renderDiagnostic } from '../../../src/engine/index.ts';
import { entry, refusal, unit } from './read.ts';

const FOOT = 0.3048;

describe('what can mean one thing only is read', () => {
  test.each([
    ['25 cf', 'ft3', 25 * FOOT ** 3],
    ['25 cft', 'm3', 25 * FOOT ** 3],
    ['25 sft ± 1', 'ft2', 25 * FOOT ** 2],
    ['431 CFM50', 'cfm', (431 * FOOT ** 3) / 60],
    ['25 pa.', 'Pa', 25],
    ['25 Pascal', 'Pa', 25],
    ['25 LF', 'ft', 25 * FOOT],
    ['25 MM', 'ft', 0.025],
    ['72°', 'degF', (72 - 32) / 1.8 + 273.15],
    ['72 degrees', 'degF', (72 - 32) / 1.8 + 273.15],
    ['72 deg F', 'degF', (72 - 32) / 1.8 + 273.15],
    ['72 deg F', 'degC', (72 - 32) / 1.8 + 273.15],
    ['２５．５', 'Pa', 25.5],
    ['－５％', '%', -0.05],
    ['12\u00a0345', 'Pa', 12345],
    ['—5', 'Pa', -5],
    ['–5', 'Pa', -5],
  ])('%s in %s', (text, place, si) => {
    expect(entry(text, place).si).toBeCloseTo(si, 9);
  });

  test('and nothing else: a multiple, another dimension, a place for any quantity', () => {
    for (const [text, place] of [
      ['2 kcfm', 'cfm'],
      ['25 cf', 'ft2'],
      ['25 CFM50', 'Pa'],
      ['25 guess', 'Pa'],
      ['25 cf', '1'],
    ] as const)
      expect(readEntry(text, unit(place)), `${text} in ${place}`).toHaveProperty('problem');
    expect(readEntry('25 cf', undefined)).toHaveProperty('problem');
  });
});

const TYPED = [
  ...['~25000', '≈ 25 ft', 'about 25', 'approx. 25', 'ca. 25', '25 approx', '25ish', '25 or so'],
  ...['25k', '25K', '1.2M cfm', '25,000.5.1', '1.234.567', '1.2.3'],
  ...['<5', '≥ 5', 'max 5', 'up to 5 Pa', '5+'],
  ...['5-6', '5–6 Pa', '5 to 6', '5...6', '10 - 5', '1/2', '5 3/8'],
  ...['half', 'Three', 'dozen', 'eight feet', 'Three quarters  inch'],
  ...[
    'n/a',
    'N.A.',
    '-',
    '—',
    '?',
    '??',
    '…',
    'TBD',
    'tbc?',
    'T.B.D.',
    'pending',
    'to follow',
    'none',
    'xxx',
    '%',
  ],
  ...['25 (guess)', '25 guess', '25, guess', '25?', '25 // guess', '25 - guess', '25 # wet'],
  ...["12'", '72°', '72 F', '25 sqft', '25 lf', '25 cuft', '25 cf', '25 CFM50', '25 Pascal'],
];

test('all of it, whole, in the row of a table, by the place', () => {
  const places = ['ft', 'Pa', 'degF', 'ft2', '1'];
  const lines = TYPED.flatMap((text) => {
    const said = new Map<string, string[]>();
    for (const place of places) {
      const found = readEntry(text, unit(place));
      const line = 'problem' in found ? `${found.problem}; ${found.suggestion ?? ''}` : 'is read';
      said.set(line, [...(said.get(line) ?? []), place]);
    }
    return [text, ...[...said].map(([line, at]) => `  ${at.join(', ')}: ${line}`), ''];
  });
  expect(lines.join('\n')).toMatchSnapshot();
});

test('in a cell of its own it is told as a value too, not as a formula', () => {
  const engine = new Engine(new FunctionLibrary([]));
  engine.defineCell({ name: 'width', type: 'number', text: '4 ft' });
  const lines = TYPED.flatMap((text) => {
    const found = engine.check(text, { unit: 'Pa' });
    return [found === undefined ? `${text}\n  is read` : renderDiagnostic(text, found), ''];
  });
  expect(lines.join('\n')).toMatchSnapshot();
  // What is a formula stays one.
  engine.defineCell({ name: 'c', type: 'number', text: '9 Pa' });
  for (const text of [
    'c - 5 Pa',
    'c -5 Pa',
    '5 Pa - 6 Pa',
    '2 * 3 Pa',
    '= 4 Pa',
    '25 Pa + width / width * 1 Pa',
  ])
    expect(engine.check(text, { unit: 'Pa' }), text).toBeUndefined();
  engine.defineCell({ name: 'share', type: 'number', text: '0.4' });
  for (const text of ['1 - 0.5 * share', '5-6', '1 - 0.05', '2 to 3 share']) {
    const [share, plain] = [engine.check(text, { unit: '%' }), engine.check(text, { unit: '' })];
    expect([share?.code, plain?.code], text).toEqual(
      text.includes('to') ? ['entry', 'entry'] : [undefined, undefined],
    );
  }
  // While a condition is typed it is no remark behind a number.
  for (const text of ['c > 5 Pa ?', 'share2 ?', 'c > 5 Pa ? 3 Pa : 5 ?'])
    expect(engine.check(text, { unit: 'Pa' })?.code, text).not.toBe('entry');
  expect(engine.check('5-6', { unit: '' })).toBeUndefined();
  expect(engine.check('1/2', { unit: '' })).toBeUndefined();
});

test('what is to be typed instead can be typed', () => {
  let looked = 0;
  for (const text of TYPED)
    for (const place of ['ft', 'Pa', 'degF', 'ft2', '1']) {
      const found = readEntry(text, unit(place));
      if (!('problem' in found)) continue;
      const instead = /^type (?!for instance|their)(?:its middle[^:]*: )?(.+?)(?:,? or |[,;]|$)/u.exec(
        found.suggestion ?? '',
      )?.[1];
      if (instead === undefined) continue;
      looked++;
      const again = readEntry(instead, unit(place));
      // What has another dimension was not what the place takes before either.
      const isRead = 'literal' in again || ('problem' in again && again.problem.includes('this entry is'));
      expect(isRead, `${text} in ${place}: ${instead}: ${JSON.stringify(again)}`).toBe(true);
    }
  expect(looked).toBeGreaterThan(80);
});

test.each([
  ['-9,6', 'Pa', '-9.6'],
  ['−9,6', 'Pa', '-9.6'],
  ['-9.6 ± 0,5', 'Pa', '0.5'],
  ['-25 (guess)', 'Pa', '-25'],
  ['-25+', 'Pa', '-25'],
  ['-2k', 'Pa', '-2000'],
  ['-1.234.567', 'Pa', '-1234567'],
  ['-12 345', 'Pa', '-12345'],
  ['-5-3', 'ft', `-5' 3"`],
  ['-1/2', 'ft', '-1/2"'],
])('%s: the minus is in what is to be typed', (text, place, instead) => {
  const said = refusal(text, place);
  expect(said).toMatch(/; .*type /);
  expect(said.split(/; .*?type /)[1]).toMatch(
    new RegExp(`^${instead.replace(/[.+]/g, String.raw`\$&`)}(?:$|[ ,])`),
  );
  expect(entry(instead, place).si < 0).toBe(instead.startsWith('-'));
});

describe('a product where one value goes in', () => {
  const formula = (text: string) => `'${text}' is a formula, and a place in a table takes a value`;
  const sides = (text: string) => `'${text}' is two sides, and one value goes in`;
  test.each([
    ['30 mm * 40 mm', 'cm2', formula, 'type 12 cm²'],
    ['-30 mm * 40 mm', 'cm2', formula, 'type -12 cm²'],
    ['2 ft * 3 in', 'in2', formula, 'type 72 in²'],
    ['5 * 3 Pa', 'Pa', formula, 'type 15 Pa'],
    ['2*3*4', 'Pa', formula, 'type 24 Pa'],
    ['30 mm * 40 mm', 'Pa', formula, 'type for instance 20 Pa'],
    ['2 * 3 degF', 'degF', formula, 'type for instance 68 °F'],
    ['30 mm ± 1 mm * 40 mm', 'cm2', formula, 'type for instance 20 cm²'],
    ['30 x 40 mm', 'cm2', sides, 'type 12 cm²'],
    ['30 mm by 40 mm', 'in2', sides, 'type 12 cm²'],
    ['30 × 40 mm', 'ft2', sides, 'type 12 cm²'],
    ['4" x 6"', 'in2', sides, 'type 24 in²'],
    ['3 x 4 m', 'ft2', sides, 'type 12 m²'],
    ['30 x 40 mm', 'mm', sides, 'type for instance 20 mm'],
    ['4 x 6', 'mm', sides, 'type for instance 20 mm'],
    ['25 * width', 'mm', formula, 'type what it comes to, or give the whole column a formula'],
    ['25 * width - 3', 'mm', formula, 'type what it comes to, or give the whole column a formula'],
  ])('%s in %s', (text, place, problem, suggestion) => {
    expect(refusal(text, place)).toBe(`${problem(text)}; ${suggestion}`);
    const instead = /^type (?!for|what)(.+)$/.exec(suggestion)?.[1];
    if (instead !== undefined) expect(entry(instead, place).value).not.toBeNaN();
  });

  test('a footnote stays a remark, and of bare sides nothing is worked out', () => {
    expect(refusal('25 *', 'ft2')).toBe(
      'behind 25 stands a remark, *; type 25, and the remark into the note',
    );
    expect(refusal('4 x 6', 'in2')).toContain('a hole of 4 in by 6 in is 24 in2');
  });

  test('kept in a row of a table it still says what to type', () => {
    const engine = new Engine(new FunctionLibrary([]));
    const area = { name: 'area', type: 'number', unit: 'cm2', entries: ['30 mm * 40 mm'] } as const;
    engine.defineTable({ name: 'holes', rows: 1, columns: [area] });
    engine.recalculate();
    expect(engine.readRow('holes', 'area', 0)).toMatchObject({
      state: 'fault',
      suggestion: 'type 12 cm²',
    });
  });
});

test('the range and about keep what they say', () => {
  expect(entry('5.5 ± 0.5', 'Pa').plusMinus).toBe(0.5);
  expect(refusal('0.1-0.3', 'Pa')).toBe(
    "'0.1-0.3' is a range; type its middle with what it reaches: 0.2 ± 0.1",
  );
});
