import { gzipSync } from 'node:zlib';

const POLICY = [
  "default-src 'none'",
  // Formulas that are worked out again and again become machine code, and so does the solver; text never does.
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  "font-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

/**
 * A workbook may come from a stranger: the built page may run and load nothing but its own files. Only at build,
 * because the development server needs inline styles.
 * @returns {import('vite').Plugin}
 */
export function contentSecurityPolicy() {
  return {
    name: 'content-security-policy',
    apply: 'build',
    transformIndexHtml: {
      order: 'post',
      handler: () => [
        {
          tag: 'meta',
          injectTo: 'head-prepend',
          attrs: { 'http-equiv': 'Content-Security-Policy', content: POLICY },
        },
        { tag: 'meta', injectTo: 'head-prepend', attrs: { name: 'referrer', content: 'no-referrer' } },
      ],
    },
  };
}

/**
 * Names of the script and style files a page needs before it can show anything.
 * @param {import('vite').Rolldown.OutputBundle} bundle
 * @returns {string[]}
 */
export function firstLoadFiles(bundle) {
  const files = new Set();
  const queue = Object.values(bundle).filter(
    (file) => file.type === 'chunk' && file.isEntry && file.name !== 'gallery',
  );
  for (let file = queue.pop(); file; file = queue.pop()) {
    if (file.type !== 'chunk' || files.has(file.fileName)) continue;
    files.add(file.fileName);
    for (const style of file.viteMetadata?.importedCss ?? []) files.add(style);
    for (const name of file.imports) {
      const next = bundle[name];
      if (next) queue.push(next);
    }
  }
  return [...files];
}

/**
 * Prints what a first visit transfers (scripts and styles, gzip -9) and fails the build above the limit.
 * @param {number} limit bytes
 * @returns {import('vite').Plugin}
 */
export function firstLoad(limit) {
  return {
    name: 'first-load',
    apply: 'build',
    writeBundle: {
      order: 'post',
      handler(_options, bundle) {
        const files = firstLoadFiles(bundle);
        if (files.length === 0) this.error('first load: the page loads no script');
        let total = 0;
        for (const name of files) {
          const file = bundle[name];
          if (!file) throw new Error(`first load: ${name} is not in the bundle`);
          total += gzipSync(file.type === 'chunk' ? file.code : file.source, { level: 9 }).length;
        }
        const kB = (/** @type {number} */ bytes) => `${(bytes / 1000).toFixed(1)} kB`;
        this.info(`first load ${kB(total)} gzipped, limit ${kB(limit)}`);
        if (total > limit) this.error(`first load ${kB(total)} gzipped is over the limit of ${kB(limit)}`);
      },
    },
  };
}
