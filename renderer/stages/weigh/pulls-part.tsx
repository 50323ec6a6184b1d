import type { Job, JobPull, Pull } from '../../../core/job';
import { formatOnScale, formatQuantity, shownOnScale } from '../../../core/quantity';
import {
  PULLS_GIVE_NO_MASS,
  SUSPECT_W,
  USUAL_PULL,
  mostSuspect,
  type PullsFound,
  addPulls,
  isList,
  linesFromPulls,
  momentSigmaKgMm,
  pullsFromLines,
  weightMomentNm,
  chooseWeighed,
  removePull,
  setPull,
} from '../../../core/weigh';
import { edit, notify, setAngle } from '../../state/store';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { weighedOf } from '../../state/weighed';
import { type EntryColumn, EntryTable } from '../../ui/entry-table';
import { ChoiceField, Part } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';
import { ProposalPart } from './proposal-part';
import { angleEntry, angleWords, scaleEntry, scaleWords, useScale } from './scale-of';
import { WeighedWhat } from './weighed-what';

type NewPull = Parameters<typeof addPulls>[1]['pulls'][number];

/** The first reading also says what was weighed, where nobody has: the first mass item. */
const withPulls = (job: Job, pulls: readonly NewPull[]): Job => {
  const first = job.masses[0];
  const begun = job.weighings?.pulls || !first ? job : chooseWeighed(job, { way: 'pulls', of: first.id });
  return addPulls(begun, { pulls });
};

interface Row {
  readonly r: JobPull;
  readonly read: Pull | undefined;
  readonly check: PullsFound['readings'][number] | undefined;
}

const placeOf = ({ read }: Row, i: number): string =>
  read ? `${Number(read.angleDeg.toFixed(1))}°` : `reading ${i + 1}`;

