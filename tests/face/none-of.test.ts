import { expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import { noneOf } from '../../src/face/none-of.ts';
import { outlineOf, standingOf } from '../../src/face/outline.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { itemsOf, newJob, readWorkbook, Workbook } from '../../src/workbook/index.ts';
import { templateText } from '../templates/open.ts';

function saidIn(isNew: boolean): (name: string) => string {
  const opened = readWorkbook(templateText('juniper-hollow.json'));
  if ('code' in opened) throw new Error(opened.found);
  const document = isNew ? newJob(opened.document, { id: 'demo', title: 'x' }) : opened.document;
  const workbook = new Workbook(document, new FunctionLibrary(tradeFunctions));
  const outline = outlineOf(document);
  const session = {
    workbook,
    standing: (name: string) => standingOf(outline, name),
    state: (name: string) => workbook.state(name),
    columnState: (...of: Parameters<Workbook['columnState']>) => workbook.columnState(...of),
  };
  const cells = new Map(
    [...itemsOf(document)].flatMap((item) => (item.kind === 'cell' ? [[item.name, item]] : [])),
  );
  return (name) => {
    const cell = cells.get(name);
    if (!cell) throw new Error(`no cell ${name}`);
    expect(workbook.state(name).state, name).toBe('blank');
    return noneOf(session, cell);
  };
}

const demo = saidIn(false);
const job = saidIn(true);

test.each(['uses_missing_air', 'unit_checks', 'commission_more_exhaust', 'log_gaps', 'pieces_left_out'])(
  'a list that was looked through and holds nothing is none: %s',
  (name) => {
    expect(demo(name)).toBe('none');
  },
);

test.each(['retarder_verdict', 'roof_verdict', 'sheathing_verdict', 'large_hole', 'rate_verdict'])(
  'a verdict for which nothing is known is not none: %s',
  (name) => {
    expect(job(name)).toBe('not known yet');
  },
);

test.each([
  'rooms_short',
  'commission_reason_rooms',
  'units_out_of_balance',
  'pieces_left_out',
  'unit_checks',
])('nor is a list whose rows nobody has typed: %s', (name) => {
  expect(job(name)).toBe('not known yet');
});

test('a number that is not there is not known, and what is to be typed is not typed', () => {
  expect(job('ach50')).toBe('not known yet');
  expect(job('side_wing_width')).toBe('not typed yet');
});
