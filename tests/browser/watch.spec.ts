import { expect, test as plain } from '@playwright/test';
import { axe, watch } from './support.ts';

/** The other tests rely on these two to see every fault; here each kind of fault is made on purpose. */
plain('the watch and axe see what they are there for', async ({ context, page, baseURL }) => {
  const { origin } = new URL(baseURL ?? '');
  const problems = await watch(context, origin);
  const seen = (text: string) =>
    expect
      .poll(() => problems.filter((problem) => problem.includes(text)), { message: text })
      .not.toEqual([]);
  await page.goto('/');
  expect(problems).toEqual([]);

  await page.evaluate(() => {
    console.error('said on purpose');
  });
  await seen('console: said on purpose');

  await page.evaluate(() => {
    setTimeout(() => {
      throw new Error('thrown on purpose');
    });
  });
  await seen('page: Error: thrown on purpose');

  await page.evaluate(() => {
    document.head.append(Object.assign(document.createElement('style'), { textContent: 'p { color: red }' }));
  });
  await seen('content security policy: style-src-elem blocked inline');

  await page.evaluate(() => {
    document.body.append(
      Object.assign(document.createElement('script'), { textContent: 'globalThis.ran = 1;' }),
    );
  });
  await seen('content security policy: script-src-elem blocked inline');
  expect(await page.evaluate(() => 'ran' in globalThis)).toBe(false);

  await page.evaluate(() => fetch('./icon.svg').catch(() => undefined));
  await seen('content security policy: connect-src blocked');

  await page.evaluate(() => {
    document.body.append(Object.assign(document.createElement('img'), { src: 'http://127.0.0.1:9/x.png' }));
  });
  await seen('request leaves the origin: http://127.0.0.1:9/x.png');

  await page.evaluate(() => {
    document.body.append(document.createElement('input'));
  });
  expect((await axe(page)).map(({ rule }) => rule)).toContain('label');
});

plain('the built page carries the policy and sends no referrer', async ({ page }) => {
  await page.goto('/');
  await expect(page.locator('meta[http-equiv="Content-Security-Policy"]')).toHaveAttribute(
    'content',
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob: data:; font-src 'self'; " +
      "worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'",
  );
  await expect(page.locator('meta[name="referrer"]')).toHaveAttribute('content', 'no-referrer');
});
