import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { LinkedFile, readText } from '../../../src/face/keeping/linked-file.ts';
import { FaultyFile } from './faulty-file.ts';

async function linked(text = 'first') {
  const disk = new FaultyFile('job.json', text);
  const { seen } = await readText(await disk.getFile());
  return { disk, file: new LinkedFile(disk, seen) };
}

describe('the file that a workbook is saved in', () => {
  test('is written in place, again and again', async () => {
    const { disk, file } = await linked();
    expect(await file.write('second')).toBeUndefined();
    expect(await file.write('third')).toBeUndefined();
    expect(disk.text).toBe('third');
    expect(disk.asked).toBe(0);
  });

  test('is not written over what another program put into it, until that is what is expected', async () => {
    const { disk, file } = await linked();
    disk.change('from elsewhere');
    const trouble = await file.write('mine');
    expect(trouble).toMatchObject({ kind: 'changed', found: { text: 'from elsewhere' } });
    expect(disk.text).toBe('from elsewhere');
    if (trouble?.kind === 'changed') file.expect(trouble.found.seen);
    disk.change('once more');
    expect(await file.write('mine')).toMatchObject({ kind: 'changed', found: { text: 'once more' } });
    expect(disk.text).toBe('once more');
  });

  test('that was written within the same millisecond and at the same length is still noticed', async () => {
    const { disk, file } = await linked('first');
    disk.text = 'tsrif';
    expect(await file.write('mine')).toMatchObject({ kind: 'changed' });
    expect(disk.text).toBe('tsrif');
  });

  test('that was only touched is no changed one', async () => {
    const { disk, file } = await linked();
    disk.change('first');
    expect(await file.look()).toBeUndefined();
    expect(await file.write('mine')).toBeUndefined();
  });

  test('that is gone is not made anew behind the person’s back', async () => {
    const { disk, file } = await linked();
    disk.text = undefined;
    expect(await file.write('mine')).toEqual({ kind: 'gone' });
    expect(disk.text).toBeUndefined();
  });

  test('asks when it may not be written, and leaves it when refused', async () => {
    const { disk, file } = await linked();
    disk.permission = 'prompt';
    disk.answer = 'denied';
    expect(await file.write('mine')).toEqual({ kind: 'refused' });
    expect(disk.text).toBe('first');
    disk.answer = 'granted';
    expect(await file.write('mine')).toBeUndefined();
    expect([disk.text, disk.asked]).toEqual(['mine', 2]);
  });

  test.each(['open', 'write', 'close'] as const)(
    'keeps what it held when the disk fails at %s, and takes the next write',
    async (step) => {
      const { disk, file } = await linked();
      disk.failsAt = step;
      expect(await file.write('mine')).toMatchObject({ kind: 'failed' });
      expect(disk.text).toBe('first');
      expect(disk.aborted).toBe(step === 'open' ? 0 : 1);
      disk.failsAt = undefined;
      expect(await file.write('mine')).toBeUndefined();
      expect(disk.text).toBe('mine');
    },
  );

  test('that could not be read back is not called as it was, and is no stranger’s the next time', async () => {
    const { disk, file } = await linked();
    disk.afterwards = 'unreadable';
    expect(await file.write('mine')).toEqual({
      kind: 'unproved',
      why: expect.stringContaining('the disk does not answer') as string,
    });
    expect(await file.look()).toBeUndefined();
    expect(await file.write('mine, further')).toBeUndefined();
    expect(disk.text).toBe('mine, further');
  });

  test('that reads back otherwise is not written over again unasked', async () => {
    const { disk, file } = await linked();
    disk.afterwards = 'garbled';
    expect(await file.write('mine')).toMatchObject({ kind: 'unproved' });
    expect(await file.write('mine')).toMatchObject({ kind: 'changed', found: { text: 'ine' } });
  });

  test('looks without asking the person anything', async () => {
    const { disk, file } = await linked();
    disk.change('from elsewhere');
    disk.permission = 'prompt';
    expect(await file.look()).toBeUndefined();
    expect(disk.asked).toBe(0);
    disk.permission = 'granted';
    expect(await file.look()).toMatchObject({ kind: 'changed' });
  });

  test('whatever happens to it, what another program wrote is never lost by a write that was not told of it', async () => {
    const deed = fc.oneof(
      fc.record({ deed: fc.constant('elsewhere' as const), text: fc.string() }),
      fc.record({ deed: fc.constant('save' as const), text: fc.string() }),
      fc.record({ deed: fc.constant('touch' as const), text: fc.constant('') }),
      fc.record({
        deed: fc.constant('fail' as const),
        text: fc.constantFrom('open' as const, 'write' as const, 'close' as const, '' as const),
      }),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(deed, { maxLength: 30 }), async (deeds) => {
        const { disk, file } = await linked('');
        let known = '';
        for (const { deed: what, text } of deeds) {
          if (what === 'elsewhere') disk.change(text);
          else if (what === 'touch') disk.modified++;
          else if (what === 'fail') disk.failsAt = text === '' ? undefined : text;
          else {
            const before = disk.text;
            const trouble = await file.write(text);
            if (trouble) expect(disk.text).toBe(before);
            else expect(before).toBe(known);
            if (trouble?.kind === 'changed') {
              expect(trouble.found.text).toBe(before);
              // The person chose to write over it.
              file.expect(trouble.found.seen);
              known = trouble.found.text;
            } else if (!trouble) known = text;
          }
        }
      }),
    );
  });
});
