/** A function's help, made from its definition: nothing here is written a second time. */
import { workedExamples } from './example-book.ts';
import { saidByFunction } from '../display.ts';
import { exampleArguments, scalarText } from '../worksheet/signature.ts';
import {
  BUILTINS,
  formatQuantity,
  isFault,
  parseUnit,
  type Argument,
  type FunctionDefinition,
  type FunctionLibrary,
  type Parameter,
  type Result,
  type Scalar,
  type ValueType,
} from '../../engine/index.ts';

export interface Explained {
  readonly name: string;
  /** `ft`, `text`, `a column, in Pa`. */
  readonly kind: string;
  readonly summary: string;
}

export interface FunctionHelp {
  readonly name: string;
  readonly topic: string;
  readonly signature: string;
  readonly summary: string;
  readonly parameters: readonly Explained[];
  readonly gives: readonly Explained[];
  readonly limits: string;
  readonly source: string;
  readonly example?: {
    /** As a formula, where it is one: a column cannot be typed in a formula. */
    readonly formula?: string;
    /** Otherwise what each parameter is given. */
    readonly given: readonly { readonly name: string; readonly text: string }[];
    readonly results: readonly { readonly name: string; readonly text: string }[];
    /** What the names in the formula stand for. */
    readonly names?: readonly { readonly name: string; readonly text: string }[];
  };
}

const EVERYWHERE = 'In every formula';

/** The language's own functions first, then the trade's by topic. */
export function allFunctions(library: FunctionLibrary): FunctionHelp[] {
  const worked = workedExamples(library);
  const own = [...BUILTINS].map(([name, { signature, summary }]): FunctionHelp => {
    const { formula = '', result = '', names = [] } = worked.get(name) ?? {};
    return {
      name,
      topic: EVERYWHERE,
      signature,
      summary,
      parameters: [],
      gives: [],
      limits: '',
      source: '',
      example: { formula, given: [], results: [{ name: '', text: result }], names },
    };
  });
  return [...own, ...library.all().map(functionHelp)];
}

export function functionHelp(definition: FunctionDefinition): FunctionHelp {
  const { name, summary, parameters, result, limits, source, topic = 'Other' } = definition;
  return {
    name,
    topic,
    signature: `${name}(${parameters.map((each) => each.name).join(', ')})`,
    summary,
    parameters: parameters.map((each) => ({
      name: each.name,
      kind: kindOf(each.type, each.column === true),
      summary: each.summary,
    })),
    gives:
      result.kind === 'record'
        ? Object.entries(result.fields).map(([field, { type, summary: about }]) => ({
            name: field,
            kind: kindOf(type, false),
            summary: about,
          }))
        : [{ name: '', kind: kindOf(result, false), summary: '' }],
    limits,
    source,
    ...exampleOf(definition),
  };
}

function kindOf(type: ValueType, column: boolean): string {
  const one =
    type.kind === 'quantity'
      ? type.unit === ''
        ? 'a plain number'
        : `in ${type.unit}`
      : type.kind === 'generic'
        ? 'any quantity'
        : type.kind === 'text'
          ? 'text'
          : 'yes or no';
  return column ? `a column, ${one}` : one;
}

function exampleOf(definition: FunctionDefinition): Pick<FunctionHelp, 'example'> {
  const { arguments: given, formula } = definition.example;
  if (given?.length !== definition.parameters.length) return {};
  const texts = definition.parameters.map((parameter, at) => ({
    name: parameter.name,
    text: argumentText(parameter, given[at] ?? ''),
  }));
  const isFormula = exampleArguments(definition) !== undefined;
  const written = formula ?? `${definition.name}(${texts.map(({ text }) => text).join(', ')})`;
  return {
    example: {
      ...(isFormula ? { formula: written } : {}),
      given: texts,
      results: resultTexts(definition, definition.compute(...(given as never[]))),
    },
  };
}

const MOST = 8;

function argumentText({ type }: Parameter, value: Argument): string {
  if (typeof value !== 'object') return scalarText(type, value);
  const texts = value.slice(0, MOST).map((each) => scalarText(type, each));
  return `${texts.join(', ')}${value.length > MOST ? ', …' : ''}`;
}

function resultTexts(definition: FunctionDefinition, result: Result): { name: string; text: string }[] {
  if (isFault(result)) return [{ name: '', text: saidByFunction(result.fault, 'us') }];
  const shape = definition.result;
  if (shape.kind === 'record')
    return typeof result === 'object'
      ? Object.entries(shape.fields).map(([name, { type }]) => ({
          name,
          text: resultText(type, result[name] ?? NaN),
        }))
      : [];
  return typeof result === 'object' ? [] : [{ name: '', text: resultText(shape, result) }];
}

function resultText(type: ValueType, value: Scalar): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'string') {
    const said = saidByFunction(value, 'us');
    return said.length > 120 ? `${said.slice(0, 120)}…` : said;
  }
  if (Number.isNaN(value)) return 'unavailable';
  const unit = type.kind === 'quantity' && type.unit !== '' ? parseUnit(type.unit) : undefined;
  if (!unit || 'problem' in unit) return String(Number(value.toPrecision(6)));
  const shown = formatQuantity(value, unit);
  return `${shown.value} ${shown.unit}`;
}
