/**
 * What each kind of figure is for and what it is drawn from: asked of whoever makes one. A test holds the list
 * against the kinds and their samples.
 */

export interface FigureRole {
  readonly role: string;
  readonly label: string;
  readonly takes: 'cell' | 'column' | 'either';
  /** Absent: words and numbers alike. */
  readonly holds?: 'number' | 'text';
  /** A unit of the dimension that it must have. */
  readonly unit?: string;
  /** Another role, whose dimension it must have. */
  readonly like?: string;
  readonly required?: true;
  /** May be bound several times: `target`, `target_2` … */
  readonly many?: true;
  /** Columns with the same word here stand in one table. */
  readonly beside?: string;
}

export interface FigureNeeds {
  /** What it shows, in one line. */
  readonly about: string;
  readonly roles: readonly FigureRole[];
}

type More = Omit<FigureRole, 'role' | 'label' | 'takes'>;

function cell(role: string, label: string, more: More = { holds: 'number' }): FigureRole {
  return { role, label, takes: 'cell', ...more };
}

function column(role: string, label: string, more: More = {}): FigureRole {
  return { role, label, takes: 'column', ...more };
}

const NUMBER = { holds: 'number' } as const;
const TARGET = cell('target', 'Target to stay under', { holds: 'number', like: 'value', many: true });

