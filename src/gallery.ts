/** The page of all kinds of figure. */
import { mount } from 'svelte';
import { Gallery } from './face/index.ts';

const target = document.getElementById('app');
if (!target) throw new Error('the page has no place for the gallery');
mount(Gallery, { target });
