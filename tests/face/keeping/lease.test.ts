import { afterEach, expect, test, vi } from 'vitest';
import { Lease, type LeaseWish } from '../../../src/face/keeping/lease.ts';

afterEach(() => vi.unstubAllGlobals());

/** What a lease is told where the browser refuses every lock; whoever is told “not free” waits for the lock. */
async function toldWhereRefused(wish: LeaseWish): Promise<boolean[]> {
  const request = () => Promise.reject(new DOMException('The document is not active.', 'InvalidStateError'));
  vi.stubGlobal('navigator', { locks: { request } });
  const told: boolean[] = [];
  const ask = (next: LeaseWish) =>
    new Lease(
      'job',
      next,
      (held) => {
        told.push(held);
        if (told.length > 20) throw new Error('it asks for ever');
        if (!held) ask('when free');
      },
      () => undefined,
    );
  ask(wish);
  await new Promise((resolve) => setTimeout(resolve, 20));
  return told;
}

test('a browser that refuses locks gives every tab its lease, as one without them does', async () => {
  expect(await toldWhereRefused('if free')).toEqual([true]);
});

// Seen in WebKitGTK 2.50: a reload took the lock away, refused the next request, and the page asked without end.
test('a page that is refused while it waits does not ask again', async () => {
  expect(await toldWhereRefused('when free')).toEqual([]);
  expect(await toldWhereRefused('take')).toEqual([false]);
});

// Seen in Firefox 153: the open workbook was said to be deleted and stayed, since its own lock was not yet free.
test('a lease is released once the browser has freed the lock, not before', async () => {
  let isFree = true;
  const request = async (_name: string, _options: LockOptions, run: (lock: unknown) => unknown) => {
    isFree = false;
    await run({});
    await new Promise((resolve) => setTimeout(resolve, 20));
    isFree = true;
  };
  vi.stubGlobal('navigator', { locks: { request } });
  const lease = new Lease(
    'job',
    'if free',
    () => undefined,
    () => undefined,
  );
  expect(isFree).toBe(false);
  await lease.release();
  expect(isFree).toBe(true);
});
