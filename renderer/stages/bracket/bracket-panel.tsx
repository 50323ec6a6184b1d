import { useEffect, useState } from 'react';
import { removeBracket } from '../../../core/job';
import { bracketStore, chosenBracket, chooseBracket } from '../../state/bracket-store';
import { edit } from '../../state/store';
import { useBench } from '../../state/use-bench';
import { ChoiceField, Part, TextField } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';
import { AddBracket } from './add-bracket';
import { AttachPart } from './attach-part';
import { useOne } from './context';
import { FixingsPart } from './fixings-part';
import { FlatPart } from './flat-part';
import { KeepPart } from './keep-part';
import { MaterialPart } from './material-part';
import { SeatPart } from './seat-part';
import { SizesPart } from './sizes-part';
import { StrengthPart } from './strength-part';
import { StudPart } from './stud-part';
import { KindChoice } from './thumbs';
import './bracket.css';

function Chosen({ index }: { index: number }): React.JSX.Element {
  const one = useOne(index);
  const strut = useBench((s) => s.history.present.struts.findIndex((x) => x.id === one?.raw.strut));
  const mounted = useBench((s) => one && s.history.present.struts[strut]?.ends[one.raw.end].mount !== undefined);
  if (!one) return <></>;
  const { raw, at } = one;
  return (
    <>
      <KindChoice id={raw.id} kind={raw.kind} />
      <StrengthPart id={raw.id} />
      <p className="hint">
        Type in any unit: 1/8 in, 3 mm, 2*20 mm. Numbers in italics are taken where nothing is typed.
      </p>
      <SizesPart one={one} />
      <FixingsPart one={one} />
      <StudPart one={one} />
      <AttachPart one={one} />
      <SeatPart one={one} />
      <MaterialPart one={one} />
      <KeepPart one={one} />
      <Part title="Name and place" folded>
        <TextField label="Name" path={at('name')} />
        <ChoiceField
          label="At the end"
          path={at('end')}
          options={[
            ['base', 'base end'],
            ['lid', 'lid end'],
          ]}
        />
        {mounted && (
          <NumberField
            label="Azimuth on its mount"
            path={['struts', strut, 'ends', raw.end, 'azimuthDeg']}
            dimension="angle"
            fallback={0}
          />
        )}
        <button type="button" onClick={() => edit('Remove the bracket', (job) => removeBracket(job, { id: raw.id }))}>
          Remove this bracket
        </button>
      </Part>
      <FlatPart one={one} />
    </>
  );
}

/** Bracket: the part under a strut's end; its kind, sizes, fixings, strength, blank and drawing. */
export function BracketPanel(): React.JSX.Element {
  const brackets = useBench((s) => s.history.present.brackets) ?? [];
  const [state, setState] = useState(bracketStore.getState);
  useEffect(() => bracketStore.subscribe(setState), []);
  const index = chosenBracket(brackets, state.bracketId);
  return (
    <div className="bracket-stage">
      {brackets.length === 0 && (
        <p className="hint">
          The strut’s whole force hangs on this part. Begin with one that suits the strut’s end, then drag its edges and
          holes in its own view, or type.
        </p>
      )}
      {brackets.length > 1 && (
        <div className="row" role="group" aria-label="Which bracket">
          {brackets.map((b, i) => (
            <button key={b.id} type="button" aria-pressed={i === index} onClick={() => chooseBracket(b.id)}>
              {b.name ?? b.id}
            </button>
          ))}
        </div>
      )}
      {index >= 0 && <Chosen key={brackets[index]!.id} index={index} />}
      <AddBracket />
    </div>
  );
}
