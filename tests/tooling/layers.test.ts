import { fileURLToPath } from 'node:url';
import { ESLint, type Linter } from 'eslint';
import { describe, expect, it } from 'vitest';
import { importProblem } from './layers.mjs';

const top = fileURLToPath(new URL('../..', import.meta.url));

/**
 * The project's own configuration, without the rules that need types: the files below exist only here, and no
 * rule about layers asks for types.
 */
const withoutTypes: Linter.Config = {
  languageOptions: { parserOptions: { projectService: false, project: null } },
};
const plain = new ESLint({
  cwd: top,
  overrideConfig: withoutTypes,
  ruleFilter: ({ ruleId }) =>
    ruleId.startsWith('house/') ||
    ['max-lines', 'no-console', 'no-eval', 'no-new-func', 'no-restricted-globals', 'no-script-url'].includes(
      ruleId,
    ),
});

async function rulesBroken(filePath: string, code: string): Promise<string[]> {
  const results = await plain.lintText(code, { filePath: `${top}${filePath}`, warnIgnored: true });
  const messages = results.flatMap((result) => result.messages);
  return messages.map(({ ruleId, message }) => ruleId ?? message);
}

describe('which file may import which', () => {
  const refused: [from: string, specifier: string, why: RegExp][] = [
    ['engine/formula/infer.ts', '../../workbook/index.ts', /engine may not import from workbook/],
    ['engine/index.ts', '../trade/index.ts', /engine may not import from trade/],
    ['engine/calculation/engine.ts', '../../face/session.svelte.ts', /engine may not import from face/],
    ['trade/airtightness/fit.ts', '../../workbook/index.ts', /trade may not import from workbook/],
    ['trade/airtightness/fit.ts', '../../engine/formula/library.ts', /engine through its index\.ts/],
    ['workbook/edit.ts', '../face/index.ts', /workbook may not import from face/],
    ['workbook/edit.ts', '../trade/index.ts', /workbook may not import from trade/],
    ['workbook/file/csv.ts', '../../engine/quantity/unit.ts', /engine through its index\.ts/],
    ['face/worksheet/Cell.svelte', '../../trade/index.ts', /face may not import from trade/],
    ['face/worksheet/Cell.svelte', '../../workbook/edit.ts', /workbook through its index\.ts/],
    ['face/worksheet/Cell.svelte', '../../engine/quantity/unit.ts', /engine through its index\.ts/],
    ['face/session.svelte.ts', '../main.ts', /face may not import from main/],
    ['cli/calc.ts', '../face/index.ts', /cli may not import from face/],
    ['cli/calc.ts', '../workbook/file/read.ts', /workbook through its index\.ts/],
    ['main.ts', './workbook/file/read.ts', /workbook through its index\.ts/],
    ['engine/quantity/unit.ts', '../formula/parse.ts', /the order is quantity, formula, calculation/],
    ['engine/quantity/unit.ts', '../calculation/graph.ts', /the order is quantity/],
    ['engine/formula/parse.ts', '../calculation/graph.ts', /the order is quantity/],
    ['engine/formula/parse.ts', '../index.ts', /the order is quantity/],
    ['engine/formula/parse.ts', '../../../tests/engine/cases.ts', /outside src/],
    ['trade/index.ts', '../../templates/air-test.json', /outside src/],
    ['engine/formula/compile.ts', 'mathjs', /may only be imported in/],
    ['engine/formula/compile.ts', 'mathjs/number', /may only be imported in/],
    ['workbook/file/read.ts', 'papaparse', /may only be imported in/],
    ['face/worksheet/Cell.svelte', 'chart.js', /may only be imported in/],
    ['workbook/document.ts', 'valibot', /may only be imported in/],
    ['face/session.svelte.ts', 'idb', /may only be imported in/],
    ['workbook/workbook.ts', 'svelte/reactivity', /may only be imported in/],
    ['engine/calculation/graph.ts', 'lodash', /no adapter/],
    ['workbook/file/read.ts', 'node:fs', /only the command line/],
  ];
  it.each(refused)('%s may not import %s', (from, specifier, why) => {
    expect(importProblem(from, specifier)).toMatch(why);
  });

  const allowed: [from: string, specifier: string][] = [
    ['engine/formula/parse.ts', '../quantity/index.ts'],
    ['engine/formula/parse.ts', 'mathjs'],
    ['engine/quantity/unit.ts', 'mathjs'],
    ['engine/calculation/engine.ts', '../formula/tape.ts'],
    ['engine/index.ts', './calculation/engine.ts'],
    ['trade/airtightness/fit.ts', '../../engine/index.ts'],
    ['trade/airtightness/fit.ts', '../statistics/least-squares.ts'],
    ['workbook/workbook.ts', '../engine/index.ts'],
    ['workbook/file/csv.ts', 'papaparse'],
    ['workbook/file/format.ts', 'valibot'],
    ['face/figure/fit.ts', 'chart.js'],
    ['face/keeping/device-store.ts', 'idb'],
    ['face/session.svelte.ts', '../workbook/index.ts'],
    ['face/session.svelte.ts', '../engine/index.ts'],
    ['face/worksheet/Cell.svelte', 'svelte'],
    ['cli/calc.ts', '../trade/index.ts'],
    ['cli/calc.ts', 'node:fs'],
    ['main.ts', './face/App.svelte'],
    ['main.ts', './trade/index.ts'],
    ['main.ts', '../templates/juniper-hollow.json'],
  ];
  it.each(allowed)('%s may import %s', (from, specifier) => {
    expect(importProblem(from, specifier)).toBeUndefined();
  });
});

