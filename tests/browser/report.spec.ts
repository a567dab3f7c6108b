import { expect, test, axe } from './support.ts';

for (const format of ['Letter', 'A4'] as const) {
  test(`the certificate of the demo on ${format}: every reading is there, the pages are few`, async ({
    page,
  }) => {
    await page.goto('/');
    const rows = page.locator('main [role="grid"] [role="row"][aria-rowindex]');
    await expect(rows.first()).toBeVisible();
    await page.getByRole('button', { name: 'Report', exact: true }).click();
    const report = page.getByRole('region', { name: 'Report' });
    await report.getByLabel('Paper').selectOption(format === 'Letter' ? 'letter' : 'A4');
    await expect(report.locator('img')).toHaveCount(1);
    await expect(report).toContainText(/file [0-9a-f]{16}/);
    const readings = report.locator('table').filter({ hasText: 'Induced' }).locator('tbody tr');
    await expect(readings).toHaveCount(9);
    await expect(report).toContainText('ASTM E779');
    expect(await axe(page, '.report')).toEqual([]);
    await page.emulateMedia({ media: 'print' });
    await page.screenshot({ path: `/tmp/report-${format}.png`, fullPage: true });
    const pdf = (await page.pdf({ preferCSSPageSize: true, printBackground: true })).toString('latin1');
    const pages = [...pdf.matchAll(/\/Type\s*\/Page\b/g)].length;
    expect(pages).toBeGreaterThan(0);
    expect(pages).toBeLessThanOrEqual(2);
    const box = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/.exec(pdf);
    expect(Math.round(Number(box?.[1]))).toBe(format === 'Letter' ? 612 : 595);
  });
}
