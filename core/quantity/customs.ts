// How people write quantities on paper, turned into plain arithmetic for mathjs' parser. What has one customary reading gets
// it; what has two is refused with both. Own code, because no library knows these customs.
import { fail } from '../error';

/** No quantity a person types needs more; longer text is a paste gone wrong. */
export const LONGEST_EXPRESSION = 300;

/** Units that may be typed, and their names in mathjs. */
export const UNITS: Record<string, string> = {
  mm: 'mm', cm: 'cm', m: 'm', km: 'km', um: 'um', in: 'inch', inch: 'inch', inches: 'inch',
  ft: 'ft', foot: 'ft', feet: 'ft', yd: 'yd',
  N: 'N', kN: 'kN', kgf: 'kgf', lbf: 'lbf', kg: 'kg', g: 'g', lb: 'lb', lbs: 'lb', oz: 'oz', t: 'tonne', tonne: 'tonne',
  deg: 'deg', rad: 'rad', J: 'J', s: 's',
}; // prettier-ignore

/** Functions that may be used; how many values each takes. Angles in degrees go in as "sin(30 deg)". */
export const FUNCTIONS: Record<string, 'one' | 'some'> = {
  sqrt: 'one', abs: 'one', round: 'one', sin: 'one', cos: 'one', tan: 'one', min: 'some', max: 'some', hypot: 'some',
}; // prettier-ignore

/** A piece of the text: `gap` says that a blank stands before it. */
interface Token {
  readonly kind: 'number' | 'name' | 'sign';
  readonly text: string;
  readonly gap: boolean;
}

/** A text as it is quoted in a message. */
export const clip = (text: string): string => (text.length > 60 ? `${text.slice(0, 57)}…` : text);

const MARKS: Record<string, readonly [Token['kind'], string]> = {
  "'": ['name', 'ft'], '’': ['name', 'ft'], '′': ['name', 'ft'],
  '"': ['name', 'in'], '”': ['name', 'in'], '″': ['name', 'in'], "''": ['name', 'in'], '’’': ['name', 'in'], '′′': ['name', 'in'],
  '°': ['name', 'deg'], '−': ['sign', '-'], '–': ['sign', '-'], '×': ['sign', '*'], '·': ['sign', '*'], '÷': ['sign', '/'],
}; // prettier-ignore
const VULGAR: Record<string, string> = {
  '½': '1/2', '¼': '1/4', '¾': '3/4', '⅛': '1/8', '⅜': '3/8', '⅝': '5/8', '⅞': '7/8',
}; // prettier-ignore
const PIECES = /(\s*)(?:((?:\d[\d.,]*|\.\d+)(?:[eE][+-]?\d+)?)|([A-Za-z_]\w*)|(''|’’|′′|[^\s]))/gu;

const twoWays = (text: string, first: string, second: string): never =>
  fail(`"${clip(text)}" can be read two ways: ${first}, or ${second}`, [], 'Write the one you mean.');

function tokensOf(text: string): Token[] {
  const ready = text
    .replace(/[½¼¾⅛⅜⅝⅞]/g, (c) => ` ${VULGAR[c]}`)
    .replace(/\bNm\b/g, 'N m')
    // a product of units is one unit: 50 N·m / 2 N·m is 25
    .replace(/\b(N|kgf|lbf)\s*[·*]\s*(m|mm|ft|in)\b/g, '$1 $2');
  const tokens: Token[] = [];
  for (const [, blank, number, name, other] of ready.matchAll(PIECES)) {
    const gap = blank !== '';
    if (number !== undefined) {
      // a comma or point behind a number is none of its own: max(1, 2)
      const own = number.replace(/[.,]+$/, '');
      tokens.push({ kind: 'number', text: own, gap });
      for (const mark of number.slice(own.length)) tokens.push({ kind: 'sign', text: mark, gap: false });
    } else if (name !== undefined) tokens.push({ kind: 'name', text: name, gap });
    else {
      const [kind, piece] = MARKS[other as string] ?? ['sign', other as string];
      tokens.push({ kind, text: piece, gap });
    }
  }
  return tokens;
}

/** A function's brackets, and what parts the values in them. */
interface Call {
  readonly name: string;
  semicolons: boolean;
  commaBlanks: boolean;
}

