import { describe, expect, test } from 'vitest';
import { columnsNamed, readCsv, type CsvReading } from '../../../src/workbook/file/csv.ts';
import { column, readings } from './readings-table.ts';

const entriesOf = (reading: CsvReading) => reading.rows.map(({ entries }) => entries);
const problemsOf = ({ problems }: CsvReading) =>
  problems.map(
    ({ line, column: at, found, expected, suggestion }) =>
      `${String(line)} ${at}: ${found} | ${expected} | ${suggestion}`,
  );

describe('headings of a CSV file', () => {
  test.each([
    'house_pressure',
    'House Pressure',
    'house pressure (Pa)',
    'House pressure, Pa',
    'HOUSE-PRESSURE [Pa]',
    '  house   pressure ( Pa ) ',
    'House pressure in Pa',
    'house pressure, in  Pa',
    'house_pressure_in_Pa',
    'Pressure of the house, average in Pa',
    'Pressure of the house, average',
    'pressure of the house, average (Pa)',
  ])('“%s” is the house pressure', (heading) => {
    const reading = readCsv(`"${heading}";x\n-30.1;1\n`, readings);
    expect(reading.matched[0]).toMatchObject({ role: 'value', column: { name: 'house_pressure' } });
    expect(entriesOf(reading)).toEqual([{ 'c-house_pressure': '-30.1' }]);
  });

  test('a unit that is not the column’s is written behind each bare number and nothing is converted', () => {
    const reading = readCsv(
      'house pressure (inH2O),measured flow (m3/h),Temperature (degF)\n-0.12,310,68\n0.1 kPa,,\n',
      readings,
    );
    expect(entriesOf(reading)).toEqual([
      { 'c-house_pressure': '-0.12 inH2O', 'c-measured_flow': '310 m3/h', 'c-temperature': '68 degF' },
      { 'c-house_pressure': '0.1 kPa' },
    ]);
    expect(reading.problems).toEqual([]);
  });

  test('below a title, with units in a line of their own, they are found under any separator', () => {
    for (const separator of [',', ';', '\t']) {
      const lines = [
        ['Air test 3', '', ''],
        ['House pressure', 'Flow', 'Test'],
        ['[Pa]', 'm3/h', ''],
        ['-30.1', '310', 'first'],
      ];
      const reading = readCsv(lines.map((fields) => fields.join(separator)).join('\n'), readings);
      expect(entriesOf(reading)).toEqual([
        { 'c-house_pressure': '-30.1', 'c-measured_flow': '310 m3/h', 'c-test': 'first' },
      ]);
      expect(problemsOf(reading)).toEqual([
        '1 : “Air test 3” above the headings | the headings first | It was left out.',
      ]);
      expect(reading.lost).toBe(false);
    }
  });

  test('a unit behind “in” is the heading’s, where it is one', () => {
    const flow = (heading: string) => readCsv(`${heading}\n310\n`, readings);
    expect(entriesOf(flow('Measured flow in m3/h'))).toEqual([{ 'c-measured_flow': '310 m3/h' }]);
    expect(problemsOf(flow('Measured flow in kg')).join()).toContain('the unit kg in the heading');
    expect(flow('Measured flow in half').matched[0]?.role).toBe('unknown');
    expect(entriesOf(readCsv('Temperature in F ±,Temperature in F\n1,68\n', readings))).toEqual([
      { 'c-temperature': '68 ± 1 degF' },
    ]);
  });

  test('another spelling of the column’s unit is the same unit', () => {
    expect(
      entriesOf(
        readCsv('measured flow (ft3/min)\n310\n', {
          ...readings,
          columns: [column('measured_flow', { unit: 'cfm' })],
        }),
      ),
    ).toEqual([{ 'c-measured_flow': '310' }]);
  });

  test('a unit with brackets of its own is read whole', () => {
    const table = { ...readings, columns: [column('u_factor', { unit: 'W/(m2 K)' })] };
    expect(entriesOf(readCsv('U factor (Btu/(h ft2 degF))\n0.02\n', table))).toEqual([
      { 'c-u_factor': '0.02 Btu/(h ft2 degF)' },
    ]);
  });

  test('over a column of temperatures F and C are degrees; a farad elsewhere is answered', () => {
    const table = {
      ...readings,
      columns: [column('indoor', { unit: 'degC' }), column('u_factor', { unit: 'Btu/(h ft2 degF)' })],
    };
    expect(entriesOf(readCsv('Indoor (F)\n68\n', table))).toEqual([{ 'c-indoor': '68 degF' }]);
    expect(entriesOf(readCsv('Indoor, C\n20\n', table))).toEqual([{ 'c-indoor': '20' }]);
    expect(readCsv('u_factor (Btu/(h ft2 F))\n0.3\n', table).problems.slice(0, 1)).toMatchObject([
      { suggestion: 'The column was left out. Head it “u_factor (Btu/(h ft2 degF))”.' },
    ]);
  });

  test('an unknown unit, and one of another kind, leave the column out with a reason', () => {
    const reading = readCsv('house pressure (Pz),measured flow (Pa),test\n-30,50,A\n', readings);
    expect(entriesOf(reading)).toEqual([{ 'c-test': 'A' }]);
    expect(reading.problems).toMatchObject([
      { line: 1, column: 'house_pressure', expected: 'Pa, or another unit of the same kind' },
      {
        line: 1,
        column: 'measured_flow',
        expected: expect.stringContaining('cfm, which is volume flow') as string,
      },
    ]);
    expect(reading.missing.map(({ name }) => name)).toEqual([
      'house_pressure',
      'fan_range',
      'measured_flow',
      'temperature',
    ]);
  });

  test('names unknown columns, and typed columns that are missing', () => {
    const reading = readCsv('test,weather\nA,sunny\n', readings);
    expect(reading.matched.map(({ text, role }) => [text, role])).toEqual([
      ['test', 'value'],
      ['weather', 'unknown'],
    ]);
    expect(reading.missing.map(({ name }) => name)).toEqual([
      'house_pressure',
      'fan_range',
      'measured_flow',
      'temperature',
    ]);
  });

  test('a heading twice, a heading for two columns, and results of a calculated column are told', () => {
    const twins = { ...readings, columns: [...readings.columns, column('flow_2', { label: 'flow' })] };
    const reading = readCsv('test,Test,Flow,induced (Pa)\nA,B,1,2\n', twins);
    expect(entriesOf(reading)).toEqual([{ 'c-test': 'A' }]);
    expect(problemsOf(reading)).toEqual([
      '1 test: a second heading for it, “Test” | one heading for each column | The first was taken. Take one of the two out of the file.',
      '1 Flow: a heading that fits measured_flow and flow_2 | a heading that fits one column | Head it with the name: measured_flow.',
      '1 induced: values for induced | none, because the table calculates it | They were left out. To have them instead of the formula, head them “induced [typed] (Pa)”.',
    ]);
  });

  test('a file without headings, and an empty one, say so', () => {
    expect(problemsOf(readCsv('-30,310\n-40,400\n', readings))).toEqual([
      '1 : a first line without a heading of the table: -30, 310 | headings such as Test, Pressure of the house, average, fan_range, Flow, temperature | Say where each column goes, or put the headings in the first line.',
    ]);
    expect(readCsv('', readings)).toMatchObject({ rows: [], problems: [{ found: 'nothing in the file' }] });
  });
});