/** The lid held at its grip with a scale, at two or more angles, struts off. */
export function PullsPart(): React.JSX.Element {
  const raw = useBench((s) => s.history.present.weighings?.pulls?.readings) ?? [];
  const resolved = useTold((s) => s.resolved);
  const scale = useScale();
  const found = weighedOf(resolved).pulls;
  const read = resolved.weighings?.pulls?.readings ?? [];
  const ways = new Set(raw.map((r) => r.pull ?? 'square'));
  const whiles = new Set(raw.map((r) => r.while ?? 'mean'));
  const usual = raw.at(-1)?.pull ?? 'square';
  const suspect = found && mostSuspect(found.readings);
  const columns: readonly EntryColumn<Row>[] = [
    {
      head: 'Lid °',
      field: {
        label: (_, i) => `Angle of reading ${i + 1}`,
        name: (_, i) => `weighings.pulls.readings.${i}.angleDeg`,
        shown: ({ read: at }) => (at ? String(Number(at.angleDeg.toFixed(3))) : ''),
        take: ({ r }, text) => {
          const angleDeg = angleEntry(text);
          return edit('Set the angle of a pull', (job) => setPull(job, { id: r.id, patch: { angleDeg } }));
        },
        words: angleWords,
        next: 'Angle',
      },
    },
    {
      head: `Reads ${scale}`,
      field: {
        label: (row, i) => `Scale at ${placeOf(row, i)}`,
        name: (_, i) => `weighings.pulls.readings.${i}.forceN`,
        shown: ({ read: at }) => (at ? shownOnScale(at.forceN, scale) : ''),
        take: ({ r }, text) => {
          const forceN = scaleEntry(text, scale);
          return edit('Set what the scale read', (job) => setPull(job, { id: r.id, patch: { forceN } }));
        },
        words: scaleWords(scale),
        next: 'Scale',
      },
    },
    {
      head: 'Should be',
      tell: ({ check }) => (check?.expectedN == null ? '' : formatOnScale(check.expectedN, scale).replace(/ .*/, '')),
    },
    {
      head: 'Off',
      className: ({ check }) => (check?.w != null && Math.abs(check.w) > SUSPECT_W ? 'suspect' : ''),
      tell: ({ check }) => (check?.offN == null ? '' : signed(formatOnScale(check.offN, scale).replace(/ .*/, ''))),
    },
  ];
  return (
    <Part title="Pull at the grip" folded={raw.length === 0}>
      <ul className="cautions hint">
        <li>Prop the lid, then take the struts off: while one pushes, the scale tells nothing.</li>
        <li>
          Without struts the lid falls. Leave a prop close under it, lift it just clear to read, hands out of the gap.
        </li>
        <li>Read on a slow lift and on a slow lowering, and type the mean: that takes hinge friction out.</li>
      </ul>
      <WeighedWhat way="pulls" />
      <div className="field">
        <label htmlFor="pull-way">The scale pulls</label>
        <span className="entry">
          <select
            id="pull-way"
            value={ways.size > 1 ? 'mixed' : usual}
            onChange={(e) => {
              const pull = e.target.value === 'upright' ? 'upright' : undefined;
              edit('Set how the scale pulls', (job) =>
                raw.reduce((next, r) => setPull(next, { id: r.id, patch: { pull } }), job),
              );
            }}
            disabled={raw.length === 0}
          >
            <option value="square">square to the lid</option>
            <option value="upright">straight up</option>
            {ways.size > 1 && (
              <option value="mixed" disabled>
                both ways
              </option>
            )}
          </select>
        </span>
      </div>
      <div className="field">
        <label htmlFor="pull-while">It was read</label>
        <span className="entry">
          <select
            id="pull-while"
            value={whiles.size > 1 ? 'mixed' : (raw.at(-1)?.while ?? 'mean')}
            onChange={(e) => {
              const way = e.target.value === 'mean' ? undefined : (e.target.value as 'lifting' | 'lowering');
              edit('Set when the scale was read', (job) =>
                raw.reduce((next, r) => setPull(next, { id: r.id, patch: { while: way } }), job),
              );
            }}
            disabled={raw.length === 0}
          >
            <option value="mean">both ways, the mean typed</option>
            <option value="lifting">while lifting only</option>
            <option value="lowering">while lowering only</option>
            {whiles.size > 1 && (
              <option value="mixed" disabled>
                some so, some so
              </option>
            )}
          </select>
        </span>
      </div>
      {(whiles.size > 1 || !whiles.has('mean')) && raw.length > 0 && (
        <p className="hint" role="status">
          {resolved.hinge.frictionNm > 0
            ? 'The hinge’s friction, as the job has it, is taken out of what was read on one way only.'
            : 'Read on one way only, the friction of the hinge is still in it, and the job has none: read the other way too, or give the friction.'}
        </p>
      )}
      <EntryTable
        label="Pulls at the grip"
        className="entries pulls"
        columns={columns}
        rows={raw.map((r, i) => ({ r, read: read[i], check: found?.readings[i] }))}
        about={(row, i) => ({
          key: row.r.id,
          name: `the pull at ${placeOf(row, i)}`,
          used: row.r.use !== false,
          attributes: { onFocus: () => row.read && setAngle(row.read.angleDeg) },
        })}
        use={({ r }, on) =>
          edit(on ? 'Use a pull' : 'Switch a pull off', (job) =>
            setPull(job, { id: r.id, patch: { use: on ? undefined : false } }),
          )
        }
        remove={({ r }) => edit('Remove a pull', (job) => removePull(job, { id: r.id }))}
        next={{
          name: 'pulls',
          add: ([angle, force]) => {
            const pull = {
              angleDeg: angleEntry(angle!),
              forceN: scaleEntry(force!, scale),
              ...(usual === 'upright' ? { pull: usual } : {}),
              ...(raw.at(-1)?.while ? { while: raw.at(-1)!.while } : {}),
            };
            return edit('Add a pull', (job) => withPulls(job, [pull]));
          },
          paste: (text) => {
            if (!isList(text)) return false;
            const pulls = pullsFromLines(text, scale, usual);
            return edit(`Paste ${pulls.length} pulls`, (job) => withPulls(job, pulls)) || true;
          },
        }}
      />
      <p className="hint">
        Type the angle, Enter, what the scale shows, Enter. A list of both can be pasted.{' '}
        {raw.length > 0 && (
          <button
            type="button"
            className="link"
            onClick={() =>
              void navigator.clipboard
                .writeText(linesFromPulls(read, scale))
                .then(() => notify(`${read.length} pulls copied as a list.`))
                .catch(() => notify('The browser does not let a page copy here.', 'bad'))
            }
          >
            Copy the list
          </button>
        )}
      </p>
      {suspect && (
        <p className="wrong" role="status">
          The pull at {Number((read[found.readings.indexOf(suspect)]?.angleDeg ?? 0).toFixed(1))}° reads{' '}
          {formatOnScale(Math.abs(suspect.offN!), scale)} too {suspect.offN! > 0 ? 'much' : 'little'} against the rest.
          Read it again, or switch it off.
        </p>
      )}
      {raw.length > 0 && found && <PullsResult found={found} />}
      <details className="item">
        <summary>How sure the readings are</summary>
        <ChoiceField
          label="The scale shows"
          path={['weighings', 'scale']}
          fallback={scale}
          options={[
            ['kg', 'kg'],
            ['N', 'N'],
            ['lb', 'lb'],
          ]}
        />
        <NumberField
          label="Scale, ±"
          path={['weighings', 'pulls', 'sigmaN']}
          dimension="force"
          fallback={USUAL_PULL.sigmaN}
        />
        <NumberField
          label="Angle, ±"
          path={['weighings', 'pulls', 'sigmaDeg']}
          dimension="angle"
          fallback={USUAL_PULL.sigmaDeg}
        />
        <NumberField
          label="Base pitched, front down +"
          path={['weighings', 'pulls', 'pitchDeg']}
          dimension="angle"
          fallback={0}
        />
        <NumberField label="Base rolled" path={['weighings', 'pulls', 'rollDeg']} dimension="angle" fallback={0} />
        <p className="hint">± is one standard deviation: two readings out of three lie within it.</p>
      </details>
    </Part>
  );
}