const NEEDS: ReadonlyMap<string, FigureNeeds> = new Map<string, FigureNeeds>([
  [
    'points',
    {
      about: 'One column against another, with the ± of both.',
      roles: [
        column('x', 'Across', { ...NUMBER, required: true, beside: 'points' }),
        column('y', 'Up', {
          ...NUMBER,
          like: 'y',
          required: true,
          many: true,
          beside: 'points',
        }),
        cell('target', 'A level to compare with', { holds: 'number', like: 'y', many: true }),
      ],
    },
  ],
  [
    'bars',
    {
      about: 'Amounts side by side, one a row of a table.',
      roles: [
        column('value', 'Amount', { ...NUMBER, required: true, beside: 'rows' }),
        column('label', 'What stands beside each bar', { beside: 'rows' }),
        cell('target', 'A level to compare with', { holds: 'number', like: 'value', many: true }),
      ],
    },
  ],
  [
    'margin',
    {
      about: 'A result with its ± against what it has to stay under, or reach.',
      roles: [
        cell('value', 'Result', { ...NUMBER, required: true }),
        TARGET,
        cell('least', 'Target to reach', { holds: 'number', like: 'value', many: true }),
        cell('low', 'Lower end of its interval', { ...NUMBER, like: 'value' }),
        cell('high', 'Upper end of its interval', { ...NUMBER, like: 'value' }),
        cell('chance', 'Chance that its target is met', { holds: 'number', many: true }),
      ],
    },
  ],
  [
    'ranking',
    {
      about: 'Which inputs the ± of a result comes from, largest first.',
      roles: [cell('value', 'Result with a ±', { ...NUMBER, required: true })],
    },
  ],
  [
    'stages',
    {
      about: 'A result at each stage of the job, against what it has to stay under.',
      roles: [
        column('value', 'Result', { ...NUMBER, required: true, beside: 'stages' }),
        column('stage', 'Name of the stage', { required: true, beside: 'stages' }),
        column('low', 'Lower end of its interval', { ...NUMBER, like: 'value', beside: 'stages' }),
        column('high', 'Upper end of its interval', { ...NUMBER, like: 'value', beside: 'stages' }),
        TARGET,
      ],
    },
  ],
  [
    'power_law_fit',
    {
      about: 'Readings of flow against pressure with the fitted line, on logarithmic axes.',
      roles: [
        column('pressure', 'Pressure of each reading', {
          ...NUMBER,
          unit: 'Pa',
          required: true,
          beside: 'readings',
        }),
        column('flow', 'Flow of each reading', {
          ...NUMBER,
          unit: 'm3/s',
          required: true,
          beside: 'readings',
        }),
        column('residual', 'What each reading is off the line by', { ...NUMBER, beside: 'readings' }),
        column('used', 'Whether it is used', { beside: 'readings' }),
        column('reason', 'Why it is left out', { beside: 'readings' }),
        column('curve_pressure', 'Pressure along the fitted line', {
          ...NUMBER,
          unit: 'Pa',
          beside: 'curve',
        }),
        column('curve_flow', 'Flow along the fitted line', { ...NUMBER, unit: 'm3/s', beside: 'curve' }),
        column('curve_low', 'Lower edge of its band', { ...NUMBER, unit: 'm3/s', beside: 'curve' }),
        column('curve_high', 'Upper edge of its band', { ...NUMBER, unit: 'm3/s', beside: 'curve' }),
        cell('flow50', 'Flow at 50 Pa', { ...NUMBER, unit: 'm3/s' }),
        cell('conditions', 'Of which air the flows are', {}),
        cell('exponent', 'Exponent of the fit'),
        cell('r2', 'r² of the fit'),
      ],
    },
  ],
  [
    'stack',
    {
      about: 'Layers side by side, to scale, and the depth that stands against them.',
      roles: [
        column('layer', 'Name of each layer', { required: true, beside: 'layers' }),
        column('thickness', 'Thickness of each layer', {
          ...NUMBER,
          unit: 'm',
          required: true,
          beside: 'layers',
        }),
        cell('against', 'Depth against them', { ...NUMBER, unit: 'm' }),
        cell('difference', 'What they differ by', { ...NUMBER, unit: 'm' }),
        cell('verdict', 'What it means', {}),
      ],
    },
  ],
  [
    'section',
    {
      about: 'A wall or roof cut through: temperature, dew point and vapour pressure from layer to layer.',
      roles: [
        column('layer', 'Name of each layer', { required: true, beside: 'layers' }),
        column('thickness', 'Thickness', { ...NUMBER, unit: 'm', required: true, beside: 'layers' }),
        column('resistance', 'Thermal resistance', { ...NUMBER, required: true, beside: 'layers' }),
        column('temperature', 'Temperature at its outer face', {
          ...NUMBER,
          unit: 'degC',
          required: true,
          beside: 'layers',
        }),
        column('dew_point', 'Dew point there', { ...NUMBER, unit: 'degC', required: true, beside: 'layers' }),
        column('pressure', 'Vapour pressure there', {
          ...NUMBER,
          unit: 'Pa',
          required: true,
          beside: 'layers',
        }),
        column('saturation', 'Saturation pressure there', {
          ...NUMBER,
          unit: 'Pa',
          required: true,
          beside: 'layers',
        }),
        column('condensing', 'What condenses there', { ...NUMBER, beside: 'layers' }),
        cell('indoor_temperature', 'Temperature indoors', { ...NUMBER, unit: 'degC' }),
        cell('indoor_dew_point', 'Dew point indoors', { ...NUMBER, unit: 'degC' }),
        cell('indoor_pressure', 'Vapour pressure indoors', { ...NUMBER, unit: 'Pa' }),
        cell('month', 'Month shown', {}),
      ],
    },
  ],
  [
    'plan',
    {
      about: 'Boards, beams or openings to scale in a frame, from columns of places and sizes.',
      roles: [
        cell('frame_width', 'Width of the frame', { ...NUMBER, unit: 'm', required: true }),
        cell('frame_height', 'Height of the frame', { ...NUMBER, unit: 'm', required: true }),
        ...rectangles('board', 'outlined'),
        ...rectangles('solid', 'filled'),
        ...rectangles('void', 'opening'),
        ...rectangles('wall', 'wall that juts in'),
        either('line_x', 'Broken line: from the left'),
        either('line_y', 'Broken line: from below'),
      ],
    },
  ],
  [
    'cutting_plan',
    {
      about: 'A cutting plan stick by stick, with a box to tick for each piece.',
      roles: [
        column('profile', 'Profile', { required: true, beside: 'profiles' }),
        column('plan', 'Its plan, as cutting_plan gives it', { required: true, beside: 'profiles' }),
        cell('shown', 'Profile shown', { required: true }),
        column('length', 'Length of the pieces', { ...NUMBER, unit: 'm' }),
        column('status', 'How good the plan is', { beside: 'profiles' }),
        column('problem', 'Why there is no plan', { beside: 'profiles' }),
        column('waste', 'Waste', { ...NUMBER, beside: 'profiles' }),
        cell('kerf', 'Width of the saw cut', { ...NUMBER, unit: 'm' }),
      ],
    },
  ],
  [
    'flow_balance',
    {
      about: 'Supply and exhaust of each unit, and each room’s flow against its design.',
      roles: [
        column('unit', 'Name of each unit', { required: true, beside: 'units' }),
        column('unit_supply', 'Its supply', { ...NUMBER, unit: 'm3/s', required: true, beside: 'units' }),
        column('unit_exhaust', 'Its exhaust', { ...NUMBER, unit: 'm3/s', required: true, beside: 'units' }),
        column('unit_allowed', 'Difference allowed', { ...NUMBER, beside: 'units' }),
        column('unit_verdict', 'Verdict', { beside: 'units' }),
        column('room', 'Name of each room', { required: true, beside: 'rooms' }),
        column('room_unit', 'Unit that serves it', { required: true, beside: 'rooms' }),
        column('room_direction', 'Supply or exhaust', { required: true, beside: 'rooms' }),
        column('room_design', 'Design flow', { ...NUMBER, unit: 'm3/s', required: true, beside: 'rooms' }),
        column('room_measured', 'Measured flow', { ...NUMBER, unit: 'm3/s', beside: 'rooms' }),
      ],
    },
  ],
  [
    'house_flows',
    {
      about: 'The house floor over floor: outdoor air into the rooms and exhaust out of them.',
      roles: [
        column('house_room', 'Rooms of the house', { required: true, beside: 'house' }),
        column('floor', 'Floor of each', { ...NUMBER, beside: 'house' }),
        column('room', 'Rooms with a grille', { required: true, beside: 'rooms' }),
        column('room_direction', 'Supply or exhaust', { required: true, beside: 'rooms' }),
        column('room_unit', 'Unit that serves it', { beside: 'rooms' }),
        column('room_design', 'Design flow', { ...NUMBER, unit: 'm3/s', required: true, beside: 'rooms' }),
        column('room_measured', 'Measured flow', { ...NUMBER, unit: 'm3/s', beside: 'rooms' }),
      ],
    },
  ],
  [
    'fan_and_ducts',
    {
      about: 'A fan’s curve and the ducts it blows into: where they meet is the flow that will run.',
      roles: [
        column('unit', 'Name of each unit', { required: true, beside: 'units' }),
        column('operating_flow', 'Flow that will run', { ...NUMBER, unit: 'm3/s', beside: 'units' }),
        column('operating_pressure', 'Pressure there', { ...NUMBER, unit: 'Pa', beside: 'units' }),
        column('curve_unit', 'Unit of each point of the curve', { required: true, beside: 'curve' }),
        column('curve_flow', 'Flow', { ...NUMBER, unit: 'm3/s', required: true, beside: 'curve' }),
        column('curve_pressure', 'Pressure of the fan', {
          ...NUMBER,
          unit: 'Pa',
          required: true,
          beside: 'curve',
        }),
        column('duct_pressure', 'Pressure of the ducts', {
          ...NUMBER,
          unit: 'Pa',
          required: true,
          beside: 'curve',
        }),
      ],
    },
  ],
  [
    'timeline',
    {
      about: 'Stages of the work from day to day, with the hold points that stand before them.',
      roles: [
        column('stage', 'Name of the stage', { required: true, beside: 'stages' }),
        column('start', 'Its first day', { holds: 'text', required: true, beside: 'stages' }),
        column('finish', 'Its last day', { holds: 'text', required: true, beside: 'stages' }),
        column('days', 'Its days of work', { ...NUMBER, beside: 'stages' }),
        column('point', 'Hold point before it', { beside: 'stages' }),
        column('point_state', 'State of the hold point', { beside: 'stages' }),
        cell('today', 'Today', { holds: 'text' }),
      ],
    },
  ],
]);

