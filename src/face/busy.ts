/** Whether the person is typing somewhere or has a menu open: a page that comes late leaves the focus there. */
export function isBusyElsewhere(): boolean {
  const at = document.activeElement;
  if (!at) return false;
  const menu = at.closest('.menu');
  return at.matches('input, textarea, select') || !!menu?.querySelector('[aria-expanded="true"]');
}
