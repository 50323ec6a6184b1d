import { attempt } from '../../core/error';
import { useMemo, useState } from 'react';
import { swingOf } from '../../core/findings';
import { type EndName, type Job, type Num, turnMount, useBareStem as giveBareStem, resolveJob } from '../../core/job';
import {
  FITTINGS,
  bestAtTilt,
  fittingKind,
  fittingOf,
  setFitting,
  setMountAxis,
  sizedFitting,
  turnsAboutPin,
} from '../../core/joint';
import { formatQuantity } from '../../core/quantity';
import { stemOf } from '../../core/travel';
import { bench, edit } from '../state/store';
import { useTold, useToldMade } from '../state/told';
import { useBench, useMade } from '../state/use-bench';
import { Part } from '../ui/fields';
import { NumberField } from '../ui/number-field';
import { giveMount } from '../state/mount-tool';
import { stemToSet } from './joints/stem-to-set';
import { MountPicks } from './mount-picks';
import { WedgePart } from './wedge-part';

/** The fitting of an end, by name; taking one takes its working range with it. */
function FittingChoice({ index, end }: { index: number; end: EndName }): React.JSX.Element {
  const fitting = useBench((s) => s.history.present.struts[index]?.ends[end].fitting ?? '');
  const known = fittingOf(fitting);
  return (
    <div className="field">
      <label>
        Fitting
        <select
          aria-label={`Fitting, ${end} end`}
          title={known?.name}
          value={fitting}
          onChange={(e) => {
            const { value: fitting } = e.target;
            edit('Choose the fitting', (job) => {
              const { id, ends } = job.struts[index]!;
              return setFitting(job, {
                strut: id,
                end,
                fitting,
                rangeDeg: fittingOf(fitting)?.rangeDeg.value ?? ends[end].rangeDeg,
              });
            });
          }}
        >
          {!known && <option value={fitting}>{fitting}</option>}
          {FITTINGS.map((f) => (
            <option key={f.id} value={f.id}>
              {f.name}
            </option>
          ))}
        </select>
      </label>
      {known && (
        <span className="worked">
          ±{known.rangeDeg.value}° — {known.rangeDeg.provenance}
        </span>
      )}
    </div>
  );
}

/** The best a workshop can set, in plain words, with its buttons: turned and leaned, or turned alone. */
function Advice({ index, end }: { index: number; end: EndName }): React.JSX.Element | null {
  const outcome = useTold((s) => s.outcome);
  const units = useBench((s) => s.units);
  const [step, setStep] = useState(1);
  const plan = outcome?.plans[0];
  const strut = plan?.struts[index];
  const spec = outcome?.job.struts[index]?.ends[end];
  const found = useMemo(() => {
    const mount = spec?.mount;
    if (!plan || !strut || !mount) return null;
    // null too with both pivots at one place: the findings say so
    return attempt(() => {
      const set = stemToSet(plan, strut, end, spec, step);
      const tiltDeg = spec.tiltDeg ?? 0;
      const alone = bestAtTilt(swingOf(plan, strut, end), mount, tiltDeg, spec.azimuthDeg ?? 0);
      return set && { ...set, alone };
    }).value;
  }, [plan, strut, spec, end, step]);
  if (!found || !spec || !strut) return null;
  const f = (v: number): string => formatQuantity(v, 'angle', units);
  const { rounded, wedge, alone } = found;
  const axial = fittingKind(spec.fitting) === 'axial-ball';
  const line = axial ? 'its line' : 'square';
  const there =
    Math.abs((spec.azimuthDeg ?? 0) - rounded.azimuthDeg) + Math.abs((spec.tiltDeg ?? 0) - rounded.tiltDeg) < 0.05;
  const set = (name: string, azimuthDeg: number, tiltDeg?: number): boolean =>
    edit(name, (job) =>
      turnMount(job, {
        strut: strut.id,
        end,
        azimuthDeg: tidy(azimuthDeg),
        ...(tiltDeg === undefined ? {} : { tiltDeg: tidy(tiltDeg) }),
      }),
    );
  return (
    <div className="advice-box">
      <b>
        {there ? 'It stands as well as it can.' : `Turn it to ${f(rounded.azimuthDeg)}, lean it ${f(rounded.tiltDeg)}.`}
      </b>
      <p>
        {there ? 'It' : 'Then it'} is never more than {f(rounded.deviationDeg)} off {line}.
        {wedge.angleDeg > 0.05 &&
          ` The lean is a wedge of ${f(wedge.angleDeg)} under it, thick toward ${f(wedge.thickAzimuthDeg)}.`}
        {!axial && !there && ` Turned alone, to ${f(alone.azimuthDeg)}, it gets ${f(alone.deviationDeg)} off.`}
      </p>
      <div className="row">
        {!there && (
          <button
            type="button"
            className="strong"
            onClick={() => set('Set the stud as well as can be', rounded.azimuthDeg, rounded.tiltDeg)}
          >
            Turn and lean it so
          </button>
        )}
        {!there && !axial && (
          <button type="button" onClick={() => set('Turn the mount', alone.azimuthDeg)}>
            Turn only
          </button>
        )}
        <label className="check">
          to whole{' '}
          <select aria-label="Rounding of the stud" value={step} onChange={(e) => setStep(Number(e.target.value))}>
            <option value={1}>1°</option>
            <option value={5}>5°</option>
          </select>
        </label>
      </div>
    </div>
  );
}

