/** Supply and exhaust of each unit against its band, and each room's flow against its design. */
import { wash } from './axes.ts';
import { textWidth, type Drawing, type Layout, type Shape } from './drawing.ts';
import type { Bound, BoundColumn, FigureKind, FigureSummary, FigureTheme } from './kind.ts';
import { titled } from './sentence.ts';

export type Direction = 'supply' | 'exhaust';

export interface RoomFlow {
  readonly room: string;
  /** Undefined: not chosen yet. */
  readonly air: Direction | undefined;
  readonly design?: number;
  readonly measured?: number;
  readonly designText: string;
  readonly measuredText: string;
  readonly short: boolean;
}

export interface UnitFlow {
  readonly unit: string;
  readonly supply?: number;
  readonly exhaust?: number;
  readonly allowed?: number;
  readonly supplyText: string;
  readonly exhaustText: string;
  readonly verdict: string;
  readonly rooms: readonly RoomFlow[];
}

export interface FlowBalanceData {
  readonly symbol: string;
  readonly units: readonly UnitFlow[];
}

export const flowBalance: FigureKind<FlowBalanceData> = {
  title: 'Balance by unit and room',
  resolve,
  panels: () => [],
  drawings,
  summary,
};

export function numberAt(column: BoundColumn | undefined, row: number): number | undefined {
  const value = column?.values[row];
  return typeof value === 'number' ? value : undefined;
}

/** What a row without a value says instead, a fault’s whole sentence, has no room in a figure. */
export function flowText(column: BoundColumn | undefined, row: number, unknown = 'not known yet'): string {
  const text = column?.texts[row] ?? '';
  return text === '' || column?.values[row] !== undefined ? text : unknown;
}

export function directionAt(column: BoundColumn | undefined, row: number): Direction | undefined {
  const value = column?.values[row];
  return value === 'supply' || value === 'exhaust' ? value : undefined;
}

function resolve(bound: Bound): FlowBalanceData {
  const unit = bound.column('unit');
  const supply = bound.column('unit_supply');
  const exhaust = bound.column('unit_exhaust');
  const rooms = bound.column('room');
  const of = bound.column('room_unit');
  const direction = bound.column('room_direction');
  const design = bound.column('room_design');
  const measured = bound.column('room_measured');
  const roomFlow = (row: number): RoomFlow => {
    const wanted = numberAt(design, row);
    const found = numberAt(measured, row);
    return {
      room: rooms?.texts[row] ?? '',
      air: directionAt(direction, row),
      ...(wanted === undefined ? {} : { design: wanted }),
      ...(found === undefined ? {} : { measured: found }),
      designText: flowText(design, row),
      measuredText: flowText(measured, row),
      // A hundredth of what is shown is rounding, not a want of air.
      short: wanted !== undefined && found !== undefined && found < wanted * (1 - 1e-4),
    };
  };
  const units = (unit?.texts ?? []).map((name, row): UnitFlow => {
    const [s, e, a] = [supply, exhaust, bound.column('unit_allowed')].map((c) => numberAt(c, row));
    return {
      unit: name,
      ...(s === undefined ? {} : { supply: s }),
      ...(e === undefined ? {} : { exhaust: e }),
      ...(a === undefined ? {} : { allowed: a }),
      supplyText: flowText(supply, row),
      exhaustText: flowText(exhaust, row),
      verdict: flowText(bound.column('unit_verdict'), row, ''),
      rooms: (rooms?.texts ?? []).flatMap((_, at) => (of?.texts[at] === name ? [roomFlow(at)] : [])),
    };
  });
  return { symbol: supply?.unit ?? design?.unit ?? '', units };
}

const shortRooms = (data: FlowBalanceData) =>
  data.units.flatMap((unit) => unit.rooms.filter((room) => room.short).map((room) => room.room));

function summary(data: FlowBalanceData): FigureSummary {
  const judged = data.units.filter((unit) => unit.verdict !== '');
  const out = judged.filter((unit) => unit.verdict === 'out of balance');
  const short = shortRooms(data);
  const headers = ['', 'air', titled('design', data.symbol), titled('measured', data.symbol), ''];
  const rows = data.units.flatMap((unit) => [
    [unit.unit, 'supply', '', unit.supplyText, unit.verdict],
    [unit.unit, 'exhaust', '', unit.exhaustText, ''],
    ...unit.rooms.map((room) => [
      room.room,
      room.air ?? '',
      room.designText,
      room.measuredText,
      room.short ? 'short' : '',
    ]),
  ]);
  if (data.units.length === 0) return { line: 'No unit yet', tone: 'hold', headers, rows: [] };
  const told = judged.map((unit) => `${unit.unit} ${unit.verdict}`);
  told.push(short.length === 0 ? 'no room short' : `short: ${short.join(', ')}`);
  const unmeasured = judged.some((unit) => unit.verdict === 'not measured');
  const tone = out.length > 0 || short.length > 0 ? 'fault' : unmeasured ? 'hold' : 'ok';
  return { line: told.join('; '), tone, headers, rows };
}

function drawings(data: FlowBalanceData, theme: FigureTheme): Drawing[] {
  return data.units.map((unit) => ({
    label: `${unit.unit}, supply and exhaust`,
    layout: (width) => unitLayout(unit, data, theme, width),
  }));
}

