// The kernel against the same sums written plainly with mathjs vectors, in the same run; and what a drag step costs.
import { availableParallelism } from 'node:os';
import { afterAll, describe, expect, it } from 'vitest';
import { type Job, movePoint, resolveJob } from '../../core/job';
import { caseTable, kinematics, makeFrame, makePlan, sweep, travelAngles } from '../../core/travel';
import { type Workings, workingsOf } from '../../core/workings';
import { expectClose, withinEither } from '../support/close';
import { jobAt } from '../support/files';
import { type BaselineRow, baselineTable } from './baseline';
import { type Measured, fitLine, measure, quantile, sink, table } from './stopwatch';

const FRAME_MS = 1000 / 60;
const boat = ((): Job => {
  const job = jobAt('assets/examples/workboat-hatch.lidjob');
  return { ...job, loadCases: job.loadCases.slice(0, 3) };
})();
const resolved = resolveJob(boat);
const frame = makeFrame(resolved);
const plan = makePlan(frame, resolved.loadCases[0]!.id);
const angles = travelAngles(frame.openDeg);

const rows: string[][] = [['', 'min ms', 'mean ms', '± sd', 'runs', 'baseline / ours']];
const ms = (v: number): string => v.toPrecision(3);
const put = (name: string, m: Measured, ratio = ''): void =>
  void rows.push([name, ms(m.minMs), ms(m.meanMs), ms(m.sdMs), String(m.runs), ratio]);
const notes: string[] = [];

const baselineSum = (table: readonly BaselineRow[]): number =>
  table.reduce((s, r) => s + r.handOpeningN + r.struts[0]!.lidJointDeg, 0);

/** A drag: the strut's lid end goes round a small circle. */
function dragged(step: number): Job {
  const turn = (step % 90) * 4 * (Math.PI / 180);
  return movePoint(boat, {
    id: 's1-lid',
    at: [-290 + 12 * Math.cos(turn), -516 + 7 * Math.sin(turn), 372 + 9 * Math.sin(2 * turn)],
  });
}

describe('bench', () => {
  it('baseline and kernel agree in numbers', () => {
    for (let c = 0; c < 3; c++) {
      const ours = sweep(makePlan(frame, resolved.loadCases[c]!.id), angles);
      baselineTable(resolved, c, angles).forEach((r, i) => {
        const force = withinEither(1e-6, 1e-9, 'N');
        expectClose(ours.weightMomentNm[i], r.weightMomentNm, withinEither(1e-9, 1e-11, 'N·m'));
        expectClose(
          [ours.handOpeningN[i], ours.handClosingN[i], ours.hingeAxialN[i]] as number[],
          [r.handOpeningN, r.handClosingN, r.hingeAxialN],
          force,
        );
        expectClose(ours.hingeAN.slice(3 * i, 3 * i + 3), r.hingeAN, force);
        expectClose(ours.hingeBN.slice(3 * i, 3 * i + 3), r.hingeBN, force);
        r.struts.forEach((s, k) => {
          for (const [name, value] of Object.entries(s))
            expectClose(ours.struts[k]![name as keyof typeof s][i], value, withinEither(1e-6, 1e-9, 'mm, N, °'), name);
        });
      });
    }
  });

  it('one travel table: 1° steps, one strut, one load case', () => {
    const { ours, baseline } = measure({
      ours: () => sweep(plan, angles).handOpeningN[40]!,
      baseline: () => baselineSum(baselineTable(resolved, 0, angles)),
    }) as { ours: Measured; baseline: Measured };
    put(`travel table, ${angles.length} angles`, ours, (baseline.minMs / ours.minMs).toFixed(0));
    put('  the same with mathjs vectors', baseline);
    expect(baseline.minMs).toBeGreaterThan(ours.minMs);
  });

  it('a drag step: edit, resolve, plan, 3 load cases, findings', () => {
    let step = 0;
    let last: Workings | undefined;
    const { ours, baseline } = measure({
      ours: () => {
        last = workingsOf(dragged(step++), undefined, last);
        return last.quickFindings[0]!.value ?? 0;
      },
      // the baseline makes the three tables only, no finding and no rest angle
      baseline: () => {
        const job = resolveJob(dragged(step++));
        return [0, 1, 2].reduce((s, c) => s + baselineSum(baselineTable(job, c, angles)), 0);
      },
    }) as { ours: Measured; baseline: Measured };
    put('drag step, 3 load cases', ours, (baseline.minMs / ours.minMs).toFixed(1));
    put('  its three tables with mathjs vectors', baseline);
    expect(baseline.minMs).toBeGreaterThan(ours.minMs);
  });

  it('a drag step beside one frame of a 60 Hz screen', () => {
    let last: Workings | undefined;
    const took: number[] = [];
    for (let step = 0; step < 700; step++) {
      const start = performance.now();
      last = workingsOf(dragged(step), undefined, last);
      sink.value += last.quickFindings.length;
      if (step >= 100) took.push(performance.now() - start);
    }
    const [mid, high] = [quantile(took, 0.5), quantile(took, 0.95)];
    notes.push(
      `drag step: median ${mid.toFixed(2)} ms, 95th percentile ${high.toFixed(2)} ms of ${FRAME_MS.toFixed(1)} ms a frame (${took.length} steps)`,
    );
    expect(mid).toBeLessThan(FRAME_MS / 2);
  });

  it('cost over 10 to 10 000 angles is a straight line', () => {
    const points: [number, number][] = [];
    for (const n of [10, 30, 100, 300, 1000, 3000, 10_000]) {
      const many = Float64Array.from({ length: n }, (_, i) => (frame.openDeg * i) / (n - 1));
      const poses = kinematics(plan, many);
      const into = caseTable(plan, poses);
      const { it: m } = measure(
        { it: () => caseTable(plan, kinematics(plan, many, poses), into).handOpeningN[n >> 1]! },
        { repeats: 9, warmMs: 100 },
      ) as { it: Measured };
      put(`${n} angles`, m);
      points.push([n, m.minMs]);
    }
    const line = fitLine(points);
    const power = fitLine(points.slice(2).map(([n, t]) => [Math.log(n), Math.log(t)]));
    notes.push(
      `cost: ${(1000 * line.a).toFixed(1)} µs + ${(1e6 * line.b).toFixed(0)} ns an angle (R² ${line.r2.toFixed(4)}); exponent ${power.b.toFixed(3)} from 100 angles on`,
    );
    expect(line.r2).toBeGreaterThan(0.97);
    expect(Math.abs(power.b - 1)).toBeLessThan(0.2);
  });

  afterAll(() => {
    console.log(
      [
        `node ${process.version}, ${process.platform} ${process.arch}, ${availableParallelism()} cores`,
        '',
        table(rows),
        '',
        ...notes,
        `(sum of all results: ${sink.value.toPrecision(6)})`,
      ].join('\n'),
    );
  });
});
