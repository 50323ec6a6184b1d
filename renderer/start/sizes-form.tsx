import { useMemo, useState } from 'react';
import { attempt, wordsOf } from '../../core/error';
import { resolveJob } from '../../core/job';
import { needOf } from '../../core/need';
import { type Dimension, formatQuantity } from '../../core/quantity';
import {
  LID_MATERIALS,
  LIES,
  type Layer,
  type LidSizes,
  type Lie,
  MOST_THINGS,
  SIZES_TAKEN,
  type Thing,
  lidMaterial,
  lidOfSizes,
  plateOf,
  sizeIssues,
} from '../../core/start';
import { startFromSizes } from '../state/start';
import { enterTyped } from '../state/unentered';
import { useBench } from '../state/use-bench';
import { Typed } from '../ui/typed';
import { LidPicture } from './lid-picture';
import { whole } from '../ui/whole';

/** A rubber seal springs back about this far, mm. Common practice, no source. */
const SEAL_MM = 5;

const layerOf = (name: string, thicknessMm: number): Layer => ({
  ...{ name, thicknessMm },
  densityKgM3: lidMaterial(name)?.densityKgM3 ?? 0,
});

const FIRST: LidSizes = {
  ...{ widthMm: 1000, depthMm: 600 },
  layers: [layerOf('Birch plywood', 18)],
};

type NumberKey = Exclude<keyof LidSizes, 'title' | 'layers' | 'lies' | 'things' | 'quantity' | 'seal'>;

