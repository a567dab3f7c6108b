/**
 * The units that the workbook adds to those of mathjs, or sets right, or shows differently. A unit is one row.
 * Rows win over mathjs, whose psi, hp, kip, acre, torr and electronvolt are rounded.
 */

export type UnitSystem = 'us' | 'si';

export interface UnitRow {
  /** The first is the canonical spelling; all are accepted. */
  readonly symbols: readonly [string, ...string[]];
  /** As shown; absent: the first symbol. */
  readonly show?: string;
  /** One of this unit is `factor` of the unit expression `of` (in terms of mathjs's units or of other rows). */
  readonly factor: number;
  readonly of: string;
  /** Present on temperature readings: SI = v · factor + offset. */
  readonly offset?: number;
  /** Present where the unit opens a base dimension of its own. */
  readonly base?: 'money';
  readonly system: UnitSystem | 'both';
  /** What the US/SI toggle shows in its place, as a unit expression. */
  readonly counterpart?: string;
  readonly source: string;
}

const SP811 = 'NIST SP 811 (2008), appendix B';
const EXACT = `exact: international yard and pound; ${SP811}`;
const SI = 'SI Brochure, 9th edition (2019)';
const NAMED = 'exact by definition';

function us(
  symbols: UnitRow['symbols'],
  factor: number,
  of: string,
  counterpart: string,
  source: string,
  show?: string,
): UnitRow {
  return { symbols, factor, of, system: 'us', counterpart, source, ...(show === undefined ? {} : { show }) };
}

function si(
  symbols: UnitRow['symbols'],
  factor: number,
  of: string,
  counterpart: string,
  show?: string,
): UnitRow {
  return {
    symbols,
    factor,
    of,
    system: 'si',
    counterpart,
    source: SI,
    ...(show === undefined ? {} : { show }),
  };
}

function both(
  symbols: UnitRow['symbols'],
  factor: number,
  of: string,
  source: string,
  show?: string,
): UnitRow {
  return { symbols, factor, of, system: 'both', source, ...(show === undefined ? {} : { show }) };
}

