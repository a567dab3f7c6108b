import fs from 'node:fs/promises';
import { compile } from 'svelte/compiler';

const ICON = /\.svg\?icon$/;

/** What the drawing sheet decides for all icons (theme.css), and nobody reads aloud. */
const OPENING = '<svg class="icon" viewBox="0 0 24 24" aria-hidden="true">';

/**
 * An icon of the set, `lucide-static/icons/NAME.svg?icon`, as a component: its paths alone, in the page's own ink.
 * It becomes markup at build, so that the page carries no drawing program, only the icons it uses.
 * @returns {import('vite').Plugin}
 */
export function icons() {
  return {
    name: 'icons',
    enforce: 'pre',
    load: {
      filter: { id: ICON },
      async handler(id) {
        const file = id.slice(0, -'?icon'.length);
        const { js } = compile(iconMarkup(await fs.readFile(file, 'utf8')), {
          filename: file,
          generate: this.environment.config.consumer === 'server' ? 'server' : 'client',
          discloseVersion: false,
        });
        return { code: js.code, map: null };
      },
    },
  };
}

/** @param {string} svg a file of the set */
export function iconMarkup(svg) {
  const paths = /<svg[^>]*>(.*)<\/svg>/su.exec(svg)?.[1];
  if (paths === undefined) throw new Error('an icon is one svg element');
  return `${OPENING}${paths.replaceAll(/\s*\n\s*/gu, '')}</svg>`;
}
