import { useId, useState } from 'react';
import { LidwrightError } from '../../../core/error';
import { type JobLifted, type Lifted, addPoint, freshId } from '../../../core/job';
import { formatOnScale, formatQuantity, shownOnScale } from '../../../core/quantity';
import {
  SUSPECT_W,
  USUAL_LIFTED,
  addLifted,
  chooseWeighed,
  removeLifted,
  setLifted,
  sideEdges,
} from '../../../core/weigh';
import { edit } from '../../state/store';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { weighedOf } from '../../state/weighed';
import { type EntryColumn, EntryTable } from '../../ui/entry-table';
import { Part } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';
import { PointTable } from '../point-table';
import { ProposalPart } from './proposal-part';
import { angleEntry, angleWords, scaleEntry, scaleWords, useScale } from './scale-of';
import { StandSketch } from './stand-sketch';
import { WeighedWhat } from './weighed-what';

type Between = readonly [string, string];
const keyOf = (between: Between): string => between.join('\n');

/** The lid lifted off and weighed under two edges, lying and tilted. */
export function LiftedPart(): React.JSX.Element {
  const job = useBench((s) => s.history.present);
  const resolved = useTold((s) => s.resolved);
  const units = useBench((s) => s.units);
  const scale = useScale();
  const [more, setMore] = useState<Between | null>(null);
  const raw = job.weighings?.lifted?.readings ?? [];
  const read = resolved.weighings?.lifted?.readings ?? [];
  const found = weighedOf(resolved).lifted;
  const groups: Between[] = [];
  for (const r of raw) if (!groups.some((g) => keyOf(g) === keyOf(r.between))) groups.push(r.between);
  if (groups.length === 0) groups.push([job.hinge.a, job.grip]);
  if (more && !groups.some((g) => keyOf(g) === keyOf(more))) groups.push(more);
  const worst = found?.readings
    .flatMap((pair, i) => pair.map((check, k) => ({ check, i, k })))
    .filter(({ check }) => check?.w != null && Math.abs(check.w) > SUSPECT_W)
    .sort((a, b) => Math.abs(b.check!.w!) - Math.abs(a.check!.w!))[0];
  const sides = sideEdges(resolved);
  const whole = found?.whole;
  return (
    <Part title="Lift it off and weigh it" folded={raw.length === 0}>
      <ul className="cautions hint">
        <li>Struts off and a prop in before the hinge pins come out. Lift with enough people or a hoist, not alone.</li>
        <li>Chock the tilted lid so that it can’t slide off its blocks; keep hands and feet from under it.</li>
        <li>Level the two scales; a block as high as a scale goes under an edge that has none.</li>
      </ul>
      <WeighedWhat way="lifted" />
      {groups.map((between) => (
        <EdgesTable
          key={keyOf(between)}
          between={between}
          fresh={!raw.some((r) => keyOf(r.between) === keyOf(between))}
          onFresh={setMore}
        />
      ))}
      <p className="hint">
        Lying flat gives the mass and how far out its centre is; tilted about the same edges, its height (30° is good);
        at the two side edges, its place along the hinge. Leave a scale blank where a block stood.
      </p>
      <div className="row">
        {sides && raw.length > 0 && !groups.some((g) => keyOf(g) === keyOf(sides)) && (
          <button type="button" onClick={() => setMore(sides)}>
            Weigh at the side edges too
          </button>
        )}
      </div>
      {found && raw.length > 0 && (
        <div className="stands">
          {found.stands.map(
            (stand, i) =>
              stand &&
              read[i] && (
                <StandSketch
                  key={read[i].id}
                  job={resolved}
                  stand={stand}
                  forcesN={[read[i].firstN, read[i].secondN]}
                  scale={scale}
                  centreMm={whole?.atMm ?? null}
                  title={`Weighing ${i + 1}: tilted ${read[i].tiltDeg ?? 0}°`}
                />
              ),
          )}
        </div>
      )}
      {worst && (
        <p className="wrong" role="status">
          In weighing {worst.i + 1} the {worst.k === 0 ? 'first' : 'second'} scale reads{' '}
          {formatOnScale(Math.abs(worst.check!.offN!), scale)} too {worst.check!.offN! > 0 ? 'much' : 'little'} against
          the rest. Read it again, or leave that weighing out.
        </p>
      )}
      {whole && (
        <p className="sum">
          All that was on the scales: {formatQuantity(whole.kg, 'mass', units, 1).replace(/ .*/, '')} ±{' '}
          {formatQuantity(whole.sigmaKg, 'mass', units, 1)}.
          {whole.spare === 0 && ' Nothing checks these readings: one more weighing would.'}
        </p>
      )}
      {found && raw.length > 0 && (
        <ProposalPart way="lifted" item={found.item} proposal={found.proposal} trouble={found.trouble} />
      )}
      <details className="item">
        <summary>Where the edges carried</summary>
        <p className="hint">The places on the lid, lid closed, where it rested. Along the edge they may be anywhere.</p>
        <PointTable only={[...new Set(groups.flat())]} />
        <button
          type="button"
          onClick={() =>
            edit('Add a point where the lid rested', (now) => {
              const id = freshId(now, 'points', 'rest');
              const [x, y, z] = resolved.points.find((p) => p.id === now.grip)?.at ?? [0, 0, 0];
              return addPoint(now, {
                id,
                name: `Rested here ${id.replace('rest', '') || '1'}`,
                on: 'lid',
                at: [x, y, z],
              });
            })
          }
        >
          Add a point where it rested
        </button>
      </details>
      <details className="item">
        <summary>How sure the readings are</summary>
        <NumberField
          label="Scale, ±"
          path={['weighings', 'lifted', 'sigmaN']}
          dimension="force"
          fallback={USUAL_LIFTED.sigmaN}
        />
        <NumberField
          label="Tilt, ±"
          path={['weighings', 'lifted', 'sigmaDeg']}
          dimension="angle"
          fallback={USUAL_LIFTED.sigmaDeg}
        />
        <NumberField
          label="Where an edge carried, ±"
          path={['weighings', 'lifted', 'sigmaMm']}
          dimension="length"
          fallback={USUAL_LIFTED.sigmaMm}
        />
      </details>
    </Part>
  );
}

