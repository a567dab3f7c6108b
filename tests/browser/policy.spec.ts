import { openWorkbook } from '../tooling/open-workbook.mjs';
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

test('a value that hundreds of formulas rest on is tried again and again, and machine code follows it', async ({
  page,
}) => {
  await page.addInitScript(() => {
    const { Module } = WebAssembly;
    const seen = { made: 0 };
    Object.assign(globalThis, { seen });
    WebAssembly.Module = new Proxy(Module, {
      construct: (target, given: [BufferSource]) => {
        seen.made++;
        return new target(...given);
      },
    });
  });
  await page.goto('/');
  const cell = (name: string, text: string) => ({ kind: 'cell', id: name, name, label: name, text });
  const count = 400;
  const items = [
    cell('first', '1'),
    cell('last', `= c${count - 1}`),
    ...Array.from({ length: count }, (_, k) => cell(`c${k}`, `= ${k === 0 ? '0' : `c${k - 1}`} + first / 8`)),
  ];
  const sheets = [{ id: 'chain', title: 'Chain', sections: [{ id: 'cells', title: 'Cells', items }] }];
  await openWorkbook(
    page,
    'chain.json',
    JSON.stringify({ app: 'close-in', format: 1, title: 'A long chain', units: 'si', sheets }),
  );
  // Its code is sent for the first time that it is wanted.
  for (let k = 2; k < 14; k++) {
    await page.locator('#cell-first').getByRole('button').first().click();
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type(String(k));
    await page.keyboard.press('Enter');
    await expect(page.locator('#cell-last .number')).toHaveText(String((k * count) / 8));
  }
  const made = await page.evaluate(() => (globalThis as unknown as { seen: { made: number } }).seen.made);
  expect(made).toBe(1);
});

// Seen in WebKitGTK 2.50: the function of a policy is collected while the policy is in use, and drawing fails.
test('the page draws where a browser forgets the function of a Trusted Types policy', async ({ page }) => {
  await page.addInitScript(() => {
    const { TrustedTypePolicy } = globalThis as unknown as { TrustedTypePolicy: { prototype: object } };
    Object.assign(TrustedTypePolicy.prototype, {
      createHTML() {
        throw new TypeError("TrustedTypePolicyOptions did not specify a 'createHTML' member.");
      },
    });
  });
  await page.goto('/');
  await expect(page.getByRole('heading', { level: 1, name: 'Air test' })).toBeVisible();
  await expect(page.getByRole('alertdialog')).toHaveCount(0);
});