export const UNIT_ROWS: readonly UnitRow[] = [
  // Length
  us(['ft', 'foot', 'feet', 'Ft', 'FT'], 0.3048, 'meter', 'm', EXACT),
  us(['in', 'inch', 'inches', 'IN'], 0.0254, 'meter', 'mm', EXACT),
  us(['yd', 'yard', 'yards'], 0.9144, 'meter', 'm', EXACT),
  us(['mi', 'mile', 'miles'], 1609.344, 'meter', 'km', EXACT),
  us(['rd', 'rod', 'rods'], 16.5, 'ft', 'm', 'exact: 16.5 international feet'),
  us(
    [
      'lf',
      'LF',
      'lineal_foot',
      'lineal_feet',
      'lineal_ft',
      'linear_foot',
      'linear_feet',
      'linear_ft',
      'lin_ft',
    ],
    1,
    'ft',
    'm',
    NAMED,
  ),
  si(['m', 'metre', 'metres', 'meter', 'meters'], 1, '', 'ft'),
  si(['mm', 'millimetre', 'millimeter'], 0.001, 'm', 'in'),
  si(['cm', 'centimetre', 'centimeter'], 0.01, 'm', 'in'),
  si(['km', 'kilometre', 'kilometer'], 1000, 'm', 'mi'),

  // Area and volume
  us(['ft2', 'sqft', 'sqfeet', 'sf', 'SF'], 0.09290304, 'm2', 'm2', EXACT, 'ft²'),
  us(['in2', 'sqin'], 0.00064516, 'm2', 'cm2', EXACT, 'in²'),
  us(['acre', 'acres'], 43560, 'ft2', 'hectare', 'exact: 43,560 international square feet'),
  si(['hectare', 'hectares', 'ha'], 10000, 'm2', 'acre', 'ha'),
  us(['ft3', 'cuft'], 0.028316846592, 'm3', 'm3', EXACT, 'ft³'),
  us(['gal', 'gallon', 'gallons'], 231, 'in^3', 'L', `exact: 231 cubic inches (US liquid gallon); ${SP811}`),
  us(['qt', 'quart', 'quarts'], 0.25, 'gal', 'L', NAMED),
  us(['floz', 'fluidounce', 'fluidounces'], 0.0078125, 'gal', 'mL', NAMED),
  us(
    ['board_foot', 'board_feet', 'board_ft', 'bd_ft', 'bdft', 'bf', 'BF', 'fbm'],
    144,
    'in^3',
    'm3',
    'exact: 1 ft × 1 ft × 1 in; American Softwood Lumber Standard, DOC PS 20',
    'bd ft',
  ),
  si(['L', 'l', 'litre', 'liter', 'litres', 'liters'], 0.001, 'm^3', 'gal'),
  si(['mL', 'ml'], 1e-6, 'm^3', 'floz'),

  // Mass
  us(['lb', 'lbs', 'lbm', 'pound', 'pounds', 'poundmass', 'poundmasses'], 0.45359237, 'kg', 'kg', EXACT),
  us(['oz', 'ounce', 'ounces'], 0.0625, 'lb', 'g', EXACT),
  us(['ton', 'tons'], 2000, 'lb', 't', `exact: short ton; ${SP811}`),
  us(['grain', 'grains', 'gr'], 64.79891e-6, 'kg', 'g', `exact: 1/7000 lb; ${SP811}`),
  si(['kg', 'kilogram', 'kilograms'], 1, '', 'lb'),
  si(['g', 'gram', 'grams'], 0.001, 'kg', 'grain'),
  si(['t', 'tonne', 'tonnes'], 1000, 'kg', 'ton'),

  // Time and rate
  both(['s', 'sec', 'secs', 'second', 'seconds'], 1, '', SI),
  both(['min', 'mins', 'minute', 'minutes'], 60, 's', SI),
  both(['h', 'hr', 'hrs', 'hour', 'hours'], 3600, 's', SI),
  both(['day', 'days'], 86400, 's', SI),
  both(['ACH', 'ach'], 1, '1/h', 'exact by definition: air changes per hour', '1/h'),

  // Flow and speed
  us(['cfm', 'CFM'], 1, 'ft3/min', 'm3/h', EXACT),
  us(['cfh', 'CFH'], 1, 'ft3/h', 'm3/h', EXACT),
  us(['fpm', 'FPM'], 1, 'ft/min', 'm/s', EXACT, 'ft/min'),
  us(['mph', 'MPH'], 1, 'mi/h', 'm/s', EXACT),
  us(['gpm', 'GPM'], 1, 'gal/min', 'L/min', NAMED),
  si(['lps', 'LPS'], 1, 'L/s', 'cfm', 'L/s'),
  si(['cmh', 'CMH'], 1, 'm3/h', 'cfm', 'm³/h'),

  // Force and pressure
  us(['lbf', 'poundforce'], 4.4482216152605, 'newton', 'N', `exact: 1 lb × 9.80665 m/s²; ${SP811}`),
  us(['kip', 'kips'], 1000, 'lbf', 'kN', NAMED),
  si(['N', 'newton', 'newtons'], 1, 'kg m/s^2', 'lbf'),
  si(['kN'], 1000, 'N', 'kip'),
  us(['plf', 'PLF'], 1, 'lbf/ft', 'N/m', NAMED, 'lbf/ft'),
  us(['psf', 'PSF'], 1, 'lbf/ft2', 'Pa', NAMED, 'lbf/ft²'),
  us(['psi', 'PSI'], 1, 'lbf/in^2', 'kPa', NAMED),
  us(['ksi', 'KSI'], 1000, 'psi', 'kPa', NAMED),
  us(['pcf', 'PCF'], 1, 'lb/ft3', 'kg/m3', NAMED, 'lb/ft³'),
  us(
    ['inH2O', 'inWC', 'inwc', 'inWG', 'inwg', 'iwc', 'in_H2O', 'in_WC', 'in_wc', 'in_WG', 'in_wg'],
    249.08891,
    'Pa',
    'Pa',
    `exact: 0.0254 m × 1000 kg/m³ × 9.80665 m/s²; ${SP811}: inch of water, conventional`,
  ),
  us(['inHg', 'inhg', 'in_Hg'], 3386.389, 'Pa', 'kPa', `${SP811}: inch of mercury, conventional`),
  both(['mmHg', 'mmhg'], 133.3224, 'Pa', `${SP811}: millimetre of mercury, conventional`),
  both(['torr'], 101325 / 760, 'Pa', `exact: 1/760 atm; ${SP811}`),
  both(['Pa', 'pascal', 'pascals'], 1, 'N/m^2', SI),
  si(['kPa'], 1000, 'Pa', 'psi'),
  both(['mbar', 'hPa'], 100, 'Pa', SI),

  // Energy and heat
  us(
    ['Btu', 'BTU', 'btu', 'BTUs'],
    1055.05585262,
    'joule',
    'kJ',
    `${SP811}: British thermal unit, International Table`,
  ),
  us(['hp', 'horsepower'], 550, 'ft lbf/s', 'kW', `exact: 550 ft·lbf/s; ${SP811}`),
  us(
    ['refrigeration_ton', 'ton_refrigeration'],
    12000,
    'Btu/h',
    'kW',
    `${SP811}: ton of refrigeration, 12,000 Btu/h`,
    'refrigeration ton',
  ),
  us(['therm', 'therms'], 1e5, 'Btu', 'kWh', `${SP811}: therm (EC), 100,000 Btu`),
  si(['J', 'joule', 'joules'], 1, 'N m', 'Btu'),
  si(['kJ'], 1000, 'J', 'Btu'),
  si(['MJ'], 1e6, 'J', 'Btu'),
  both(['eV', 'electronvolt', 'electronvolts'], 1.602176634e-19, 'J', SI),
  us(['R_IP', 'R_ip'], 1, 'h ft2 degF/Btu', 'm2 K/W', `${SP811}: thermal insulance`, 'h·ft²·°F/Btu'),
  si(['R_SI', 'RSI', 'R_si'], 1, 'm2 K/W', 'h ft2 degF/Btu', 'm²·K/W'),
  us(
    ['U_IP', 'U_ip'],
    1,
    'Btu/(h ft2 degF)',
    'W/(m2 K)',
    `${SP811}: coefficient of heat transfer`,
    'Btu/(h·ft²·°F)',
  ),
  si(['U_SI', 'U_si'], 1, 'W/(m2 K)', 'Btu/(h ft2 degF)', 'W/(m²·K)'),

  // Vapour. The perm depends on the temperature at which its inch of mercury is taken.
  us(
    ['perm', 'perms'],
    1,
    'grain/(h ft2 inHg)',
    'ng/(s m2 Pa)',
    `grain/(h ft² inHg), mercury at 0 °C; ${SP811}: perm (0 °C)`,
  ),
  us(['perm_23C'], 5.74525e-11, 'kg/(s m2 Pa)', 'ng/(s m2 Pa)', `${SP811}: perm (23 °C)`, 'perm_23C'),
  us(
    ['perm_in', 'perm_inch'],
    1,
    'perm*in',
    'ng/(s m Pa)',
    `grain/(h ft² inHg) × inch, mercury at 0 °C; ${SP811}: perm inch (0 °C)`,
    'perm·in',
  ),
  si(['perm_SI', 'perm_si'], 1e-12, 'kg/(s m2 Pa)', 'perm', 'ng/(s·m²·Pa)'),

  // Temperature. A reading has an offset; a difference has none. In a compound unit degC and degF are differences.
  {
    symbols: ['degC', '°C', '℃', 'celsius', 'deg_C', 'degrees_C', 'degrees_celsius', 'degrees_Celsius'],
    show: '°C',
    factor: 1,
    of: 'K',
    offset: 273.15,
    system: 'si',
    counterpart: 'degF',
    source: SI,
  },
  {
    symbols: [
      'degF',
      '°F',
      '℉',
      'fahrenheit',
      'deg_F',
      'degrees_F',
      'degrees_fahrenheit',
      'degrees_Fahrenheit',
    ],
    show: '°F',
    factor: 5 / 9,
    of: 'K',
    offset: (459.67 * 5) / 9,
    system: 'us',
    counterpart: 'degC',
    source: SP811,
  },
  si(['K', 'kelvin'], 1, '', 'Fdeg'),
  si(['Cdeg', 'Δ°C', 'deltaC'], 1, 'K', 'Fdeg', 'Δ°C'),
  us(['Fdeg', 'Δ°F', 'deltaF'], 5 / 9, 'K', 'Cdeg', SP811, 'Δ°F'),
  us(['degR', '°R', 'rankine'], 5 / 9, 'K', 'K', SP811, '°R'),

  // Plain numbers and money
  both(['%', 'percent'], 0.01, '', NAMED),
  both(['ppm'], 1e-6, '', NAMED),
  both(['each', 'ea'], 1, '', NAMED),
  both(['deg', 'degree', 'degrees', '°'], Math.PI / 180, '', SI, '°'),
  both(['ohm', 'ohms', '\u03a9', '\u2126'], 1, 'V/A', SI, 'Ω'),
  {
    symbols: ['$', 'usd', 'USD', 'dollar', 'dollars'],
    factor: 1,
    of: '',
    base: 'money',
    system: 'both',
    source: 'money: one base dimension, no exchange rates',
  },
];

