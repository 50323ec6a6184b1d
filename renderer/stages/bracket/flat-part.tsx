import { blanks, contourPoints, leastInsideRadiusMm, leastLegMm, massKg } from '../../../core/bracket';
import { formatQuantity } from '../../../core/quantity';
import { rad } from '../../../core/space';
import { showFace } from '../../state/bracket-store';
import { useBench } from '../../state/use-bench';
import { LatePart, Part } from '../../ui/fields';
import { BracketDrawing } from '../drawing-preview';
import type { One } from './context';

function boxMm(points: readonly (readonly [number, number])[]): [number, number] {
  const span = (k: 0 | 1): number => Math.max(...points.map((p) => p[k])) - Math.min(...points.map((p) => p[k]));
  return [span(0), span(1)];
}

/** What the blank measures and how it is bent. */
function BlankWords({ one: { spec } }: { one: One }): React.JSX.Element {
  const units = useBench((s) => s.units);
  const length = (mm: number): string => formatQuantity(mm, 'length', units);
  const pieces = blanks(spec);
  const bends = pieces[0]!.bends;
  const least = leastInsideRadiusMm(spec.material.name, spec.thicknessMm);
  return (
    <>
      <ul className="plain">
        {pieces.map((piece) => {
          const [wide, long] = boxMm(contourPoints(piece.outline, rad(0.05)));
          return (
            <li key={piece.id}>
              {piece.quantity > 1 ? `${piece.quantity} × ` : ''}
              {piece.id === 'body' ? 'Blank' : 'Gusset'} {length(wide)} × {length(long)}, {length(piece.thicknessMm)}{' '}
              thick
            </li>
          );
        })}
        {[...bends]
          .sort((a, b) => a.order - b.order)
          .map((bend) => (
            <li key={bend.id}>
              Bend {bend.order}: {bend.angleDeg}°, allowance {length(bend.allowanceMm)} (DIN 6935, k {bend.k.toFixed(2)}
              )
            </li>
          ))}
        {bends.length > 0 && least && (
          <li>
            Least inside radius for {least.grade}: {length(least.acrossMm)} across the rolling direction,{' '}
            {length(least.alongMm)} along it (EN 10025-2, not checked against its text)
          </li>
        )}
        {bends.length > 0 && !least && (
          <li>No least inside radius is known here for this material; as thick as the sheet is common practice.</li>
        )}
        {bends.length > 0 && <li>Least leg in a press: {length(leastLegMm(spec.thicknessMm))} (common practice)</li>}
        <li>Mass {formatQuantity(massKg(spec), 'mass', units, 3)}, without bolts and welds</li>
      </ul>
      <button type="button" onClick={() => showFace('flat')}>
        Show the blank
      </button>
    </>
  );
}

/** The blank, and the drawing as it will print. */
export function FlatPart({ one }: { one: One }): React.JSX.Element {
  return (
    <>
      <Part title="Blank and bends" folded>
        {one.model ? <BlankWords one={one} /> : <p className="hint">Mend the sizes first.</p>}
      </Part>
      <LatePart title="Drawing">
        <BracketDrawing id={one.raw.id} />
      </LatePart>
    </>
  );
}