interface TableProps {
  readonly between: Between;
  /** No reading has these edges yet. */
  readonly fresh: boolean;
  readonly onFresh: (between: Between) => void;
}

interface Row {
  readonly r: JobLifted;
  readonly i: number;
  readonly at: Lifted | undefined;
}

/** The weighings at one pair of edges. */
function EdgesTable({ between, fresh, onFresh }: TableProps): React.JSX.Element {
  const id = useId();
  const [wrong, setWrong] = useState('');
  const all = useBench((s) => s.history.present.weighings?.lifted?.readings) ?? [];
  const points = useBench((s) => s.history.present.points);
  const hinge = useBench((s) => s.history.present.hinge);
  const read = useTold((s) => s.resolved).weighings?.lifted?.readings ?? [];
  const scale = useScale();
  const rows = all.map((r, i): Row => ({ r, i, at: read[i] })).filter(({ r }) => keyOf(r.between) === keyOf(between));
  const places = points.filter((p) => p.on === 'lid' || p.id === hinge.a || p.id === hinge.b);
  const set = (label: string, weighing: string, patch: Parameters<typeof setLifted>[1]['patch']): boolean =>
    edit(label, (job) => setLifted(job, { id: weighing, patch }));
  const field = (key: string, words: string) => ({
    label: (row: Row) => `${words} of weighing ${row.i + 1}`,
    name: (row: Row) => `weighings.lifted.readings.${row.i}.${key}`,
    next: words,
  });
  const force = (text: string) => (text.trim() === '' ? undefined : scaleEntry(text, scale));
  const onScale = (key: 'firstN' | 'secondN', words: string): EntryColumn<Row>['field'] & object => ({
    ...field(key, words),
    shown: ({ at }) => (at?.[key] === undefined ? '' : shownOnScale(at[key], scale)),
    take: ({ r }, text) => set('Set what a scale read', r.id, { [key]: force(text) }),
    words: scaleWords(scale),
    optional: true,
  });
  const move = (k: 0 | 1, point: string): void => {
    const next: Between = k === 0 ? [point, between[1]] : [between[0], point];
    if (next[0] === next[1]) return setWrong('Both edges at one point. Choose a point at each of the two edges.');
    setWrong('');
    if (fresh) onFresh(next);
    else
      edit('Choose where the lid rested', (job) =>
        rows.reduce((now, { r }) => setLifted(now, { id: r.id, patch: { between: [next[0], next[1]] } }), job),
      );
  };
  return (
    <>
      {(['First edge at', 'Second edge at'] as const).map((words, k) => (
        <div className="field" key={words}>
          <label htmlFor={`${id}-${k}`}>{words}</label>
          <span className="entry">
            <select id={`${id}-${k}`} value={between[k]} onChange={(e) => move(k as 0 | 1, e.target.value)}>
              {places.map((p) => (
                <option key={p.id} value={p.id}>
                  {p.name ?? p.id}
                </option>
              ))}
            </select>
          </span>
        </div>
      ))}
      {wrong && (
        <p className="wrong" role="alert">
          {wrong}
        </p>
      )}
      <EntryTable
        label="Weighings of the lifted lid"
        className="entries lifted"
        columns={[
          {
            head: 'Tilt °',
            title: 'How far the second edge was raised from how the lid lies when closed',
            field: {
              ...field('tiltDeg', 'Tilt'),
              shown: ({ at }) => (at ? String(Number((at.tiltDeg ?? 0).toFixed(3))) : ''),
              take: ({ r }, text) => set('Set a tilt', r.id, { tiltDeg: angleEntry(text) }),
              words: angleWords,
            },
          },
          { head: `First ${scale}`, field: onScale('firstN', 'First scale') },
          { head: `Second ${scale}`, field: onScale('secondN', 'Second scale') },
        ]}
        rows={rows}
        about={({ r, i }) => ({
          key: r.id,
          name: `weighing ${i + 1}`,
          used: r.use !== false,
        })}
        use={({ r }, on) => set(on ? 'Use a weighing' : 'Switch a weighing off', r.id, { use: on ? undefined : false })}
        remove={({ r }) => edit('Remove a weighing', (job) => removeLifted(job, { id: r.id }))}
        next={{
          name: 'lifted',
          add: ([tilt, first, second]) => {
            const [firstN, secondN] = [force(first!), force(second!)];
            if (firstN === undefined && secondN === undefined)
              throw new LidwrightError({
                what: 'neither scale was read',
                where: [],
                advice: 'Type what one of them shows at least.',
              });
            const weighing = {
              between: [between[0], between[1]] as [string, string],
              tiltDeg: angleEntry(tilt!),
              ...(firstN === undefined ? {} : { firstN }),
              ...(secondN === undefined ? {} : { secondN }),
            };
            return edit('Add a weighing', (job) => {
              const item = job.masses[0];
              const begun = job.weighings?.lifted || !item ? job : chooseWeighed(job, { way: 'lifted', of: item.id });
              return addLifted(begun, { weighing });
            });
          },
        }}
      />
    </>
  );
}
