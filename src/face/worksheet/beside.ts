/**
 * Keeps a small panel under the element it stands in, inside the window. Panels in a scrolling table would be cut
 * off at its edge, so they are placed in the window's coordinates.
 */
const GAP = 3;

export function beside(panel: HTMLElement) {
  const anchor = panel.parentElement;
  const place = () => {
    if (!anchor) return;
    const at = anchor.getBoundingClientRect();
    const { offsetWidth: width, offsetHeight: height } = panel;
    const below = at.bottom + GAP;
    const fits = below + height <= innerHeight - GAP;
    panel.style.left = `${Math.max(GAP, Math.min(at.left, innerWidth - width - GAP))}px`;
    panel.style.top = `${fits ? below : Math.max(GAP, at.top - height - GAP)}px`;
  };
  place();
  const resized = new ResizeObserver(place);
  resized.observe(panel);
  addEventListener('scroll', place, { capture: true, passive: true });
  addEventListener('resize', place);
  return {
    destroy() {
      resized.disconnect();
      removeEventListener('scroll', place, { capture: true });
      removeEventListener('resize', place);
    },
  };
}
