/** What a ready-made report takes from the workbook that is open. */
import { expect, test } from 'vitest';
import { reportOf } from '../../../src/face/print/report.ts';
import { Session } from '../../../src/face/session.svelte.ts';
import { itemsOf } from '../../../src/workbook/index.ts';
import { Open } from '../../templates/open.ts';

const signing = (open: Open) =>
  Object.fromEntries(
    reportOf(new Session(open.workbook), 'certificate', []).signing.map(({ label, typed }) => [label, typed]),
  );

test('the certificate prints instruments and edition as typed; blank, or in a file without those cells, it leaves a line', () => {
  const open = new Open('air-test.json');
  expect(signing(open)).toEqual({
    'Tested by': '',
    'Gauge and fan, calibrated': '',
    'Standard, edition': '',
    Signature: '',
    'Signed on': '',
  });
  open.type('test_instruments', 'gauge 12, fan 7');
  open.type('test_edition', 'the standard of that year');
  expect(signing(open)).toMatchObject({
    'Gauge and fan, calibrated': 'gauge 12, fan 7',
    'Standard, edition': 'the standard of that year',
  });
  const cell = [...itemsOf(open.workbook.document)].find(
    (item) => item.kind === 'cell' && item.name === 'test_edition',
  );
  open.workbook.apply({ kind: 'remove-item', item: cell?.id ?? '' });
  expect(signing(open)).toMatchObject({ 'Standard, edition': '' });
});

test('the client summary takes verdicts on the whole, none that repeats the word of the one row drawn', () => {
  const { blocks } = reportOf(new Session(new Open('juniper-hollow.json').workbook), 'client', []);
  const labels = blocks.flatMap((block) =>
    block.kind === 'facts' ? block.rows.map(([label]) => label) : [],
  );
  expect(labels).toContain('Against the target');
  expect(labels).toContain('House as a whole');
  expect(labels).not.toContain('Jamb drawn, verdict');
});
