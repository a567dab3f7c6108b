/** What the ± of a result comes from: the share of each input in its variance. */
import { localNumber } from '../locale.ts';
import { inSentence } from './sentence.ts';
import { lyingBars } from './lying-bars.ts';
import type { Bound, BoundSource, FigureKind, FigureSummary, FigureTheme, Panel } from './kind.ts';

export interface RankingData {
  readonly result: string;
  readonly sources: readonly BoundSource[];
  /** How many more there are than are drawn. */
  readonly further: number;
}

const MOST = 10;

export const ranking: FigureKind<RankingData> = { title: 'Where the ± comes from', resolve, panels, summary };

function resolve(bound: Bound): RankingData {
  const sources = bound.sources('value').filter((source) => source.share > 0);
  return {
    result: bound.cell('value')?.label ?? '',
    sources: sources.slice(0, MOST),
    further: Math.max(0, sources.length - MOST),
  };
}

const percent = (share: number) => `${localNumber((100 * share).toFixed(share < 0.0995 ? 1 : 0))} %`;

function summary({ result, sources, further }: RankingData): FigureSummary {
  const [first] = sources;
  const more = further === 0 ? '' : `; ${further} more below the last`;
  return {
    line: first
      ? `${percent(first.share)} of the variance of ${inSentence(result)} comes from ${inSentence(first.label)}${more}`
      : `${result || 'The result'} has no ± yet`,
    headers: ['', 'share', '± if it were exact'],
    rows: sources.map((source) => [source.label, percent(source.share), source.without]),
  };
}

function panels({ sources }: RankingData, theme: FigureTheme): Panel[] {
  const bars = sources.map(({ label, share }) => ({
    label,
    value: 100 * share,
    text: percent(share),
    color: theme.chalk,
  }));
  return [lyingBars(bars, [], 'share of the variance, %', theme)];
}
