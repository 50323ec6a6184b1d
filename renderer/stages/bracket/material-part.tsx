import { setValue } from '../../../core/job';
import { DEFAULTS, materialRow } from '../../../core/strength';
import { edit } from '../../state/store';
import { Part, TextField } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';
import type { One } from './context';
import { DENSITY, MaterialChoice, nameOfRow, StrengthWords } from './material-choice';

/** What the bracket is made of, and the factor for shocks. */
export function MaterialPart({ one }: { one: One }): React.JSX.Element {
  const { raw, bracket, at } = one;
  const { material } = raw;
  const own = !materialRow(material.name) || material.yieldMPa !== undefined || material.ultimateMPa !== undefined;
  return (
    <Part title="Material and shocks" folded>
      <MaterialChoice
        label="Material"
        name={at('material').join('.')}
        material={material}
        onRow={(row) =>
          edit('Set the material', (job) =>
            setValue(job, {
              path: at('material'),
              value: { name: nameOfRow(row), densityKgM3: DENSITY[row.family] },
            }),
          )
        }
        onOwn={() =>
          edit('A material of your own', (job) =>
            setValue(job, {
              path: at('material'),
              value: { name: 'Own material', densityKgM3: material.densityKgM3 },
            }),
          )
        }
      />
      {own && (
        <>
          <TextField label="Material" path={at('material', 'name')} />
          <NumberField label="Yield, N/mm²" path={at('material', 'yieldMPa')} dimension="number" optional />
          <NumberField label="Tensile, N/mm²" path={at('material', 'ultimateMPa')} dimension="number" optional />
        </>
      )}
      <StrengthWords material={bracket.material} thicknessMm={bracket.thicknessMm} />
      <NumberField label="Density, kg/m³" path={at('material', 'densityKgM3')} dimension="number" />
      <NumberField
        label="Factor for shocks"
        path={at('shockFactor')}
        dimension="number"
        fallback={DEFAULTS.shockFactor}
        optional
      />
    </Part>
  );
}
