import js from '@eslint/js';
import prettier from 'eslint-config-prettier';
import svelte from 'eslint-plugin-svelte';
import { defineConfig, globalIgnores } from 'eslint/config';
import globals from 'globals';
import ts from 'typescript-eslint';
import svelteConfig from './svelte.config.js';
import house from './tests/tooling/layers.mjs';

/** Names that mean something only in a browser, or that reach the network or the device's storage. */
const inEveryRuntime = new Set([
  ...Object.keys(globals['shared-node-browser']),
  ...Object.keys(globals.builtin),
]);
const browserOnly = [
  ...Object.keys(globals.browser).filter((name) => !inEveryRuntime.has(name)),
  ...['BroadcastChannel', 'fetch', 'localStorage', 'navigator', 'sessionStorage', 'Storage', 'WebSocket'],
];

export default defineConfig([
  globalIgnores(['dist/', 'coverage/', 'test-results/', 'playwright-report/']),
  js.configs.recommended,
  ts.configs.strictTypeChecked,
  ts.configs.stylisticTypeChecked,
  svelte.configs.recommended,
  prettier,
  svelte.configs.prettier,
  {
    linterOptions: { reportUnusedDisableDirectives: 'error' },
    languageOptions: {
      globals: { ...globals.browser, ...globals.node },
      parserOptions: { projectService: true, extraFileExtensions: ['.svelte'] },
    },
    plugins: { house },
    rules: {
      'house/imports': 'error',
      'house/names': 'error',
      'max-lines': ['error', { max: 400, skipBlankLines: false, skipComments: false }],
      'no-console': 'error',
      'no-eval': 'error',
      'no-new-func': 'error',
      'no-script-url': 'error',
      '@typescript-eslint/no-implied-eval': 'error',
      eqeqeq: 'error',
      'svelte/no-at-debug-tags': 'error',
      'svelte/no-inspect': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true },
      ],
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      '@typescript-eslint/no-confusing-void-expression': ['error', { ignoreArrowShorthand: true }],
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      // An empty text falls back like a missing one.
      '@typescript-eslint/prefer-nullish-coalescing': ['error', { ignorePrimitives: { string: true } }],
      // `void name` in an effect says what the effect depends on.
      '@typescript-eslint/no-meaningless-void-operator': 'off',
      '@typescript-eslint/prefer-for-of': 'off',
      '@typescript-eslint/consistent-indexed-object-style': 'off',
    },
  },
  {
    // TypeScript reports unknown names itself, with types taken into account.
    files: ['**/*.ts', '**/*.svelte'],
    rules: { 'no-undef': 'off' },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser, svelteConfig } },
    rules: {
      'svelte/no-at-html-tags': 'error',
      'svelte/no-navigation-without-resolve': 'off',
      // A plain Map that nothing on the screen reads is no mistake.
      'svelte/prefer-svelte-reactivity': 'off',
    },
  },
  {
    files: ['src/engine/**', 'src/trade/**', 'src/workbook/**', 'src/cli/**'],
    rules: {
      'no-restricted-globals': [
        'error',
        ...browserOnly.map((name) => ({ name, message: 'Only the face knows the browser.' })),
      ],
    },
  },
  {
    // Loops over typed arrays whose bounds the compiler of formulas guarantees.
    files: [
      'src/engine/calculation/**',
      'src/engine/formula/{shape,tape}.ts',
      'src/trade/trim/knapsack.ts',
      'tests/**',
    ],
    rules: { '@typescript-eslint/no-non-null-assertion': 'off' },
  },
  {
    files: ['src/cli/**', 'tests/tooling/**', 'tests/bench/**', 'tests/browser/**'],
    rules: { 'no-console': 'off' },
  },
  {
    // The scripts' types are checked by tsc through JSDoc; the rules below want annotations JSDoc cannot give.
    files: ['**/*.js', '**/*.mjs'],
    extends: [ts.configs.disableTypeChecked],
  },
]);
