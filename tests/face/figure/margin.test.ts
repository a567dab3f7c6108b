import { expect, test } from 'vitest';
import { margin } from '../../../src/face/figure/margin.ts';
import { asData, bound, cell, theme, untold, waiting } from './bound.ts';

const value = cell('Air changes at 50 Pa', 1.05, '1/h', 0.03);
const first = cell('First target, at most', 1.2, '1/h');
const second = cell('Second target, at most', 0.996, '1/h');

const say = (cells: Parameters<typeof bound>[0]) => margin.summary(margin.resolve(bound(cells)));

test('its drawing', () => {
  const data = margin.resolve(bound({ value, target: first, target_2: second }));
  expect(asData(margin.panels(data, theme))).toMatchSnapshot();
});

test('met, when the whole 95 % interval is under the target', () => {
  expect(say({ value, target: first })).toMatchObject({ line: 'met', tone: 'ok' });
});

test('not met, when the whole interval is over it', () => {
  expect(say({ value: cell('x', 1.3, '1/h', 0.03), target: first })).toMatchObject({
    line: 'not met',
    tone: 'fault',
  });
});

test('too close to call, when the interval holds the target', () => {
  expect(say({ value: cell('x', 1.19, '1/h', 0.03), target: first })).toMatchObject({
    line: 'too close to call',
    tone: 'hold',
  });
});

test('the chance decides where it is known: 1.7 standard uncertainties under the target is met, as on the worksheet', () => {
  const near = { ...cell('x', 1.149, '1/h', 0.03), reach: 1.645 * 0.03 };
  expect(say({ value: near, target: first })).toMatchObject({ line: 'met', tone: 'ok' });
  expect(say({ value: { ...near, value: 1.152 }, target: first })).toMatchObject({ tone: 'hold' });
  expect(say({ value: { ...near, value: 1.251 }, target: first })).toMatchObject({ tone: 'fault' });
});

test('a ± that cannot be told decides nothing, and draws no interval', () => {
  const data = margin.resolve(bound({ value: untold('x', 0.9, '1/h'), target: first }));
  expect(data.interval).toBeUndefined();
  expect(margin.summary(data)).toMatchObject({ line: '± not told', tone: 'hold' });
});

test('two targets that disagree: each is named with its own word, and no single green stands over both', () => {
  const { line, tone } = say({ value, target: first, target_2: second });
  expect(line).toBe('1.2 1/h met; 0.996 1/h too close to call');
  expect(tone).toBe('hold');
});

test('the chance is said in the words of its own cell', () => {
  expect(say({ value, target: first, chance: cell('Chance', 99.9, '%') }).line).toBe(
    'met; chance the true value is under 1.2: 99.9 %',
  );
});

test('bound limits take the place of the interval drawn from the ±', () => {
  const cells = { value, target: first, low: cell('low', 0.9, '1/h'), high: cell('high', 1.25, '1/h') };
  expect(say(cells).tone).toBe('hold');
  expect(say(cells).rows).toEqual([
    ['value', '1.05'],
    ['95 % from', '0.9'],
    ['95 % to', '1.25'],
    ['First target, at most', '1.2'],
  ]);
});

test('without a result nothing is drawn as a value, and the line says what it waits for', () => {
  const data = margin.resolve(bound({ value: waiting('Air changes at 50 Pa', 'q50'), target: first }));
  expect(margin.summary(data)).toMatchObject({
    line: 'No result yet: waits for q50',
    tone: 'hold',
    rows: [],
  });
  const [panel] = margin.panels(data, theme);
  expect(panel?.chart.data.datasets.every((set) => set.data.length === 0)).toBe(true);
});

test('a value that must reach its target: met above it, not met below, too close between', () => {
  const provided = (flow: number, chance?: number) =>
    say({
      value: cell('Provided', flow, 'cfm', 1.4),
      least: cell('Required while running', 100.8, 'cfm'),
      ...(chance === undefined ? {} : { chance: cell('Chance', chance, '%') }),
    });
  expect(provided(134.2, 99.9)).toMatchObject({
    line: 'met; chance the true value is at least 100.8: 99.9 %',
    tone: 'ok',
  });
  expect(provided(90).tone).toBe('fault');
  expect(provided(101).tone).toBe('hold');
});

test('each target is judged by its own chance, which knows what value and target share', () => {
  const third = cell('Area of envelope, at most', 1.01, '1/h');
  // By the ± of the value alone the second would be too close to call.
  const cells = { value, target: first, target_2: third };
  expect(say(cells).line).toBe('1.2 1/h met; 1.01 1/h too close to call');
  const judged = say({ ...cells, chance: cell('Chance', 99.9, '%'), chance_2: cell('Chance', 1.2, '%') });
  expect(judged).toMatchObject({
    line: '1.2 1/h met; 1.01 1/h not met; chance the true value is under 1.2: 99.9 %; under 1.01: 1.2 %',
    tone: 'fault',
  });
  // A chance without a per cent sign is a fraction; one that is not known yet decides nothing.
  expect(say({ ...cells, chance_2: cell('Chance', 0.012, '') }).tone).toBe('fault');
  expect(say({ ...cells, chance_2: waiting('Chance', 'q50') }).tone).toBe('hold');
});

test('what lies under the least is shaded from the left edge', () => {
  const data = margin.resolve(bound({ value, least: first }));
  const plugins = margin.panels(data, theme)[0]?.chart.options?.plugins;
  expect(plugins?.direct?.shades).toMatchObject([{ from: -Infinity, to: 1.2 }]);
});
