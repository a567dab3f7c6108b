/** What is being typed is kept by leaving its field; the focus comes back to where the person was typing. */
import { tick } from 'svelte';

const FOCUSABLE = 'input, select, textarea, button, a[href], [tabindex]';

export async function committed(): Promise<void> {
  const field = document.activeElement;
  if (!(field instanceof HTMLElement) || field === document.body) return;
  const around: Element[] = [];
  for (let each: Element | null = field; each; each = each.parentElement) around.push(each);
  const caret = field instanceof HTMLInputElement ? [field.selectionStart, field.selectionEnd] : undefined;
  field.blur();
  await tick();
  // A field may see to the focus itself once it is closed.
  await tick();
  if (document.activeElement !== document.body) return;
  if (field.isConnected) {
    field.focus({ preventScroll: true });
    const [start, end] = caret ?? [];
    if (field instanceof HTMLInputElement && typeof start === 'number' && typeof end === 'number')
      field.setSelectionRange(start, end);
    return;
  }
  // An editor that closed: what it stood in.
  const left = around.find((each) => each.isConnected && each !== document.body);
  const stop = left?.matches(FOCUSABLE) ? left : left?.querySelector(FOCUSABLE);
  if (stop instanceof HTMLElement) stop.focus({ preventScroll: true });
}
