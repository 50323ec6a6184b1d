import {
  type FactoryFunctionMap,
  type MathNode,
  type Unit,
  absDependencies,
  addDependencies,
  cosDependencies,
  create,
  divideDependencies,
  maxDependencies,
  minDependencies,
  multiplyDependencies,
  parseDependencies,
  powDependencies,
  roundDependencies,
  sinDependencies,
  sqrtDependencies,
  subtractDependencies,
  tanDependencies,
  unaryMinusDependencies,
  unitDependencies,
} from 'mathjs';
import { LidwrightError, fail } from '../error';
import { FUNCTIONS, UNITS, clip, plainArithmetic } from './customs';
import { type Dimension, FILE_UNIT } from './units';

const math = create(
  {
    ...{ parseDependencies, unitDependencies, addDependencies, subtractDependencies, multiplyDependencies },
    ...{ divideDependencies, powDependencies, unaryMinusDependencies, absDependencies, sqrtDependencies },
    ...{ roundDependencies, minDependencies, maxDependencies, sinDependencies, cosDependencies, tanDependencies },
  } as FactoryFunctionMap,
  {},
);

/** A plain number or a quantity with a unit. */
export type Value = number | Unit;
/** Names that an expression may use, with their values. */
export type Scope = ReadonlyMap<string, Value>;

const BASE: Record<Exclude<Dimension, 'number' | 'temperature'>, string> = {
  length: 'mm',
  mass: 'kg',
  force: 'N',
  moment: 'N m',
  angle: 'deg',
  energy: 'J',
};

const NOUN: Record<Dimension, string> = {
  length: 'a length (mm, cm, in, ft)',
  mass: 'a mass (kg, g, lb)',
  force: 'a force (N, kgf, lbf)',
  moment: 'a moment (N m, lbf ft)',
  angle: 'an angle (deg, rad)',
  temperature: 'a temperature (°C, °F)',
  energy: 'an energy (J)',
  number: 'a plain number',
};

function parse(text: string, bareUnit: string): MathNode {
  const ready = plainArithmetic(text, bareUnit);
  try {
    return math.parse!(ready);
  } catch {
    return fail(`"${clip(text)}" is no number or expression`, [], 'Write for example 310, 15 3/4 in or 2*180 + 5 mm.');
  }
}

const isUnit = (value: Value): value is Unit => typeof value !== 'number';
const sameKind = (a: Unit, b: Unit): boolean => a.equalBase(b);

interface Shape {
  readonly type: string;
  readonly args?: MathNode[];
  readonly op?: string;
  readonly fn?: MathNode & { name?: string };
  readonly name?: string;
  readonly value?: unknown;
  readonly content?: MathNode;
}

type MathName = 'add' | 'subtract' | 'multiply' | 'divide' | 'pow' | 'unaryMinus' | 'sqrt' | 'abs' | 'round';

/** Calls mathjs; mm/mm is a number again. */
function calculate(fn: MathName | 'sin' | 'cos' | 'tan' | 'min' | 'max', ...args: Value[]): Value {
  const value = (math[fn] as unknown as (...x: Value[]) => Value)(...args);
  if (typeof value !== 'number' && !('dimensions' in value)) throw new RangeError('not real');
  if (isUnit(value) && (value as Unit & { dimensions: number[] }).dimensions.every((d) => Math.abs(d) < 1e-12))
    return (value as Unit & { value: number }).value;
  return value;
}

/** Walks a parsed expression; only numbers, units, names, + − × ÷ ^ and a few functions are known, so nothing can run. */
class Evaluator {
  /** Units that stand in the text itself. */
  private readonly written: ReadonlySet<string>;

  constructor(
    private readonly text: string,
    node: MathNode,
    private readonly scope: Scope,
    private readonly bareUnit: string,
  ) {
    const names: string[] = [];
    node.traverse((n, path) => {
      if (n.type === 'SymbolNode' && path !== 'fn') names.push((n as unknown as { name: string }).name);
    });
    this.written = new Set(names.filter((name) => !scope.has(name) && UNIT_NAMES.has(name)));
  }

