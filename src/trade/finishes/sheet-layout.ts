/** Lays sheets out over a rectangular surface: courses, joints on framing, joints of neighbouring courses apart. */
import { fault, lengthInWords, written, type Fault } from '../../engine/index.ts';
import { cutSheets, ROUNDING, type Cut, type Cutting } from './sheet-cutting.ts';

/** Lengths in m. */
export interface Surface {
  /** Along the wall, or along the first side of a ceiling. */
  readonly length: number;
  /** Height of the wall, or the ceiling's other side. */
  readonly height: number;
  readonly sheetLength: number;
  readonly sheetWidth: number;
  /** `along`: long edges run with the surface's length, across the framing; `up`: with its height, on the framing. */
  readonly direction: string;
  /** Framing, centre to centre, from the surface's left end. */
  readonly framing: number;
  /** Least distance of end joints in neighbouring courses. */
  readonly stagger: number;
}

/** A piece on the surface, its lower left corner from the surface's. m. */
export interface SheetPiece {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** The sheet it is cut from, from 1. */
  readonly sheet: number;
}

export interface SheetLayout {
  readonly sheets: number;
  /** Sheets without the use of offcuts: courses times pieces of a course. */
  readonly wholeSheets: number;
  readonly courses: number;
  readonly pieces: readonly SheetPiece[];
  /** Joints along the long edges, and across them. m. */
  readonly edgeJoint: number;
  readonly endJoint: number;
  /** End joints that lie nearer to one of the next course than the stagger asked for. */
  readonly unstaggered: number;
}

const INCH = 0.0254;
const LARGEST = 60;
const FRAMING_FROM = 6 * INCH;
const FRAMING_TO = 48 * INCH;

/** One course's end joints, and the pieces between them. */
interface Pattern {
  readonly joints: readonly number[];
  readonly lengths: readonly number[];
  /** Pieces that are no whole sheet's length, and the shortest of all. */
  readonly cuts: number;
  readonly shortest: number;
}

interface Choice {
  readonly cost: readonly number[];
  readonly odd: Pattern;
  readonly even: Pattern;
  readonly sheetOf: readonly number[];
}

/** Layouts of a house: their pieces are asked for one by one, and all of them again for the pile they share. */
const KEPT = 300;
const layouts = new Map<string, SheetLayout | Fault>();

/**
 * Every pair of joint patterns for odd and even courses is tried; the one kept has the fewest joints that are not
 * staggered, then the fewest sheets, end joints and cuts, then the longest shortest piece.
 */
export function layoutSheets(surface: Surface): SheetLayout | Fault {
  const key = Object.values(surface).join(' ');
  const known = layouts.get(key);
  if (known) return known;
  if (layouts.size >= KEPT) layouts.clear();
  const layout = found(surface) ?? layOut(surface);
  layouts.set(key, layout);
  return layout;
}

function found(surface: Surface): Fault | undefined {
  const sizes: [string, number][] = [
    ['length of the surface', surface.length],
    ['height of the surface', surface.height],
    ['length of the sheet', surface.sheetLength],
    ['width of the sheet', surface.sheetWidth],
  ];
  for (const [what, size] of sizes) {
    if (!(size > 0)) return fault(`The ${what} is ${lengthInWords(size)}.`, 'Type a size above zero.');
    if (size > LARGEST)
      return fault(
        `The ${what} is ${lengthInWords(size)}.`,
        `Lay out surfaces over ${written('196 ft')} in parts.`,
      );
  }
  if (surface.sheetLength < surface.sheetWidth)
    return fault('The sheet is wider than it is long.', 'Exchange its width and its length.');
  if (surface.sheetWidth < INCH * 12)
    return fault('The sheet is under a foot wide.', 'Check the unit of the sheet’s width.');
  if (surface.direction !== 'along' && surface.direction !== 'up')
    return fault(`“${surface.direction}” is not a direction of sheets.`, 'Write along or up.');
  if (surface.framing < FRAMING_FROM - ROUNDING || surface.framing > FRAMING_TO + ROUNDING)
    return fault(
      `Framing at ${lengthInWords(surface.framing)} on centre is outside ${written('6"')} to ${written('48"')}.`,
      'Type the spacing of the studs, joists or strapping that take the screws.',
    );
  if (surface.direction === 'up' && surface.framing > surface.sheetWidth + ROUNDING)
    return fault(
      `Framing at ${lengthInWords(surface.framing)} is wider than the sheet: its edges would find none.`,
      'Turn the sheets (along), or add backing and type its spacing.',
    );
  if (!(surface.stagger >= 0))
    return fault('The stagger is negative.', 'Type the least distance of end joints, or 0.');
  return undefined;
}