/** The function in whose brackets each token stands; null outside of any. */
function callsOf(tokens: readonly Token[]): (Call | null)[] {
  const open: (Call | null)[] = [];
  return tokens.map(({ text }, i) => {
    const before = tokens[i - 1];
    if (text === '(') {
      const called = before?.kind === 'name' && Object.hasOwn(FUNCTIONS, before.text);
      open.push(called ? { name: before.text, semicolons: false, commaBlanks: false } : (open.at(-1) ?? null));
    } else if (text === ')') open.pop();
    const call = open.at(-1) ?? null;
    if (call && text === ';') call.semicolons = true;
    if (call && text === ',' && tokens[i + 1]?.gap) call.commaBlanks = true;
    return call;
  });
}

/** A number with its decimal comma made a point; between the values of a function a comma parts them. */
function plainNumber(text: string, raw: string, call: Call | null): string {
  if (!raw.includes(',')) return raw;
  const [whole = '', decimals = '', ...more] = raw.split(',');
  const parts = call !== null && !call.semicolons;
  if (parts && FUNCTIONS[call.name] === 'one')
    return twoWays(text, `${call.name} of ${whole}.${decimals}`, `${call.name} of ${whole} and ${decimals}`);
  if (parts && call.commaBlanks) return twoWays(text, 'with decimal commas', 'with commas between values');
  if (parts) return raw;
  if (raw.includes('.') || more.length > 0) return twoWays(text, 'with thousands marked', 'with a decimal comma');
  if (/^\d{3}$/.test(decimals) && whole.length <= 3 && !whole.startsWith('0'))
    return twoWays(text, `${whole}${decimals}`, `${whole}.${decimals}`);
  return `${whole}.${decimals}`;
}

