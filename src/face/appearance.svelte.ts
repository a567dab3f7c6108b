/** Light or dark, as the device says or as the person chose, and the colours a canvas needs to know. */
import type { FigureTheme } from './figure/kind.ts';
import { remember, remembered } from './remembered.ts';

export type Theme = 'auto' | 'light' | 'dark';
const KEY = 'close-in theme';
const THEMES: readonly Theme[] = ['auto', 'light', 'dark'];

export class Appearance {
  theme = $state<Theme>('auto');
  /** Goes up whenever the page's colours may have changed. */
  #version = $state(0);

  readonly figures: FigureTheme = $derived.by(() => {
    void this.#version;
    return readTokens();
  });

  constructor() {
    const kept = remembered(KEY);
    const stored = THEMES.find((theme) => theme === kept);
    if (stored) this.#apply(stored);
    const look = () => {
      this.#version++;
    };
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', look);
    matchMedia('print').addEventListener('change', look);
  }

  next(): void {
    this.#apply(THEMES[(THEMES.indexOf(this.theme) + 1) % THEMES.length] ?? 'auto');
    remember(KEY, this.theme);
  }

  #apply(theme: Theme): void {
    this.theme = theme;
    if (theme === 'auto') delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = theme;
    this.#version++;
  }
}

/** The colours of paper, for pictures that leave the page. */
export function paperTheme(): FigureTheme {
  const paper = document.createElement('div');
  paper.className = 'on-paper';
  document.body.append(paper);
  const theme = readTokens(paper);
  paper.remove();
  return theme;
}

function readTokens(element: Element = document.documentElement): FigureTheme {
  const style = getComputedStyle(element);
  const color = (name: string) => sixDigits(style.getPropertyValue(`--${name}`).trim());
  return {
    ink: color('ink'),
    soft: color('soft'),
    hair: color('hair'),
    rule: color('rule'),
    sheet: color('sheet'),
    chalk: color('chalk'),
    ok: color('ok'),
    hold: color('hold'),
    fault: color('fault'),
    font: style.getPropertyValue('--text').trim(),
  };
}

/** The build may shorten `#ffffff` to `#fff`. */
function sixDigits(color: string): string {
  return color.length === 4 ? `#${Array.from(color.slice(1), (digit) => digit + digit).join('')}` : color;
}