const ROW = 22;
const BAR = 12;
const BESIDE = 8;
/** A width is reckoned, not measured: words with an m or a ± come out a little wider. */
const SPARE = 5;

const saidOf = (room: RoomFlow) => {
  const said = room.measured === undefined ? room.designText : room.measuredText;
  const flow = room.short ? `${said}, short` : said;
  return room.air ? flow : [flow, 'supply or exhaust?'].filter(Boolean).join(', ');
};
const endOf = (room: RoomFlow) => Math.max(room.measured ?? 0, room.design ?? 0);
const totalOf = ({ verdict }: UnitFlow, shown: string) =>
  shown === '' ? (verdict === 'one way' ? 'none' : 'not measured') : shown;

/** Pixels for each unit of flow with which every bar has room for the words behind it. */
function scaleOf(data: FlowBalanceData, space: number): number {
  const ends = data.units.flatMap((each): (readonly [flow: number, words: string])[] => [
    [each.supply ?? 0, totalOf(each, each.supplyText)],
    [each.exhaust ?? 0, totalOf(each, each.exhaustText)],
    [(each.supply ?? 0) + (each.allowed ?? 0), ''],
    ...each.rooms.map((room) => [endOf(room), saidOf(room)] as const),
  ]);
  const most = Math.max(1, ...ends.map(([flow]) => flow));
  const fits = ends.map(
    ([flow, words]) => (space - BESIDE - SPARE - textWidth(words, 12)) / Math.max(flow, most / 1000),
  );
  return Math.max(Math.min(...fits), 40 / most);
}

function unitLayout(unit: UnitFlow, data: FlowBalanceData, theme: FigureTheme, width: number): Layout {
  const names = unit.rooms.map((room) => textWidth(room.room, 12));
  const left = Math.min(Math.max(70, ...names) + 8, width * 0.34);
  const scale = scaleOf(data, width - left);
  const x = (flow: number) => left + flow * scale;
  const shapes: Shape[] = [];
  const text = (t: string, tx: number, y: number, more: Partial<Extract<Shape, { kind: 'text' }>> = {}) =>
    shapes.push({ kind: 'text', text: t, x: tx, y, color: theme.soft, size: 12, ...more });
  let y = 16;
  const bad = unit.verdict === 'out of balance';
  const good = unit.verdict === 'balanced' || unit.verdict === 'one way';
  text(unit.unit, 0, y, { color: theme.ink, size: 13, strong: true });
  text(unit.verdict, textWidth(unit.unit, 14) + 12, y, {
    color: bad ? theme.fault : good ? theme.ok : theme.hold,
  });
  y += 10;
  const total = (name: string, flow: number | undefined, shown: string, color: string, band: boolean) => {
    if (band && unit.supply !== undefined && unit.allowed !== undefined) {
      const from = x(Math.max(unit.supply - unit.allowed, 0));
      shapes.push({
        kind: 'rect',
        x: from,
        y: y + 1,
        width: x(unit.supply + unit.allowed) - from,
        height: ROW - 2,
        fill: wash(bad ? theme.fault : theme.ok, 0.16),
      });
    }
    text(name, 0, y + 15, { color: theme.ink });
    if (flow !== undefined) {
      shapes.push({ kind: 'rect', x: left, y: y + 5, width: flow * scale, height: BAR, fill: color });
    }
    text(totalOf(unit, shown), x(flow ?? 0) + 6, y + 15, { color: theme.ink });
    y += ROW;
  };
  total('supply', unit.supply, unit.supplyText, theme.chalk, false);
  total('exhaust', unit.exhaust, unit.exhaustText, bad ? theme.fault : theme.soft, true);
  y += 4;
  const ordered = (['supply', 'exhaust', undefined] as const).flatMap((air) =>
    unit.rooms.filter((room) => room.air === air),
  );
  for (const room of ordered) {
    text(room.room, 0, y + 14);
    const color = room.short ? theme.fault : room.air === 'supply' ? theme.chalk : theme.soft;
    if (room.measured !== undefined) {
      shapes.push({
        kind: 'rect',
        x: left,
        y: y + 6,
        width: room.measured * scale,
        height: 8,
        fill: wash(color, 0.55),
      });
    }
    if (room.design !== undefined) {
      const mark = x(room.design);
      shapes.push({
        kind: 'line',
        points: [
          [mark, y + 3],
          [mark, y + 17],
        ],
        stroke: theme.ink,
        strokeWidth: 1.5,
      });
    }
    text(saidOf(room), x(endOf(room)) + BESIDE, y + 14, { color: room.short ? theme.fault : theme.soft });
    y += 19;
  }
  const key = ['bar: measured, mark: design,', 'tint: band for the exhaust'];
  const lines =
    textWidth(key.join(' '), 12) + SPARE > width - textWidth(`; ${data.symbol}`, 12) ? key : [key.join(' ')];
  for (const [at, line] of lines.entries()) {
    if (at > 0) y += 16;
    text(at === lines.length - 1 ? [line, data.symbol].filter(Boolean).join('; ') : line, 0, y + 15);
  }
  return { height: y + 26, shapes };
}
