/** A sampled check through the demo house, as the worker runs it: the workbook is read, opened, drawn 10,000 times. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { FunctionLibrary, sampling } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { checkSample, readWorkbook, Workbook } from '../../src/workbook/index.ts';
import { otherWork, reportAlone, timed } from './rounds.ts';

const DRAWS = 10_000;
const RESULTS = ['ach50', 'flow_coefficient', 'margin_ach50', 'total_air'];

export function run(): void {
  const text = readFileSync(path.resolve('templates/juniper-hollow.json'), 'utf8');
  const library = (): FunctionLibrary => new FunctionLibrary(tradeFunctions);
  const opened: number[] = [];
  const whole = new Map<string, number[]>();
  const drawn = new Map<string, number[]>();
  for (let round = 0; round < 4; round++)
    for (const name of RESULTS) {
      otherWork();
      let took = 0;
      const all = timed(() => {
        const read = readWorkbook(text);
        if (!('document' in read)) throw new Error(`the demo cannot be read: ${read.found}`);
        const workbook = new Workbook(read.document, library());
        const budget = workbook.budget(name);
        const drawn = sampling(workbook, [name], DRAWS, 1 + round);
        if (!budget || !drawn) return;
        took = timed(() => {
          while (drawn.done < DRAWS) drawn.draw(250);
        });
        const [sample] = drawn.finish();
        if (!sample || !Number.isFinite(checkSample(budget, sample).uncertainty))
          throw new Error(`${name}: nothing drawn`);
      });
      if (took === 0) continue;
      opened.push(all - took);
      whole.set(name, [...(whole.get(name) ?? []), all]);
      drawn.set(name, [...(drawn.get(name) ?? []), took]);
    }
  reportAlone('10,000 draws through the demo house', [
    { name: 'reading and opening it', ms: opened },
    ...[...drawn].map(([name, ms]) => ({ name: `draws of ${name}`, ms, under: 1000 })),
    ...[...whole].map(([name, ms]) => ({ name: `with opening, ${name}`, ms })),
  ]);
}
