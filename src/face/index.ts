/** The face's door: the page, and what it has to be handed. */
export { default as App } from './App.svelte';
export { default as Gallery } from './figure/gallery/Gallery.svelte';
export type { Desk } from './view.ts';
export { watchForErrors } from './keeping/rescue.ts';
export { versions } from './keeping/versions.svelte.ts';
