import { expect, test } from './support.ts';

/** What the page may run, load and send, word for word. */
const POLICY = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  "font-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
];

test('the page may run and load its own files only, and may send nothing anywhere', async ({
  page,
  problems,
}) => {
  await page.goto('/');
  const policy = await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content');
  expect((policy ?? '').split('; ')).toEqual(POLICY);
  await expect(page.locator('meta[name="referrer"]')).toHaveAttribute('content', 'no-referrer');

  const tried = await page.evaluate(async () => {
    // What the driver itself runs may evaluate; what runs in a task of the page may not.
    await new Promise((resolve) => setTimeout(resolve));
    const outcome = async (run: () => unknown) => {
      try {
        await run();
        return 'done';
      } catch {
        return 'refused';
      }
    };
    const indirect = globalThis as unknown as {
      eval: (text: string) => unknown;
      Function: (text: string) => unknown;
    };
    return {
      eval: await outcome(() => indirect.eval('1')),
      function: await outcome(() => indirect.Function('return 1')),
      // Formulas that come again and again, and the solver: code that can reach nothing but its own memory.
      machine: await outcome(() => new WebAssembly.Module(new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0]))),
      fetch: await outcome(() => fetch('/icon.svg')),
      elsewhere: await outcome(() => fetch('https://example.com/?secret')),
    };
  });
  expect(tried).toEqual({
    eval: 'refused',
    function: 'refused',
    machine: 'done',
    fetch: 'refused',
    elsewhere: 'refused',
  });
  // Each refusal is reported, and nothing left the origin.
  const reported = () => problems.filter((problem) => problem.startsWith('content security policy')).length;
  await expect.poll(reported).toBe(4);
  const others = problems
    .splice(0)
    .filter((problem) => !/^(console|content security policy): /.test(problem));
  expect(others).toEqual([]);
});
