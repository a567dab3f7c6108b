/** A scheme of the house, floor over floor: outdoor air into the rooms, exhaust out of them, and what passes through. */
import { counted } from '../../workbook/index.ts';
import { wash } from './axes.ts';
import { textWidth, type Drawing, type Layout, type Shape } from './drawing.ts';
import { directionAt, flowText, numberAt, type Direction } from './flow-balance.ts';
import type { Bound, FigureKind, FigureSummary, FigureTheme } from './kind.ts';

interface Air {
  /** Undefined: not chosen yet. */
  readonly direction: Direction | undefined;
  readonly text: string;
  readonly unit: string;
  readonly short: boolean;
}

export interface SchemeRoom {
  readonly room: string;
  readonly floor: number;
  readonly air: readonly Air[];
}

export interface HouseFlowsData {
  readonly symbol: string;
  readonly rooms: readonly SchemeRoom[];
}

export const houseFlows: FigureKind<HouseFlowsData> = {
  title: 'Air through the house',
  resolve,
  panels: () => [],
  drawings,
  summary,
};

function resolve(bound: Bound): HouseFlowsData {
  const names = bound.column('house_room');
  const floors = bound.column('floor');
  const rooms = bound.column('room');
  const direction = bound.column('room_direction');
  const unit = bound.column('room_unit');
  const design = bound.column('room_design');
  const measured = bound.column('room_measured');
  const airOf = (name: string): Air[] =>
    (rooms?.texts ?? []).flatMap((room, row) => {
      if (room !== name) return [];
      const wanted = numberAt(design, row);
      const found = numberAt(measured, row);
      return [
        {
          direction: directionAt(direction, row),
          text: flowText(found === undefined ? design : measured, row, '–') || '–',
          unit: unit?.texts[row] ?? '',
          short: wanted !== undefined && found !== undefined && found < wanted * (1 - 1e-4),
        },
      ];
    });
  return {
    symbol: design?.unit ?? '',
    rooms: (names?.texts ?? []).map((room, row) => ({
      room,
      floor: numberAt(floors, row) ?? 1,
      air: airOf(room),
    })),
  };
}

function summary(data: HouseFlowsData): FigureSummary {
  const headers = ['', 'floor', 'air', data.symbol, 'unit'];
  const rows = data.rooms.flatMap((room) =>
    room.air.length === 0
      ? [[room.room, String(room.floor), 'passes through', '', '']]
      : room.air.map((air) => [
          room.room,
          String(room.floor),
          air.direction ?? 'supply or exhaust?',
          air.text,
          air.unit,
        ]),
  );
  const with_ = (direction: Direction | undefined) =>
    data.rooms.filter((room) => room.air.some((air) => air.direction === direction)).length;
  if (data.rooms.length === 0) return { line: 'No room yet', tone: 'hold', headers, rows };
  const open = with_(undefined);
  const through = data.rooms.filter((room) => room.air.length === 0).length;
  return {
    line: [
      `outdoor air into ${counted(with_('supply'), 'room')}, exhaust from ${with_('exhaust')}`,
      `${through} that air only passes through`,
      ...(open === 0 ? [] : [`${open} where neither is chosen yet`]),
    ].join(', '),
    ...(open > 0 && { tone: 'hold' as const }),
    headers,
    rows,
  };
}

function drawings(data: HouseFlowsData, theme: FigureTheme): Drawing[] {
  if (data.rooms.length === 0) return [];
  return [{ label: 'scheme of the floors', layout: (width) => layout(data, theme, width) }];
}

const BOX = 62;
const GAP = 6;
const EDGE = 10;

function layout(data: HouseFlowsData, theme: FigureTheme, width: number): Layout {
  const shapes: Shape[] = [];
  const floors = [...new Set(data.rooms.map((room) => room.floor))].sort((a, b) => b - a);
  const longest = Math.max(
    ...data.rooms.map((room) => textWidth(room.room, 12) + 14),
    ...data.rooms.flatMap((room) => room.air.map((air) => textWidth(airText(air), 12) + 31)),
  );
  const inner = width - 2 * EDGE;
  const across = Math.max(1, Math.floor((inner + GAP) / (Math.max(longest, 92) + GAP)));
  const boxWidth = (inner - GAP * (across - 1)) / across;
  const roof = 26;
  let y = roof + 6;
  const body: Shape[] = [];
  for (const floor of floors) {
    const rooms = data.rooms.filter((room) => room.floor === floor);
    body.push(label(`floor ${floor}`, EDGE, y + 13, theme.soft));
    y += 20;
    rooms.forEach((room, at) => {
      const row = Math.floor(at / across);
      roomShapes(body, room, theme, EDGE + (at % across) * (boxWidth + GAP), y + row * (BOX + GAP), boxWidth);
    });
    y += Math.ceil(rooms.length / across) * (BOX + GAP) + 4;
  }
  shapes.push({
    kind: 'line',
    points: [
      [1, roof],
      [width / 2, 3],
      [width - 1, roof],
      [width - 1, y],
      [1, y],
      [1, roof],
      [width - 1, roof],
    ],
    stroke: theme.rule,
    strokeWidth: 1.5,
  });
  shapes.push(...body);
  shapes.push(label(`in: outdoor air, out: exhaust; ${data.symbol}`, 1, y + 17, theme.soft));
  return { height: y + 24, shapes };
}

function label(text: string, x: number, y: number, color: string, strong = false): Shape {
  return { kind: 'text', text, x, y, color, size: 12, strong };
}

function airText({ direction, text, short }: Air): string {
  const said = direction === 'supply' ? 'in' : direction === 'exhaust' ? 'out' : 'in, out?';
  return `${said} ${text.replace(/ ±.*$/, '')}${short ? ', short' : ''}`;
}

/** The room's box: an arrow down into it for outdoor air, an arrow up out of it for exhaust. */
function roomShapes(
  shapes: Shape[],
  room: SchemeRoom,
  theme: FigureTheme,
  x: number,
  y: number,
  width: number,
): void {
  const first = room.air[0];
  const short = room.air.some((air) => air.short);
  const ground = short ? theme.fault : first?.direction === 'supply' ? theme.chalk : theme.soft;
  shapes.push({
    kind: 'rect',
    x,
    y,
    width,
    height: BOX,
    fill: wash(ground, first?.direction === undefined ? 0 : 0.1),
    stroke: short ? theme.fault : theme.hair,
    dashed: first?.direction === undefined,
  });
  shapes.push(label(room.room, x + 7, y + 16, theme.ink));
  if (!first) shapes.push(label('passes through', x + 7, y + 50, theme.soft));
  room.air.slice(0, 2).forEach((air, at) => {
    const line = y + 24 + at * 18;
    const color = air.short ? theme.fault : air.direction === 'supply' ? theme.chalk : theme.soft;
    const ends: [number, number][] = [
      [x + 13, line],
      [x + 13, line + 16],
    ];
    if (air.direction)
      shapes.push({
        kind: 'line',
        points: air.direction === 'supply' ? ends : ends.toReversed(),
        stroke: color,
        strokeWidth: 2,
        arrow: true,
      });
    shapes.push(label(airText(air), x + 24, line + 13, air.short ? theme.fault : theme.ink));
  });
  if (first) shapes.push(label(first.unit, x + 7, y + BOX - 5, theme.soft));
}
