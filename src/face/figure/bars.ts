/** Amounts side by side as lying bars, one a row, with their ± and the targets they are held against. */
import { asDigits } from './digits.ts';
import { lyingBars, type LyingBar } from './lying-bars.ts';
import type { Bound, FigureKind, FigureSummary, FigureTheme, Panel } from './kind.ts';
import { titled } from './sentence.ts';
import { NORMAL_95, spreadWords } from './spread.ts';

export interface BarsData {
  readonly valueLabel: string;
  readonly unit: string;
  readonly bars: readonly {
    readonly label: string;
    readonly value: number;
    readonly spread?: number;
    readonly untold?: true;
  }[];
  readonly targets: readonly { readonly label: string; readonly value: number }[];
}

export const bars: FigureKind<BarsData> = { title: 'Bars', resolve, panels, summary };

function resolve(bound: Bound): BarsData {
  const values = bound.column('value');
  const labels = bound.column('label');
  return {
    valueLabel: values?.label ?? '',
    unit: values?.unit ?? '',
    bars: (values?.values ?? []).flatMap((value, row) => {
      if (typeof value !== 'number') return [];
      const spread = values?.plusMinus[row];
      const label = labels?.texts[row] ?? `row ${row + 1}`;
      return [
        {
          label,
          value,
          ...(spread === undefined ? {} : { spread }),
          ...(values?.untold?.[row] ? { untold: true as const } : {}),
        },
      ];
    }),
    targets: bound.roles('target').flatMap((role) => {
      const cell = bound.cell(role);
      return cell?.value === undefined ? [] : [{ label: cell.label, value: cell.value }];
    }),
  };
}

function summary(data: BarsData): FigureSummary {
  const { bars: all, unit } = data;
  const withUnit = (value: number) => [asDigits(value), unit].filter(Boolean).join(' ');
  const largest = all.toSorted((a, b) => b.value - a.value)[0];
  return {
    line: largest ? `largest: ${largest.label}, ${withUnit(largest.value)}` : 'No values yet',
    ...(largest ? {} : { tone: 'hold' as const }),
    headers: ['', titled(data.valueLabel, unit)],
    rows: all.map(({ label, value, spread, untold }) => [
      label,
      asDigits(value) + spreadWords(spread, untold),
    ]),
  };
}

function panels(data: BarsData, theme: FigureTheme): Panel[] {
  const drawn = data.bars.map(({ label, value, spread }): LyingBar => {
    const half = NORMAL_95 * (spread ?? 0);
    return {
      label,
      value,
      text: asDigits(value),
      color: theme.chalk,
      ...(half > 0 ? { low: value - half, high: value + half } : {}),
    };
  });
  return [lyingBars(drawn, data.targets, [data.valueLabel, data.unit].filter(Boolean).join(', '), theme)];
}
