/**
 * The browser's own way back and forth leads from worksheet to worksheet before it leaves the page, and whoever loads
 * the page again is where they were. A place belongs to one workbook; those of another are passed over.
 */
import type { Session } from '../session.svelte.ts';

interface Place {
  readonly job: string;
  readonly sheet: string;
  readonly page: Session['page'];
}

/** What is shown now; undefined until the first place. */
let shown: { readonly session: Session; readonly job: string } | undefined;

/** Called with each place that is shown; `job` tells workbooks apart. */
export function visited(session: Session, job: string): void {
  const last = placeIn(history.state);
  const isFirst = shown === undefined;
  if (isFirst) addEventListener('popstate', back);
  shown = { session, job };
  if (isFirst && last?.job === job) goTo(session, last);
  const here: Place = { job, sheet: session.sheet?.id ?? '', page: session.page };
  if (last?.job !== job) history.replaceState(here, '');
  else if (last.sheet !== here.sheet || last.page !== here.page) history.pushState(here, '');
}

function back({ state }: PopStateEvent): void {
  const place = placeIn(state);
  if (!shown || place?.job !== shown.job) return;
  const { session } = shown;
  goTo(session, place);
  session.announcement = place.page === 'sheet' ? (session.sheet?.title ?? '') : '';
}

function goTo(session: Session, { sheet, page }: Place): void {
  if (!session.document.sheets.some(({ id }) => id === sheet)) return;
  session.sheetId = sheet;
  session.page = page;
}

/** Of what the browser keeps with an entry of its history; other pages of the same address may have left something. */
function placeIn(state: unknown): Place | undefined {
  if (typeof state !== 'object' || state === null) return undefined;
  const { job, sheet, page } = state as Partial<Record<keyof Place, unknown>>;
  const isPage = page === 'sheet' || page === 'what-if' || page === 'inputs' || page === 'reference';
  return typeof job === 'string' && typeof sheet === 'string' && isPage ? { job, sheet, page } : undefined;
}