function either(role: string, label: string): FigureRole {
  return { role, label, takes: 'either', holds: 'number', unit: 'm' };
}

function rectangles(style: string, word: string): FigureRole[] {
  const length = (end: string, label: string): FigureRole => either(`${style}_${end}`, `${label} (${word})`);
  return [
    length('x', 'From the left'),
    length('y', 'From below'),
    length('width', 'Width'),
    length('height', 'Height'),
    column(`${style}_label`, `Mark (${word})`),
    column(`${style}_note`, `Note (${word})`),
  ];
}

export function figureNeeds(kind: string): FigureNeeds | undefined {
  return NEEDS.get(kind);
}

/** The role that a binding's key is of: `target_2` is of `target`. */
export function roleOf(needs: FigureNeeds, key: string): FigureRole | undefined {
  return (
    needs.roles.find(({ role }) => role === key) ??
    needs.roles.find(({ role, many }) => many && new RegExp(`^${role}_?\\d+$`, 'u').test(key))
  );
}

/** Of a role that may be bound several times only the first is needed. */
export function isNeeded(role: FigureRole, key: string): boolean {
  return role.required === true && key === role.role;
}

/** The keys to ask for: one for each role, one more for a role that may be bound again. */
export function askedKeys(
  needs: FigureNeeds,
  bindings: Readonly<Record<string, string>>,
): { readonly key: string; readonly role: FigureRole }[] {
  return needs.roles.flatMap((role) => {
    if (!role.many) return [{ key: role.role, role }];
    const bound = Object.keys(bindings).filter((key) => roleOf(needs, key)?.role === role.role);
    let free = role.role;
    for (let n = 2; bound.includes(free); n++) free = `${role.role}_${String(n)}`;
    return [...bound, free].map((key) => ({ key, role }));
  });
}