  run(node: MathNode): Value {
    const n = node as unknown as Shape;
    const args = (): Value[] => (n.args ?? []).map((a) => this.run(a));
    switch (n.type) {
      case 'ConstantNode':
        if (typeof n.value === 'number') return n.value;
        break;
      case 'ParenthesisNode':
        return this.run(n.content as MathNode);
      case 'SymbolNode':
        return this.name(n.name as string);
      case 'OperatorNode':
        return this.operator(n.op as string, args());
      case 'FunctionNode':
        return this.call(n.fn?.name ?? '', args());
    }
    return fail(
      `"${clip(this.text)}" uses something that is not arithmetic`,
      [],
      'Use numbers, units, names of givens, + − × ÷ ^ and brackets.',
    );
  }

  private name(name: string): Value {
    const known = this.scope.get(name);
    if (known !== undefined) return known;
    if (name === 'pi') return Math.PI;
    if (UNIT_NAMES.has(name)) return math.unit!(1, name);
    return fail(`"${name}" is neither a unit nor a given`, [], 'Check the spelling, or add a given of that name.');
  }

  private operator(op: string, args: Value[]): Value {
    const [a, b] = args as [Value, Value];
    if (args.length === 1) return op === '-' ? calculate('unaryMinus', a) : op === '+' ? a : this.refuse(op);
    switch (op) {
      case '+':
        return this.sum('add', a, b);
      case '-':
        return this.sum('subtract', a, b);
      case '*':
        return calculate('multiply', a, b);
      case '/':
        return calculate('divide', a, b);
      case '^':
        if (isUnit(b) || Math.abs(b) > 12)
          return fail(`"${clip(this.text)}" has a power that makes no sense`, [], 'Use a plain power such as ^2.');
        return calculate('pow', a, b);
    }
    return this.refuse(op);
  }

  /** A bare number beside a quantity is meant in the unit written beside it. */
  private sum(op: 'add' | 'subtract', a: Value, b: Value): Value {
    if (isUnit(a) === isUnit(b)) {
      if (isUnit(a) && !sameKind(a, b as Unit))
        return fail(
          `"${clip(this.text)}" adds things of different kinds`,
          [],
          'Add lengths to lengths and forces to forces.',
        );
      return calculate(op, a, b);
    }
    const like = (isUnit(a) ? a : b) as Unit;
    const unit = this.written.size === 1 ? ([...this.written][0] as string) : this.bareUnit;
    const dress = (v: Value): Value => {
      if (isUnit(v)) return v;
      const dressed = unit === '' ? null : math.unit!(v, unit);
      if (dressed === null || !sameKind(dressed, like))
        return fail(`"${clip(this.text)}" adds a plain number to a quantity`, [], 'Write the unit after each number.');
      return dressed;
    };
    return calculate(op, dress(a), dress(b));
  }

  private call(name: string, args: Value[]): Value {
    if (!Object.hasOwn(FUNCTIONS, name))
      return fail(`"${clip(name)}" is no function known here`, [], `Known are ${Object.keys(FUNCTIONS).join(', ')}.`);
    const [first] = args;
    if (first === undefined) return fail(`${name}() has nothing to work on`, [], 'Put a value between the brackets.');
    if (FUNCTIONS[name] === 'one' && args.length > 1)
      return fail(`${name}() takes one value`, [], 'Write a decimal point, not a comma, between its brackets.');
    try {
      // mathjs' hypot takes no units: the root of the sum of squares does
      if (name === 'hypot')
        return calculate(
          'sqrt',
          args.map((v) => calculate('pow', v, 2)).reduce((sum, square) => calculate('add', sum, square)),
        );
      if (name === 'sqrt' && (isUnit(first) ? (first as Unit & { value: number }).value : first) < 0) return NaN;
      return calculate(name as 'sqrt', ...args);
    } catch {
      return fail(
        `${name}() can't take a quantity with that unit`,
        [],
        'Use plain numbers or values of one kind inside, or divide by a unit first.',
      );
    }
  }

  private refuse(op: string): never {
    return fail(`"${op}" is not known here`, [], 'Use + − × ÷ ^ and brackets.');
  }
}

const UNIT_NAMES: ReadonlySet<string> = new Set(Object.values(UNITS));

function evaluateText(text: string, scope: Scope, bareUnit: string): Value {
  const node = parse(text, bareUnit);
  try {
    return new Evaluator(text, node, scope, bareUnit).run(node);
  } catch (error) {
    if (error instanceof LidwrightError) throw error;
    return fail(`"${clip(text)}" can't be worked out`, [], 'Check its units and brackets.');
  }
}