/** Whole expressions that the toggle changes as one; all others change symbol by symbol. The first US form wins. */
export const COUNTERPARTS: readonly (readonly [us: string, si: string])[] = [
  ['cfm', 'm3/h'],
  ['cfm', 'L/s'],
  ['cfm', 'm3/s'],
  ['cfm/ft2', 'm3/(h m2)'],
  ['cfm/ft2', 'L/(s m2)'],
  ['in2', 'cm2'],
  ['mph', 'm/s'],
  ['mph', 'km/h'],
  ['ft/min', 'm/s'],
  ['Btu/h', 'W'],
  ['Btu/(h ft2)', 'W/m2'],
  ['Btu/(h degF)', 'W/K'],
  ['Btu/(h ft2 degF)', 'W/(m2 K)'],
  ['h ft2 degF/Btu', 'm2 K/W'],
  ['Btu/(h ft degF)', 'W/(m K)'],
  ['Btu in/(h ft2 degF)', 'W/(m K)'],
  ['Btu/(lb degF)', 'kJ/(kg K)'],
  ['Btu/lb', 'kJ/kg'],
  ['grain/lb', 'g/kg'],
  ['W/cfm', 'W/(m3/h)'],
  ['cfm/W', 'm3/(h W)'],
  ['perm', 'ng/(s m2 Pa)'],
  ['perm in', 'ng/(s m Pa)'],
];

