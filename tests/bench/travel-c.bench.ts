// The kernel against the same sums in C, built here with the system's cc -O3 and run in turn with ours.
import { execFileSync, spawnSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'vite';
import { afterAll, describe, expect, it } from 'vitest';
import { type Job, resolveJob } from '../../core/job';
import { extendedMPa } from '../../core/strut';
import type * as Travel from '../../core/travel';
import { type Plan, makeFrame, makePlan } from '../../core/travel';
import { filePath, jobAt } from '../support/files';
import { sink, table } from './stopwatch';

/** The workboat's hatch with a pair of struts beside its own, and a coil spring that helps it off the seat. */
const job = ((): Job => {
  const boat = jobAt('assets/examples/workboat-hatch.lidjob');
  const [strut] = boat.struts;
  const at = (id: string, on: 'base' | 'lid', mm: [number, number, number]) => ({ id, on, at: mm });
  return {
    ...boat,
    points: [
      ...boat.points,
      at('s2-base', 'base', [-121, -541, 44]),
      at('s2-lid', 'lid', [-296, -517, 369]),
      at('coil-base', 'base', [-310, 208, 190]),
      at('coil-lid', 'lid', [-322, 203, 377]),
    ],
    struts: [strut!, { ...strut!, id: 's2', base: 's2-base', lid: 's2-lid', quantity: 2 }],
    springs: [
      {
        id: 'coil',
        kind: 'compression',
        base: 'coil-base',
        lid: 'coil-lid',
        quantity: 1,
        rateNPerMm: 1.8,
        lengthMm: 280,
      },
    ],
  };
})();
const frame = makeFrame(resolveJob(job));
const plan = makePlan(frame, job.loadCases.at(-1)!.id);

/** A value as a C initialiser; whole numbers get a point, so that no sum falls into integers. */
function inC(value: unknown): string {
  if (typeof value === 'number') return Number.isInteger(value) ? `${value}.0` : String(value);
  return `{${Object.values(value as object)
    .map(inC)
    .join(', ')}}`;
}

/** data.h: the plan with the members of travel.c in their order. */
function dataOf({ axis, grip, gripRadiusMm, gravity, massKg, firstMoment, ...p }: Plan): string {
  const turning = ({ fixed, even, odd }: Plan['grip']) => [fixed, even, odd];
  const struts = p.struts.map((s) => [
    s.base,
    turning(s.lid),
    s.baseStem,
    turning(s.lidStem),
    ...[s.extendedMm, s.strokeMm, extendedMPa(s.gas, p.tempC), s.gas.fillPerMm, s.gas.rodAreaMm2, s.gas.halfFrictionN],
    s.quantity,
  ]);
  const coils = p.springs.flatMap((s) =>
    s.coil
      ? [
          [
            ...[s.base, turning(s.lid), s.coil.rateNPerMm, s.coil.lengthMm, s.coil.preloadN],
            ...[s.quantity, s.coil.kind === 'compression' ? 1 : 0],
          ],
        ]
      : [],
  );
  const all = [
    ...[axis.along, axis.opening, axis.spanMm, turning(grip), gripRadiusMm, gravity, massKg, turning(firstMoment)],
    ...[p.cosNmm, p.sinNmm, p.frictionNmm, struts, coils],
  ];
  return `static const double OPEN_DEG = ${inC(p.openDeg)};\nPlan plan = ${inC(all)};\n`;
}

type Columns = { readonly [name: string]: readonly (number | null)[] };
type FromC = {
  readonly posesNs: number;
  readonly bothNs: number;
  readonly newNs: number;
  readonly struts: Columns[];
  readonly springs: Columns[];
};

const folder = mkdtempSync(join(tmpdir(), 'lidwright-bench-'));
const compiler = spawnSync('cc', ['--version'], { encoding: 'utf8' });
const rows: string[][] = [['ns an angle', 'ours', 'C', 'ours / C']];

/** The kernel bundled as the page gets it: as a test's module each import would be looked up at every use. */
async function bundled(): Promise<typeof Travel> {
  const entry = filePath('core/travel/index.ts');
  const lib = { entry, formats: ['es' as const], fileName: () => 'kernel.mjs' };
  await build({
    configFile: false,
    publicDir: false,
    logLevel: 'error',
    build: { lib, outDir: folder, emptyOutDir: false },
  });
  return import(/* @vite-ignore */ join(folder, 'kernel.mjs')) as Promise<typeof Travel>;
}

function compiled(): string {
  copyFileSync(filePath('tests/bench/travel.c'), join(folder, 'travel.c'));
  writeFileSync(join(folder, 'data.h'), dataOf(plan));
  const program = join(folder, 'travel');
  const sizes = [`-DSTRUTS=${plan.struts.length}`, `-DCOILS=${plan.springs.length}`];
  const how = ['-std=c99', '-D_POSIX_C_SOURCE=200809L', '-O3', ...sizes];
  execFileSync('cc', [...how, '-o', program, join(folder, 'travel.c'), '-lm']);
  return program;
}

/** The quickest of batches of about a millisecond, ns an angle, over `ms`. */
function quickest(run: () => number, angles: number, ms: number): number {
  const batch = 1 + Math.floor(5000 / angles);
  let best = Infinity;
  for (const start = performance.now(); performance.now() - start < ms;) {
    const from = performance.now();
    for (let r = 0; r < batch; r++) sink.value += run();
    best = Math.min(best, ((performance.now() - from) * 1e6) / batch / angles);
  }
  return best;
}

/** Every number of a column within 1e-12 of its greatest. */
function expectSame(ours: object, theirs: object): void {
  for (const [name, column] of Object.entries(theirs) as [string, readonly (number | null)[]][]) {
    if (name === 'struts' || name === 'springs' || !Array.isArray(column)) continue;
    const own = (ours as Record<string, Float64Array>)[name]!;
    expect(column).toHaveLength(own.length);
    const greatest = column.reduce<number>((most, v) => Math.max(most, Math.abs(v ?? 0)), 0);
    column.forEach((v, i) => {
      if (v === null) expect(own[i], `${name}[${i}]`).toBeNaN();
      else expect(Math.abs(own[i]! - v), `${name}[${i}]`).toBeLessThanOrEqual(1e-12 * greatest);
    });
  }
}

describe.skipIf(compiler.status !== 0)('the same sums in C (skipped where there is no cc)', () => {
  const program = compiler.status === 0 ? compiled() : '';

  it.each([71, 10_000])('%i angles: the same numbers, in at most twice the time', async (n) => {
    const { caseTable, kinematics, sweep } = await bundled();
    const angles = Float64Array.from({ length: n }, (_, i) => (frame.openDeg * i) / (n - 1));
    const poses = kinematics(plan, angles);
    const into = caseTable(plan, poses);
    let best = { poses: Infinity, both: Infinity, alone: Infinity };
    let inC = { poses: Infinity, both: Infinity, alone: Infinity };
    let theirs: FromC | null = null;
    for (let round = 0; round < 10; round++) {
      best = {
        poses: Math.min(
          best.poses,
          quickest(() => kinematics(plan, angles, poses).cos[n >> 1]!, n, 150),
        ),
        both: Math.min(
          best.both,
          quickest(() => caseTable(plan, kinematics(plan, angles, poses), into).handOpeningN[n >> 1]!, n, 150),
        ),
        alone: Math.min(
          best.alone,
          quickest(() => sweep(plan, angles).handOpeningN[n >> 1]!, n, 150),
        ),
      };
      theirs = JSON.parse(execFileSync(program, [String(n), '300'], { encoding: 'utf8', maxBuffer: 1e8 })) as FromC;
      inC = {
        poses: Math.min(inC.poses, theirs.posesNs),
        both: Math.min(inC.both, theirs.bothNs),
        alone: Math.min(inC.alone, theirs.newNs),
      };
    }
    const put = (name: string, ours: number, c: number): void =>
      void rows.push([name, ours.toFixed(0), c.toFixed(0), (ours / c).toFixed(2)]);
    put(`${n} angles: poses alone`, best.poses, inC.poses);
    put(`${n} angles: poses and one load case`, best.both, inC.both);
    put('  into new arrays, their collection or freeing included', best.alone, inC.alone);
    expectSame(into, theirs!);
    into.struts.forEach((s, k) => expectSame(s, theirs!.struts[k]!));
    into.springs.forEach((s, k) => expectSame(s, theirs!.springs[k]!));
    expect(best.both / inC.both).toBeLessThanOrEqual(2);
  });

  afterAll(() => console.log(table(rows)));
});

if (compiler.status !== 0) console.log('There is no cc here: the comparison with C is skipped.');
afterAll(() => rmSync(folder, { recursive: true, force: true }));