describe('headings that a person gives to columns', () => {
  const give = (...pairs: readonly (readonly [number, string])[]) => ({ assigned: new Map(pairs) });

  test('a heading of other words takes the column, its unit and its ±', () => {
    const text = 'No,Building [inH2O],± Building (inH2O),Weather\n1,-0.12,0.002,cold\n';
    expect(readCsv(text, readings).rows).toEqual([]);
    const reading = readCsv(text, readings, give([1, 'c-house_pressure'], [2, 'c-house_pressure']));
    expect(entriesOf(reading)).toEqual([{ 'c-house_pressure': '-0.12 ± 0.002 inH2O' }]);
    expect(reading.matched.map(({ role }) => role)).toEqual(['unknown', 'value', 'plus-minus', 'unknown']);
  });

  test('a unit in a row of its own goes with it', () => {
    const reading = readCsv(
      'Building,Flow\n(inH2O),(l/s)\n-0.12,300\n',
      readings,
      give([0, 'c-house_pressure']),
    );
    expect(entriesOf(reading)).toEqual([{ 'c-house_pressure': '-0.12 inH2O', 'c-measured_flow': '300 l/s' }]);
  });

  test('words after a comma are no unit', () => {
    const reading = readCsv('Building, first gauge;Flow\n-30;300\n', readings, give([0, 'c-house_pressure']));
    expect(entriesOf(reading)).toEqual([{ 'c-house_pressure': '-30', 'c-measured_flow': '300' }]);
    expect(reading.problems).toEqual([]);
  });

  test('a unit of another kind is refused as in any heading', () => {
    const reading = readCsv('Building [cfm]\n-30\n', readings, give([0, 'c-house_pressure']));
    expect(problemsOf(reading).join()).toContain('the unit cfm in the heading');
    expect(reading.rows).toEqual([]);
  });

  test('values whose heading names a calculated column can go to a typed one, and a named one can be left out', () => {
    const reading = readCsv('induced (Pa),Flow\n-30,300\n', readings, give([0, 'c-house_pressure'], [1, '']));
    expect(entriesOf(reading)).toEqual([{ 'c-house_pressure': '-30' }]);
  });

  test('where the first line is one of values, it is the first row', () => {
    const reading = readCsv(
      '-30,300\n-40,400\n',
      readings,
      give([0, 'c-house_pressure'], [1, 'c-measured_flow']),
    );
    expect(entriesOf(reading)).toEqual([
      { 'c-house_pressure': '-30', 'c-measured_flow': '300' },
      { 'c-house_pressure': '-40', 'c-measured_flow': '400' },
    ]);
    expect(reading.problems).toEqual([]);
  });

  test('headings in another language stand apart at the separator, not at decimal commas', () => {
    const { matched } = readCsv('Hausdruck;Gebläse\n-20,5;30,1\n', readings);
    expect(matched.map(({ text }) => text)).toEqual(['Hausdruck', 'Gebläse']);
  });

  test.each([
    ['Druck Haus (Pa);Gebläse;Bemerkung\n-10,5;35,2;gut\n-20,1;60,3;\n', 3],
    ['-10,5;35,2;gut\n-20,1;60,3;gut\n', 3],
    ['-10.5,35.2,gut; gewiss\n-20.1,60.3,\n', 3],
    ['Druck Haus\tGebläse\n-10,5\t35,2\n', 2],
  ])('they stand apart where every line divides alike and numbers stay whole: %j', (text, columns) => {
    expect(readCsv(text, readings).matched).toHaveLength(columns);
  });

  test('a table is found by how many of its columns are named', () => {
    expect(columnsNamed('test;house pressure;weather\n', readings)).toBe(2);
    expect(columnsNamed('induced\n1\n', readings)).toBe(0);
  });
});

