import { writeWorkbook, type TemplateOrigin, type WorkbookDocument } from '../../workbook/index.ts';
import type { Desk } from '../view.ts';

/** What the next job like this one comes from: the open workbook, or the demo as it shipped, which is kept nowhere else. */
export async function originOf(
  document: WorkbookDocument,
  id: string,
  demo: Desk['templates'][number] | undefined,
): Promise<Omit<TemplateOrigin, 'version'>> {
  const isDemo = demo && writeWorkbook(await demo.load()) === writeWorkbook(document);
  return isDemo ? { id: demo.id, title: demo.title } : { id, title: document.title };
}
