import { useMemo, useState } from 'react';
import {
  type BoatMotion,
  USUAL,
  USUAL_BOAT,
  type UsualOptions,
  addUsualCases,
  hasPlate,
  removableMasses,
  usualChoice,
} from '../../../core/job';
import { attempt } from '../../../core/error';
import { beaufort } from '../../../core/quantity';
import { bench, edit } from '../../state/store';
import { useTold } from '../../state/told';
import { Typed, TypedOver0 } from '../../ui/typed';

function Tick({ words, on, onChange }: { words: string; on: boolean; onChange(on: boolean): void }): React.JSX.Element {
  return (
    <label className="check">
      <input type="checkbox" checked={on} onChange={(e) => onChange(e.target.checked)} />
      {words}
    </label>
  );
}

function BoatFields({ boat, onChange }: { boat: BoatMotion; onChange(boat: BoatMotion): void }): React.JSX.Element {
  const put =
    (key: keyof BoatMotion) =>
    (v: number | null): void =>
      onChange({ ...boat, [key]: v ?? 0 });
  return (
    <>
      <Typed label="Rolls to either side" value={boat.rollDeg} dimension="angle" onValue={put('rollDeg')} />
      <TypedOver0 label="There and back in" value={boat.rollS} dimension="number" sign="s" onValue={put('rollS')} />
      <Typed label="Pitches either way" value={boat.pitchDeg} dimension="angle" onValue={put('pitchDeg')} />
      <TypedOver0
        label="Up and down again in"
        value={boat.pitchS}
        dimension="number"
        sign="s"
        onValue={put('pitchS')}
      />
      <Typed label="Lid over the waterline" value={boat.heightMm} dimension="length" onValue={put('heightMm')} />
      <Typed label="Lid ahead of midships" value={boat.aheadMm} dimension="length" onValue={put('aheadMm')} />
      <p className="hint">
        Taken as standing still at the end of each swing, ω²·amplitude·distance added to the lean; waves that slam are
        not in it.
      </p>
    </>
  );
}

/** Asks what the usual load cases are made from, shows which are new, and adds those. */
export function UsualPart({ onClose }: { onClose(): void }): React.JSX.Element {
  const job = useTold((s) => s.history.present);
  const resolved = useTold((s) => s.resolved);
  const [options, setOptions] = useState<UsualOptions>(() => {
    const { resolved: now } = bench.getState();
    return { ...USUAL, windMs: hasPlate(now) ? 10 : 0, off: removableMasses(now) };
  });
  const choice = useMemo(() => attempt(() => usualChoice(job, options)).value ?? [], [job, options]);
  const fresh = choice.filter((c) => !c.there);
  const put =
    <K extends keyof UsualOptions>(key: K) =>
    (value: UsualOptions[K]): void =>
      setOptions({ ...options, [key]: value });
  const orNone =
    (key: 'noseDeg' | 'sideDeg' | 'ageLossPercent' | 'windMs') =>
    (v: number | null): void =>
      setOptions({ ...options, [key]: Math.max(0, v ?? 0) });
  const several = resolved.struts.reduce((n, s) => n + s.quantity, 0) > 1;
  return (
    <section className="item" aria-label="The usual load cases">
      <p className="hint">
        What the lid may meet. Empty what does not concern it. Common practice where nothing is known.
      </p>
      <Typed label="Coldest" value={options.coldC} dimension="temperature" onValue={put('coldC')} autoFocus />
      <Typed label="Hottest" value={options.hotC} dimension="temperature" onValue={put('hotC')} />
      <Typed label="Leans along X, either way" value={options.noseDeg} dimension="angle" onValue={orNone('noseDeg')} />
      <Typed label="Leans along Y, either way" value={options.sideDeg} dimension="angle" onValue={orNone('sideDeg')} />
      <Typed
        label="Lost with age"
        value={options.ageLossPercent}
        dimension="number"
        sign="%"
        onValue={orNone('ageLossPercent')}
      />
      {hasPlate(resolved) ? (
        <Typed
          label="Wind"
          value={options.windMs}
          dimension="number"
          sign={`m/s, Beaufort ${beaufort(options.windMs)}`}
          onValue={orNone('windMs')}
        />
      ) : (
        <p className="hint">Wind needs the lid’s corners (Place).</p>
      )}
      {resolved.masses.length > 1 &&
        resolved.masses.map((m) => (
          <Tick
            key={m.id}
            words={`${m.name ?? m.id} comes off`}
            on={options.off.includes(m.id)}
            onChange={(on) => put('off')(on ? [...options.off, m.id] : options.off.filter((id) => id !== m.id))}
          />
        ))}
      {several && <Tick words="one strut lost" on={options.oneLost} onChange={put('oneLost')} />}
      <Tick
        words="on a road vehicle: braking 0.8 g, 0.5 g sideways and backwards"
        on={options.onVehicle}
        onChange={put('onVehicle')}
      />
      <Tick
        words="on a boat that rolls and pitches"
        on={options.onBoat !== null}
        onChange={(on) => put('onBoat')(on ? USUAL_BOAT : null)}
      />
      {options.onBoat && <BoatFields boat={options.onBoat} onChange={put('onBoat')} />}
      <ul className="usual-cases" aria-label="Load cases to add">
        {choice.map((c) => (
          <li key={c.loadCase.id}>
            {c.name}
            {c.there && ' — there already'}
          </li>
        ))}
      </ul>
      <div className="row">
        <button
          type="button"
          className="strong"
          disabled={fresh.length === 0}
          onClick={() => {
            if (edit('Add the usual load cases', (j) => addUsualCases(j, { options }))) onClose();
          }}
        >
          {fresh.length === 0 ? 'All are there' : `Add ${fresh.length} load case${fresh.length > 1 ? 's' : ''}`}
        </button>
        <button type="button" onClick={onClose}>
          Cancel
        </button>
      </div>
      <p className="hint">Yours stay as they are. One undo takes these back.</p>
    </section>
  );
}
