import { type EndName, resolveJob, standOnMount, useBareStem as giveBareStem } from '../../core/job';
import { formatQuantity } from '../../core/quantity';
import { type Vec3, cross, norm, perpendicularTo, toDeg, unit } from '../../core/space';
import { azimuthAndTilt } from '../../core/joint';
import { stemOf } from '../../core/travel';
import { edit } from '../state/store';
import { useBench, useCalmBench } from '../state/use-bench';
import { ChoiceField, Part } from '../ui/fields';
import { NumberField } from '../ui/number-field';

const round = (x: number): number => Math.round(x * 1e4) / 1e4 + 0;

/** A mount on which the present stem lies flat: its normal is the axis most square to the stem. */
function giveMount(index: number, end: EndName): void {
  edit('Give the end a mount', (job) => {
    const strut = resolveJob(job).struts[index]!;
    const stem = stemOf(strut.ends[end]);
    const axes: Vec3[] = [
      [0, 0, 1],
      [1, 0, 0],
      [0, 1, 0],
    ];
    const up = axes.reduce((a, b) =>
      Math.abs(b[0] * stem[0] + b[1] * stem[1] + b[2] * stem[2]) <
      Math.abs(a[0] * stem[0] + a[1] * stem[1] + a[2] * stem[2]) - 1e-9
        ? b
        : a,
    );
    const normal: Vec3 = end === 'lid' ? [-up[0] + 0, -up[1] + 0, -up[2] + 0] : up;
    const flat = perpendicularTo(stem, normal);
    const reference = norm(flat) > 1e-9 ? unit(flat) : unit(cross(normal, [1, 2, 3]));
    const tidy: Vec3 = [round(reference[0]), round(reference[1]), round(reference[2])];
    const { azimuthRad, tiltRad } = azimuthAndTilt({ normal, reference: tidy }, stem);
    return standOnMount(job, {
      strut: strut.id,
      end,
      normal,
      reference: tidy,
      azimuthDeg: round(toDeg(azimuthRad)),
      tiltDeg: round(toDeg(tiltRad)),
    });
  });
}

function End({ index, end }: { index: number; end: EndName }): React.JSX.Element {
  const raw = useBench((s) => s.history.present.struts[index]?.ends[end]);
  const strut = useCalmBench((s) => s.outcome?.tables[0]?.struts[index]);
  const spec = useCalmBench((s) => s.resolved.struts[index]?.ends[end]);
  const units = useBench((s) => s.units);
  if (!raw) return <></>;
  const path = ['struts', index, 'ends', end];
  const row = end === 'base' ? strut?.baseJointDeg : strut?.lidJointDeg;
  const f = (v: number): string => formatQuantity(v, 'angle', units);
  return (
    <Part title={end === 'base' ? 'Base end' : 'Lid end'}>
      {row && spec && (
        <p className="sum">
          Stem to strut: {f(row[0]!)} shut, {f(row[row.length - 1]!)} open; must stay between {f(90 - spec.rangeDeg)}{' '}
          and {f(90 + spec.rangeDeg)}.
        </p>
      )}
      <ChoiceField
        label="Fitting"
        path={[...path, 'fitting']}
        options={[
          ['ball-stud', 'angled ball joint'],
          ['fork-pin', 'fork and pin'],
          ['eye', 'eye'],
          ...(['ball-stud', 'fork-pin', 'eye'].includes(raw.fitting) ? [] : [[raw.fitting, raw.fitting] as const]),
        ]}
      />
      <NumberField label="Working range ±" path={[...path, 'rangeDeg']} dimension="angle" />
      {raw.mount ? (
        <>
          <NumberField label="Azimuth" path={[...path, 'azimuthDeg']} dimension="angle" fallback={0} />
          <NumberField label="Tilt" path={[...path, 'tiltDeg']} dimension="angle" fallback={0} />
          <Vector label="Normal" path={[...path, 'mount', 'normal']} />
          <Vector label="Reference" path={[...path, 'mount', 'reference']} />
          <button
            type="button"
            onClick={() =>
              edit('Use a bare stem', (job) => {
                const s = resolveJob(job).struts[index]!;
                const n = stemOf(s.ends[end]);
                return giveBareStem(job, { strut: s.id, end, stem: [round(n[0]), round(n[1]), round(n[2])] });
              })
            }
          >
            Use a bare stem
          </button>
        </>
      ) : (
        <>
          <Vector label="Stem" path={[...path, 'stem']} />
          <button type="button" onClick={() => giveMount(index, end)}>
            Put it on a mount
          </button>
        </>
      )}
    </Part>
  );
}

function Vector({ label, path }: { label: string; path: (string | number)[] }): React.JSX.Element {
  return (
    <fieldset className="point">
      <legend>{label}</legend>
      {(['X', 'Y', 'Z'] as const).map((axis, k) => (
        <NumberField key={axis} compact label={axis} path={[...path, k]} dimension="number" />
      ))}
    </fieldset>
  );
}

/** Joints: stems, their working range, and the mounts that turn them. */
export function JointsPanel(): React.JSX.Element {
  const struts = useBench((s) => s.history.present.struts);
  return (
    <>
      <h2>Joints</h2>
      <p className="hint">
        The stem of a ball stud must stay near square to the strut over the whole travel. Angled ball joints to DIN
        71802 allow ±18°, with a safety clip ±15°.
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
