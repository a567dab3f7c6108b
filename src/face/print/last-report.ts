/** Which report was looked at last, on which paper: a habit of the person and the printer, so this browser keeps it. */
import { remember, remembered } from '../remembered.ts';
import type { PaperSize } from './page.ts';
import { REPORTS, type ReportKind } from './report.ts';

export interface LastReport {
  readonly kind: ReportKind;
  readonly size: PaperSize;
  /** Id of the section whose trade the sheet was for. */
  readonly trade: string;
}

const KEY = 'close-in report';

/** The paper of the country that works in these units, until another one was chosen. */
export function lastReport(units: 'us' | 'si'): LastReport {
  const [kind, size, trade = ''] = (remembered(KEY) ?? '').split(' ');
  return {
    kind: REPORTS.find((report) => report.kind === kind)?.kind ?? 'certificate',
    size: size === 'letter' || size === 'A4' ? size : units === 'si' ? 'A4' : 'letter',
    trade,
  };
}

export function rememberReport({ kind, size, trade }: LastReport): void {
  remember(KEY, `${kind} ${size} ${trade}`);
}
