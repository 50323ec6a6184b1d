import { isBent } from '../../../core/bracket';
import { Part } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';
import type { One } from './context';
import { CountField } from './count-field';

/** Every length that this kind has. */
export function SizesPart({ one }: { one: One }): React.JSX.Element {
  const { spec, at } = one;
  const { kind } = spec;
  const bent = isBent(spec);
  const channel = kind === 'channel';
  const length = (label: string, ...keys: string[]): React.JSX.Element => (
    <NumberField label={label} path={at(...keys)} dimension="length" />
  );
  return (
    <Part title="Sizes">
      {length(kind === 'wedge-plate' ? 'Thickness where thinnest' : 'Thickness', 'thicknessMm')}
      {bent && length('Inside radius', 'insideRadiusMm')}
      {channel ? length('Gap, clear', 'gapMm') : length(bent ? 'Base leg' : 'Length', 'baseLegMm')}
      {bent && length(channel ? 'Uprights' : 'Upright leg', 'uprightLegMm')}
      {length('Base width', 'baseWidthMm')}
      <NumberField
        label={bent ? 'Top width' : 'Width at the stud’s end'}
        path={at('topWidthMm')}
        dimension="length"
        fallback={spec.baseWidthMm}
        optional
      />
      {!channel && length('Base corner radius', 'baseCornerRadiusMm')}
      <NumberField
        label={bent ? 'Top corner radius' : 'Corner radius at the stud’s end'}
        path={at('topCornerRadiusMm')}
        dimension="length"
        fallback={0}
        optional
      />
      {kind === 'wedge-plate' && (
        <>
          <NumberField label="Top leans by" path={at('wedge', 'tiltDeg')} dimension="angle" />
          <NumberField
            label="Rising towards (0 along, 90 across)"
            path={at('wedge', 'directionDeg')}
            dimension="angle"
            fallback={0}
            optional
          />
        </>
      )}
      {kind === 'gusset-angle' && spec.gusset && <Gusset one={one} />}
    </Part>
  );
}

function Gusset({ one: { spec, at } }: { one: One }): React.JSX.Element {
  const gusset = spec.gusset!;
  return (
    <>
      <NumberField label="Gusset thickness" path={at('gusset', 'thicknessMm')} dimension="length" />
      <NumberField label="Gusset along the base" path={at('gusset', 'alongMm')} dimension="length" />
      <NumberField label="Gusset up the upright" path={at('gusset', 'upMm')} dimension="length" />
      <CountField path={at('gusset', 'count')} label="Gussets" most={2} />
      {gusset.count === 2 && (
        <NumberField
          label="Gusset from the centre line"
          path={at('gusset', 'acrossMm')}
          dimension="length"
          fallback={gusset.acrossMm}
          optional
        />
      )}
      <NumberField
        label="Gusset weld throat"
        path={at('gusset', 'weldThroatMm')}
        dimension="length"
        fallback={gusset.weldThroatMm}
        optional
      />
    </>
  );
}
