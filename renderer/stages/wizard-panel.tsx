import { useRef } from 'react';
import { PICTURES } from '../../core/photo';
import { formatQuantity } from '../../core/quantity';
import { TRACE_STEPS, depthOff, jobFromTrace, scaleByDepth, stepDone, tracedDepth } from '../../core/start';
import {
  STEP_WORDS,
  type Wizard,
  backWizard,
  redoStep,
  setWizardAlong,
  setWizardLength,
  setWizardTurn,
} from '../photo/wizard';
import { finishWizard, leaveWizard, setWizard, startFromPhoto } from '../state/photo-actions';
import { useBench } from '../state/use-bench';
import { Typed, TypedOver0 } from '../ui/typed';

/** What was traced, in figures, held against what is known; and the press that makes the job. */
function Review({ wizard }: { wizard: Wizard }): React.JSX.Element {
  const units = useBench((s) => s.units);
  const mm = (v: number): string => formatQuantity(v, 'length', units);
  const job = jobFromTrace(wizard);
  const off = depthOff(wizard);
  const at = (id: string): readonly unknown[] => job?.points.find((p) => p.id === id)?.at ?? [];
  const from = (id: string): string => `${mm(Math.abs(Number(at(id)[0])))} out, ${mm(Number(at(id)[2]))} up`;
  return (
    <div className="wizard-review" data-review={tracedDepth(wizard)?.toFixed(1)}>
      <p>Depth, hinge to free edge: {mm(tracedDepth(wizard) ?? 0)}.</p>
      <p className="hint">
        From the hinge: grip {from('grip')}; strut, base end {from('s1-base')}; strut, lid end {from('s1-lid')}; centre
        of mass {from('cg-lid')}.
      </p>
      {off !== null && (
        <p className={Math.abs(off) > DEPTH_AGREES ? 'wrong' : 'hint'} data-depth-off={(100 * off).toFixed(2)}>
          {Math.abs(off) > DEPTH_AGREES
            ? `That is ${Math.abs(100 * off).toFixed(1)} % ${off > 0 ? 'more' : 'less'} than the ${mm(wizard.depthMm!)} you know: a scale mark nearer or farther than the lid’s side, or a click that is off.`
            : `It agrees with the ${mm(wizard.depthMm!)} you know.`}{' '}
          <button type="button" onClick={() => setWizard(scaleByDepth(wizard))}>
            Scale the photo by the known depth
          </button>
        </p>
      )}
      <button type="button" className="strong" onClick={() => void finishWizard(wizard)}>
        Make the job of it
      </button>
    </div>
  );
}

/** A known depth agrees with the trace within this share. */
const DEPTH_AGREES = 0.02;

/** Tracing a lid from a side photo: what to click next, and every step to redo. */
export function WizardPanel({ wizard }: { wizard: Wizard }): React.JSX.Element {
  const units = useBench((s) => s.units);
  const picker = useRef<HTMLInputElement>(null);
  const set = setWizard;
  return (
    <div className="wizard">
      <h2>From my photo</h2>
      <p className="ask" role="status" data-step={wizard.step ?? 'review'}>
        {wizard.step === null
          ? 'Look it over: every mark can be redone. Then make the job of it.'
          : STEP_WORDS[wizard.step].ask}
      </p>
      {wizard.refusal && (
        <p className="wrong" role="alert">
          {wizard.refusal}
        </p>
      )}
      {wizard.step === null && <Review wizard={wizard} />}
      <button type="button" disabled={!wizard.before} onClick={() => set(backWizard(wizard))}>
        Take the last mark back
      </button>
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
      <Typed
        label="Depth of the lid, hinge to free edge, if you know it"
        value={wizard.depthMm}
        dimension="length"
        onValue={(v) => set({ ...wizard, depthMm: v !== null && v > 0 ? v : null })}
      />
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
          accept={PICTURES}
          onChange={(e) => {
            const file = e.target.files?.[0];
            e.target.value = '';
            if (file) void startFromPhoto(file);
          }}
        />
      </div>
      <p className="hint">
        Hold the phone square to the side of the lid, at hinge height, from as far off as the picture allows: what lies
        nearer or further than the scale mark shows too large or too small.
      </p>
    </div>
  );
}
