/*
Malformed job files. The rule for every one of them: it ends in a LidwrightError whose every issue says what and what to
do, or in a result whose every number is finite or null, within two seconds, and with nothing replaced in silence.
*/
import { describe, expect, it } from 'vitest';
import { LidwrightError } from '../../../core/error';
import { type Job, readJob, resolveJob, writeJob } from '../../../core/job';
import { toResult } from '../../../core/result';
import { workingsOf } from '../../../core/workings';
import { exampleFiles, fileText, goldenFiles } from '../../support/files';
import { DEEP, processorSeconds, runs } from '../../support/tier';

/** A hang, not a speed: the processor's time, whatever else the machine does. */
const MOST_S = 30;
type Ending = 'refused' | 'computed';

/** Numbers, texts, nulls, lists and objects only, and no number that is not finite; names the first place that breaks it. */
function notPlain(value: unknown, at = 'result'): string | null {
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return null;
  if (typeof value === 'number') return Number.isFinite(value) ? null : `${at} is ${value}`;
  if (Array.isArray(value)) {
    for (let i = 0; i < value.length; i++) {
      const found = notPlain(value[i], `${at}[${i}]`);
      if (found) return found;
    }
    return null;
  }
  if (typeof value !== 'object') return value === undefined ? null : `${at} is a ${typeof value}`;
  for (const [key, inner] of Object.entries(value)) {
    const found = notPlain(inner, `${at}.${key}`);
    if (found) return found;
  }
  return null;
}

let texts = 0;

