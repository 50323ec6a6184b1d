import { type EndName, addBracket, freshId, removeBracket } from '../../core/job';
import { edit } from '../state/store';
import { useBench } from '../state/use-bench';
import { ChoiceField, Part, TextField } from '../ui/fields';
import { NumberField } from '../ui/number-field';
import { DrawingPreview, useBracketSheet } from './drawing-preview';

function One({ index }: { index: number }): React.JSX.Element {
  const raw = useBench((s) => s.history.present.brackets?.[index]);
  const bracket = useBench((s) => s.resolved.brackets[index]);
  const strutIndex = useBench((s) => s.history.present.struts.findIndex((x) => x.id === raw?.strut));
  const mounted = useBench(
    (s) => raw !== undefined && s.history.present.struts[strutIndex]?.ends[raw.end].mount !== undefined,
  );
  const { sheet, why } = useBracketSheet(bracket);
  if (!raw) return <></>;
  const at = (...keys: string[]): (string | number)[] => ['brackets', index, ...keys];
  return (
    <Part title={raw.name ?? raw.id}>
      {sheet ? (
        <DrawingPreview sheet={sheet} />
      ) : (
        <p className="wrong" role="alert">
          {why}
        </p>
      )}
      <TextField label="Name" path={at('name')} />
      {mounted && (
        <NumberField
          label="Azimuth on its mount"
          path={['struts', strutIndex, 'ends', raw.end, 'azimuthDeg']}
          dimension="angle"
          fallback={0}
        />
      )}
      <NumberField label="Thickness" path={at('thicknessMm')} dimension="length" />
      <NumberField label="Inside radius" path={at('insideRadiusMm')} dimension="length" />
      <NumberField label="Base leg" path={at('baseLegMm')} dimension="length" />
      <NumberField label="Upright leg" path={at('uprightLegMm')} dimension="length" />
      <NumberField label="Base width" path={at('baseWidthMm')} dimension="length" />
      <NumberField label="Top width" path={at('topWidthMm')} dimension="length" />
      <NumberField label="Base corner radius" path={at('baseCornerRadiusMm')} dimension="length" />
      <NumberField label="Top corner radius" path={at('topCornerRadiusMm')} dimension="length" />
      <NumberField label="Base holes ⌀" path={at('baseHole', 'diameterMm')} dimension="length" />
      <NumberField label="Base holes apart" path={at('baseHole', 'spacingMm')} dimension="length" />
      <NumberField label="Base holes from end" path={at('baseHole', 'fromEndMm')} dimension="length" />
      <NumberField label="Stud hole ⌀" path={at('studHole', 'diameterMm')} dimension="length" />
      <NumberField label="Stud hole height" path={at('studHole', 'heightMm')} dimension="length" />
      <NumberField label="Ball before the face" path={at('ballOffsetMm')} dimension="length" />
      <TextField label="Material" path={at('material', 'name')} />
      <NumberField label="Density, kg/m³" path={at('material', 'densityKgM3')} dimension="number" />
      <ChoiceField
        label="At the end"
        path={at('end')}
        options={[
          ['base', 'base end'],
          ['lid', 'lid end'],
        ]}
      />
      <button type="button" onClick={() => edit('Remove the bracket', (job) => removeBracket(job, { id: raw.id }))}>
        Remove
      </button>
    </Part>
  );
}

/** A bracket of a usual size for an 8 mm stud, to be changed in place. */
function addOne(strut: string, end: EndName): void {
  edit('Add a bracket', (job) => {
    const id = freshId(job, 'brackets', 'b1');
    return addBracket(job, {
      bracket: {
        id,
        name: `Bracket, ${end} end`,
        kind: 'bent-angle',
        strut,
        end,
        thicknessMm: 4,
        insideRadiusMm: 4,
        baseLegMm: 50,
        uprightLegMm: 60,
        baseWidthMm: 60,
        topWidthMm: 40,
        baseCornerRadiusMm: 6,
        topCornerRadiusMm: 10,
        baseHole: { diameterMm: 6.6, spacingMm: 36, fromEndMm: 14 },
        studHole: { diameterMm: 8.4, heightMm: 42 },
        ballOffsetMm: 13,
        material: { name: 'Steel S235JR', densityKgM3: 7850 },
      },
    });
  });
}

/** Bracket: the bent angle under a strut end, its numbers and its drawing. */
export function BracketPanel(): React.JSX.Element {
  const brackets = useBench((s) => s.history.present.brackets) ?? [];
  const struts = useBench((s) => s.history.present.struts);
  return (
    <>
      <h2>Bracket</h2>
      <p className="hint">
        Type in any unit: 1/8 in, 3 mm, 2*20 mm. Strength is not checked in this version; the strut’s full force hangs
        on this part, so have it judged by somebody who answers for it.
      </p>
      {brackets.map((b, i) => (
        <One key={b.id} index={i} />
      ))}
      {struts.map((s, i) => (
        <div className="row" key={s.id}>
          {(['base', 'lid'] as const)
            .filter((end) => !brackets.some((b) => b.strut === s.id && b.end === end))
            .map((end) => (
              <button key={end} type="button" onClick={() => addOne(s.id, end)}>
                Add one at the {end} end{struts.length > 1 ? ` of strut ${i + 1}` : ''}
              </button>
            ))}
        </div>
      ))}
    </>
  );
}
