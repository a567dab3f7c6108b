/** Svelte 5 strips types itself; every component is compiled in runes mode. */
export default { compilerOptions: { runes: true } };
