import path from 'node:path';
import { fileURLToPath } from 'node:url';

const SRC = fileURLToPath(new URL('../../src', import.meta.url));

/**
 * The layers, and the layers each may import through their index.ts:
 * face -> workbook -> engine <- trade; main and cli join them.
 * @type {Record<string, string[]>}
 */
const LAYERS = {
  engine: [],
  trade: ['engine'],
  workbook: ['engine'],
  face: ['workbook', 'engine'],
  cli: ['workbook', 'engine', 'trade'],
  main: ['face', 'workbook', 'engine', 'trade'],
};

/**
 * The order inside the engine: each part may import the parts named here, and itself.
 * @type {Record<string, string[]>}
 */
const ENGINE_PARTS = {
  quantity: [],
  formula: ['quantity'],
  calculation: ['quantity', 'formula'],
};

/**
 * One adapter a package: the files that may import it.
 * @type {Record<string, RegExp>}
 */
const PACKAGES = {
  mathjs: /^engine\/(formula\/parse|quantity\/unit)\.ts$/,
  papaparse: /^workbook\/file\/csv\.ts$/,
  'chart.js': /^face\/figure\//,
  highs: /^(trade\/trim\/solver|deferred-worker)\.ts$/,
  valibot: /^workbook\/file\//,
  idb: /^face\/keeping\/device-store\.ts$/,
  fflate: /^workbook\/file\/link\.ts$/,
  svelte: /^(face\/|main\.ts$|gallery\.ts$)/,
  '@fontsource-variable/atkinson-hyperlegible-next': /^(face\/|main\.ts$)/,
  '@fontsource-variable/atkinson-hyperlegible-mono': /^(face\/|main\.ts$)/,
  'lucide-static': /^face\//,
};

/** The layers that may read the workbooks that ship. */
const READS_TEMPLATES = ['main', 'face', 'cli'];

const DUMPING_GROUND = /^(util|utils|helper|helpers|common|misc)$/i;

/** @param {string} file path inside src, with forward slashes */
const layerOf = (file) => (file.includes('/') ? file.slice(0, file.indexOf('/')) : 'main');

/**
 * What is wrong with an import, in a sentence, or undefined.
 * @param {string} from path of the importing file inside src
 * @param {string} specifier
 * @returns {string | undefined}
 */
export function importProblem(from, specifier) {
  const layer = layerOf(from);
  if (!specifier.startsWith('.')) return packageProblem(from, specifier);

  const target = path.posix.normalize(
    path.posix.join('src', path.posix.dirname(from), specifier.replace(/\?.*$/, '')),
  );
  if (!target.startsWith('src/')) {
    if (target.startsWith('templates/') && READS_TEMPLATES.includes(layer)) return undefined;
    return `'${specifier}' is outside src`;
  }
  const to = target.slice('src/'.length);
  const other = layerOf(to);
  if (other === layer) return layer === 'engine' ? engineOrderProblem(from, to) : undefined;
  if (!LAYERS[layer]?.includes(other)) {
    const allowed = LAYERS[layer]?.join(', ') || 'no other layer';
    return `${layer} may not import from ${other}; it may import from ${allowed}`;
  }
  if (to === `${other}/index.ts`) return undefined;
  if (layer === 'main' && /^face\/[^/]+\.(svelte|css)$/.test(to)) return undefined;
  return `import from ${other} through its index.ts`;
}

/**
 * @param {string} from
 * @param {string} specifier
 */
function packageProblem(from, specifier) {
  if (specifier.startsWith('node:')) {
    return from.startsWith('cli/') ? undefined : 'only the command line may use node: modules';
  }
  if (specifier.startsWith('virtual:')) return undefined;
  const name = specifier
    .split('/')
    .slice(0, specifier.startsWith('@') ? 2 : 1)
    .join('/');
  const adapter = PACKAGES[name];
  if (!adapter) return `'${name}' has no adapter: add it to the packages of tests/tooling/layers.mjs`;
  return adapter.test(from) ? undefined : `'${name}' may only be imported in ${adapter.source}`;
}

/**
 * @param {string} from
 * @param {string} to
 */
function engineOrderProblem(from, to) {
  const part = from.split('/')[1] ?? '';
  const other = to.split('/')[1] ?? '';
  const allowed = ENGINE_PARTS[part];
  if (!allowed || part === other || allowed.includes(other)) return undefined;
  if (other in ENGINE_PARTS || to === 'engine/index.ts') {
    return `engine/${part} may not import ${to}: the order is quantity, formula, calculation`;
  }
  return undefined;
}

/**
 * Path inside src with forward slashes, or undefined for other files.
 * @param {string} filename
 */
function insideSrc(filename) {
  const relative = path.relative(SRC, filename);
  return relative.startsWith('..') || path.isAbsolute(relative)
    ? undefined
    : relative.split(path.sep).join('/');
}

/** @type {import('eslint').Rule.RuleModule} */
const imports = {
  meta: { type: 'problem', schema: [], messages: { bad: '{{problem}}' } },
  create(context) {
    const from = insideSrc(context.filename);
    if (from === undefined) return {};
    /** @param {{ source?: any }} node */
    const check = (node) => {
      const source = node.source;
      if (typeof source?.value !== 'string') return;
      const problem = importProblem(from, source.value);
      if (problem !== undefined) context.report({ node: source, messageId: 'bad', data: { problem } });
    };
    return {
      ImportDeclaration: check,
      ExportNamedDeclaration: check,
      ExportAllDeclaration: check,
      ImportExpression: check,
      TSImportType: check,
    };
  },
};

/** @type {import('eslint').Rule.RuleModule} */
const names = {
  meta: {
    type: 'problem',
    schema: [],
    messages: { bad: "'{{name}}' says nothing: name it after what it holds" },
  },
  create(context) {
    const relative = path.relative(path.dirname(SRC), context.filename);
    return {
      Program(node) {
        for (const part of relative.split(path.sep)) {
          const name = part.split('.')[0] ?? '';
          if (DUMPING_GROUND.test(name)) context.report({ node, messageId: 'bad', data: { name } });
        }
      },
    };
  },
};

/** @type {import('eslint').ESLint.Plugin} */
export default { meta: { name: 'house' }, rules: { imports, names } };
