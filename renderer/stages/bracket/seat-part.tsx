import { useState } from 'react';
import { type Num, setValue } from '../../../core/job';
import { DEFAULTS, type MATERIALS, materialRow, woodRow } from '../../../core/strength';
import { edit, orSay } from '../../state/store';
import { ChoiceField, Part, TextField } from '../../ui/fields';
import { ReadAs, quantityWords, useHeldForm } from '../../ui/entry';
import { NumberField, readEntry } from '../../ui/number-field';
import type { One } from './context';
import { MaterialChoice, nameOfRow, StrengthWords } from './material-choice';

/** What it is fixed to: asked for, never guessed. */
function Ask({ one }: { one: One }): React.JSX.Element {
  const [thickness, setThickness] = useState('');
  const [name, setName] = useState<string | null>(null);
  const save = (): boolean =>
    name !== null &&
    (orSay(() => {
      const thicknessMm: Num = readEntry(thickness, 'length');
      return edit('Say what it sits on', (job) =>
        setValue(job, { path: one.at('seat'), value: { thicknessMm, material: { name } } }),
      );
    }) ??
      false);
  const field = useHeldForm('Thickness of the panel', thickness.trim() === '', save);
  return (
    <div className="ask">
      <p className="hint">Not said yet, so the mount itself is not checked.</p>
      <div className="field">
        <label>
          Thickness of the panel{' '}
          <span className="entry">
            <input
              ref={field}
              name="seat-thickness"
              aria-label="Thickness of the panel"
              aria-describedby="seat-read"
              value={thickness}
              onChange={(e) => setThickness(e.target.value)}
              onKeyDown={(e) => e.key === 'Escape' && setThickness('')}
            />
            <ReadAs id="seat-read" text={thickness} words={(text) => quantityWords(text, 'length')} />
          </span>
        </label>
      </div>
      <MaterialChoice
        label="Panel’s material"
        name="seat-material"
        material={name === null ? undefined : { name }}
        onRow={(row) => setName(nameOfRow(row))}
        onWood={setName}
        onOwn={() => setName('Own material')}
      />
      <button type="button" disabled={name === null || thickness.trim() === ''} onClick={save}>
        Check the mount too
      </button>
    </div>
  );
}

/** The panel or beam it is fixed to, with a plate behind it that spreads the load. */
export function SeatPart({ one }: { one: One }): React.JSX.Element {
  const { raw, bracket, spec, at } = one;
  const seat = raw.seat;
  const name = seat?.material.name ?? '';
  const wood = woodRow(name);
  const own =
    (!materialRow(name) && !wood) || seat?.material.yieldMPa !== undefined || seat?.material.ultimateMPa !== undefined;
  const set = (label: string, key: string, value: unknown): void => {
    edit(label, (job) => setValue(job, { path: at('seat', key), value }));
  };
  return (
    <Part title="What it sits on" folded>
      {!seat || !bracket.seat ? (
        <Ask one={one} />
      ) : (
        <>
          <NumberField label="Panel thickness" path={at('seat', 'thicknessMm')} dimension="length" />
          <MaterialChoice
            label="Panel’s material"
            name={at('seat', 'material').join('.')}
            material={seat.material}
            onRow={(row: (typeof MATERIALS)[number]) =>
              set('Set the panel’s material', 'material', { name: nameOfRow(row) })
            }
            onWood={(id) => set('Set the panel’s material', 'material', { name: id })}
            onOwn={() => set('A panel’s material of your own', 'material', { name: 'Own material' })}
          />
          {wood && (
            <>
              <ChoiceField
                label="It stands"
                path={at('seat', 'serviceClass')}
                fallback={DEFAULTS.serviceClass}
                options={[
                  [1, 'indoors, dry'],
                  [2, 'under a roof'],
                  [3, 'in the weather'],
                ]}
              />
              <NumberField
                label="Bending strength, N/mm²"
                path={at('seat', 'material', 'yieldMPa')}
                dimension="number"
                optional
              />
            </>
          )}
          {own && !wood && (
            <>
              <TextField label="Material" path={at('seat', 'material', 'name')} />
              <NumberField label="Yield, N/mm²" path={at('seat', 'material', 'yieldMPa')} dimension="number" optional />
              <NumberField
                label="Tensile, N/mm²"
                path={at('seat', 'material', 'ultimateMPa')}
                dimension="number"
                optional
              />
            </>
          )}
          <StrengthWords material={bracket.seat.material} thicknessMm={bracket.seat.thicknessMm} />
          {seat.spreader ? (
            <>
              <NumberField label="Spreader thickness" path={at('seat', 'spreader', 'thicknessMm')} dimension="length" />
              <NumberField label="Spreader width" path={at('seat', 'spreader', 'widthMm')} dimension="length" />
              <NumberField label="Spreader length" path={at('seat', 'spreader', 'lengthMm')} dimension="length" />
              <button type="button" onClick={() => set('Take the spreader away', 'spreader', undefined)}>
                Take the spreader away
              </button>
            </>
          ) : (
            <button
              type="button"
              title="A plate behind the panel, half as wide again as the bracket"
              onClick={() =>
                set('Add a spreader plate', 'spreader', {
                  thicknessMm: spec.thicknessMm,
                  widthMm: Math.ceil(1.5 * spec.baseWidthMm),
                  lengthMm: Math.ceil(1.5 * spec.baseLegMm),
                })
              }
            >
              Add a spreader plate
            </button>
          )}
        </>
      )}
    </Part>
  );
}
