/** The face's door: the page, and what it has to be handed. */
export { default as App } from './App.svelte';
export type { Desk } from './view.ts';
