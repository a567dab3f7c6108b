import { describe, expect, test } from 'vitest';
import { FORMATS, gapIn, migrate, type FormatChain } from '../../../src/workbook/file/migrations.ts';
import { readWorkbook } from '../../../src/workbook/file/read.ts';

/** A history in which format 2 renamed `heading` to `title`, and format 3 put the sheets under `sheets`. */
const invented: FormatChain = {
  current: 3,
  steps: [
    { to: 2, what: 'heading is called title', step: ({ heading, ...rest }) => ({ ...rest, title: heading }) },
    {
      to: 3,
      what: 'a single sheet became a list',
      step: ({ sheet, ...rest }) => {
        if (typeof sheet !== 'object') throw new TypeError('no sheet');
        return { ...rest, sheets: [sheet] };
      },
    },
  ],
};

const oldest = { app: 'close-in', format: 1, heading: 'A job', sheet: { title: 'Air', sections: [] } };

describe('migrations', () => {
  test('the steps that ship lead from format 1 to the current one without a gap', () => {
    expect(gapIn(FORMATS)).toBeUndefined();
    expect(gapIn(invented)).toBeUndefined();
    expect(gapIn({ ...invented, current: 4 })).toBe('step 3 must lead to format 4');
    expect(gapIn({ ...invented, current: 2 })).toBe('there are steps past the current format');
    expect(gapIn({ ...invented, steps: [...invented.steps].reverse() })).toBe('step 1 must lead to format 2');
  });

  test('each step runs once, in order, from the format the file has', () => {
    expect(migrate({ heading: 'x', sheet: {} }, 1, invented)).toEqual({ title: 'x', sheets: [{}] });
    expect(migrate({ heading: 'x', sheet: {} }, 2, invented)).toEqual({ heading: 'x', sheets: [{}] });
    expect(migrate({ heading: 'x', sheet: {} }, 3, invented)).toEqual({ heading: 'x', sheet: {} });
  });

  test('a file of the oldest format opens as a document of today', () => {
    const opened = readWorkbook(JSON.stringify(oldest), invented);
    expect(opened).toEqual({
      document: {
        title: 'A job',
        units: 'us',
        sheets: [{ id: 'sheet-1', title: 'Air', note: '', sections: [] }],
      },
      warnings: [],
    });
  });

  test('a file that its own format would not accept is refused, and nothing is thrown', () => {
    expect(readWorkbook(JSON.stringify({ ...oldest, sheet: 5 }), invented)).toMatchObject({
      code: 'wrong-shape',
      found: 'a file that does not hold what format 1 asks for',
    });
  });
});