function layOut(surface: Surface): SheetLayout {
  const { framing, sheetLength, sheetWidth, stagger } = surface;
  const up = surface.direction === 'up';
  const run = up ? surface.height : surface.length;
  const rise = up ? surface.length : surface.height;
  // Upright sheets meet on framing; lying ones end on it.
  const courseWidth = up ? Math.floor(sheetWidth / framing + ROUNDING) * framing : sheetWidth;
  const widths = courseWidths(rise, courseWidth);
  const sheet: Cut = { length: sheetLength, width: sheetWidth };
  const patterns = patternsOf(run, sheetLength, up ? 0 : framing);

  const alone = patterns.map((pattern) => widths.map((width) => cutSheets(cutsOf(pattern, width), sheet)));
  const least = Math.ceil((run * rise) / (sheetLength * sheetWidth) - ROUNDING);

  let best: Choice | undefined;
  for (const [o, odd] of patterns.entries())
    for (const [e, even] of patterns.entries()) {
      if (widths.length === 1 && o !== e) continue;
      const tight = unstaggered(odd, even, stagger, widths.length);
      const odds = Math.ceil(widths.length / 2);
      const evens = widths.length - odds;
      const rest = [
        odds * odd.lengths.length + evens * even.lengths.length,
        odds * odd.cuts + evens * even.cuts,
        -Math.min(odd.shortest, even.shortest),
      ];
      // Cutting is the costly step: only for what could be better than the best so far.
      if (best && !less([tight, least, ...rest], best.cost)) continue;
      const cutting = fewest(
        widths.map((width, at) => cutsOf(at % 2 === 0 ? odd : even, width)),
        widths.map((_, at) => alone[at % 2 === 0 ? o : e]?.[at] ?? { sheets: 0, sheetOf: [] }),
        sheet,
      );
      const cost = [tight, cutting.sheets, ...rest];
      if (!best || less(cost, best.cost)) best = { cost, odd, even, sheetOf: cutting.sheetOf };
    }
  if (!best) throw new Error('a surface has at least one pattern');

  const pieces: SheetPiece[] = [];
  let top = up ? 0 : rise;
  let endJoint = 0;
  for (const [at, width] of widths.entries()) {
    const { joints, lengths } = at % 2 === 0 ? best.odd : best.even;
    if (!up) top -= width;
    lengths.forEach((length, i) => {
      const along = joints[i - 1] ?? 0;
      const sheetNumber = best.sheetOf[pieces.length] ?? 0;
      pieces.push(
        up
          ? { x: top, y: along, width, height: length, sheet: sheetNumber }
          : { x: along, y: Math.max(0, top), width: length, height: width, sheet: sheetNumber },
      );
    });
    endJoint += joints.length * width;
    if (up) top += width;
  }
  return {
    sheets: best.cost[1] ?? 0,
    wholeSheets: widths.length * Math.min(...patterns.map((pattern) => wholeSheets(pattern, sheetLength))),
    courses: widths.length,
    pieces,
    edgeJoint: (widths.length - 1) * run,
    endJoint,
    unstaggered: best.cost[0] ?? 0,
  };
}

/** Full courses first; what is left is ripped. */
function courseWidths(rise: number, width: number): number[] {
  const widths: number[] = [];
  for (let left = rise; left > ROUNDING; left -= width) widths.push(Math.min(width, left));
  return widths;
}

/** Every way to begin a course whose joints lie on framing (`grid`; 0: anywhere); longest pieces after the first. */
function patternsOf(run: number, sheetLength: number, grid: number): Pattern[] {
  if (run <= sheetLength + ROUNDING) return [patternOf([], run, sheetLength)];
  const step = grid > 0 ? Math.floor(sheetLength / grid + ROUNDING) * grid : sheetLength;
  const firsts = new Set<number>([step]);
  if (grid > 0) for (let first = grid; first < step - ROUNDING; first += grid) firsts.add(first);
  else {
    for (const part of [1 / 4, 1 / 3, 1 / 2, 2 / 3, 3 / 4]) firsts.add(part * step);
    const rest = run - Math.floor(run / step + ROUNDING) * step;
    if (rest > ROUNDING) firsts.add(rest);
  }
  return [...firsts].map((first) => {
    const joints: number[] = [];
    let at = first;
    for (; run - at > sheetLength + ROUNDING; at += step) joints.push(at);
    if (run - at > ROUNDING) joints.push(at);
    return patternOf(joints, run, sheetLength);
  });
}

function patternOf(joints: readonly number[], run: number, sheetLength: number): Pattern {
  const ends = [...joints, run];
  const lengths = ends.map((end, i) => end - (ends[i - 1] ?? 0));
  const cuts = lengths.filter((length) => length < sheetLength - ROUNDING).length;
  return { joints, lengths, cuts, shortest: Math.min(...lengths) };
}

/** Sheets of one course that uses its own offcuts only. */
function wholeSheets(pattern: Pattern, sheetLength: number): number {
  return cutSheets(
    pattern.lengths.map((length) => ({ length, width: 1 })),
    { length: sheetLength, width: 1 },
  ).sheets;
}

function unstaggered(odd: Pattern, even: Pattern, stagger: number, courses: number): number {
  if (courses === 1) return 0;
  const near = odd.joints.filter((joint) =>
    even.joints.some((other) => Math.abs(joint - other) < stagger - ROUNDING),
  );
  return near.length * (courses - 1);
}

function cutsOf({ lengths }: Pattern, width: number): Cut[] {
  return lengths.map((length) => ({ length, width }));
}

/** All courses from one heap of offcuts, or each from its own where that takes fewer sheets. */
function fewest(courses: readonly (readonly Cut[])[], alone: readonly Cutting[], sheet: Cut): Cutting {
  const together = cutSheets(courses.flat(), sheet);
  if (alone.reduce((total, course) => total + course.sheets, 0) >= together.sheets) return together;
  let sheets = 0;
  const sheetOf: number[] = [];
  for (const course of alone) {
    for (const number of course.sheetOf) sheetOf.push(number + sheets);
    sheets += course.sheets;
  }
  return { sheets, sheetOf };
}

function less(a: readonly number[], b: readonly number[]): boolean {
  const at = a.findIndex((value, i) => Math.abs(value - (b[i] ?? NaN)) > ROUNDING);
  return at >= 0 && (a[at] ?? NaN) < (b[at] ?? NaN);
}
