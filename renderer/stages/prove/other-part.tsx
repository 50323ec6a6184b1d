import { useState } from 'react';
import {
  type JobProofReading,
  PROOF_KINDS,
  PROOF_UNIT,
  type ProofKind,
  type ResolvedJob,
  setValue,
} from '../../../core/job';
import {
  USUAL_PROOF_SIGMA,
  dimensionOf,
  probeOf,
  probeWords,
  strutWords,
  addProofReadings,
  removeProofReading,
  setProofReading,
} from '../../../core/prove';
import { formatEntry, shownUnit } from '../../../core/quantity';
import { edit, orSay } from '../../state/store';
import { useBench } from '../../state/use-bench';
import { EntryTable } from '../../ui/entry-table';
import { Part } from '../../ui/fields';
import { ReadAs, quantityWords, useHeldForm } from '../../ui/entry';
import { readEntry } from '../../ui/number-field';
import { SIGMA_KEY } from '../../../core/prove';

const KIND_WORDS: Record<ProofKind, string> = {
  'strut-length': 'Distance between the pivots',
  'free-length': 'Free length of a strut',
  'pivot-to-hinge': 'Pivot to hinge pin',
  'hand-force': 'Hand force',
  'lifts-from': 'Lid rises by itself from',
  'falls-from': 'Lid falls by itself below',
  'rests-at': 'Lid stays put around',
  'opens-to': 'Lid opens to',
  'joint-angle': 'Angle of a joint',
  'lid-mass': 'Mass of the lid',
};

const FIELD = { mm: 'valueMm', N: 'valueN', deg: 'valueDeg', kg: 'valueKg' } as const;

