// Nets under reading, the kernel and the findings: jobs of ours with some values made wrong. Whatever comes, it is refused in
// words or worked out; no error of another kind, no hang, no NaN in a text or a number, and nothing read otherwise than written.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LidwrightError } from '../../../core/error';
import { type Job, VERSION, readJob, writeJob } from '../../../core/job';
import { toResult } from '../../../core/result';
import { type Workings, workingsOf } from '../../../core/workings';
import { exampleFiles, fileText, goldenFiles, secondGoldenFiles } from '../../support/files';
import { DEEP, processorSeconds, runs } from '../../support/tier';

type Tree = { [key: string]: unknown } | unknown[];
const TEXTS = [...exampleFiles(), ...goldenFiles(), ...secondGoldenFiles()].map(fileText);

/** Every place in a document, as the holder and the key. */
function places(node: unknown, found: { holder: Tree; key: string }[] = []): { holder: Tree; key: string }[] {
  if (typeof node !== 'object' || node === null) return found;
  for (const [key, value] of Object.entries(node)) {
    found.push({ holder: node as Tree, key });
    places(value, found);
  }
  return found;
}

const WRONG: readonly unknown[] = [
  ...[null, true, '', [], {}, 0, -0, -1, 1e-12, 1e-300, 1e9, 1e308, -1e308, 0.1, 90, 180, 360, 499, 500, 1e5],
  ...['5 mm', '1e999', '0/0', 'NaN', '-3 ft 2 in', 'sqrt(-1) mm', '1/0', '__proto__', 'a'.repeat(300), '🚤', '\ud83d'],
  ...[{ value: 3 }, { value: '3 in', unit: 'in' }, [0, 0, 0], [1e6, -1e6, 1e6], ['1', '2', '3']],
];

/** One wrong thing: `at`, `what` and `how` choose place, value and kind. */
function spoil(document: Tree, [at, what, how]: readonly [number, number, number]): void {
  const all = places(document);
  const { holder, key } = all[Math.floor(at * all.length)]!;
  const value = (holder as Record<string, unknown>)[key];
  const set = (next: unknown): void => void ((holder as Record<string, unknown>)[key] = next);
  const other = all[Math.floor(what * all.length)]!;
  const lists = Array.isArray(value);
  if (how < 0.35 && typeof value === 'number')
    set(value * [0, -1, 1e-6, 1e6, 0.5, 2, 1.001, -0.3][Math.floor(what * 8)]!);
  else if (how < 0.55) set(structuredClone(WRONG[Math.floor(what * WRONG.length)]));
  else if (how < 0.65) delete (holder as Record<string, unknown>)[key];
  else if (how < 0.75) set(structuredClone((other.holder as Record<string, unknown>)[other.key]));
  else if (how < 0.85 && lists) set([...value, ...(structuredClone(value) as unknown[])]);
  else if (how < 0.95 && lists) set([...value].reverse());
  else (holder as Record<string, unknown>)[`${key}x`] = value;
}

/** Evenly drawn: fast-check would begin with the first key of every job. */
const unit = fc.noBias(fc.nat(999_999)).map((n) => n / 1e6);
const spoiled = fc
  .tuple(fc.nat(TEXTS.length - 1), fc.array(fc.tuple(unit, unit, unit), { minLength: 1, maxLength: 4 }))
  .map(([i, faults]) => {
    const document = JSON.parse(TEXTS[i]!) as Tree;
    for (const fault of faults) spoil(document, fault);
    return JSON.stringify(document);
  });

/** Texts that say a number nobody knows. */
const HOLE = /\bNaN\b|\bInfinity\b|\bundefined\b|\[object/;
function holes(value: unknown, where = ''): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [where];
  if (typeof value === 'string') return HOLE.test(value) ? [`${where}: ${value}`] : [];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => holes(inner, `${where}.${key}`));
}

/** Works out as far as `reach` goes; what is refused counts as `refused`. */
function outcome(text: string, reach: (w: Workings) => unknown): 'refused' | 'worked out' {
  const from = processorSeconds();
  try {
    const job = readJob(text);
    // what was read is what was written, key by key; an older version is brought up to this one
    const written = JSON.parse(text) as Job;
    if (written.version === VERSION) expect(JSON.parse(writeJob(job))).toEqual(written);
    const w = workingsOf(job);
    reach(w);
    return 'worked out';
  } catch (error) {
    if (!(error instanceof LidwrightError)) throw error;
    for (const { what, advice } of error.issues) {
      expect(what.length).toBeGreaterThan(5);
      expect(advice.length).toBeGreaterThan(3);
    }
    return 'refused';
  } finally {
    expect(processorSeconds() - from, 'seconds of processor time').toBeLessThan(MOST_S);
  }
}

/** The demand, for a quiet machine; beside other work the same sums take up to three times the processor's time. */
const MOST_S = DEEP ? 2 : 8;

describe('jobs with something wrong in them', () => {
  const KERNEL = runs(100_000, 400);
  const ALL = runs(2000, 20);

  it(`${KERNEL} through reading and the kernel: refused in words or worked out`, () => {
    const count = { refused: 0, 'worked out': 0 };
    fc.assert(
      fc.property(spoiled, (text) => {
        count[outcome(text, (w) => [w.tables, w.kinematics])]++;
      }),
      { numRuns: KERNEL },
    );
    // both ways are taken, or the net has no mesh
    expect(Math.min(count.refused, count['worked out'])).toBeGreaterThan(KERNEL / 10);
    if (KERNEL > 1000) console.log('kernel', count);
  });

  it(`${ALL} through all findings and the result file: no NaN in any text or number`, () => {
    const count = { refused: 0, 'worked out': 0 };
    fc.assert(
      fc.property(spoiled, (text) => {
        count[
          outcome(text, (w) => {
            // what the job itself says is no finding's fault
            const named = HOLE.test(text);
            if (!named) expect(holes(w.findings)).toEqual([]);
            expect(w.findings.every((f) => f.text.trim().length > 5)).toBe(true);
            if (!named) expect(holes(toResult('job', w).findings)).toEqual([]);
          })
        ]++;
      }),
      { numRuns: ALL },
    );
    expect(Math.min(count.refused, count['worked out'])).toBeGreaterThan(ALL / 20);
    if (ALL > 1000) console.log('findings', count);
  });
});