describe('the linter refuses', () => {
  const cases: [what: string, file: string, code: string, rule: string][] = [
    [
      'an import against the layers',
      'src/engine/formula/x.ts',
      "import '../../face/index.ts';",
      'house/imports',
    ],
    [
      'a type import against them',
      'src/engine/x.ts',
      "import type { A } from '../face/index.ts';",
      'house/imports',
    ],
    ['a re-export against them', 'src/engine/x.ts', "export * from '../workbook/index.ts';", 'house/imports'],
    [
      'a named re-export against them',
      'src/engine/x.ts',
      "export { a } from '../trade/index.ts';",
      'house/imports',
    ],
    [
      'a late import against them',
      'src/trade/x.ts',
      "await import('../workbook/index.ts');",
      'house/imports',
    ],
    [
      'an import type against them',
      'src/trade/x.ts',
      "type A = import('../face/index.ts').A;",
      'house/imports',
    ],
    [
      'a component that reaches into the trade',
      'src/face/worksheet/X.svelte',
      '<script lang="ts">import { a } from "../../trade/index.ts"; a();</script>',
      'house/imports',
    ],
    ['a package outside its adapter', 'src/engine/calculation/x.ts', "import 'mathjs';", 'house/imports'],
    ['the browser in the engine', 'src/engine/x.ts', 'window.alert(1);', 'no-restricted-globals'],
    ['the document in the trade', 'src/trade/x.ts', 'document.title;', 'no-restricted-globals'],
    ['storage in the workbook', 'src/workbook/x.ts', "localStorage.getItem('a');", 'no-restricted-globals'],
    ['a database in the workbook', 'src/workbook/x.ts', "indexedDB.open('a');", 'no-restricted-globals'],
    ['the network in the workbook', 'src/workbook/x.ts', "fetch('a');", 'no-restricted-globals'],
    ['the navigator in the command line', 'src/cli/calc.ts', 'navigator.language;', 'no-restricted-globals'],
    ['a folder that says nothing', 'src/engine/utils/unit.ts', 'export {};', 'house/names'],
    ['a file that says nothing', 'src/face/helpers.svelte.ts', 'export {};', 'house/names'],
    ['such a name among the tests', 'tests/common/x.ts', 'export {};', 'house/names'],
    ['a file of 401 lines', 'src/engine/x.ts', 'export {};\n'.repeat(401), 'max-lines'],
    ['talk on the console', 'src/workbook/x.ts', "console.log('a');", 'no-console'],
    ['eval', 'src/engine/x.ts', "eval('1');", 'no-eval'],
    ['functions made of text', 'src/engine/x.ts', "new Function('return 1');", 'no-new-func'],
  ];
  it.each(cases)('%s', { timeout: 20_000 }, async (_what, file, code, rule) => {
    expect(await rulesBroken(file, code)).toContain(rule);
  });

  it('nothing in files that keep the rules', { timeout: 20_000 }, async () => {
    expect(
      await rulesBroken('src/face/x.ts', "import '../workbook/index.ts'; document.title = 'a';"),
    ).toEqual([]);
    expect(await rulesBroken('src/main.ts', "import './face/App.svelte'; document.title = 'a';")).toEqual([]);
    expect(await rulesBroken('src/cli/calc.ts', "import '../trade/index.ts'; console.log(1);")).toEqual([]);
    expect(await rulesBroken('src/engine/x.ts', 'export {};\n'.repeat(400))).toEqual([]);
  });

  it('text that is run later, and says every rule is an error', async () => {
    const config = (await new ESLint({ cwd: top }).calculateConfigForFile(`${top}src/engine/x.ts`)) as {
      rules: Record<string, [severity: number]>;
    };
    expect(config.rules['@typescript-eslint/no-implied-eval']?.[0]).toBe(2);
    // Rules that matter are errors: nothing only warns.
    const warnings = Object.entries(config.rules).filter(([, [severity]]) => severity === 1);
    expect(warnings).toEqual([]);
  });
});