describe('choices from another table', () => {
  const rooms = { ...readings, columns: [column('room', { type: 'choice', choices: 'rooms.room' })] };
  const among = (...choices: string[]) => ({ allowed: () => choices });

  test('a word that is none of them is told; other capitals are no other word', () => {
    const reading = readCsv('room\nKitchen\nKITCHEN\nporch\n', rooms, among('kitchen', 'bath'));
    expect(reading.rows.map(({ entries }) => entries['c-room'])).toEqual(['kitchen', 'kitchen', 'porch']);
    expect(problemsOf(reading)).toEqual(['4 room: “porch” | one of kitchen, bath | Choose one of them.']);
  });

  test('where capitals alone tell two choices apart nothing is chosen for the person', () => {
    const reading = readCsv('room\nBATH\n', rooms, among('Bath', 'bath'));
    expect(reading.rows[0]?.entries['c-room']).toBe('BATH');
    expect(reading.problems).toHaveLength(1);
  });

  test('an empty list says so, and an unknown one says nothing', () => {
    expect(problemsOf(readCsv('room\nporch\n', rooms, among())).join()).toContain('none to choose from yet');
    expect(readCsv('room\nporch\n', rooms).problems).toEqual([]);
  });
});

describe('± in a column of its own', () => {
  test.each([
    ['house pressure (Pa),± house pressure (Pa)', '-30.1,0.5', '-30.1 ± 0.5'],
    ['house_pressure,house_pressure ±', '-30.1,0.5', '-30.1 ± 0.5'],
    ['± house pressure,house pressure (inH2O)', '0.002,-0.12', '-0.12 ± 0.002 inH2O'],
    ['house pressure (inH2O),+/- house pressure (Pa)', '-0.12,2', '-0.12 inH2O ± 2 Pa'],
    ['house pressure (Pa),+/- house pressure (inH2O)', '-30,0.01', '-30 Pa ± 0.01 inH2O'],
    ['house pressure,house pressure ± (%)', '-30.1,2', '-30.1 Pa ± 2 %'],
    ['house pressure (inH2O),house pressure (%) ±', '-0.12,2', '-0.12 inH2O ± 2 %'],
    ['house pressure,± house pressure', '-30.1,', '-30.1'],
    ['house pressure,± house pressure (Pa)', '0.12 inH2O,2', '0.12 inH2O ± 2 Pa'],
    ['house pressure,± house pressure', '0.12 inH2O,0.01', '0.12 inH2O ± 0.01'],
    ['house pressure,± house pressure', '-30.1,± 0.5', '-30.1 ± 0.5'],
  ])('%s: %s', (headings, values, entry) => {
    const reading = readCsv(`${headings}\n${values}\n`, readings);
    expect(entriesOf(reading)).toEqual([{ 'c-house_pressure': entry }]);
    expect(reading.problems).toEqual([]);
  });

  test('without a value is a problem', () => {
    const reading = readCsv('house pressure,± house pressure\n,0.5\n-30,1\n', readings);
    expect(problemsOf(reading)).toEqual([
      '2 house_pressure: ± 0.5 without a value | a value in Pa | Give the value too, or neither.',
    ]);
    expect(entriesOf(reading)).toEqual([{ 'c-house_pressure': '-30 ± 1' }]);
  });
});