/** What a value of a dimension is shown in when its cell names no unit; the rest are offered beside it. */
export const EVERYDAY: readonly {
  readonly us: string;
  readonly si: string;
  readonly also?: readonly string[];
}[] = [
  { us: 'ft', si: 'm', also: ['in', 'mm', 'cm', 'yd', 'lf'] },
  { us: 'ft2', si: 'm2', also: ['in2', 'cm2', 'acre'] },
  { us: 'ft3', si: 'm3', also: ['gal', 'L', 'board_foot'] },
  { us: 'cfm', si: 'm3/h', also: ['L/s', 'm3/s'] },
  { us: 'cfm/ft2', si: 'm3/(h m2)', also: ['ft/min', 'm/s', 'mph', 'km/h', 'L/(s m2)'] },
  { us: 'Pa', si: 'Pa', also: ['inH2O', 'kPa', 'psi', 'inHg', 'psf', 'hPa'] },
  { us: '1/h', si: '1/h', also: ['1/min', '1/s'] },
  { us: '', si: '', also: ['%', 'ppm', 'deg', 'each'] },
  { us: 'h', si: 'h', also: ['min', 's', 'day'] },
  { us: 'lb', si: 'kg', also: ['oz', 'g', 'grain', 'ton', 't'] },
  { us: 'lbf', si: 'N', also: ['kip', 'kN'] },
  { us: 'Btu', si: 'kWh', also: ['kJ', 'J'] },
  { us: 'Btu/h', si: 'W', also: ['kW', 'hp'] },
  { us: 'lb/ft3', si: 'kg/m3' },
  { us: 'lb/h', si: 'kg/h', also: ['kg/s', 'grain/h'] },
  { us: 'lb/ft2', si: 'kg/m2' },
  { us: 'lbf/ft', si: 'N/m' },
  { us: 'Btu/(h ft2)', si: 'W/m2', also: ['W/ft2'] },
  { us: 'Btu/(h ft2 degF)', si: 'W/(m2 K)' },
  { us: 'h ft2 degF/Btu', si: 'm2 K/W' },
  { us: 'Btu/(h ft degF)', si: 'W/(m K)' },
  { us: 'Btu/(h degF)', si: 'W/K' },
  { us: 'Btu/(lb degF)', si: 'kJ/(kg K)' },
  { us: 'Btu/lb', si: 'kJ/kg' },
  { us: 'perm', si: 'ng/(s m2 Pa)' },
  { us: '$', si: '$' },
  { us: '$/ft', si: '$/m' },
  { us: '$/ft2', si: '$/m2' },
  { us: '$/ft3', si: '$/m3' },
  { us: '$/h', si: '$/h' },
  { us: '1/ft', si: '1/m' },
  { us: '1/ft2', si: '1/m2' },
  { us: 'in4', si: 'cm4' },
];
