/** Fetches what figures are drawn with while the numbers are worked out: it stands there when they are. */
export function fetchFigures(): void {
  void Promise.all([import('./FigureColumn.svelte'), import('./chart.ts')]).catch(() => undefined);
}