function readable(text: string): readonly Token[] {
  if (/\d['’′]\d{3}(?!\d)/.test(text)) twoWays(text, 'with thousands marked', 'as feet and inches');
  const tokens = tokensOf(text);
  const calls = callsOf(tokens);
  return tokens.map((token, i) => {
    const call = calls[i] ?? null;
    if (token.text === ';' && call) return { ...token, text: ',' };
    return token.kind === 'number' ? { ...token, text: plainNumber(text, token.text, call) } : token;
  });
}

const isWhole = (token: Token | undefined): token is Token => token?.kind === 'number' && /^\d+$/.test(token.text);
const isSign = (token: Token | undefined, sign: string): boolean => token?.kind === 'sign' && token.text === sign;
const isUnit = (token: Token | undefined, unit: 'inch' | 'ft'): boolean =>
  token?.kind === 'name' && Object.hasOwn(UNITS, token.text) && UNITS[token.text] === unit;

/** An amount in the text, as arithmetic; `next`: the token after it; `size`: its value, and whether it is a fraction alone. */
interface Amount {
  readonly sum: string;
  readonly next: number;
  readonly size: number;
  readonly fraction?: true;
}

/** Reads amounts off tokens by the customs of the workshop. */
class Reader {
  private readonly tokens: readonly Token[];

  constructor(
    private readonly text: string,
    private readonly bareUnit: string,
  ) {
    this.tokens = readable(text);
  }

  /** "3/4", whole numbers only. */
  private fraction(i: number): Amount | null {
    const [top, slash, bottom] = this.tokens.slice(i, i + 3);
    if (!isWhole(top) || !isSign(slash, '/') || !isWhole(bottom)) return null;
    return {
      sum: `${top.text}/${bottom.text}`,
      next: i + 3,
      size: Number(top.text) / Number(bottom.text),
      fraction: true,
    };
  }

  /** "310", "15 3/4", "3-1/2 in". */
  private amount(i: number): Amount | null {
    const { tokens, text } = this;
    const first = tokens[i];
    if (first?.kind !== 'number') return null;
    const alone = this.fraction(i) ?? { sum: first.text, next: i + 1, size: Number(first.text) };
    if (!isWhole(first)) return alone;
    const second = tokens[i + 1];
    const mixed = (part: Amount): Amount => ({
      sum: `(${first.text}+${part.sum})`,
      next: part.next,
      size: alone.size + part.size,
    });
    const beside = second?.gap ? this.fraction(i + 1) : null;
    if (beside) {
      if (!(beside.size < 1) || tokens[beside.next]?.kind === 'number' || isSign(tokens[beside.next], '/'))
        return fail(`"${clip(text)}" is no mixed number`, [], 'Write one such as 10 3/4, or put + − × ÷ between.');
      return mixed(beside);
    }
    const behind = isSign(second, '-') ? this.fraction(i + 2) : null;
    if (!behind || !(behind.size < 1)) return alone;
    // "3-1/2 in" is how drawings write three and a half; "30 - 1/2 mm" is a difference
    const blanks = (second as Token).gap || (tokens[i + 2] as Token).gap;
    const unit = tokens[behind.next];
    const inches = isUnit(unit, 'inch') || (UNITS[this.bareUnit] === 'inch' && unit?.kind !== 'name');
    if (inches && !blanks) return mixed(behind);
    if (inches || !blanks) return twoWays(text, `${first.text} ${behind.sum}`, `${first.text} less ${behind.sum}`);
    return alone;
  }

  /** "5 ft 3 in", "5'-3 1/2\"", "1 ft 6": feet and inches bind together. */
  private feetAndInches(i: number): Amount | null {
    const { tokens, text } = this;
    const feet = this.amount(i);
    if (!feet || !isUnit(tokens[feet.next], 'ft')) return null;
    const dash = isSign(tokens[feet.next + 1], '-');
    const at = feet.next + (dash ? 2 : 1);
    const inches = this.amount(at);
    if (!inches) return null;
    const marked = isUnit(tokens[inches.next], 'inch');
    const after = tokens[inches.next + (marked ? 1 : 0)];
    const blanks = (tokens[at] as Token).gap || (tokens[at - 1] as Token).gap;
    const whole = inches.size < 12 && !/[.e]/i.test(inches.sum);
    if (dash && (!whole || (!marked && (blanks || after?.kind === 'name')))) return null;
    if (dash && (blanks || !marked))
      return twoWays(text, `${feet.sum} ft ${inches.sum} in`, `${feet.sum} ft less ${inches.sum}`);
    if (!marked && (inches.fraction || inches.size >= 12 || after?.kind === 'name' || after?.kind === 'number'))
      return fail(`"${clip(text)}" has a number after feet that is no inches`, [], 'Write the unit behind it.');
    return {
      sum: `(${feet.sum} ft + ${inches.sum} inch)`,
      next: inches.next + (marked ? 1 : 0),
      size: feet.size * 12 + inches.size,
    };
  }

  /** The whole text as plain arithmetic. */
  read(): string {
    const { tokens, text } = this;
    const out: string[] = [];
    for (let i = 0; i < tokens.length;) {
      const token = tokens[i] as Token;
      const amount = this.feetAndInches(i) ?? this.amount(i);
      // "310 mm 5" would be a product to the parser, and to a person a slip
      if (amount && tokens[i - 1]?.kind === 'name')
        return fail(
          `"${clip(text)}" has a number after a unit or a name`,
          [],
          'Put + − × or ÷ between them; write 15 3/4 in for a fraction.',
        );
      out.push(
        amount?.sum ?? (token.kind === 'name' && Object.hasOwn(UNITS, token.text) ? UNITS[token.text]! : token.text),
      );
      i = amount?.next ?? i + 1;
    }
    return out.join(' ');
  }
}

/**
 * A typed text as arithmetic that mathjs parses: units by mathjs' names, mixed numbers and feet with inches in brackets,
 * decimal points. `bareUnit`: the unit of a number without one ("3-1/2" is three and a half only in inches).
 * Throws a LidwrightError, with both readings where there are two.
 * @example plainArithmetic('2 * 5 ft 3 in', 'mm') // '2 * (5 ft + 3 inch)'
 */
export function plainArithmetic(text: string, bareUnit: string): string {
  if (text.length > LONGEST_EXPRESSION)
    return fail(
      `an expression of ${text.length} characters is too long`,
      [],
      `Keep it under ${LONGEST_EXPRESSION} characters.`,
    );
  if (text.trim() === '') return fail('nothing is written here', [], 'Type a number, with a unit if you like.');
  if (text.includes('%')) return fail(`"${clip(text)}" has a percent sign`, [], 'Write the fraction: 0.05 for 5 %.');
  return new Reader(text, bareUnit).read();
}

/** Names in a text that are neither units, functions nor pi, each once: the givens it needs. Never throws. */
export function namesIn(text: string): string[] {
  const names = tokensOf(text)
    .filter((token) => token.kind === 'name')
    .map((token) => token.text);
  return [...new Set(names.filter(isFreeName))];
}

/** A name that a given may have: a letter first, not a unit, a function or a constant. */
export function isFreeName(name: string): boolean {
  return (
    /^[A-Za-z_][A-Za-z0-9_]{0,39}$/.test(name) &&
    !Object.hasOwn(UNITS, name) &&
    !Object.hasOwn(FUNCTIONS, name) &&
    name !== 'pi'
  );
}