/** A lid's own sizes: what is typed, what is taken where nothing is, and the live job that they make. */
export function SizesForm(): React.JSX.Element {
  const [sizes, setSizes] = useState<LidSizes>(FIRST);
  const [wrong, setWrong] = useState<readonly string[]>([]);
  const [busy, setBusy] = useState(false);
  const units = useBench((s) => s.units);
  const set = (patch: Partial<LidSizes>): void => {
    setSizes((old) => ({ ...old, ...patch }));
    setWrong([]);
  };
  const taken: Partial<Record<NumberKey, number>> = SIZES_TAKEN;
  const number = (key: NumberKey, label: string, dimension: Dimension): React.JSX.Element => (
    <Typed
      label={label}
      value={sizes[key] ?? taken[key] ?? null}
      assumed={sizes[key] === undefined && taken[key] !== undefined}
      dimension={dimension}
      onValue={(v) => set({ [key]: v ?? undefined })}
    />
  );
  const setLayer = (i: number, patch: Partial<Layer>): void =>
    set({ layers: sizes.layers.map((layer, k) => (k === i ? { ...layer, ...patch } : layer)) });
  const things = sizes.things ?? [];
  const setThing = (i: number, patch: Partial<Thing>): void =>
    set({ things: things.map((thing, k) => (k === i ? { ...thing, ...patch } : thing)) });
  const upright = sizes.lies !== undefined && LIES[sizes.lies].out[2] === 0;
  const job = useMemo(() => attempt(() => lidOfSizes(sizes)).value, [sizes]);
  const need = useMemo(() => job && attempt(() => needOf(resolveJob(job), 'home', units)).value, [job, units]);

  const make = async (): Promise<void> => {
    const held = enterTyped();
    if (held !== null) return setWrong([`“${held}” holds what can’t be taken.`]);
    const issues = sizeIssues(sizes);
    if (issues.length > 0) return setWrong(issues.map(wordsOf));
    setBusy(true);
    try {
      await startFromSizes(sizes);
    } finally {
      setBusy(false);
    }
  };

  return (
    <form
      className="way sizes"
      aria-label="Start from sizes"
      onSubmit={(e) => {
        e.preventDefault();
        void make();
      }}
    >
      <div className="sizes-cols">
        <div className="sizes-fields">
          <h2>Start from sizes</h2>
          <p className="hint">A few sizes make a whole job. Everything can be changed later.</p>
          {number('widthMm', 'Width, along hinges', 'length')}
          {number('depthMm', 'Depth, hinge to edge', 'length')}
          {sizes.layers.map((layer, i) => (
            <div key={i} className="layer">
              <Typed
                label={i === 0 ? 'Thickness' : `Thickness of layer ${i + 1}`}
                value={layer.thicknessMm}
                dimension="length"
                onValue={(v) => setLayer(i, { thicknessMm: v ?? 0 })}
              />
              <div className="field">
                <label>
                  {i === 0 ? 'Made of' : `Layer ${i + 1} of`}
                  <select value={layer.name} onChange={(e) => setLayer(i, layerOf(e.target.value, layer.thicknessMm))}>
                    {LID_MATERIALS.map((m) => (
                      <option key={m.name}>{m.name}</option>
                    ))}
                  </select>
                </label>
              </div>
            </div>
          ))}
          {number('insetMm', 'Hinge in from edge', 'length')}
          {number('heightMm', upright ? 'Room behind the lid' : 'Hinge above floor', 'length')}
          {number('openDeg', 'Opens to', 'angle')}
          {number('kg', 'Mass, if it was weighed', 'mass')}
        </div>
        <div className="sizes-picture">{job && <LidPicture job={job} bare width={330} height={300} />}</div>
      </div>
      <details className="part">
        <summary>What lies on it, how it lies, cold and slope, hand forces</summary>
        <div className="sizes-more">
          <div className="field">
            <label>
              The lid
              <select
                value={sizes.lies ?? 'opens-up'}
                onChange={(e) => set({ lies: e.target.value as Lie })}
                aria-label="How the lid lies"
              >
                {(Object.keys(LIES) as Lie[]).map((lie) => (
                  <option key={lie} value={lie}>
                    {LIES[lie].words}
                  </option>
                ))}
              </select>
            </label>
          </div>
          <Typed
            label="Hinge line skew"
            value={sizes.skewDeg ?? 0}
            dimension="angle"
            onValue={(v) => set({ skewDeg: v || undefined })}
          />
          <Typed
            label="Seal pushes with, shut"
            value={sizes.seal?.forceN ?? null}
            dimension="force"
            onValue={(v) => set({ seal: v ? { forceN: v, overMm: sizes.seal?.overMm ?? SEAL_MM } : undefined })}
          />
          {sizes.seal && (
            <Typed
              label="Seal lets go after"
              value={sizes.seal.overMm}
              dimension="length"
              over0
              onValue={(v) => v && sizes.seal && set({ seal: { ...sizes.seal, overMm: v } })}
            />
          )}
          {number('coldC', 'Lowest temperature', 'temperature')}
          {number('hotC', 'Highest temperature', 'temperature')}
          {number('slopeDeg', 'Slope it may stand on', 'angle')}
          {number('handOpenN', 'Most hand force to open', 'force')}
          {number('handCloseN', 'Most hand force to shut', 'force')}
          {number('letGoJ', 'Most energy when let go', 'energy')}
        </div>
        {things.map((thing, i) => (
          <div key={i} className="thing" role="group" aria-label={`Thing ${i + 1} on the lid`}>
            <div className="field">
              <label>
                Name
                <input
                  value={thing.name}
                  autoComplete="off"
                  {...whole}
                  onChange={(e) => setThing(i, { name: e.target.value.slice(0, 100) })}
                />
              </label>
            </div>
            <Typed label="Mass" value={thing.kg} dimension="mass" onValue={(v) => setThing(i, { kg: v ?? 0 })} />
            <Typed
              label="Out from the hinge"
              value={thing.outMm}
              dimension="length"
              onValue={(v) => setThing(i, { outMm: v ?? 0 })}
            />
            <Typed
              label="Its middle over the lid"
              value={thing.overMm ?? 0}
              dimension="length"
              onValue={(v) => setThing(i, { overMm: v ?? 0 })}
            />
            <label className="tick">
              <input
                type="checkbox"
                checked={thing.comesOff ?? false}
                onChange={(e) => setThing(i, { comesOff: e.target.checked })}
              />
              comes off
            </label>
            <button type="button" onClick={() => set({ things: things.filter((_, k) => k !== i) })}>
              Remove
            </button>
          </div>
        ))}
        <div className="row">
          {things.length < MOST_THINGS && (
            <button
              type="button"
              onClick={() =>
                set({ things: [...things, { name: 'Load', kg: 5, outMm: sizes.depthMm / 2, comesOff: true }] })
              }
            >
              Add a thing on the lid
            </button>
          )}
          <button type="button" onClick={() => set({ layers: [...sizes.layers, layerOf('Cushion foam', 40)] })}>
            Add a layer
          </button>
          {sizes.layers.length > 1 && (
            <button type="button" onClick={() => set({ layers: sizes.layers.slice(0, -1) })}>
              Remove the last layer
            </button>
          )}
        </div>
      </details>
      {need && (
        <p className="hint" data-need={need.answer}>
          {need.text}
        </p>
      )}
      {wrong.length > 0 && (
        <ul className="wrong" role="alert">
          {wrong.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      )}
      <div className="sizes-foot">
        <span>
          {sizes.kg === undefined ? (
            <>
              Mass about <b>{formatQuantity(plateOf(sizes).kg, 'mass', units, 1)}</b>, assumed from thickness and
              density
            </>
          ) : (
            <>Mass as weighed</>
          )}
        </span>
        <button type="submit" disabled={busy}>
          {busy ? 'Looking for a strut …' : 'Make this job'}
        </button>
      </div>
    </form>
  );
}
