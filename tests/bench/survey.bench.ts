// What the Measure stage costs: a whole adjustment of an example survey, and a drag step with relations on a job.
import { availableParallelism } from 'node:os';
import { afterAll, describe, expect, it } from 'vitest';
import { type Job } from '../../core/job';
import { RelationDrag, adjustSurvey, suggestReading, tryRelation } from '../../core/survey';
import { jobAt } from '../support/files';
import { simulate } from '../core/survey/simulate';
import { type Measured, measure, sink, table } from './stopwatch';

const FRAME_MS = 1000 / 60;
const rows: string[][] = [['', 'min ms', 'mean ms', '± sd', 'runs', 'of a frame']];
const put = (name: string, m: Measured): void =>
  void rows.push([
    name,
    ...[m.minMs, m.meanMs, m.sdMs].map((v) => v.toPrecision(3)),
    String(m.runs),
    `${((100 * m.minMs) / FRAME_MS).toFixed(0)} %`,
  ]);

describe('bench', () => {
  it('adjusts and tests a survey of 9 points and 48 readings', () => {
    const { job } = simulate('workboat-hatch', 1);
    const { it: m } = measure({ it: () => adjustSurvey(job).s0! }) as { it: Measured };
    put(`adjust ${job.observations!.length} readings, with tests and words`, m);
    const result = adjustSurvey(job);
    const { it: s } = measure({ it: () => suggestReading(job, result)?.afterMm ?? 0 }) as { it: Measured };
    put('what to measure next', s);
    expect(m.minMs).toBeLessThan(3 * FRAME_MS);
  });

  it('a drag step with 20 relations on a job, and a refusal', () => {
    let job: Job = { ...jobAt('assets/examples/workboat-hatch.lidjob'), relations: [] };
    const ask = (relation: Parameters<typeof tryRelation>[1]['relation']): void => {
      const kept = tryRelation(job, { relation });
      if (!kept.ok) throw new Error(kept.text);
      job = kept.job;
    };
    ask({ kind: 'closed-length', strut: 's1', valueMm: 390 });
    ask({ kind: 'on-line', points: ['s1-lid', 'c3', 'c4'] });
    ask({ kind: 'level-with', points: ['s1-lid', 'grip'] });
    ask({ kind: 'mirrored', points: ['c1', 'c4'] });
    ask({ kind: 'mirrored', points: ['c2', 'c3'] });
    ask({ kind: 'plumb-with', points: ['cg-panel', 'grip'], view: 'front' });
    ask({ kind: 'equal-distance', points: ['cg-panel', 'c1', 'cg-panel', 'c2'] });
    const others = ['cg-canister', 'cg-cradle', 'cg-panel', 'grip'] as const;
    others.forEach((id, i) => {
      ask({ kind: 'distance', points: [id, 's1-lid'], valueMm: 400 + 70 * i });
      if (i > 0) ask({ kind: 'level-with', points: [others[i - 1]!, id], view: 'side' });
    });
    ask({ kind: 'plumb-with', points: ['cg-canister', 'cg-cradle'], view: 'side' });
    ask({ kind: 'level-with', points: ['c1', 'c2'] });
    ask({ kind: 'level-with', points: ['c1', 'grip'] });
    ask({ kind: 'angle', points: ['s1-base', 's1-lid'], valueDeg: 55 });
    ask({ kind: 'distance', points: ['c1', 'c2'], valueMm: 900 });
    ask({ kind: 'plumb-with', points: ['s1-base', 'c3'], view: 'front' });
    while (job.relations!.length < 20) ask({ kind: 'level-with', points: ['s1-lid', 'c1'] });
    const drag = new RelationDrag(job, 's1-lid');
    const from = job.points.find((p) => p.id === 's1-lid')!.at as [number, number, number];
    let step = 0;
    const { it: m } = measure({
      it: () => {
        const turn = (step++ * 7 * Math.PI) / 180;
        const result = drag.to([from[0] + 25 * Math.cos(turn) - 25, from[1], from[2] + 12 * Math.sin(turn)]);
        if (!result.held) throw new Error('a drag step was lost');
        return result.lagMm;
      },
    }) as { it: Measured };
    put(`drag step, ${job.relations!.length} relations`, m);
    expect(m.minMs).toBeLessThan(FRAME_MS);
    const { it: r } = measure(
      { it: () => (tryRelation(job, { relation: { kind: 'closed-length', strut: 's1', valueMm: 410 } }).ok ? 1 : 0) },
      { repeats: 3, batchMs: 1, warmMs: 1 },
    ) as { it: Measured };
    put('refuse one more, by name', r);
  });

  afterAll(() => {
    console.log(
      [
        `node ${process.version}, ${process.platform} ${process.arch}, ${availableParallelism()} cores`,
        '',
        table(rows),
        `(sum of all results: ${sink.value.toPrecision(6)})`,
      ].join('\n'),
    );
  });
});
