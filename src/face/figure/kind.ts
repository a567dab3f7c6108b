/** A kind of figure is a pure function of plain data; it knows neither the workbook nor the page. */
import type { ChartConfiguration } from 'chart.js';
import type { Shown } from '../display.ts';
import type { Drawing } from './drawing.ts';

/** Colours and type of the page the figure is drawn on. */
export interface FigureTheme {
  readonly ink: string;
  readonly soft: string;
  readonly hair: string;
  readonly rule: string;
  readonly sheet: string;
  readonly chalk: string;
  readonly ok: string;
  readonly hold: string;
  readonly fault: string;
  readonly font: string;
}

export type FigureChart = ChartConfiguration<'scatter', { x: number; y: number }[]>;

export interface Panel {
  readonly chart: FigureChart;
  /** Pixels; fixed, so that nothing jumps when a value arrives. */
  readonly height: number;
  readonly label: string;
}

export interface FigureSummary {
  /** What the figure says, in one line. */
  readonly line: string;
  readonly tone?: 'ok' | 'hold' | 'fault';
  readonly headers: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** What the table is on paper, where it is to be worked from: “cut list”. It can be printed alone. */
  readonly list?: string;
}

/** A cell, in the unit it is shown in. */
export interface BoundCell {
  readonly label: string;
  readonly unit: string;
  readonly shown: Shown;
  readonly value?: number;
  readonly plusMinus?: number;
  /** What the true value stays within to one side, with a chance of 95 %. */
  readonly reach?: number;
}

/** A column's rows that are on the screen, in the unit they are shown in; undefined where there is no value. */
export interface BoundColumn {
  readonly label: string;
  readonly unit: string;
  readonly values: readonly (number | string | boolean | undefined)[];
  /** The same rows as text. */
  readonly texts: readonly string[];
  /** Standard uncertainty of each row, in the column's unit; undefined where it is none. */
  readonly plusMinus: readonly (number | undefined)[];
  /** True for a row whose ± cannot be told. */
  readonly untold?: readonly boolean[];
}

/** An input that a result rests on, with its part of the result's variance. */
export interface BoundSource {
  readonly label: string;
  /** 0 to 1. */
  readonly share: number;
  /** The result's standard uncertainty if this input were exact, as text. */
  readonly without: string;
}

/** What a figure's roles are bound to. */
export interface Bound {
  cell(role: string): BoundCell | undefined;
  column(role: string): BoundColumn | undefined;
  /** Roles that are bound and begin with `prefix`, in their order. */
  roles(prefix: string): string[];
  /** What the ± of the role's cell comes from, largest first. */
  sources(role: string): readonly BoundSource[];
  /** A pressure in pascals in the unit in which the role's column is shown. */
  pascals(role: string, value: number): number;
}

export interface FigureKind<Data> {
  readonly title: string;
  resolve(bound: Bound): Data;
  panels(data: Data, theme: FigureTheme): Panel[];
  /** What is no chart: sections, plans, schemes. They stand above the panels. */
  drawings?(data: Data, theme: FigureTheme): Drawing[];
  summary(data: Data): FigureSummary;
  /** The role whose cell is blank for something that is not typed elsewhere: that is then named. */
  wanting?(data: Data): string | undefined;
}
