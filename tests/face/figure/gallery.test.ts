import { describe, expect, test } from 'vitest';
import { samples } from '../../../src/face/figure/gallery/samples.ts';
import { figureKind, KIND_NAMES } from '../../../src/face/figure/kinds.ts';
import { asData, theme } from './bound.ts';

test('every kind of figure has a sample in the gallery, and every sample a kind', () => {
  expect(new Set(samples.map((sample) => sample.kind))).toEqual(new Set(KIND_NAMES));
});

/** As wide as a phone leaves a figure. */
const WIDTH = 330;

describe.each(samples)('$kind: $shows', ({ kind: name, bound }) => {
  const kind = figureKind(name);
  const data = kind?.resolve(bound);

  test('its drawing and its words', () => {
    expect(kind).toBeDefined();
    const panels = asData(kind?.panels(data, theme) ?? []);
    const drawings = kind?.drawings?.(data, theme).map((each) => asData(each.layout(WIDTH).shapes));
    expect({ summary: kind?.summary(data), panels, drawings }).toMatchSnapshot();
  });

  test('where a unit or a label is not known no comma waits for it', () => {
    const said = textsIn([kind?.summary(data), asData(kind?.panels(data, theme) ?? [])]);
    expect(said.filter((text) => /^\s*,|,\s*(?:,|$)/u.test(text))).toEqual([]);
  });

  test('its table has a text for every heading', () => {
    const { headers, rows } = kind?.summary(data) ?? { headers: [], rows: [] };
    for (const row of rows) expect(row).toHaveLength(headers.length);
  });
});

function textsIn(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(textsIn) : [];
}