describe('lines of a CSV file', () => {
  test.each([
    [',', 'test,house_pressure\nA,-30\n'],
    [';', 'test;house_pressure\nA;-30\n'],
    ['TAB', 'test\thouse_pressure\nA\t-30\n'],
    ['a byte order mark', '\ufefftest,house_pressure\nA,-30'],
    ['CRLF', 'test,house_pressure\r\nA,-30\r\n'],
    ['CR', 'test,house_pressure\rA,-30\r'],
    ['quoted last fields and CRLF', 'test,"house_pressure"\r\nA,"-30"\r\n'],
    ['; with commas in headings', 'Test;House pressure, Pa\nA;-30\n'],
    ['blank lines and blank rows', '\ntest,house_pressure\n\nA,-30\n,\n , \n\n'],
    ['spaces around fields', 'test , house_pressure\n A , -30 \n'],
  ])('are read with %s', (_, text) => {
    const reading = readCsv(text, readings);
    expect(entriesOf(reading)).toEqual([{ 'c-test': 'A', 'c-house_pressure': '-30' }]);
    expect(reading.problems).toEqual([]);
  });

  test('each problem has the line on which the row begins, past quoted line ends', () => {
    const reading = readCsv(
      'test,house_pressure,fan_range\n"two\nlines",-30,open\nB,n/a,Open\n\nC,-30 cfm,wide\nD\nE,1,low,9\n',
      readings,
    );
    expect(problemsOf(reading)).toEqual([
      "4 house_pressure: 'n/a' is no value | a value in Pa | leave it empty until it is known; a remark goes into the note",
      "6 house_pressure: '-30 cfm' is a volume flow; this entry is a pressure | a value in Pa | type for instance 20 Pa",
      '6 fan_range: “wide” | one of open, mid, low | Choose one of them.',
      '7 : 1 field | 3 fields, as in the first line | What is missing at the end was taken as blank.',
      '8 : 4 fields | 3 fields, as in the first line | What is past the last heading was left out. A text with a separator in it has to stand in quotes.',
    ]);
    expect(reading.rows).toHaveLength(5);
    expect(reading.rows[1]?.entries).toEqual({
      'c-test': 'B',
      'c-house_pressure': 'n/a',
      'c-fan_range': 'open',
    });
  });

  test('a quote out of place is told with its line', () => {
    const reading = readCsv('test,house_pressure\nA,1\n"B,2\n', readings);
    expect(reading.problems).toContainEqual({
      line: 3,
      column: '',
      found: 'a quote that is out of place',
      expected: 'quotes in pairs',
      suggestion: 'In a quoted text write each " twice, and end the text with one.',
    });
  });

  test('inches without quotes around them are inches', () => {
    const table = {
      ...readings,
      columns: [column('size', { unit: 'ft' }), column('test', { type: 'text' })],
    };
    expect(entriesOf(readCsv(`size,test\n12' 4 1/2",A\n3",B\n`, table))).toEqual([
      { 'c-size': `12' 4 1/2"`, 'c-test': 'A' },
      { 'c-size': '3"', 'c-test': 'B' },
    ]);
  });

  test('rows past the limit are left out with a word', () => {
    const reading = readCsv(`test\n${'A\n'.repeat(50_002)}`, readings);
    expect(reading.rows).toHaveLength(50_000);
    expect(problemsOf(reading)).toEqual([
      '50002 : 50,002 rows | at most 50,000 | The rows from here on were left out. Split the file.',
    ]);
  });

  test('an entry past the limit is left out with a word', () => {
    const reading = readCsv(`test\n${'A'.repeat(10_001)}\nB\n`, readings);
    expect(entriesOf(reading)).toEqual([{ 'c-test': 'B' }]);
    expect(reading.problems).toMatchObject([{ line: 2, column: 'test', found: '10,001 characters' }]);
  });
});