/** Anything else that was measured: another angle, another load case, straight up, a joint. */
export function OtherPart({ job }: { job: ResolvedJob }): React.JSX.Element {
  const units = useBench((s) => s.units);
  const [kind, setKind] = useState<ProofKind>('hand-force');
  const [strut, setStrut] = useState(job.struts[0]?.id ?? '');
  const [end, setEnd] = useState<'base' | 'lid'>('base');
  const [angle, setAngle] = useState('');
  const [way, setWay] = useState<'opening' | 'closing'>('opening');
  const [pull, setPull] = useState<'square' | 'upright'>('square');
  const [off, setOff] = useState(false);
  const [loadCase, setLoadCase] = useState('');
  const [value, setValueText] = useState('');
  const ofStrut =
    kind === 'strut-length' || kind === 'free-length' || kind === 'joint-angle' || kind === 'pivot-to-hinge';
  const atAngle = kind === 'strut-length' || kind === 'hand-force' || kind === 'joint-angle';
  const unit = PROOF_UNIT[kind];
  const add = (): boolean =>
    orSay(() => {
      const reading: Omit<JobProofReading, 'id'> = {
        what: kind,
        ...(ofStrut ? { strut } : {}),
        ...(kind === 'joint-angle' || kind === 'pivot-to-hinge' ? { end } : {}),
        ...(atAngle ? { angleDeg: readEntry(angle, 'angle') } : {}),
        ...(kind === 'hand-force' ? { way, ...(pull === 'upright' ? { pull } : {}) } : {}),
        ...(off && (kind === 'hand-force' || kind.endsWith('-from') || kind === 'rests-at') ? { strutsOff: true } : {}),
        ...(loadCase === '' ? {} : { loadCase }),
        [FIELD[unit]]: readEntry(value, dimensionOf(kind)),
      };
      const added = edit(`Enter ${KIND_WORDS[kind].toLowerCase()}`, (j) =>
        addProofReadings(j, { readings: [reading] }),
      );
      if (added) setValueText('');
      return added;
    }) ?? false;
  const field = useHeldForm(`Read, ${KIND_WORDS[kind].toLowerCase()}`, value.trim() === '', add);
  const unitOf = shownUnit(dimensionOf(kind), units).sign;
  const select = <T extends string>(
    label: string,
    now: T,
    put: (v: T) => void,
    options: readonly (readonly [T, string])[],
  ): React.JSX.Element => (
    <label className="pick">
      {label}
      <select value={now} onChange={(e) => put(e.target.value as T)}>
        {options.map(([v, words]) => (
          <option key={v} value={v}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
  const readings = job.proof?.readings ?? [];
  return (
    <Part title="Measured something else" folded>
      <form
        className="other"
        onSubmit={(e) => {
          e.preventDefault();
          add();
        }}
      >
        {select(
          'What',
          kind,
          setKind,
          PROOF_KINDS.map((k) => [k, KIND_WORDS[k]] as const),
        )}
        {ofStrut &&
          select(
            'Strut',
            strut,
            setStrut,
            job.struts.map((s) => [s.id, strutWords(job, s.id)] as const),
          )}
        {(kind === 'joint-angle' || kind === 'pivot-to-hinge') &&
          select('End', end, setEnd, [
            ['base', 'base'],
            ['lid', 'lid'],
          ])}
        {kind === 'hand-force' && (
          <>
            {select('Lid moves', way, setWay, [
              ['opening', 'opening'],
              ['closing', 'closing'],
            ])}
            {select('Pulled', pull, setPull, [
              ['square', 'square to its arm'],
              ['upright', 'straight up'],
            ])}
            <label className="check">
              <input type="checkbox" checked={off} onChange={(e) => setOff(e.target.checked)} /> struts off, lid propped
            </label>
          </>
        )}
        {job.loadCases.length > 1 &&
          select('Load case', loadCase, setLoadCase, [
            ['', 'the proof’s own'],
            ...job.loadCases.map((c) => [c.id, c.name] as const),
          ])}
        {atAngle && (
          <label className="pick">
            Lid at, °
            <span className="entry">
              <input
                aria-label="Lid at, °"
                aria-describedby="other-angle"
                value={angle}
                onChange={(e) => setAngle(e.target.value)}
                onKeyDown={(e) => e.key === 'Escape' && setAngle('')}
              />
              <ReadAs id="other-angle" text={angle} words={(text) => quantityWords(text, 'angle')} />
            </span>
          </label>
        )}
        <label className="pick">
          Read, {unitOf}
          <span className="entry">
            <input
              ref={field}
              aria-label={`Read, ${unitOf}`}
              aria-describedby="other-read"
              value={value}
              onChange={(e) => setValueText(e.target.value)}
              onKeyDown={(e) => e.key === 'Escape' && setValueText('')}
            />
            <ReadAs id="other-read" text={value} words={(text) => quantityWords(text, dimensionOf(kind))} />
          </span>
        </label>
        <button type="submit">Add it</button>
      </form>
      {readings.length > 0 && (
        <EntryTable
          label="What was measured"
          className="entries taken"
          columns={[{ tell: (r) => probeWords(job, probeOf(job, r)) }]}
          rows={readings}
          about={(r) => ({ key: r.id, name: probeWords(job, probeOf(job, r)), used: r.use !== false })}
          use={(r, on) =>
            edit(on ? 'Use a measurement' : 'Switch a measurement off', (j) =>
              setProofReading(j, { id: r.id, patch: { use: on ? undefined : false } }),
            )
          }
          remove={(r) => edit('Remove a measurement', (j) => removeProofReading(j, { id: r.id }))}
        />
      )}
    </Part>
  );
}

/** How sure the readings of each kind are; one entry for all of a kind. */
export function SurenessPart({ job }: { job: ResolvedJob }): React.JSX.Element | null {
  const units = useBench((s) => s.units);
  const readings = job.proof?.readings ?? [];
  const kinds = PROOF_KINDS.filter((k) => readings.some((r) => r.what === k));
  if (kinds.length === 0) return null;
  const keyOf = (kind: ProofKind) => SIGMA_KEY[PROOF_UNIT[kind]];
  const labelOf = (kind: ProofKind): string => `${KIND_WORDS[kind]}, ± ${shownUnit(dimensionOf(kind), units).sign}`;
  return (
    <Part title="How sure the readings are" folded>
      <p className="hint">Two readings in three lie within this of the truth. Usual values are common practice.</p>
      <EntryTable
        label="How sure the readings are"
        className="entries sureness"
        rows={kinds}
        about={(kind) => ({ key: kind, name: kind, attributes: { title: USUAL_PROOF_SIGMA[kind].tool } })}
        columns={[
          { isRowHead: true, tell: (kind, field) => <label htmlFor={field}>{labelOf(kind)}</label> },
          {
            field: {
              label: labelOf,
              shown: (kind) => {
                const own = readings.find((r) => r.what === kind)?.[keyOf(kind)];
                return formatEntry(own ?? USUAL_PROOF_SIGMA[kind].sigma, dimensionOf(kind), units);
              },
              take: (kind, text) => {
                const value = text.trim() === '' ? undefined : readEntry(text, dimensionOf(kind));
                return edit(`Set how sure: ${KIND_WORDS[kind].toLowerCase()}`, (now) =>
                  (now.proof?.readings ?? []).reduce(
                    (j, r, i) =>
                      r.what === kind ? setValue(j, { path: ['proof', 'readings', i, keyOf(kind)], value }) : j,
                    now,
                  ),
                );
              },
              words: (text, kind) => quantityWords(text, dimensionOf(kind!)),
            },
          },
        ]}
      />
    </Part>
  );
}