const TEMPERATURE = /^(.*?)\s*(°\s*C|degC|°\s*F|degF|C|F|K)$/s;

/** A temperature is a plain sum with one unit at the end, because degrees of two scales can't be added. */
function evaluateTemperature(text: string, scope: Scope, bareUnit: string): number {
  const match = TEMPERATURE.exec(text.trim());
  const unit = (match?.[2] ?? bareUnit).replace(/^(°\s*|deg)/, '');
  const value = evaluateText(match ? (match[1] as string) : text, scope, '');
  if (isUnit(value))
    return fail(`"${clip(text)}" is not ${NOUN.temperature}`, [], 'Write for example −20 °C or 68 °F.');
  if (unit === 'F') return (value - 32) / 1.8;
  return unit === 'K' ? value - 273.15 : value;
}

/** The unit in which a number without one counts, as a quantity; refused where it is no unit of that dimension. */
function bareQuantity(bareUnit: string, dimension: Dimension): Unit | null {
  const wrong = (): never =>
    fail(
      `"${clip(bareUnit)}" is no unit for ${NOUN[dimension]}`,
      [],
      `Use one such as ${FILE_UNIT[dimension] || 'none'}.`,
    );
  if (dimension === 'number') return bareUnit === '' ? null : wrong();
  if (dimension === 'temperature') return /^(deg[CF]|K)$/.test(bareUnit) ? null : wrong();
  const parts = bareUnit.split(' ').map((part) => (Object.hasOwn(UNITS, part) ? UNITS[part] : null));
  if (parts.some((part) => part === null)) return wrong();
  const unit = math.unit!(`1 ${parts.join(' ')}`);
  return sameKind(unit, math.unit!(`1 ${BASE[dimension]}`)) ? unit : wrong();
}

/** Value → number in the file unit of `dimension`; a plain number counts in `bareUnit`. */
export function toFileNumber(value: Value, dimension: Dimension, bareUnit: string, text: string): number {
  const wrong = (): never =>
    fail(
      `"${clip(text)}" is not ${NOUN[dimension]}`,
      [],
      dimension === 'force' && isUnit(value) && sameKind(value, math.unit!(1, 'kg'))
        ? 'kg is a mass: write kgf for the force of that many kilograms.'
        : dimension === 'mass' && isUnit(value) && sameKind(value, math.unit!(1, 'N'))
          ? 'That is a force: write kg or lb.'
          : 'Check its unit.',
    );
  const bare = bareQuantity(bareUnit, dimension);
  let result: number;
  if (dimension === 'number' || dimension === 'temperature') {
    if (isUnit(value)) return wrong();
    result = value;
  } else {
    const base = BASE[dimension];
    if (isUnit(value) && !sameKind(value, math.unit!(`1 ${base}`))) return wrong();
    // 15 digits in, 13 out: 15 3/4 in is 400.05 mm, not 400.04999999999995
    result = isUnit(value)
      ? Number(value.toNumber(base).toPrecision(13))
      : bareUnit === base
        ? value
        : Number((value * (bare as Unit).toNumber(base)).toPrecision(13));
  }
  if (!Number.isFinite(result))
    return fail(`"${clip(text)}" has no finite value`, [], 'Check for a division by nothing.');
  return result;
}

/**
 * What a text typed into a field (or an expression in a file) comes to, in the file unit of `dimension`.
 * `bareUnit` is the unit of a number written without one (default: the file unit).
 * Throws a LidwrightError that says what can't be read and how to write it, with both readings where there are two.
 * @example evaluateQuantity('15 3/4 in', 'length') // 400.05
 */
export function evaluateQuantity(
  text: string,
  dimension: Dimension,
  scope: Scope = new Map(),
  bareUnit: string = FILE_UNIT[dimension],
): number {
  if (dimension === 'temperature') {
    const value = evaluateTemperature(text, scope, bareUnit);
    return toFileNumber(value, dimension, bareUnit, text);
  }
  return toFileNumber(evaluateText(text, scope, bareUnit), dimension, bareUnit, text);
}

/** Value of a given: keeps its unit, a plain number stays plain. */
export const evaluateValue = (text: string, scope: Scope): Value => evaluateText(text, scope, '');

/** A given's value in words: "310 mm", "1.5". */
export function describeValue(value: Value): string {
  return isUnit(value) ? value.format({ precision: 6 }) : String(Number(value.toPrecision(6)));
}
