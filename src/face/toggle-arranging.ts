/** Begins and ends the arranging of a worksheet; at its end the focus goes to the part at which it was. */
import { tick } from 'svelte';
import { standingIn } from '../workbook/index.ts';
import type { Session } from './session.svelte.ts';

export async function toggleArranging(session: Session): Promise<void> {
  const page = document.querySelector<HTMLElement>('.arrange');
  if (session.page !== 'sheet' || !session.arranging || !page) {
    session.arranging = session.page !== 'sheet' || !session.arranging;
    session.page = 'sheet';
    return;
  }
  const at = document.activeElement;
  const isHere = !at || at === document.body || page.contains(at);
  const row =
    at?.closest('.arrange .part')?.querySelector<HTMLElement>('[data-part]') ??
    page.querySelector<HTMLElement>('[data-part][aria-expanded="true"]');
  session.arranging = false;
  // Whoever stands elsewhere, as at the button above, stays there.
  if (isHere) await focusOnSheet(session, row?.dataset.part ?? '');
}

/** A cell or a table itself; of a text, a figure or a section the heading above it. */
async function focusOnSheet(session: Session, id: string): Promise<void> {
  const item = session.outline.byId.get(id)?.item;
  if (item) {
    await session.goTo(item.name);
    return;
  }
  await tick();
  const section = standingIn(session.document, id)?.section ?? standingIn(session.document, id)?.part;
  const title = section && 'items' in section ? section.title : '';
  const heading =
    document.querySelector<HTMLElement>(`.sheet > section[aria-label="${CSS.escape(title)}"] h2`) ??
    document.querySelector<HTMLElement>('.sheet h1');
  if (!heading) return;
  heading.tabIndex = -1;
  heading.focus({ preventScroll: true });
  heading.scrollIntoView({ block: 'nearest' });
}