/** Four decimals are finer than any workshop, and never −0. */
const tidy = (x: number): number => Math.round(x * 1e4) / 1e4 + 0;

function Vector({
  label,
  path,
  put,
}: {
  label: string;
  path: (string | number)[];
  put?: (job: Job, component: 0 | 1 | 2, value: Num) => Job;
}): React.JSX.Element {
  return (
    <fieldset className="point">
      <legend>{label}</legend>
      {(['X', 'Y', 'Z'] as const).map((axis, k) => (
        <NumberField
          key={axis}
          compact
          label={axis}
          path={[...path, k]}
          dimension="number"
          {...(put ? { put: (job: Job, value: Num) => put(job, k as 0 | 1 | 2, value) } : {})}
        />
      ))}
    </fieldset>
  );
}

function End({ index, end }: { index: number; end: EndName }): React.JSX.Element {
  const mounted = useBench((s) => s.history.present.struts[index]?.ends[end].mount !== undefined);
  const said = useToldMade((s) => {
    const strut = s.outcome?.tables[0]?.struts[index];
    const spec = s.resolved.struts[index]?.ends[end];
    const row = end === 'base' ? strut?.baseJointDeg : strut?.lidJointDeg;
    const f = (v: number): string => formatQuantity(v, 'angle', s.units);
    return row && spec
      ? { shut: f(row[0]!), open: f(row.at(-1)!), least: f(90 - spec.rangeDeg), most: f(90 + spec.rangeDeg) }
      : null;
  });
  const path = ['struts', index, 'ends', end];
  const put =
    (key: 'normal' | 'reference') =>
    (job: Job, component: 0 | 1 | 2, value: Num): Job =>
      setMountAxis(job, { strut: job.struts[index]!.id, end, key, component, value });
  // what is taken where the job states nothing; null for a pin, which nothing pulls off
  const pullsOff = useToldMade((s) => {
    const strut = s.resolved.struts[index];
    const fitting = strut?.ends[end].fitting;
    return strut && fitting && !turnsAboutPin(fitting)
      ? (sizedFitting(fitting, strut.spec.rodMm).fitting.separatingN?.value ?? 0)
      : null;
  });
  return (
    <Part title={end === 'base' ? 'Base end' : 'Lid end'}>
      <Advice index={index} end={end} />
      {said && (
        <p className="sum">
          Stud to strut: {said.shut} closed, {said.open} open; must stay between {said.least} and {said.most}.
        </p>
      )}
      <FittingChoice index={index} end={end} />
      <NumberField label="Working range ±" path={[...path, 'rangeDeg']} dimension="angle" />
      {pullsOff !== null && (
        <NumberField
          label="Pulls off at"
          path={[...path, 'separatingN']}
          dimension="force"
          {...(pullsOff > 0 ? { fallback: pullsOff } : {})}
          optional
        />
      )}
      {mounted ? (
        <>
          <NumberField label="Rotation" path={[...path, 'azimuthDeg']} dimension="angle" fallback={0} />
          <NumberField
            label="Leans out of the mount’s face"
            path={[...path, 'tiltDeg']}
            dimension="angle"
            fallback={0}
          />
          <WedgePart index={index} end={end} />
          <MountPicks index={index} end={end} />
          <Vector label="Normal, out of the surface" path={[...path, 'mount', 'normal']} put={put('normal')} />
          <Vector label="Reference, in the surface" path={[...path, 'mount', 'reference']} put={put('reference')} />
          <button
            type="button"
            onClick={() =>
              edit('Do without a mount', (job) => {
                const s = resolveJob(job).struts[index]!;
                const n = stemOf(s.ends[end]);
                return giveBareStem(job, { strut: s.id, end, stem: [tidy(n[0]), tidy(n[1]), tidy(n[2])] });
              })
            }
          >
            Do without a mount
          </button>
        </>
      ) : (
        <>
          <Vector label="Direction of the stud" path={[...path, 'stem']} />
          <button type="button" onClick={() => giveMount(bench.getState().history.present.struts[index]!.id, end)}>
            Put it on a mount
          </button>
          <MountPicks index={index} end={end} />
        </>
      )}
    </Part>
  );
}

/** Joints: stems, their working range, and the mounts that turn them. */
export function JointsPanel(): React.JSX.Element {
  const struts = useMade((s) => s.history.present.struts.map(({ id, name }) => ({ id, name })));
  return (
    <>
      <p className="hint">
        A ball stud must stay near square to the strut over the whole travel. On the lid, drag a ring to turn a mount, a
        diamond to lean it.
      </p>
      {struts.map((strut, i) => (
        <div key={strut.id}>
          {struts.length > 1 && <h3>{strut.name ?? `Strut ${i + 1}`}</h3>}
          <End index={i} end="base" />
          <End index={i} end="lid" />
        </div>
      ))}
    </>
  );
}
