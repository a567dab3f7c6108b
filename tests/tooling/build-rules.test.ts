import { describe, expect, it } from 'vitest';
import { firstLoadFiles } from './build-rules.mjs';

type Bundle = Parameters<typeof firstLoadFiles>[0];

const chunk = (
  fileName: string,
  isEntry: boolean,
  imports: string[],
  styles: string[],
  later: string[] = [],
) => ({
  type: 'chunk',
  fileName,
  isEntry,
  imports,
  dynamicImports: later,
  viteMetadata: { importedCss: new Set(styles) },
});

describe('the first load', () => {
  it('is the entry with all it imports at once, each file and style once, and nothing that comes later', () => {
    const bundle = {
      'main.js': chunk('main.js', true, ['engine.js', 'face.js'], ['main.css'], ['solver.js']),
      'face.js': chunk('face.js', false, ['engine.js'], ['face.css']),
      'engine.js': chunk('engine.js', false, [], []),
      'solver.js': chunk('solver.js', false, ['engine.js', 'late.js'], ['late.css']),
      'late.js': chunk('late.js', false, [], []),
      'main.css': { type: 'asset', fileName: 'main.css' },
    } as unknown as Bundle;
    expect(firstLoadFiles(bundle).sort()).toEqual([
      'engine.js',
      'face.css',
      'face.js',
      'main.css',
      'main.js',
    ]);
  });
});
