import { describe, expect, test } from 'vitest';
import { filedWords, peaceUntil, reminder, unfiledEdits } from '../../../src/face/keeping/backup.ts';
import type { KeptHead } from '../../../src/face/keeping/store.ts';

const DAY = 86_400_000;
const head: KeptHead = {
  id: 'a',
  title: 'Job',
  format: 1,
  sequence: 0,
  writer: '',
  createdAt: 0,
  savedAt: 0,
  characters: 1,
};

describe('the reminder of a backup', () => {
  test('comes after a week with some work, or at once with much', () => {
    expect(reminder({ ...head, sequence: 30 }, 6 * DAY)).toBeUndefined();
    expect(reminder({ ...head, sequence: 30 }, 7 * DAY)).toContain(
      '30 edits and it was never saved as a file',
    );
    expect(reminder({ ...head, sequence: 10 }, 70 * DAY)).toBeUndefined();
    expect(reminder({ ...head, sequence: 300 }, DAY)).toContain('300 edits');
  });

  test('counts from the last file', () => {
    const filed = { ...head, sequence: 400, filed: { sequence: 390, at: 10 * DAY } };
    expect(unfiledEdits(filed)).toBe(10);
    expect(reminder(filed, 60 * DAY)).toBeUndefined();
    expect(reminder({ ...filed, sequence: 420 }, 17 * DAY)).toContain('30 edits since it was last saved');
  });

  test('leaves the person in peace for a week when asked to', () => {
    const later = { ...head, sequence: 500, remindAfter: peaceUntil(DAY) };
    expect(reminder(later, 7 * DAY)).toBeUndefined();
    expect(reminder(later, 8 * DAY)).toBeDefined();
  });
});

test('how far the last file is behind is said in two words where there is no room for more', () => {
  const filed = { sequence: 3, at: 0, how: 'downloaded' } as const;
  expect(filedWords(filed, 8)).toBe('5 edits since the downloaded copy');
  expect(filedWords(filed, 8, true)).toBe('5 edits behind');
  expect(filedWords(filed, 3, true)).toBe('downloaded');
});
