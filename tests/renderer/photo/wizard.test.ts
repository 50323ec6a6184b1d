import { describe, expect, it } from 'vitest';
import { TRACE_STEPS, nextStep, stepDone } from '../../../core/start';
import {
  type Wizard,
  backWizard,
  clickWizard,
  redoStep,
  setWizardLength,
  setWizardTurn,
  startWizard,
} from '../../../renderer/photo/wizard';

const photo = { dataUrl: 'data:image/jpeg;base64,AAAA', widthPx: 1600, heightPx: 1200, name: 'locker-side' };

function traced(): Wizard {
  let w = startWizard(photo);
  for (const px of [
    [100, 900],
    [1500, 900],
    [655.6, 883.3],
    [1127, 888.2],
  ] as const)
    w = clickWizard(w, px);
  w = setWizardLength(w, 500);
  for (const px of [
    [491, 474.4],
    [1188.7, 481.8],
    [1200.4, 500.1],
    [545.9, 721.9],
    [737, 493.7],
    [840, 485.4],
  ] as const)
    w = clickWizard(w, px);
  return w;
}

describe('the tracing as the page steps through it', () => {
  it('any step can be redone: the new answer takes the old one’s place and the rest stays', () => {
    const whole = traced();
    for (const step of TRACE_STEPS) {
      const back = redoStep(whole, step);
      expect(back.step).toBe(step);
      const again = step === 'length' ? setWizardLength(back, 640) : clickWizard(back, [333.5, 444.5]);
      expect(nextStep(again)).toBeNull();
      for (const other of TRACE_STEPS) {
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

  it('the last mark is taken back, as often as there are marks; after the last there is nothing to ask', () => {
    const whole = traced();
    expect(whole.step).toBeNull();
    expect(clickWizard(whole, [1, 1])).toBe(whole);
    let w = backWizard(whole);
    expect([w.step, w.marks.mass]).toEqual(['mass', undefined]);
    for (let k = 0; k < 20; k++) w = backWizard(w);
    expect(w).toEqual(startWizard(photo));
  });

  it('a free edge on the hinge is no answer, and why is said', () => {
    const edge = redoStep(traced(), 'edge');
    const refused = clickWizard(edge, [500, 480]);
    expect(refused.refusal).toContain('can’t lie on the hinge');
    expect(refused.marks.edge).toEqual(edge.marks.edge);
    expect(clickWizard(refused, [1100, 480]).refusal).toBeNull();
  });

  it('a step redone in the middle goes on with the first that lacks its answer', () => {
    let w = setWizardTurn(startWizard(photo), 0);
    w = clickWizard(w, [0, 0]);
    w = clickWizard(w, [100, 0]);
    w = setWizardLength(w, 200);
    w = clickWizard(w, [50, 50]);
    w = clickWizard(redoStep(w, 'hinge'), [60, 60]);
    expect(w.step).toBe('edge');
    expect(w.marks.hinge).toEqual([60, 60]);
  });
});
