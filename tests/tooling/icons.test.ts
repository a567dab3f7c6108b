import { describe, expect, it } from 'vitest';
import { iconMarkup } from './icons.mjs';

describe('an icon of the set', () => {
  it('keeps its paths alone: size, ink and thickness of line are the drawing sheet’s', () => {
    const file = `<!-- @license -->
<svg
  class="of-the-set"
  width="24"
  stroke="#123456"
  stroke-width="2"
>
  <path d="M9 14 4 9l5-5" />
  <circle cx="4" cy="5" r="1" />
</svg>
`;
    expect(iconMarkup(file)).toBe(
      '<svg class="icon" viewBox="0 0 24 24" aria-hidden="true">' +
        '<path d="M9 14 4 9l5-5" /><circle cx="4" cy="5" r="1" /></svg>',
    );
  });

  it('is refused where the file holds no picture', () => {
    expect(() => iconMarkup('404: not found')).toThrow('one svg element');
  });
});
