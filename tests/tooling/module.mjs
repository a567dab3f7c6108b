import { createHash } from 'node:crypto';
import fs from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { rolldown } from 'rolldown';

const TOP = fileURLToPath(new URL('../..', import.meta.url));
const CACHE = path.join(TOP, 'node_modules/.cache/modules');

/**
 * Loads a TypeScript module in Node. The file and the product's packages become one module first: with mathjs in it
 * that starts in a quarter of the time that loading them file by file takes, and it runs as the built app does.
 * Packages that only tests use stay as they are published.
 * @param {string} file
 * @returns {Promise<Record<string, unknown>>}
 */
export async function loadModule(file) {
  const manifest = JSON.parse(await fs.readFile(path.join(TOP, 'package.json'), 'utf8'));
  const bundled = Object.keys(manifest.dependencies);
  const bundle = await rolldown({
    input: file,
    cwd: TOP,
    platform: 'node',
    tsconfig: false,
    external: (id) =>
      /^[^./]/.test(id) &&
      !path.isAbsolute(id) &&
      !bundled.some((name) => id === name || id.startsWith(`${name}/`)),
  });
  const { output } = await bundle.generate({
    file: path.join(CACHE, 'module.mjs'),
    sourcemap: 'hidden',
    codeSplitting: false,
  });
  await bundle.close();
  const { code, map } = output[0];

  // Named by content, and moved into place whole: any number of runs may start at once.
  const stem = path.basename(file, '.ts');
  const name = `${stem}-${createHash('sha256').update(code).digest('hex').slice(0, 16)}.mjs`;
  await fs.mkdir(CACHE, { recursive: true });
  await removeOld(stem);
  await place(`${name}.map`, JSON.stringify(map));
  await place(name, `${code}\n//# sourceMappingURL=${name}.map\n`);
  process.setSourceMapsEnabled(true);
  return import(pathToFileURL(path.join(CACHE, name)).href);
}

/** @param {string} name @param {string} content */
async function place(name, content) {
  const written = path.join(CACHE, `${name}.${process.pid}`);
  await fs.writeFile(written, content);
  await fs.rename(written, path.join(CACHE, name));
}

/** @param {string} stem */
async function removeOld(stem) {
  const hourAgo = Date.now() - 3_600_000;
  for (const name of await fs.readdir(CACHE)) {
    if (!name.startsWith(`${stem}-`)) continue;
    const old = path.join(CACHE, name);
    // Another run may have moved it into place meanwhile, or taken it away.
    const stats = await fs.stat(old).catch(() => undefined);
    if (stats && stats.mtimeMs < hourAgo) await fs.rm(old, { force: true });
  }
}
