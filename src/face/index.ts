/** The face's door: the page, and what it has to be handed. */
export { default as App } from './App.svelte';
/** Loaded when asked for, so that the app does not bring every figure with its first number. */
export const loadGallery = async () => (await import('./figure/gallery/Gallery.svelte')).default;
export type { Desk } from './view.ts';
export { watchForErrors } from './keeping/rescue.ts';
export { versions } from './keeping/versions.svelte.ts';
