import {
  type FactoryFunctionMap,
  type MathNode,
  type Unit,
  addDependencies,
  create,
  divideDependencies,
  multiplyDependencies,
  parseDependencies,
  powDependencies,
  subtractDependencies,
  unaryMinusDependencies,
  unitDependencies,
} from 'mathjs';
import { LidwrightError, fail } from '../error';
import { type Dimension, FILE_UNIT } from './units';

const math = create(
  {
    parseDependencies,
    unitDependencies,
    addDependencies,
    subtractDependencies,
    multiplyDependencies,
    divideDependencies,
    powDependencies,
    unaryMinusDependencies,
  } as FactoryFunctionMap,
  {},
);

/** A plain number or a quantity with a unit. */
export type Value = number | Unit;
/** Names that an expression may use, with their values. */
export type Scope = ReadonlyMap<string, Value>;

/** No length a person types needs more; longer text is a paste gone wrong. */
export const LONGEST_EXPRESSION = 300;

const UNITS: Record<string, string> = {
  mm: 'mm', cm: 'cm', m: 'm', km: 'km', um: 'um', in: 'in', inch: 'in', inches: 'in', ft: 'ft', foot: 'ft', feet: 'ft', yd: 'yd',
  N: 'N', kN: 'kN', kgf: 'kgf', lbf: 'lbf', kg: 'kg', g: 'g', lb: 'lb', lbs: 'lb', oz: 'oz', t: 'tonne', tonne: 'tonne',
  deg: 'deg', rad: 'rad', J: 'J', s: 's',
}; // prettier-ignore

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

type Fn = (...x: number[]) => number;
/** Functions of plain numbers; angles in degrees go in as "sin(30 deg)". */
const FUNCTIONS: Record<string, Fn> = {
  sqrt: Math.sqrt, abs: Math.abs, min: Math.min, max: Math.max, round: Math.round,
  sin: Math.sin, cos: Math.cos, tan: Math.tan, hypot: Math.hypot,
}; // prettier-ignore

/** A name that a given may have: a letter first, not a unit, a function or a constant. */
export function isFreeName(name: string): boolean {
  return (
    /^[A-Za-z_][A-Za-z0-9_]{0,39}$/.test(name) &&
    !Object.hasOwn(UNITS, name) &&
    !Object.hasOwn(FUNCTIONS, name) &&
    name !== 'pi'
  );
}

const clip = (text: string): string => (text.length > 60 ? `${text.slice(0, 57)}…` : text);

