/** When the page is a phone's: narrow, or low and under a finger, as one on its side. The styles ask the same. */
export const PHONE = '(max-width: 700px), (max-height: 500px) and (pointer: coarse)';
