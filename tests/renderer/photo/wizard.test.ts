import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { workOut } from '../../../core/findings';
import { readJob, resolveJob, writeJob } from '../../../core/job';
import {
  MARKS,
  WIZARD_STEPS,
  type Wizard,
  clickWizard,
  jobFromWizard,
  nextStep,
  redoStep,
  setWizardLength,
  setWizardTurn,
  startWizard,
  stepDone,
  wizardUnderlay,
} from '../../../renderer/photo/wizard';

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

function traced(clicks: readonly (readonly [number, number])[] = CLICKS, lengthMm = 500): Wizard {
  let w = startWizard(photo);
  w = clickWizard(w, [100, 900]);
  w = clickWizard(w, [1500, 900]);
  w = clickWizard(w, [655.6, 883.3]);
  w = clickWizard(w, [1127, 888.2]);
  w = setWizardLength(w, lengthMm);
  for (const px of clicks) w = clickWizard(w, px);
  return w;
}

describe('tracing a lid from a photo', () => {
  it('asks for one thing after the other and is whole after the last click', () => {
    let w = startWizard(photo);
    const asked: string[] = [];
    for (let guard = 0; nextStep(w) !== null && guard < 20; guard++) {
      asked.push(w.step);
      expect(jobFromWizard(w)).toBeNull();
      w = w.step === 'length' ? setWizardLength(w, 500) : clickWizard(w, [100 + 90 * guard, 300 + 7 * guard]);
    }
    expect(asked).toEqual([...WIZARD_STEPS]);
    expect(jobFromWizard(w)).not.toBeNull();
  });

  it('the job stands in mm from the hinge: sums by hand', () => {
    const job = jobFromWizard(traced())!;
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
    const job = jobFromWizard(traced())!;
    const text = writeJob(job);
    expect(writeJob(readJob(text))).toBe(text);
    const { findings, frame } = workOut(resolveJob(readJob(text)));
    expect(frame.openDeg).toBe(75);
    expect(findings.filter((f) => f.state === 'unknown')).toEqual([]);
    expect(findings.find((f) => f.id === 'strut-fits')?.state ?? 'holds').toBe('holds');
  });

  it('any clicks make a job that can be read, worked out or refused in words', () => {
    const px = fc.tuple(fc.integer({ min: 0, max: 1600 }), fc.integer({ min: 0, max: 1200 }));
    fc.assert(
      fc.property(
        fc.array(px, { minLength: 6, maxLength: 6 }),
        fc.integer({ min: 1, max: 5000 }),
        (clicks, lengthMm) => {
          const job = jobFromWizard(traced(clicks, lengthMm))!;
          const again = readJob(writeJob(job));
          expect(writeJob(again)).toBe(writeJob(job));
          try {
            expect(workOut(resolveJob(again)).findings.length).toBeGreaterThan(0);
          } catch (error) {
            expect(error).toMatchObject({ name: 'LidwrightError' });
            expect((error as Error).message.length).toBeGreaterThan(20);
          }
        },
      ),
      { numRuns: 40 },
    );
  });

  it('any step can be redone: the new answer takes the old one’s place and the rest stays', () => {
    const whole = traced();
    for (const step of WIZARD_STEPS) {
      const back = redoStep(whole, step);
      expect(back.step).toBe(step);
      const again = step === 'length' ? setWizardLength(back, 640) : clickWizard(back, [333.5, 444.5]);
      expect(nextStep(again)).toBeNull();
      for (const other of WIZARD_STEPS) {
        expect(stepDone(again, other)).toBe(true);
        const value = (w: Wizard, s: typeof step): unknown =>
          s.startsWith('level')
            ? w[s as 'levelFrom' | 'levelTo']
            : s === 'scaleFrom'
              ? w.scaleFrom
              : s === 'scaleTo'
                ? w.scaleTo
                : s === 'length'
                  ? w.lengthMm
                  : w.marks[s as keyof typeof w.marks];
        if (other === step) expect(value(again, other)).toEqual(step === 'length' ? 640 : [333.5, 444.5]);
        else expect(value(again, other)).toEqual(value(whole, other));
      }
    }
  });

  it('a step redone in the middle goes on with the first that lacks its answer', () => {
    let w = setWizardTurn(startWizard(photo), 0);
    w = clickWizard(w, [0, 0]);
    w = clickWizard(w, [100, 0]);
    w = setWizardLength(w, 200);
    w = clickWizard(w, [50, 50]);
    w = clickWizard(redoStep(w, 'hinge'), [60, 60]);
    expect(w.step).toBe(MARKS[1].key);
    expect(w.marks.hinge).toEqual([60, 60]);
  });

  it('two scale marks on one pixel are no scale: it waits for another click', () => {
    let w = clickWizard(setWizardTurn(startWizard(photo), 0), [10, 10]);
    w = clickWizard(w, [10.4, 10]);
    expect(w.step).toBe('scaleTo');
    expect(wizardUnderlay(w).mmPerPx).toBe(1500 / 1600);
  });

  it('two marks level with each other take the 0.6° out that put the free edge 7.8 mm low', () => {
    // hinge and free edge are level in truth (tests/fixtures/photos/locker-side.truth.json)
    const [hinge, edge] = [CLICKS[0], CLICKS[1]];
    const height = (start: Wizard): number => {
      let w = clickWizard(clickWizard(start, [655.6, 883.3]), [1127, 888.2]);
      w = setWizardLength(w, 500);
      for (const px of CLICKS) w = clickWizard(w, px);
      return jobFromWizard(w)!.points.find((p) => p.id === 'c2')!.at[2] as number;
    };
    expect(height(setWizardTurn(startWizard(photo), 0))).toBeLessThan(-7.5);
    expect(Math.abs(height(clickWizard(clickWizard(startWizard(photo), hinge), edge)))).toBeLessThan(0.2);
  });
});
