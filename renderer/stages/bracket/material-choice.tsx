import { useId } from 'react';
import { MATERIALS, WOODS, materialRow, materialStrength, woodBendingMPa, woodRow } from '../../../core/strength';

/** What a row of the table is written as in a job; read back it finds its row. */
export const nameOfRow = (row: (typeof MATERIALS)[number]): string =>
  row.family === 'aluminium'
    ? row.id
    : row.family === 'stainless'
      ? `Stainless steel ${row.id}`
      : `Steel ${row.id}${/^S\d/.test(row.id) ? 'JR' : ''}`;

/** Usual densities, kg/m³: common practice, no source. */
export const DENSITY = { steel: 7850, stainless: 7900, aluminium: 2700 } as const;

interface Typed {
  readonly name: string;
  readonly yieldMPa?: unknown;
  readonly ultimateMPa?: unknown;
}

/** A material of the table, or one of the person's own. */
export function MaterialChoice(props: {
  label: string;
  name: string;
  material: Typed | undefined;
  onRow: (row: (typeof MATERIALS)[number]) => void;
  /** Where it may be wood. */
  onWood?: (name: string) => void;
  onOwn: () => void;
}): React.JSX.Element {
  const { label, name, material, onRow, onWood, onOwn } = props;
  const id = useId();
  const wood = onWood && material && woodRow(material.name);
  const row = wood ?? (material && materialRow(material.name));
  const own = material && (!row || material.yieldMPa !== undefined || material.ultimateMPa !== undefined);
  const families = [...new Set(MATERIALS.map((m) => m.family))];
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <span className="entry">
        <select
          id={id}
          name={name}
          value={own ? 'own' : (row?.id ?? '')}
          onChange={(e) => {
            const found = MATERIALS.find((m) => m.id === e.target.value);
            if (found) onRow(found);
            else if (WOODS.some((w) => w.id === e.target.value)) onWood?.(e.target.value);
            else if (e.target.value === 'own') onOwn();
          }}
        >
          {!material && <option value="">not said yet</option>}
          {families.map((family) => (
            <optgroup key={family} label={family}>
              {MATERIALS.filter((m) => m.family === family).map((m) => (
                <option key={m.id} value={m.id}>
                  {m.id}
                </option>
              ))}
            </optgroup>
          ))}
          {onWood && (
            <optgroup label="wood">
              {WOODS.map(({ id: woodId }) => (
                <option key={woodId} value={woodId}>
                  {woodId}
                </option>
              ))}
            </optgroup>
          )}
          <option value="own">of your own…</option>
        </select>
      </span>
    </div>
  );
}

/** What the material bears at its thickness, and where that is from. */
export function StrengthWords(props: {
  material: {
    readonly name: string;
    readonly yieldMPa?: number | undefined;
    readonly ultimateMPa?: number | undefined;
  };
  thicknessMm: number;
}): React.JSX.Element {
  const wood = woodRow(props.material.name);
  if (wood) {
    const bending = woodBendingMPa(wood, props.thicknessMm, props.material.yieldMPa);
    return (
      <p className="hint">
        {bending === null
          ? 'This wood is in no table at this thickness: type its bending strength.'
          : `Bending ${bending} N/mm², ${wood.densityKgM3.characteristic} kg/m³ at least: ${props.material.yieldMPa ? 'as typed' : wood.source} (${wood.provenance}).`}
      </p>
    );
  }
  const found = materialStrength(props.material, props.thicknessMm);
  return (
    <p className="hint">
      {found
        ? `Yield ${found.yieldMPa}, tensile ${found.ultimateMPa} N/mm²: ${found.source}.`
        : 'No strength is known for this name and thickness: type yield and tensile strength.'}
    </p>
  );
}