describe('decimal commas', () => {
  test('are told and never guessed', () => {
    const reading = readCsv('house_pressure,measured_flow\n"-30,1","1,234"\n', readings);
    expect(entriesOf(reading)).toEqual([{ 'c-house_pressure': '-30,1', 'c-measured_flow': '1,234' }]);
    expect(problemsOf(reading)).toEqual([
      "2 house_pressure: '30,1' has a comma that does not separate thousands | a value in Pa | type -30.1, with a point before the decimals",
    ]);
    expect(reading.askDecimalComma).toBe(false);
  });

  const file = 'test;house_pressure;measured_flow;± measured_flow\nA, first;-30,1;1.234,5;0,5\nB;-40;310;\n';

  test('are asked about, once, where separators are ; and every number fits', () => {
    const reading = readCsv(file, readings);
    expect(reading.askDecimalComma).toBe(true);
    expect(problemsOf(reading)).toEqual([
      '1 : a comma in numbers, where a decimal point could stand | decimals with a point | If the commas are decimal points, say so, and they are read as such.',
    ]);
    expect(reading.rows[0]?.entries).toMatchObject({ 'c-house_pressure': '-30,1' });
  });

  test('are read as points when the person has said so, in numbers only', () => {
    const reading = readCsv(file, readings, { decimalComma: true });
    expect(entriesOf(reading)).toEqual([
      { 'c-test': 'A, first', 'c-house_pressure': '-30.1', 'c-measured_flow': '1234.5 ± 0.5' },
      { 'c-test': 'B', 'c-house_pressure': '-40', 'c-measured_flow': '310' },
    ]);
    expect(reading.problems).toEqual([]);
    expect(reading.askDecimalComma).toBe(false);
  });

  test('are not asked about where a number has a point', () => {
    const reading = readCsv('house_pressure;measured_flow\n-30,1;310.5\n', readings);
    expect(reading.askDecimalComma).toBe(false);
    expect(reading.problems).toMatchObject([{ line: 2, column: 'house_pressure' }]);
  });
});
