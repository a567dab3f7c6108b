import { belowStrip, stripEnd } from '../below-strip.ts';

/**
 * Keeps a small panel under the element it stands in, inside the window. Panels in a scrolling table would be cut
 * off at its edge, so they are placed in the window's coordinates.
 */
const GAP = 3;

export function beside(panel: HTMLElement) {
  const anchor = panel.parentElement;
  const root = document.documentElement;
  const place = () => {
    if (!anchor) return;
    belowStrip(panel);
    const at = anchor.getBoundingClientRect();
    const { offsetWidth: width, offsetHeight: height } = panel;
    const below = at.bottom + GAP;
    // A phone's key pad covers the foot of the window.
    const end = innerHeight - (parseFloat(root.style.getPropertyValue('--pad')) || 0);
    const start = stripEnd() + GAP;
    const fits = below + height <= end - GAP;
    panel.style.left = `${Math.max(GAP, Math.min(at.left, innerWidth - width - GAP))}px`;
    panel.style.top = `${Math.max(start, fits ? below : Math.min(at.top, end) - height - GAP)}px`;
  };
  place();
  const resized = new ResizeObserver(place);
  resized.observe(panel);
  const padded = new MutationObserver(place);
  padded.observe(root, { attributeFilter: ['style'] });
  addEventListener('scroll', place, { capture: true, passive: true });
  addEventListener('resize', place);
  return {
    destroy() {
      resized.disconnect();
      padded.disconnect();
      removeEventListener('scroll', place, { capture: true });
      removeEventListener('resize', place);
    },
  };
}
