import { useRef } from 'react';
import { formatQuantity } from '../../core/quantity';
import { TRACE_STEPS, nextStep, stepDone } from '../../core/start';
import { STEP_WORDS, type Wizard, redoStep, setWizardAlong, setWizardLength, setWizardTurn } from '../photo/wizard';
import { leaveWizard, setWizard, startFromPhoto } from '../state/photo-actions';
import { useBench } from '../state/use-bench';
import { TypedOver0 } from '../ui/typed';

/** Tracing a lid from a side photo: what to click next, and every step to redo. */
export function WizardPanel({ wizard }: { wizard: Wizard }): React.JSX.Element {
  const units = useBench((s) => s.units);
  const picker = useRef<HTMLInputElement>(null);
  const set = setWizard;
  return (
    <div className="wizard">
      <h2>From my photo</h2>
      <p className="ask" role="status" data-step={wizard.step}>
        {STEP_WORDS[wizard.step].ask}
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
        {TRACE_STEPS.map((step) => (
          <li key={step} className={step === wizard.step ? 'now' : ''}>
            <span>
              {stepDone(wizard, step) ? '✓ ' : ''}
              {STEP_WORDS[step].name}
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
          Cancel
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
