// dependency-cruiser: no file may import itself over others, types included. Layers are ESLint's (layers.mjs).
/** @type {import('dependency-cruiser').IConfiguration} */
export default {
  forbidden: [{ name: 'no-cycle', severity: 'error', from: {}, to: { circular: true } }],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['svelte', 'import', 'types', 'default'],
    },
  },
};
