import { describe, expect, it } from 'vitest';
import { entryProblems, manifestProblems } from './lock.mjs';

describe('the lock', () => {
  it('is sound when every entry has a version and every optional package is there', () => {
    expect(
      entryProblems({
        '': {},
        'node_modules/a': { version: '1.0.0', optionalDependencies: { b: '1', c: '1' } },
        'node_modules/b': { version: '1.0.0' },
        'node_modules/a/node_modules/c': { version: '2.0.0' },
        'node_modules/d': { link: true },
      }),
    ).toEqual([]);
  });

  it('names what npm is known to leave out, and packages that run scripts', () => {
    expect(
      entryProblems({
        'node_modules/a': { version: '1.0.0', optionalDependencies: { gone: '1' } },
        'node_modules/b': {},
        'node_modules/c': { version: '1.0.0', hasInstallScript: true },
        'node_modules/z/node_modules/gone': { version: '1.0.0' },
      }),
    ).toEqual([
      'node_modules/a: gone is not in the lock',
      'node_modules/b: no version',
      'node_modules/c: runs a script when installed',
    ]);
  });

  it('holds exactly what package.json asks for, in exact versions', () => {
    expect(manifestProblems({ dependencies: { a: '1.0.0' } }, { dependencies: { a: '1.0.0' } })).toEqual([]);
    expect(
      manifestProblems(
        { dependencies: { a: '^1.0.0' }, devDependencies: { b: '2.0.0' } },
        { dependencies: { a: '^1.0.0', c: '1.0.0' }, devDependencies: { b: '1.0.0' } },
      ),
    ).toEqual([
      'a: ^1.0.0 is not an exact version',
      'c: in the lock but not in package.json; run npm install',
      'b: package.json and the lock differ; run npm install',
    ]);
  });
});
