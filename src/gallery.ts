/** The page of all kinds of figure. */
import './without-trusted-types.ts';
import { mount } from 'svelte';
import { loadGallery } from './face/index.ts';

const target = document.getElementById('app');
if (!target) throw new Error('the page has no place for the gallery');
mount(await loadGallery(), { target });