const signed = (text: string): string =>
  /^[−0]/.test(text) && !/[1-9]/.test(text) ? '0' : text.startsWith('−') ? text : `+${text}`;

/** What the pulls give, and the one fact that they don't. */
function PullsResult({ found }: { found: PullsFound }): React.JSX.Element {
  const units = useBench((s) => s.units);
  const known = useBench((s) => s.history.present.weighings?.pulls?.known) ?? 'arm';
  const down = useBench((s) => s.history.present.hinge.opens === 'down');
  const { moment, listed, beside } = found;
  const nm = (kgMm: number): string => formatQuantity(weightMomentNm(kgMm), 'moment', units);
  const sigma = (k: 0 | 1): string => nm(momentSigmaKgMm(moment!, k)).replace(/ .*/, '');
  const fact = beside?.fact;
  return (
    <>
      {moment && listed && (
        <table className="needs" aria-label="Moment of the weight about the hinge">
          <caption>Moment of the weight about the hinge</caption>
          <thead>
            <tr>
              <th></th>
              <th scope="col">Pulls say</th>
              <th scope="col">Items say</th>
            </tr>
          </thead>
          <tbody>
            <tr>
              <th scope="row">Lid closed</th>
              <td>
                {nm(moment.acrossKgMm).replace(/ .*/, '')} ± {sigma(0)}
              </td>
              <td>{nm(listed.acrossKgMm)}</td>
            </tr>
            <tr>
              <th scope="row">Turned 90°</th>
              <td>
                {nm((down ? 1 : -1) * moment.uprightKgMm).replace(/ .*/, '')} ± {sigma(1)}
              </td>
              <td>{nm((down ? 1 : -1) * listed.uprightKgMm)}</td>
            </tr>
          </tbody>
        </table>
      )}
      {moment?.spare === 0 && <p className="hint">Two angles fix it and nothing checks them. Read a third.</p>}
      <p className="hint">{PULLS_GIVE_NO_MASS}</p>
      {moment && (
        <>
          <ChoiceField
            label="Known beside them"
            path={['weighings', 'pulls', 'known']}
            fallback="arm"
            options={[
              ['arm', 'how far out'],
              ['mass', 'its mass'],
            ]}
          />
          {known === 'mass' ? (
            <>
              <NumberField
                label="Its mass"
                path={['weighings', 'pulls', 'kg']}
                dimension="mass"
                {...(fact && 'kg' in fact ? { fallback: fact.kg } : {})}
              />
              <NumberField
                label="±"
                path={['weighings', 'pulls', 'sigmaKg']}
                dimension="mass"
                fallback={USUAL_PULL.sigmaKg}
              />
            </>
          ) : (
            <>
              <NumberField
                label="Its centre, out from the hinge"
                path={['weighings', 'pulls', 'armMm']}
                dimension="length"
                {...(fact && 'acrossMm' in fact ? { fallback: Math.round(fact.acrossMm * 10) / 10 } : {})}
              />
              <NumberField
                label="±"
                path={['weighings', 'pulls', 'sigmaArmMm']}
                dimension="length"
                fallback={USUAL_PULL.sigmaArmMm}
              />
            </>
          )}
          <p className="hint">
            {beside === null
              ? 'Type the mass of the new item.'
              : beside.typed
                ? 'As typed.'
                : found.item
                  ? `Taken from ${found.item.name ?? found.item.id} as it stands: not measured.`
                  : 'Taken as the middle of the lid’s outline: not measured.'}
          </p>
        </>
      )}
      <ProposalPart way="pulls" item={found.item} proposal={found.proposal} trouble={found.trouble} />
    </>
  );
}