/** Runs a text through the whole road and holds the rule against what comes of it. */
function ending(text: string): Ending {
  const start = processorSeconds();
  let result: ReturnType<typeof toResult>;
  // trying what helps takes as long as all the rest: of some
  const advised = texts++ % 12 === 0;
  try {
    const job = readJob(text);
    const w = workingsOf(job);
    result = toResult(job.title, advised ? w : { plans: w.plans, tables: w.tables, advised: w.findings });
  } catch (error) {
    if (!(error instanceof LidwrightError)) throw error;
    for (const issue of error.issues) {
      expect(issue.what.trim(), 'what').not.toBe('');
      expect(issue.advice.trim(), `advice with "${issue.what}"`).not.toBe('');
      expect(issue.what).not.toMatch(/undefined|\[object|NaN(?! is no number)/);
      expect(issue.what.length).toBeLessThan(600);
    }
    expect(processorSeconds() - start).toBeLessThan(MOST_S);
    return 'refused';
  }
  expect(notPlain(result)).toBeNull();
  expect(result.findings.length).toBeGreaterThan(0);
  for (const finding of result.findings) {
    expect(finding.text).not.toMatch(/NaN|Infinity|undefined|\[object/);
    expect(finding.advice).not.toMatch(/NaN|Infinity|undefined|\[object/);
    if (finding.state === 'unknown' || (advised && finding.state === 'fails'))
      expect(finding.advice, finding.text).not.toBe('');
  }
  expect(processorSeconds() - start).toBeLessThan(MOST_S);
  return 'computed';
}

type Path = (string | number)[];
/** Every path of a document: holders and leaves alike, the root left out. */
function pathsOf(value: unknown, here: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return here.length > 0 ? [here] : [];
  const inner = Object.entries(value).flatMap(([key, v]) =>
    pathsOf(v, [...here, Array.isArray(value) ? Number(key) : key]),
  );
  return here.length > 0 ? [here, ...inner] : inner;
}

const MARK = '@@1e999@@';
const DELETE = Symbol('delete');
/** The text of a document with one thing put at a path; 1e999 is written as such, which JSON reads as infinite. */
function mutated(text: string, path: Path, value: unknown): string {
  const root = JSON.parse(text) as unknown;
  let holder = root as Record<string | number, unknown>;
  for (const key of path.slice(0, -1)) holder = holder[key] as Record<string | number, unknown>;
  const last = path.at(-1)!;
  if (value === DELETE) {
    if (Array.isArray(holder)) (holder as unknown[]).splice(last as number, 1);
    else delete holder[last];
  } else holder[last] = typeof value === 'function' ? (value as (old: unknown) => unknown)(holder[last]) : value;
  return JSON.stringify(root).replaceAll(`"${MARK}"`, '1e999');
}

const MUTATIONS: [string, unknown][] = [
  ['deleted', DELETE],
  ['null', null],
  ['a text', 'wrong'],
  ['1e999', MARK],
  ['negative', (old: unknown) => (typeof old === 'number' ? -Math.abs(old) - 1 : -1)],
  ['zero', 0],
  ['huge', 1e300],
  ['an object', { a: 1 }],
  ['a list', [1, 'x']],
  ['true', true],
  ['an empty text', ''],
];

/** Photos carry megabytes in some examples and have checks of their own; one is enough here. */
const lean = (file: string): string => {
  const doc = JSON.parse(fileText(file)) as { photos?: unknown[] };
  if (doc.photos)
    doc.photos = doc.photos.slice(0, 1).map((p) => ({ ...(p as object), source: { beside: 'side.jpg' } }));
  return JSON.stringify(doc);
};

describe('every path of every job × every wrong value', () => {
  const THINNED = DEEP ? 1 : 24;
  let total = 0;
  it.each([...exampleFiles(), ...goldenFiles().slice(1, 2)])('%s', (file) => {
    const text = lean(file);
    expect(ending(text)).toBe('computed');
    const paths = pathsOf(JSON.parse(text));
    const count: Record<Ending, number> = { refused: 0, computed: 0 };
    // deep: one example in full, of the others every third, which still meets each path and each wrong value
    const every = (file.includes('trailer') ? 1 : 3) * THINNED;
    let turn = 0;
    for (const path of paths)
      for (const [name, value] of MUTATIONS) {
        if (turn++ % every !== 0) continue;
        try {
          count[ending(mutated(text, path, value))]++;
          total++;
        } catch (error) {
          throw new Error(`${path.join('.')} ${name}: ${String(error)}`, { cause: error });
        }
      }
    expect(count.refused).toBeGreaterThan(paths.length / every);
    expect(count.computed).toBeGreaterThan(24 / THINNED);
  });
  it('were at least 200, by far', () => expect(total).toBeGreaterThan(2000 / THINNED));
});

describe('nothing is replaced in silence', () => {
  const text = lean(exampleFiles()[2]!);
  const paths = pathsOf(JSON.parse(text));
  it('a number field that holds no number is refused, never read as 0 or its default', () => {
    const at = (path: Path): unknown =>
      path.reduce<unknown>((v, k) => (v as Record<string | number, unknown>)[k], JSON.parse(text));
    const numbers = paths.filter((p) => typeof at(p) === 'number' && p[0] !== 'photos');
    expect(numbers.length).toBeGreaterThan(80);
    for (const path of numbers)
      for (const [name, value] of [
        ['null', null],
        ['text', '12'],
        ['true', true],
        ['list', [1]],
        ['infinite', MARK],
        ['empty object', {}],
      ] as const)
        expect(ending(mutated(text, path, value)), `${path.join('.')} ${name}`).toBe('refused');
  });
  it('every number that is taken stands in the resolved job as it was written', () => {
    for (const file of exampleFiles()) {
      const job = readJob(fileText(file));
      const resolved = resolveJob(job) as unknown as Record<string, unknown>;
      const walk = (raw: unknown, got: unknown, at: string): void => {
        if (typeof raw === 'number' || typeof raw === 'string') expect(got, at).toBe(raw);
        else if (typeof raw === 'object' && raw !== null && !('given' in raw) && !('expression' in raw))
          for (const [key, inner] of Object.entries(raw))
            walk(inner, (got as Record<string, unknown>)[key], `${at}.${key}`);
      };
      walk({ ...job, givens: undefined }, resolved, file);
    }
  });
});

const read = (file = exampleFiles()[2]!): Job & Record<string, never> =>
  JSON.parse(lean(file)) as Job & Record<string, never>;
const text = (edit: (job: Record<string, any>) => void, file?: string): string => { // oxlint-disable-line typescript/no-explicit-any
  const job = read(file);
  edit(job);
  return JSON.stringify(job);
}; // prettier-ignore

describe('torn files', () => {
  it.each(exampleFiles())('%s cut at any place is refused', (file) => {
    const whole = lean(file).trimEnd();
    let seed = 12345;
    for (let i = 0; i < runs(150, 12); i++) {
      seed = (seed * 1103515245 + 12345) % 2147483648;
      expect(ending(whole.slice(0, 1 + (seed % (whole.length - 1))))).toBe('refused');
    }
  });
  it.each(exampleFiles())('%s with a stretch of nulls, zeros or another file’s bytes never crashes', (file) => {
    const whole = lean(file);
    let seed = 777;
    for (let i = 0; i < runs(120, 8); i++) {
      seed = (seed * 1103515245 + 12345) % 2147483648;
      const from = seed % whole.length;
      const junk = ['\u0000'.repeat(40), '0'.repeat(7), whole.slice(10, 40), '"', '}', ',', '\\u0000', '\uD800'][
        i % 8
      ]!;
      ending(whole.slice(0, from) + junk + whole.slice(from + junk.length));
    }
  });
  it('bytes that are no text at all', () => {
    for (const junk of [
      '\u0000',
      '\uFFFD'.repeat(1000),
      'PK\u0003\u0004',
      '<html></html>',
      '\uFEFF',
      '"',
      '[',
      '{',
      '}',
      '-',
      '[[[[',
      ']]]]',
    ])
      expect(ending(junk)).toBe('refused');
  });
});

describe('made to hurt', () => {
  it.each<[string, () => string, Ending]>([
    ['a text of 10 MB for a title', () => text((j) => (j['title'] = 'x'.repeat(10_000_000))), 'refused'],
    ['a text of 10 MB for an id', () => text((j) => (j['points'][0].id = 'x'.repeat(10_000_000))), 'refused'],
    ['a text of 10 MB for a number', () => text((j) => (j['points'][0].at[0] = '9'.repeat(10_000_000))), 'refused'],
    ['an expression of 10 MB', () => text((j) => (j['points'][0].at[0] = { expression: '1+'.repeat(5_000_000) })), 'refused'],
    ['a given of 10 MB', () => text((j) => (j['givens'] = [{ name: 'a', expression: '('.repeat(10_000_000) }])), 'refused'],
    ['a name of 10 MB for a given', () => text((j) => (j['points'][0].at[0] = { given: 'x'.repeat(10_000_000) })), 'refused'],
    ['10 MB of an unknown key', () => text((j) => (j['later'] = 'x'.repeat(10_000_000))), 'computed'],
    ['10 MB of NaN', () => `{"format":"lidwright-job","version":1,"x":[${'NaN,'.repeat(2_500_000)}NaN]}`, 'refused'],
    ['10 MB of blanks', () => ' '.repeat(10_000_000), 'refused'],
    ['10 MB of open brackets', () => '['.repeat(10_000_000), 'refused'],
    ['a million points', () => text((j) => (j['points'] = Array(1_000_000).fill(0))), 'refused'],
    ['a hundred thousand good points', () => text((j) => (j['points'] = Array.from({ length: 100_000 }, (_, i) => ({ id: `p${i}`, on: 'lid', at: [i, 1, 2] })))), 'refused'],
    ['a list of a million in a point', () => text((j) => (j['points'][0].at = Array(1_000_000).fill(1))), 'refused'],
    ['500 struts', () => text((j) => (j['struts'] = Array.from({ length: 501 }, (_, i) => ({ ...j['struts'][0], id: `s${i}` })))), 'refused'],
    ['lists in lists, 100 000 deep, where a number belongs', () => text((j) => (j['points'][0].at[0] = '@')).replace('"@"', `${'['.repeat(100_000)}${']'.repeat(100_000)}`), 'refused'],
    ['objects 5 000 deep as the whole file', () => `${'{"a":'.repeat(5000)}1${'}'.repeat(5000)}`, 'refused'],
    ['objects in lists, a million deep', () => '[{"a":'.repeat(1_000_000), 'refused'],
    ['brackets by the thousand inside a text, with quotes and backslashes', () => text((j) => (j['title'] = '[{"\\'.repeat(30)), undefined).replace(/$/, ' '), 'computed'],
    ['brackets by the thousand inside an unknown text', () => text((j) => (j['later'] = '[{"\\"'.repeat(100_000))), 'computed'],
    ['an unknown key 500 deep', () => text((j) => (j['later'] = '@')).replace('"@"', `${'['.repeat(500)}${']'.repeat(500)}`), 'computed'],
    ['a circle of givens', () => text((j) => (j['givens'] = [{ name: 'a', expression: 'b' }, { name: 'b', expression: 'a' }])), 'refused'],
    ['a circle of 400 givens', () => text((j) => (j['givens'] = Array.from({ length: 400 }, (_, i) => ({ name: `g${i}`, expression: `g${(i + 1) % 400} + 1` })))), 'refused'],
    ['500 givens that all use all', () => text((j) => (j['givens'] = Array.from({ length: 500 }, (_, i) => ({ name: `g${i}`, expression: i === 0 ? '1' : Array.from({ length: Math.min(i, 40) }, (_, k) => `g${i - 1 - k}`).join('+').slice(0, 290).replace(/\+g?\d*$/, '') })))), 'computed'],
    ['powers of powers', () => text((j) => (j['points'][0].at[0] = { expression: '9^9^9^9' })), 'refused'],
    ['growing givens', () => text((j) => (j['givens'] = Array.from({ length: 300 }, (_, i) => ({ name: `g${i}`, expression: i === 0 ? '9^12' : `g${i - 1}^12` })))), 'computed'],
    ['a field that uses one grown beyond bounds', () => text((j) => { j['givens'] = [{ name: 'a', expression: '9^12' }, { name: 'b', expression: 'a^12' }, { name: 'c', expression: 'b^12' }]; j['points'][0].at[0] = { given: 'c' }; }), 'refused'],
    ['a nest of 298 brackets', () => text((j) => (j['points'][0].at[0] = { expression: `${'('.repeat(149)}4${')'.repeat(149)}` })), 'computed'],
    ['a function that runs things', () => text((j) => (j['points'][0].at[0] = { expression: 'evaluate("1")' })), 'refused'],
    ['import', () => text((j) => (j['givens'] = [{ name: 'a', expression: 'import("fs")' }])), 'refused'],
    ['a given named __proto__', () => text((j) => { j['givens'] = [{ name: '__proto__', expression: '3 mm' }]; j['points'][0].at[0] = { given: '__proto__' }; }), 'computed'],
    ['a given named constructor that is not there', () => text((j) => (j['points'][0].at[0] = { given: 'constructor' })), 'refused'],
    ['an expression "constructor"', () => text((j) => (j['points'][0].at[0] = { expression: 'constructor' })), 'refused'],
    ['a point called __proto__', () => text((j) => { j['points'][0].id = '__proto__'; j['hinge'].a = '__proto__'; }), 'computed'],
    ['points that all are called constructor', () => text((j) => j['points'].forEach((p: { id: string }) => (p.id = 'constructor'))), 'refused'],
    ['a key __proto__ in every object', () => lean(exampleFiles()[0]!).replaceAll('{"', '{"__proto__":{"kg":-5,"openDeg":9},"'), 'computed'],
    ['a key __proto__ that would fill in what is missing', () => text((j) => delete j['hinge'].opens).replace('"hinge":{', '"hinge":{"__proto__":{"opens":"up"},'), 'refused'],
    ['every number zero', () => lean(exampleFiles()[2]!).replace(/(?<=[:[,])-?\d+(\.\d+)?(?=[,\]}])/g, '0'), 'refused'],
    ['every text the same', () => lean(exampleFiles()[2]!).replace(/(?<="id":|"at":)"[^"]+"/g, '"same"'), 'refused'],
    ['a surrogate half as an id', () => text((j) => { j['points'][0].id = '\uD800'; j['hinge'].a = '\uD800'; }), 'computed'],
  ])('%s', (_, make, wanted) => {
    const bad = make();
    expect(ending(bad)).toBe(wanted);
  }); // prettier-ignore

  it('what can be read can be written again', () => {
    const deep = text((j) => (j['later'] = '@')).replace('"@"', `${'['.repeat(990)}${']'.repeat(990)}`);
    expect(readJob(writeJob(readJob(deep)))).toEqual(readJob(deep));
  });
});

describe('jobs that can be read and make no sense', () => {
  it.each<[string, (job: Record<string, any>) => void, Ending]>([ // oxlint-disable-line typescript/no-explicit-any
    ['coincident hinge points', (j) => (j['points'][1].at = j['points'][0].at), 'refused'],
    ['hinge points a thousandth apart', (j) => (j['points'][1].at = j['points'][0].at.map((v: number) => v + 0.001)), 'refused'],
    ['one hinge point twice', (j) => (j['hinge'].b = j['hinge'].a), 'refused'],
    ['a plumb hinge', (j) => { j['points'][0].at = [0, 0, 0]; j['points'][1].at = [0, 0, 900]; }, 'computed'],
    ['wind on a lid without an outline', (j) => { j['outline'] = []; j['loadCases'][0].wind = { ms: 5, towards: 'open' }; }, 'refused'],
    ['a seal on an outline of one corner thrice', (j) => { j['outline'] = [j['outline'][0], j['outline'][0], j['outline'][0]]; j['seal'] = { forceN: 20, overMm: 8 }; }, 'refused'],
    ['wind in no direction', (j) => (j['loadCases'][0].wind = { ms: 5, towards: [0, 0, 0] }), 'refused'],
    ['wind in a direction that is no direction', (j) => (j['loadCases'][0].wind = { ms: 5, towards: 'north' }), 'refused'],
    ['a latch that is not there', (j) => (j['latch'] = { at: 'nowhere' }), 'refused'],
    ['a seal over no way', (j) => (j['seal'] = { forceN: 20, overMm: 0 }), 'refused'],
    ['no weight at all: base falling freely', (j) => (j['loadCases'][0].accelG = [0, 0, -1]), 'computed'],
    ['no stroke', (j) => (j['struts'][0].spec.strokeMm = 0), 'refused'],
    ['a negative mass', (j) => (j['masses'][0].kg = -3), 'refused'],
    ['no mass at all', (j) => { j['masses'] = []; j['loadCases'].forEach((c: { off: string[] }) => (c.off = [])); }, 'computed'],
    ['masses of nothing', (j) => j['masses'].forEach((m: { kg: number }) => (m.kg = 0)), 'computed'],
    ['no strut', (j) => { j['struts'] = []; j['brackets'] = []; }, 'computed'],
    ['a bracket for a strut that is gone', (j) => (j['struts'] = []), 'refused'],
    ['all masses off', (j) => j['loadCases'].forEach((c: { off: string[] }) => (c.off = j['masses'].map((m: { id: string }) => m.id))), 'computed'],
    ['a mass taken off twice', (j) => (j['loadCases'][0].off = [j['masses'][0].id, j['masses'][0].id]), 'computed'],
    ['a strut far too long', (j) => (j['struts'][0].spec.extendedMm = 5000), 'computed'],
    ['a strut far too short', (j) => { j['struts'][0].spec.extendedMm = 50; j['struts'][0].spec.strokeMm = 25; }, 'computed'],
    ['a strut through the axis', (j) => { const a = j['points'][0].at; j['points'].push({ id: 'on', on: 'lid', at: a.map((v: number, i: number) => v + [0, -100, 0][i]!) }); j['struts'][0].lid = 'on'; }, 'computed'],
    ['both strut ends at one place when closed', (j) => (j['points'].find((p: { id: string }) => p.id === 's1-lid').at = j['points'].find((p: { id: string }) => p.id === 's1-base').at), 'refused'],
    ['a grip on the axis', (j) => (j['points'].find((p: { id: string }) => p.id === 'grip').at = j['points'][0].at), 'refused'],
    ['travel of almost nothing', (j) => (j['travel'].openDeg = 1e-12), 'computed'],
    ['travel of nearly 350°', (j) => (j['travel'].openDeg = 349.9), 'computed'],
    ['travel of 350°', (j) => (j['travel'].openDeg = 350), 'refused'],
    ['travel of nothing', (j) => (j['travel'].openDeg = 0), 'refused'],
    ['upright slope', (j) => (j['loadCases'][0].pitchDeg = 90), 'computed'],
    ['upside down', (j) => (j['loadCases'][0].rollDeg = 180), 'refused'],
    ['colder than cold', (j) => (j['loadCases'][0].tempC = -274), 'refused'],
    ['points a kilometre off', (j) => j['points'].forEach((p: { at: number[] }) => (p.at[0]! += 1e6 - 2000)), 'computed'],
    ['a thread of a rod', (j) => (j['struts'][0].spec.rodMm = 1e-6), 'computed'],
    ['a force that no rod of that size holds', (j) => (j['struts'][0].spec.forceN = 1e6), 'computed'],
    ['a ratio that squeezes the gas to nothing', (j) => (j['struts'][0].spec.ratio = 100), 'refused'],
    ['a ratio under 1', (j) => (j['struts'][0].spec.ratio = 0.9), 'refused'],
    ['two load cases of one id', (j) => (j['loadCases'][1].id = j['loadCases'][0].id), 'refused'],
    ['two struts of one id', (j) => j['struts'].push(j['struts'][0]), 'refused'],
    ['limits of nothing', (j) => (j['limits'] = { handOpenN: 0, handCloseN: 0, reserveMm: 0, holdOpenNm: 0 }), 'computed'],
    ['a joint that may not move at all', (j) => (j['struts'][0].ends.base.rangeDeg = 0), 'computed'],
    ['a joint that may do anything', (j) => (j['struts'][0].ends.base.rangeDeg = 90), 'computed'],
    ['400 load cases', (j) => (j['loadCases'] = Array.from({ length: 400 }, (_, i) => ({ id: `c${i}` }))), 'computed'],
  ])('%s', (_, edit, wanted) => {
    expect(ending(text(edit, exampleFiles()[2]!.replace(/[^/]+$/, 'workboat-hatch.lidjob')))).toBe(wanted);
  }); // prettier-ignore
});
