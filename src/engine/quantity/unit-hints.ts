/** Words that people write for units and that are none here: what to write instead. */
import { closest } from './spelling.ts';
import { composeUnit, resolveWord, unitWords } from './unit.ts';
import type { Unit } from './unit.ts';
import { scanExpression } from './unit-expression.ts';

export interface UnitHint {
  /** A unit that can be read; absent where no unit is meant. */
  readonly write?: string;
  /** What else there is to know. */
  readonly note?: string;
}

/** Unit, the words that are meant for it (capitals make no difference), and what has to be said beside it. */
const MISWRITTEN: readonly (readonly [write: string, words: string, note?: string])[] = [
  ['L/s', 'ls lsec l_s'],
  ['L/min', 'lpm lmin'],
  ['m3/h', 'm3h m3hr m3_h cumh cbmh'],
  ['m3/min', 'cmm'],
  ['m3/s', 'm3s'],
  ['cfm', 'cfpm cfms ft3min cuftmin'],
  ['cfm', 'scfm acfm', 'Of which air it is belongs in the name or the note'],
  ['cfm', 'kcfm', '1 kcfm is 1000 cfm'],
  ['gal/h', 'gph'],
  ['gal/day', 'gpd'],
  ['ACH', 'acph achr'],
  ['ACH', 'ac', 'It stands for air changes per hour; an acre is written out'],
  ['1/min', 'rpm'],
  ['1/h', 'per', 'That is per hour'],
  ['ft/s', 'fps'],
  ['m/s', 'mps'],
  ['km/h', 'kph kmh kmph'],
  ['km/h', 'knot knots kt kts', '1 knot is 1.852 km/h'],
  ['lf', 'lft lnft linft lin rft'],
  ['m', 'mtr mtrs rm lm'],
  ['mil', 'mils thou thous'],
  ['in2', 'sqinch sqinches square_inch square_inches'],
  ['ft2', 'sft sqf square_foot square_feet squarefoot squarefeet'],
  ['ft2', 'sq square squares', 'A square of roofing is 100 ft2'],
  ['yd2', 'sy square_yard square_yards'],
  ['m2', 'sqm sq_m qm square_metre square_meter square_metres square_meters'],
  ['ft3', 'cf cft cubic_foot cubic_feet cubicfoot cubicfeet'],
  ['ft3', 'ccf', '1 ccf is 100 ft3'],
  ['ft3', 'mcf', '1 Mcf is 1000 ft3'],
  ['yd3', 'cy cu_yd cubic_yard cubic_yards'],
  ['m3', 'cum cu_m cbm cubic_metre cubic_meter cubic_metres cubic_meters cubicmetres cubicmeters'],
  ['board_foot', 'bd bdf bft boardfoot boardfeet'],
  ['board_foot', 'mbf mbm', '1 MBF is 1000 of them'],
  ['L', 'ltr ltrs'],
  ['gal', 'gals usgal'],
  ['g', 'gm gms'],
  ['grain', 'grs'],
  ['day', 'd dy'],
  ['week', 'wk wks'],
  ['year', 'yr yrs'],
  ['inH2O', 'wc wg inwater inchwc inchesh2o'],
  ['Btu/h', 'btuh btuhr'],
  ['Btu/h', 'mbh mbtuh', '1 MBH is 1000 Btu/h'],
  ['Btu', 'mbtu mmbtu', 'Write the number out: M is read as a thousand and as a million'],
  ['R_IP', 'r rvalue r_value', 'That is h·ft²·°F/Btu; R_SI is m²·K/W'],
  ['U_IP', 'u uvalue u_value ufactor u_factor', 'That is Btu/(h·ft²·°F); U_SI is W/(m²·K)'],
  ['perm', 'us_perm'],
  ['perm_SI', 'metric_perm', 'That is ng/(s·m²·Pa)'],
  ['degF', 'f degreef degreesf degree_f fahr'],
  ['degC', 'c degreec degreesc degree_c centigrade'],
  ['Fdeg', 'δf', 'That is a difference'],
  ['Cdeg', 'δc', 'That is a difference'],
  ['degF day', 'hdd cdd hdd65 cdd65 hdd60 degday degdays degreeday degreedays', 'Or degC day'],
  ['%', 'pct pcent'],
  ['%', 'rh', 'Relative humidity is a percentage'],
  ['ppm', 'ppb', '1 ppb is 0.001 ppm'],
  ['$', 'cent cents ¢', '1 cent is 0.01 $'],
  ['$', 'eur euro euros gbp chf cad aud € £', 'Money has one unit in a workbook, whatever the currency'],
  ['ft', "' ′"],
  ['in', '" ″'],
  ['lb', '#'],
];

/** Things that are counted: no unit. */
const COUNTED = new Set(
  (
    'pc pcs piece pieces no nos nr qty count ct unit units sheet sheets board boards bag bags box boxes ' +
    'roll rolls stick sticks stud studs tube tubes bucket buckets bundle bundles screw screws set sets ' +
    'pair pairs person persons people room rooms window windows door doors item items'
  ).split(' '),
);

/** Sides of a rectangle, as holes and openings are called out: 4 x 6, 4 in by 6 in. */
const SIDES = /^(?:x|by)(?:\d.*)?$/u;

const HINTS: ReadonlyMap<string, UnitHint> = new Map(
  MISWRITTEN.flatMap(([write, words, note]) =>
    words.split(' ').map((word) => [word, note === undefined ? { write } : { write, note }] as const),
  ),
);

/** Units with prefixes of which only the capitals go wrong. */
const PREFIXED = 'kW kWh MWh kPa MPa hPa kN kJ MJ GJ mA kHz mg ng µm mL dL cL'.split(' ');

