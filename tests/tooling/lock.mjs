import fs from 'node:fs';
import path from 'node:path';

/**
 * @typedef {{ version?: string, link?: boolean, hasInstallScript?: boolean, resolved?: string,
 *   optionalDependencies?: Record<string, string>, dependencies?: Record<string, string>,
 *   devDependencies?: Record<string, string> }} Entry
 * @typedef {Record<string, Entry>} Packages
 */

/**
 * Faults npm is known to leave in a lock file and not to repair (npm/cli#4828, npm/cli#9342): entries of other
 * platforms' optional packages without a version, or missing. And two rules of ours: exact versions, and no package
 * that runs a script when it is installed.
 * @param {string} top
 * @returns {string[]}
 */
export function lockProblems(top) {
  const lock = JSON.parse(fs.readFileSync(path.join(top, 'package-lock.json'), 'utf8'));
  const manifest = JSON.parse(fs.readFileSync(path.join(top, 'package.json'), 'utf8'));
  return [...entryProblems(lock.packages), ...manifestProblems(manifest, lock.packages[''] ?? {})];
}

/**
 * @param {Packages} packages
 * @returns {string[]}
 */
export function entryProblems(packages) {
  /** @param {string} from @param {string} name */
  const isFound = (from, name) => {
    for (
      let at = from;
      ;
      at = at.includes('/node_modules/') ? at.slice(0, at.lastIndexOf('/node_modules/')) : ''
    ) {
      if (packages[`${at === '' ? '' : `${at}/`}node_modules/${name}`]) return true;
      if (at === '') return false;
    }
  };
  const problems = [];
  for (const [key, entry] of Object.entries(packages)) {
    if (key === '') continue;
    if (!entry.version && !entry.link) problems.push(`${key}: no version`);
    if (entry.hasInstallScript) problems.push(`${key}: runs a script when installed`);
    for (const name of Object.keys(entry.optionalDependencies ?? {})) {
      if (!isFound(key, name)) problems.push(`${key}: ${name} is not in the lock`);
    }
  }
  return problems;
}

/**
 * @param {Entry} manifest
 * @param {Entry} root the lock's own record of package.json
 * @returns {string[]}
 */
export function manifestProblems(manifest, root) {
  const problems = [];
  for (const kind of /** @type {const} */ (['dependencies', 'devDependencies'])) {
    const wanted = manifest[kind] ?? {};
    const locked = root[kind] ?? {};
    for (const [name, version] of Object.entries(wanted)) {
      if (!/^\d+\.\d+\.\d+/.test(version)) problems.push(`${name}: ${version} is not an exact version`);
      if (locked[name] !== version)
        problems.push(`${name}: package.json and the lock differ; run npm install`);
    }
    for (const name of Object.keys(locked)) {
      if (!(name in wanted)) problems.push(`${name}: in the lock but not in package.json; run npm install`);
    }
  }
  return problems;
}
