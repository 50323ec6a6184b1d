import { useRef } from 'react';
import { formatQuantity } from '../../core/quantity';
import {
  MARKS,
  type Wizard,
  type WizardStep,
  WIZARD_STEPS,
  nextStep,
  redoStep,
  setWizardAlong,
  setWizardLength,
  setWizardTurn,
  stepDone,
} from '../photo/wizard';
import { setWizard, startFromPhoto, leaveWizard } from '../state/photo-actions';
import { useBench } from '../state/use-bench';
import { TypedOver0 } from '../ui/typed';

const ask = (step: WizardStep): string => {
  if (step === 'levelFrom')
    return 'Click one of two marks that are level with each other (or plumb), far apart: the ends of a sill, a waterline, a spirit level.';
  if (step === 'levelTo') return 'Click the other one.';
  if (step === 'scaleFrom')
    return 'Click one end of something whose length you know, in the plane of the lid’s side: a tape, a rule, the lid’s edge.';
  if (step === 'scaleTo') return 'Click its other end.';
  if (step === 'length') return 'Type its length.';
  return MARKS.find((m) => m.key === step)!.ask;
};
const nameOf = (step: WizardStep): string =>
  step === 'levelFrom'
    ? 'Level, first mark'
    : step === 'levelTo'
      ? 'Level, second mark'
      : step === 'scaleFrom'
        ? 'Scale, first mark'
        : step === 'scaleTo'
          ? 'Scale, second mark'
          : step === 'length'
            ? 'Length between them'
            : MARKS.find((m) => m.key === step)!.name;

/** Tracing a lid from a side photo: what to click next, and every step to redo. */
export function WizardPanel({ wizard }: { wizard: Wizard }): React.JSX.Element {
  const units = useBench((s) => s.units);
  const picker = useRef<HTMLInputElement>(null);
  const set = setWizard;
  return (
    <div className="wizard">
      <h2>From my photo</h2>
      <p className="ask" role="status" data-step={wizard.step}>
        {ask(wizard.step)}
      </p>
      {wizard.step === 'length' && (
        <TypedOver0
          label="Length between the marks"
          value={wizard.lengthMm}
          dimension="length"
          autoFocus
          onValue={(v) => set(setWizardLength(wizard, v))}
        />
      )}
      {(wizard.step === 'levelFrom' || wizard.step === 'levelTo') && (
        <div className="row">
          <label>
            The marks are{' '}
            <select
              aria-label="The marks are"
              value={wizard.along}
              onChange={(e) => set(setWizardAlong(wizard, e.target.value as Wizard['along']))}
            >
              <option value="level">level with each other</option>
              <option value="plumb">plumb over each other</option>
            </select>
          </label>
          <button type="button" onClick={() => set(setWizardTurn(wizard, 0))}>
            The camera was level
          </button>
        </div>
      )}
      {wizard.rotationDeg !== null && (
        <p className="hint" data-turned={wizard.rotationDeg.toFixed(3)}>
          Photo turned by {wizard.rotationDeg.toFixed(2)}°
          {wizard.levelFrom ? `, from two marks ${wizard.along} with each other` : ''}.
        </p>
      )}
      <ol className="steps">
        {WIZARD_STEPS.map((step) => (
          <li key={step} className={step === wizard.step ? 'now' : ''}>
            <span>
              {stepDone(wizard, step) ? '✓ ' : ''}
              {nameOf(step)}
              {step === 'length' && wizard.lengthMm !== null
                ? `: ${formatQuantity(wizard.lengthMm, 'length', units)}`
                : ''}
            </span>
            {stepDone(wizard, step) && step !== wizard.step && (
              <button type="button" onClick={() => set(redoStep(wizard, step))}>
                Redo
              </button>
            )}
          </li>
        ))}
      </ol>
      <p className="hint">One side photo can’t show these; they are assumed until you type them:</p>
      <TypedOver0
        label="Width of the lid, hinge to hinge"
        value={wizard.widthMm}
        dimension="length"
        onValue={(v) => set({ ...wizard, widthMm: v })}
      />
      <TypedOver0
        label="Mass of the lid with its load"
        value={wizard.kg}
        dimension="mass"
        onValue={(v) => set({ ...wizard, kg: v })}
      />
      <div className="row">
        <button type="button" onClick={() => picker.current?.click()}>
          Another photo
        </button>
        <button type="button" onClick={leaveWizard} title="The job that was open is still there">
          Leave
        </button>
        <input
          ref={picker}
          type="file"
          hidden
          accept="image/jpeg,image/png,image/webp"
          onChange={(e) => {
            const file = e.target.files?.[0];
            e.target.value = '';
            if (file) void startFromPhoto(file);
          }}
        />
      </div>
      {nextStep(wizard) === null && <p className="hint">All clicks are made.</p>}
      <p className="hint">
        Hold the phone square to the side of the lid, at hinge height, from as far off as the picture allows: what lies
        nearer or further than the scale mark shows too large or too small.
      </p>
    </div>
  );
}
