/** What a function takes, from its own definition: shown while one of its arguments is being typed. */
import {
  BUILTINS,
  fromSI,
  parseUnit,
  type FunctionDefinition,
  type FunctionLibrary,
  type Scalar,
  type ValueType,
} from '../../engine/index.ts';
import type { CallAt } from './call-at.ts';

export interface Signature {
  readonly name: string;
  readonly parameters: readonly string[];
  /** Place of the parameter being typed; −1 past the last. */
  readonly current: number;
  /** What that parameter is, with its unit. */
  readonly about: string;
  readonly summary: string;
  readonly source: string;
  readonly limits: string;
}

export function signatureOf(library: FunctionLibrary, call: CallAt): Signature | undefined {
  const definition = library.get(call.name);
  if (definition) return ofDefinition(definition, call.argument);
  const builtin = BUILTINS.get(call.name);
  if (!builtin) return undefined;
  const parameters = parametersIn(builtin.signature);
  const current = call.argument < parameters.length ? call.argument : parameters.length - 1;
  return {
    name: call.name,
    parameters,
    current: call.argument < builtin.most ? current : -1,
    about: '',
    summary: builtin.summary,
    source: '',
    limits: '',
  };
}

function ofDefinition(definition: FunctionDefinition, argument: number): Signature {
  const parameter = definition.parameters[argument];
  return {
    name: definition.name,
    parameters: definition.parameters.map(({ name }) => name),
    current: parameter ? argument : -1,
    about: parameter ? `${parameter.summary}${kindOf(parameter)}` : '',
    summary: definition.summary,
    source: definition.source,
    limits: definition.limits,
  };
}

function kindOf({ type, column }: FunctionDefinition['parameters'][number]): string {
  const many = column === true;
  if (type.kind === 'generic') return many ? ' (a column)' : '';
  if (type.kind === 'text') return many ? ' (a column of text)' : ' (text)';
  if (type.kind === 'logical') return many ? ' (a column of yes or no)' : ' (yes or no)';
  if (type.unit === '') return many ? ' (a column of plain numbers)' : ' (a plain number)';
  return many ? ` (a column, in ${type.unit})` : ` (in ${type.unit})`;
}

/** The last form of `min(table.column) or min(a, b, …)` names most. */
function parametersIn(signature: string): string[] {
  const form = signature.slice(signature.lastIndexOf('('));
  return form
    .replace(/[()]/gu, '')
    .split(',')
    .map((each) => each.trim())
    .filter(Boolean);
}

/** What stands between the brackets of the function's example, where it can be typed: a column cannot. */
export function exampleArguments({ parameters, example }: FunctionDefinition): string | undefined {
  const given = example.arguments;
  if (given?.length !== parameters.length) return undefined;
  const texts = parameters.map(({ type }, at) => {
    const value = given[at] ?? '';
    if (typeof value === 'object') return undefined;
    // A quotation mark cannot stand in a text.
    return typeof value === 'string' && value.includes('"') ? undefined : scalarText(type, value);
  });
  return texts.includes(undefined) ? undefined : texts.join(', ');
}

/** As it is typed: in the unit of the signature, in as many digits as it takes. */
export function scalarText(type: ValueType, value: Scalar): string {
  if (typeof value === 'string') return `"${value}"`;
  if (typeof value === 'boolean') return String(value);
  const unit = type.kind === 'quantity' && type.unit !== '' ? parseUnit(type.unit) : undefined;
  if (!unit || 'problem' in unit) return tidy(value);
  return `${tidy(fromSI(value, unit))} ${type.kind === 'quantity' ? type.unit : ''}`;
}

function tidy(value: number): string {
  return String(Number(value.toPrecision(15)));
}