/** A unit with the pressure of a test behind it: cfm50, ACH25. */
const AT_PRESSURE = /^(\p{L}+(?:[23]\p{L}+)?)_?(\d{1,2}(?:\.\d)?)$/u;

/** What `word`, which is no unit, was probably meant for: a known miswriting, else the nearest unit. */
export function unitHint(word: string): UnitHint | undefined {
  const known = miswritten(word);
  if (known !== undefined) return known;
  const near = closest(word, unitWords());
  return near === undefined ? undefined : { write: near };
}

/** Flows of the volumes that people write for them, `18 cf` on a gauge that shows cfm. */
const FLOW_OF: ReadonlyMap<string, string> = new Map([
  ['ft3', 'cfm'],
  ['m3', 'm3/h'],
  ['L', 'L/s'],
]);

/** The flow that is probably meant by a word for a volume, where a flow is wanted. */
export function flowMeant(word: string, place: Pick<Unit, 'dimension' | 'reading'>): string | undefined {
  const { write, note } = miswritten(word) ?? {};
  const flow = write === undefined || note !== undefined ? undefined : FLOW_OF.get(write);
  if (flow === undefined) return undefined;
  const { expression } = scanExpression(flow, 0, resolveWord, false);
  return expression && composeUnit(flow, expression.terms).dimension === place.dimension ? flow : undefined;
}

/** The same for known miswritings alone. */
export function miswritten(word: string): UnitHint | undefined {
  const lower = word.toLowerCase();
  const known = HINTS.get(lower);
  if (known !== undefined) return known;
  if (COUNTED.has(lower))
    return { note: 'what is counted is a plain number: leave the unit empty, or write each' };
  if (SIDES.test(lower)) return { note: 'one value goes in: a hole of 4 in by 6 in is 24 in2' };
  const same = PREFIXED.find((unit) => unit.toLowerCase() === lower);
  if (same !== undefined) return { write: same };
  const [, flow = '', pressure = ''] = AT_PRESSURE.exec(word) ?? [];
  // ft5 is a mistyped power, not a length at 5 Pa.
  if (Number(pressure) >= 4 && pressure !== '4') {
    const unit = resolvable(flow.toLowerCase() === 'n' ? 'ACH' : flow);
    if (unit !== undefined && FLOWS.has(unit))
      return { write: unit, note: `That it is at ${pressure} Pa belongs in the name or the note` };
  }
  return undefined;
}

/**
 * The unit that is meant beyond doubt by what stands behind a number, where a quantity like `place` is wanted: `cf`
 * where a volume goes in, `CFM50` where a flow does, `Pascal` or `pa` where a pressure does. What needs a word, as
 * 1 kcfm is 1000 cfm, stays a question.
 */
export function meantAs(text: string, place: Pick<Unit, 'dimension' | 'reading'>): string | undefined {
  const [, word = '', behind = ''] = /^\s*(\p{L}[\p{L}\d_]*)(\s*±.*)?$/u.exec(text) ?? [];
  if (word === '' || resolveWord(word) !== undefined) return undefined;
  const fits = (name: string) => {
    const found = resolveWord(name);
    if (found === undefined) return false;
    const { dimension, reading } = composeUnit(name, [found]);
    return dimension === place.dimension && reading === place.reading;
  };
  const hint = miswritten(word);
  if (hint !== undefined) {
    const isSure = hint.note === undefined || AT_PRESSURE.test(word);
    return isSure && hint.write !== undefined && fits(hint.write) ? `${hint.write}${behind}` : undefined;
  }
  const lower = word.toLowerCase();
  const same = unitWords().filter((name) => name.toLowerCase() === lower && fits(name));
  return same.length === 1 && same[0] !== undefined ? `${same[0]}${behind}` : undefined;
}

/** `did you mean cfm? 1 kcfm is 1000 cfm`, or nothing. */
export function saidOfHint({ write, note }: UnitHint): string {
  const meant = write === undefined ? [] : [`did you mean ${write}?`];
  return [...meant, ...(note === undefined ? [] : [note])].join(' ');
}

const FLOWS = new Set(['cfm', 'm3/h', 'L/s', 'ACH']);

/** The flow unit that a word stands for. */
function resolvable(word: string): string | undefined {
  const hint = HINTS.get(word.toLowerCase())?.write;
  if (hint !== undefined) return hint;
  return resolveWord(word)?.symbol.canonical ?? closest(word, unitWords());
}

/** Symbols of SI beside the words that people mean with them. */
const TAKEN_FOR: readonly (readonly [pattern: RegExp, instead: string])[] = [
  [/(?<![\p{L}°])[FC](?!\p{L})/gu, 'deg$&'],
  [/(?<![\p{L}°])[FC](?!\p{L})/gu, '$&deg'],
  [/^RH$/u, '%'],
  [/^H(?!\p{L})|(?<=\/)H(?!\p{L})/gu, 'h'],
  [/^S(?!\p{L})|(?<=\/)S(?!\p{L})/gu, 's'],
  [/^PA$/u, 'Pa'],
];

/**
 * Where a value in `typed` stands and one like `place` has to: the text that was probably meant. F is the farad, C
 * the coulomb, H the henry; who writes them beside a temperature or a time means degrees and hours.
 */
export function meantFor(typed: string, place: Pick<Unit, 'dimension' | 'reading'>): string | undefined {
  for (const [pattern, instead] of TAKEN_FOR) {
    const written = typed.replace(pattern, instead);
    if (written === typed) continue;
    const { expression } = scanExpression(written, 0, resolveWord, false);
    if (expression?.end !== written.length) continue;
    const unit = composeUnit(written, expression.terms);
    if (unit.dimension === place.dimension && unit.reading === place.reading) return written;
  }
  return undefined;
}
