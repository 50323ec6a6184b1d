import type { Pixel } from '../../core/photo';
import {
  type Trace,
  type TraceStep,
  answerStep,
  clickIssue,
  nextStep,
  startTrace,
  traceAlong,
  turnTrace,
} from '../../core/start';

/** The tracing of a lid as the page shows it: what is known, and the step that is asked for or redone; null once all are done. */
export interface Wizard extends Trace {
  readonly step: TraceStep | null;
  /** As it was before the last answer. */
  readonly before: Wizard | null;
  /** Why the last click was no answer. */
  readonly refusal: string | null;
}

export const startWizard = (photo: Trace['photo']): Wizard => ({
  ...startTrace(photo),
  step: 'levelFrom',
  before: null,
  refusal: null,
});

const advance = (before: Wizard, w: Wizard): Wizard => ({ ...w, before, refusal: null, step: nextStep(w) });

/** A click on the photo answers the present step; one that is no answer changes nothing, and why is said. */
export function clickWizard(w: Wizard, px: Pixel): Wizard {
  if (w.step === null) return w;
  const refusal = clickIssue(w, w.step, px);
  const answered = refusal === null ? answerStep(w, w.step, px) : null;
  return answered ? advance(w, answered) : { ...w, refusal };
}

export const setWizardTurn = (w: Wizard, rotationDeg: number): Wizard => advance(w, turnTrace(w, rotationDeg));
export const setWizardAlong = (w: Wizard, along: Trace['along']): Wizard => traceAlong(w, along);
export const setWizardLength = (w: Wizard, lengthMm: number): Wizard => advance(w, { ...w, lengthMm });
export const redoStep = (w: Wizard, step: TraceStep): Wizard => ({ ...w, step, refusal: null });
/** The last mark taken back. */
export const backWizard = (w: Wizard): Wizard => w.before ?? w;

/** What is said of each step: what to click, and its name in the list. */
export const STEP_WORDS: Readonly<Record<TraceStep, { readonly ask: string; readonly name: string }>> = {
  levelFrom: {
    ask: 'Click one of two marks that are level with each other (or plumb), far apart: the ends of a sill, a waterline, a spirit level.',
    name: 'Level, first mark',
  },
  levelTo: { ask: 'Click the other one.', name: 'Level, second mark' },
  scaleFrom: {
    ask: 'Click one end of something whose length you know, in the plane of the lid’s side: a tape, a rule, the lid’s edge.',
    name: 'Scale, first mark',
  },
  scaleTo: { ask: 'Click its other end.', name: 'Scale, second mark' },
  length: { ask: 'Type its length.', name: 'Length between them' },
  hinge: { ask: 'Click the hinge pin.', name: 'Hinge' },
  edge: { ask: 'Click the free edge of the lid, closed.', name: 'Free edge' },
  grip: { ask: 'Click where the hand lifts.', name: 'Grip' },
  base: { ask: 'Click where the strut is fixed to the base.', name: 'Strut, base end' },
  lid: { ask: 'Click where the strut is fixed to the lid.', name: 'Strut, lid end' },
  mass: { ask: 'Click the middle of the weight.', name: 'Centre of mass' },
};
