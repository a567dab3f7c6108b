/** What a template says in words does not follow the switch of units: it says both. */
import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

const folder = new URL('../../templates/', import.meta.url);

/** Titles, labels, notes and texts that are no formula; what stands in rows is data. */
function* words(value: unknown, key = ''): Generator<string> {
  if (typeof value === 'string') {
    if (['label', 'note', 'title', 'prose'].includes(key)) yield value;
  } else if (Array.isArray(value)) for (const each of value) yield* words(each, key);
  else if (typeof value === 'object' && value !== null)
    for (const [name, each] of Object.entries(value)) {
      if (name === 'rows') continue;
      yield* words(each, name === 'text' && 'kind' in value && value.kind === 'prose' ? 'prose' : name);
    }
}

const US =
  /\d\s(?:in(?! (?:ASTM|ASHRAE|62|12))|ft|ft²|ft³|ft\/min|cfm|cfm\/ft²|°F|lb|lb\/ft²|gal|qt|inH2O|mph)(?![\p{L}²³/])/u;
const SI = /\d\s(?:mm|m|m²|m³|m³\/h|m\/s|L\/s|°C|kg|kg\/m²|L|Pa)(?![\p{L}²³/])/u;

/** Cells of a code’s own printed table, which is in one system only; and a scenario of the invented house, by its name. */
const APART = ['Printed “501 to 1,000”', 'plaster at 1/8 in'];

test.each(readdirSync(folder).filter((name) => name.endsWith('.json')))('%s', (name) => {
  const all = [...words(JSON.parse(readFileSync(new URL(name, folder), 'utf8')))];
  expect(all.length).toBeGreaterThan(50);
  const alone = all.filter(
    (said) => US.test(said) && !SI.test(said) && !APART.some((apart) => said.includes(apart)),
  );
  expect(alone).toEqual([]);
});