/** Turns what people write on paper into what the parser reads. */
function normalise(text: string): string {
  const fractions: Record<string, string> = {
    '½': '1/2',
    '¼': '1/4',
    '¾': '3/4',
    '⅛': '1/8',
    '⅜': '3/8',
    '⅝': '5/8',
    '⅞': '7/8',
  };
  let out = text
    .replace(/[½¼¾⅛⅜⅝⅞]/g, (c) => ` ${fractions[c]}`)
    .replace(/[−–]/g, '-')
    .replace(/[×·]/g, '*')
    .replace(/÷/g, '/')
    .replace(/°(?!\s*[CF])/g, ' deg ')
    .replace(/″|”|"/g, ' in ')
    .replace(/′|’|'/g, ' ft ')
    .replace(/\b(N|kgf|lbf)\s*\*?\s*(m|mm|ft|in)\b/g, '($1*$2)')
    .replace(/\bNm\b/g, '(N*m)');
  // a comma between digits is a decimal comma unless it could be a thousands mark; in a function call it parts arguments
  if (!/[A-Za-z]\s*\(/.test(out.replace(/\((?:N|kgf|lbf)\*\w+\)/g, ''))) {
    if (/\d,\d{3}(?!\d)/.test(out))
      fail(
        `"${clip(text)}" can be read two ways`,
        [],
        'Write 1234 or 1.234: a comma before three digits could be either.',
      );
    out = out.replace(/(\d),(\d)/g, '$1.$2');
  }
  // "15 3/4 in" is fifteen and three quarters; "3 ft 2 in" is a sum
  out = out.replace(/(\d+)\s+(\d+)\s*\/\s*(\d+)(?![\d.])/g, '($1+$2/$3)');
  out = out.replace(/\b(ft|foot|feet)\s+(?=[\d(.])/g, '$1 + ');
  // "310 mm 5" would be a product to the parser, and to a person a slip
  if (/[A-Za-z]\w*\s+\.?\d/.test(out))
    fail(
      `"${clip(text)}" has a number after a unit or a name`,
      [],
      'Put + − × or ÷ between them; write 15 3/4 in for a fraction.',
    );
  // "in" is also a conversion word to the parser: inch is only a unit
  out = out.replace(/\bin\b/g, 'inch');
  return out.trim();
}

function parse(text: string): MathNode {
  if (text.length > LONGEST_EXPRESSION)
    return fail(
      `an expression of ${text.length} characters is too long`,
      [],
      `Keep it under ${LONGEST_EXPRESSION} characters.`,
    );
  const ready = normalise(text);
  if (ready === '') return fail('nothing is written here', [], 'Type a number, with a unit if you like.');
  if (ready.includes('%')) return fail(`"${clip(text)}" has a percent sign`, [], 'Write the fraction: 0.05 for 5 %.');
  try {
    return math.parse!(ready);
  } catch {
    return fail(`"${clip(text)}" is no number or expression`, [], 'Write for example 310, 15 3/4 in or 2*180 + 5 mm.');
  }
}

/** Names in `text` that are neither units nor functions: the givens it needs. Throws when the text can't be read. */
export function namesIn(text: string): string[] {
  const found = new Set<string>();
  parse(text).traverse((node, path) => {
    if (node.type !== 'SymbolNode' || path === 'fn') return;
    const name = (node as MathNode & { name: string }).name;
    if (!Object.hasOwn(UNITS, name) && name !== 'pi') found.add(name);
  });
  return [...found];
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

/** Walks a parsed expression; only numbers, units, names, + − × ÷ ^ and a few functions are known, so nothing can run. */
class Evaluator {
  constructor(
    private readonly text: string,
    private readonly scope: Scope,
    private readonly bareUnit: string,
  ) {}

  run(node: MathNode): Value {
    const n = node as unknown as Shape;
    switch (n.type) {
      case 'ConstantNode':
        if (typeof n.value === 'number') return n.value;
        break;
      case 'ParenthesisNode':
        return this.run(n.content as MathNode);
      case 'SymbolNode':
        return this.name(n.name as string);
      case 'OperatorNode':
        return this.operator(
          n.op as string,
          (n.args ?? []).map((a) => this.run(a)),
        );
      case 'FunctionNode':
        return this.call(
          n.fn?.name ?? '',
          (n.args ?? []).map((a) => this.run(a)),
        );
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
    const unit = Object.hasOwn(UNITS, name) ? UNITS[name] : undefined;
    if (unit !== undefined) return math.unit!(1, unit);
    return fail(`"${name}" is neither a unit nor a given`, [], 'Check the spelling, or add a given of that name.');
  }

  private operator(op: string, args: Value[]): Value {
    const [a, b] = args as [Value, Value];
    if (args.length === 1) return op === '-' ? this.apply('unaryMinus', a) : op === '+' ? a : this.refuse(op);
    switch (op) {
      case '+':
        return this.sum('add', a, b);
      case '-':
        return this.sum('subtract', a, b);
      case '*':
        return this.apply('multiply', a, b);
      case '/':
        return this.apply('divide', a, b);
      case '^':
        if (isUnit(b) || Math.abs(b) > 12)
          return fail(`"${clip(this.text)}" has a power that makes no sense`, [], 'Use a plain power such as ^2.');
        return this.apply('pow', a, b);
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
      return this.apply(op, a, b);
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
    return this.apply(op, dress(a), dress(b));
  }

  /** Units that stand in the text itself. */
  readonly written = new Set<string>();

  private apply(fn: 'add' | 'subtract' | 'multiply' | 'divide' | 'pow' | 'unaryMinus', ...args: Value[]): Value {
    const value = (math[fn] as unknown as (...x: Value[]) => Value)(...args);
    // mm/mm is a number again
    if (isUnit(value) && (value as Unit & { dimensions: number[] }).dimensions.every((d) => Math.abs(d) < 1e-12))
      return (value as Unit & { value: number }).value;
    return value;
  }

  private call(name: string, args: Value[]): Value {
    const fn = Object.hasOwn(FUNCTIONS, name) ? FUNCTIONS[name] : undefined;
    if (!fn)
      return fail(`"${clip(name)}" is no function known here`, [], `Known are ${Object.keys(FUNCTIONS).join(', ')}.`);
    const first = args[0];
    if (first === undefined) return fail(`${name}() has nothing to work on`, [], 'Put a value between the brackets.');
    const units = args.filter(isUnit);
    if (units.length === 0) return fn(...(args as number[]));
    if (['sin', 'cos', 'tan'].includes(name) && units[0] && sameKind(units[0], math.unit!(1, 'rad')))
      return fn(units[0].toNumber('rad'));
    if (
      ['min', 'max', 'abs', 'hypot'].includes(name) &&
      units.length === args.length &&
      units.every((u) => sameKind(u, units[0] as Unit))
    ) {
      const si = units.map((u) => (u as Unit & { value: number }).value);
      return this.apply(
        'multiply',
        this.apply('divide', units[0] as Unit, si[0] === 0 ? 1 : (si[0] as number)),
        si[0] === 0 ? 1 : fn(...si),
      );
    }
    return fail(
      `${name}() can't take a quantity with that unit`,
      [],
      'Use plain numbers inside, or divide by a unit first.',
    );
  }

  private refuse(op: string): never {
    return fail(`"${op}" is not known here`, [], 'Use + − × ÷ ^ and brackets.');
  }
}

function evaluateText(text: string, scope: Scope, bareUnit: string): Value {
  const node = parse(text);
  const evaluator = new Evaluator(text, scope, bareUnit);
  node.traverse((n, path) => {
    const name = (n as unknown as Shape).name;
    if (
      n.type === 'SymbolNode' &&
      path !== 'fn' &&
      name !== undefined &&
      !scope.has(name) &&
      Object.hasOwn(UNITS, name)
    )
      evaluator.written.add(UNITS[name] as string);
  });
  try {
    return evaluator.run(node);
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
  let result: number;
  if (dimension === 'number' || dimension === 'temperature') {
    if (isUnit(value)) return wrong();
    result = value;
  } else {
    const base = BASE[dimension];
    const quantity = isUnit(value) ? value : math.unit!(`1 ${bareUnit}`);
    if (!sameKind(quantity, math.unit!(`1 ${base}`))) return wrong();
    // 15 digits in, 13 out: 15 3/4 in is 400.05 mm, not 400.04999999999995
    result = isUnit(value)
      ? Number(value.toNumber(base).toPrecision(13))
      : bareUnit === base
        ? value
        : Number((value * quantity.toNumber(base)).toPrecision(13));
  }
  if (!Number.isFinite(result))
    return fail(`"${clip(text)}" has no finite value`, [], 'Check for a division by nothing.');
  return result;
}

/**
 * What a text typed into a field (or an expression in a file) comes to, in the file unit of `dimension`.
 * `bareUnit` is the unit of a number written without one (default: the file unit).
 * Throws a LidwrightError that says what can't be read and how to write it.
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
