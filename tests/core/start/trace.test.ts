import fc from 'fast-check';
import { runs } from '../../support/tier';
import { describe, expect, it } from 'vitest';
import { workings } from '../../../core/workings';
import { readJob, resolveJob, writeJob } from '../../../core/job';
import type { Pixel } from '../../../core/photo';
import {
  TRACE_STEPS,
  type Trace,
  answerStep,
  clickIssue,
  depthOff,
  jobFromTrace,
  nextStep,
  scaleByDepth,
  startTrace,
  tracedDepth,
  traceUnderlay,
  turnTrace,
} from '../../../core/start';

const photo = { dataUrl: 'data:image/jpeg;base64,AAAA', widthPx: 1600, heightPx: 1200, name: 'locker-side' };
/** Clicks as on the rendered locker photo, px. */
const CLICKS = [
  [491, 474.4],
  [1188.7, 481.8],
  [1200.4, 500.1],
  [545.9, 721.9],
  [737, 493.7],
  [840, 485.4],
] as const;

/** Clicks as answers to the next steps, one after the other. */
const click = (t: Trace, ...clicks: Pixel[]): Trace =>
  clicks.reduce((now, px) => answerStep(now, nextStep(now)!, px) ?? now, t);

const traced = (clicks: readonly Pixel[] = CLICKS, lengthMm = 500): Trace =>
  click({ ...click(startTrace(photo), [100, 900], [1500, 900], [655.6, 883.3], [1127, 888.2]), lengthMm }, ...clicks);

describe('tracing a lid from a photo', () => {
  it('asks for one thing after the other and is whole after the last click', () => {
    let w = startTrace(photo);
    const asked: string[] = [];
    for (let guard = 0, step = nextStep(w); step !== null && guard < 20; guard++, step = nextStep(w)) {
      asked.push(step);
      expect(jobFromTrace(w)).toBeNull();
      w = step === 'length' ? { ...w, lengthMm: 500 } : click(w, [100 + 90 * guard, 300 + 7 * guard]);
    }
    expect(asked).toEqual([...TRACE_STEPS]);
    expect(jobFromTrace(w)).not.toBeNull();
  });

  it('a known depth is held against the trace, and scales the photo', () => {
    const t = { ...traced(), depthMm: 700 };
    const mm = tracedDepth(t)!;
    expect(mm).toBeCloseTo(
      (Math.hypot(1188.7 - 491, 481.8 - 474.4) * 500) / Math.hypot(1127 - 655.6, 888.2 - 883.3),
      6,
    );
    expect(depthOff(t)).toBeCloseTo(mm / 700 - 1, 9);
    expect(tracedDepth(scaleByDepth(t))).toBeCloseTo(700, 6);
    expect(depthOff(traced())).toBeNull();
    expect(clickIssue(t, 'edge', [491 + 40, 474.4])).toContain('can’t lie on the hinge');
    expect(clickIssue(t, 'edge', [491 + 50, 474.4])).toBeNull();
  });

  it('the job stands in mm from the hinge: sums by hand', () => {
    const job = jobFromTrace(traced())!;
    // 500 mm over |(471.4, 4.9)| = 471.4255 px: 1.060613 mm a pixel
    const mmPerPx = 500 / Math.hypot(1127 - 655.6, 888.2 - 883.3);
    const at = new Map(job.points.map((p) => [p.id, p.at]));
    expect(at.get('hingeA')).toEqual([0, 450, 0]);
    expect(at.get('c2')![0]).toBeCloseTo((1188.7 - 491) * mmPerPx, 1);
    expect(at.get('c2')![2]).toBeCloseTo(-(481.8 - 474.4) * mmPerPx, 1);
    expect(at.get('s1-base')![2]).toBeCloseTo(-(721.9 - 474.4) * mmPerPx, 1);
    expect(at.get('s1-base')![1]).toBe(-410);
  });

  it('its results are live at once: every finding has a value, and the file is one that is read back alike', () => {
    const job = jobFromTrace(traced())!;
    const text = writeJob(job);
    expect(writeJob(readJob(text))).toBe(text);
    const { findings, frame } = workings(resolveJob(readJob(text)));
    expect(frame.openDeg).toBe(75);
    // of a lid that is only traced nobody has said yet in what weather it must hold
    // nor what it weighs
    expect(findings.filter((f) => f.state === 'unknown').map((f) => f.id)).toEqual(['asked', 'assumed-values']);
    expect(findings.find((f) => f.id === 'strut-fits')?.state ?? 'holds').toBe('holds');
  });

  it('any clicks make a job that can be read, worked out or refused in words', () => {
    const px = fc.tuple(fc.integer({ min: 0, max: 1600 }), fc.integer({ min: 0, max: 1200 }));
    fc.assert(
      fc.property(
        fc.array(px, { minLength: 6, maxLength: 6 }),
        fc.integer({ min: 1, max: 5000 }),
        (clicks, lengthMm) => {
          const job = jobFromTrace(traced(clicks, lengthMm))!;
          const again = readJob(writeJob(job));
          expect(writeJob(again)).toBe(writeJob(job));
          try {
            expect(workings(resolveJob(again)).findings.length).toBeGreaterThan(0);
          } catch (error) {
            expect(error).toMatchObject({ name: 'LidwrightError' });
            expect((error as Error).message.length).toBeGreaterThan(20);
          }
        },
      ),
      { numRuns: runs(400) },
    );
  });

  it('two scale marks on one pixel are no scale: it waits for another click', () => {
    const w = click(turnTrace(startTrace(photo), 0), [10, 10], [10.4, 10]);
    expect(nextStep(w)).toBe('scaleTo');
    expect(traceUnderlay(w).mmPerPx).toBe(1500 / 1600);
  });

  it('two marks level with each other take the 0.6° out that put the free edge 7.8 mm low', () => {
    // hinge and free edge are level in truth (tests/fixtures/photos/locker-side.truth.json)
    const [hinge, edge] = [CLICKS[0], CLICKS[1]];
    const height = (start: Trace): number => {
      const w = click({ ...click(start, [655.6, 883.3], [1127, 888.2]), lengthMm: 500 }, ...CLICKS);
      return jobFromTrace(w)!.points.find((p) => p.id === 'c2')!.at[2] as number;
    };
    expect(height(turnTrace(startTrace(photo), 0))).toBeLessThan(-7.5);
    expect(Math.abs(height(click(startTrace(photo), hinge, edge)))).toBeLessThan(0.2);
  });
});
