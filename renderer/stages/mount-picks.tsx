import { useState } from 'react';
import type { EndName } from '../../core/job';
import { standOnSurface } from '../../core/joint';
import { type Vec3, cross, dot, norm, scale, sub } from '../../core/space';
import { leaveSurface, pickSurface, useMountTool } from '../state/mount-tool';
import { edit, notify, orSay } from '../state/store';
import { useBench } from '../state/use-bench';

const AXES: readonly (readonly [string, Vec3])[] = [
  ['up (Z)', [0, 0, 1]],
  ['down (−Z)', [0, 0, -1]],
  ['forward (X)', [1, 0, 0]],
  ['back (−X)', [-1, 0, 0]],
  ['left (Y)', [0, 1, 0]],
  ['right (−Y)', [0, -1, 0]],
];

/** Puts the end on another surface; its stem stays where it points. */
const restand = (strut: string, end: EndName, normal: Vec3, wish?: Vec3): boolean =>
  edit('Set the mount’s surface', (job) => standOnSurface(job, { strut, end, normal, wish }));

/** The surface an end stands on: along an axis, or through three points of the same body. */
export function MountPicks({ index, end }: { index: number; end: EndName }): React.JSX.Element {
  const all = useBench((s) => s.resolved.points);
  const strut = useBench((s) => s.resolved.struts[index]);
  const [picked, setPicked] = useState<readonly string[]>(['', '', '']);
  const points = all.filter((p) => p.on === end);
  const picking = useMountTool((wanted) => wanted?.strut === strut?.id && wanted?.end === end);
  const through = (): void => {
    const [a, b, c] = picked.map((id) => points.find((p) => p.id === id)?.at as Vec3 | undefined);
    if (!a || !b || !c) return;
    const normal = cross(sub(b, a), sub(c, a));
    if (!(norm(normal) > 1e-6 * Math.max(1, norm(sub(b, a)) * norm(sub(c, a))))) {
      notify('Those three points lie in one line, which is no surface. Pick another.', 'bad');
      return;
    }
    orSay(() => {
      // out of the surface means toward the strut
      const pivot = all.find((p) => p.id === strut?.[end])?.at as Vec3 | undefined;
      const other = all.find((p) => p.id === strut?.[end === 'base' ? 'lid' : 'base'])?.at as Vec3 | undefined;
      const toward = pivot && other ? dot(normal, sub(other, pivot)) : 1;
      restand(strut!.id, end, toward >= 0 ? normal : scale(normal, -1), sub(b, a));
    });
  };
  return (
    <details className="item" open={picking || undefined}>
      <summary>Surface it stands on</summary>
      {picking ? (
        <p className="ask" role="status">
          Click in a view the surface that the {end} end stands on, or its line where it is seen from its edge. Esc
          stops.{' '}
          <button type="button" onClick={leaveSurface}>
            Stop
          </button>
        </p>
      ) : (
        <button type="button" disabled={!strut} onClick={() => pickSurface({ strut: strut!.id, end })}>
          Click it in a view
        </button>
      )}
      <div className="field">
        <label>
          Faces
          <select
            aria-label={`Surface of the ${end} end faces`}
            value=""
            onChange={(e) => {
              const axis = AXES[Number(e.target.value)];
              if (e.target.value !== '' && axis && strut) restand(strut.id, end, axis[1]);
            }}
          >
            <option value="">along an axis…</option>
            {AXES.map(([words], i) => (
              <option key={words} value={i}>
                {words}
              </option>
            ))}
          </select>
        </label>
      </div>
      <p className="hint">Or lies through three points on the {end}:</p>
      <div className="row">
        {[0, 1, 2].map((k) => (
          <select
            key={k}
            aria-label={`Point ${k + 1} of the surface`}
            value={picked[k]}
            onChange={(e) => setPicked(picked.map((id, i) => (i === k ? e.target.value : id)))}
          >
            <option value="">—</option>
            {points.map((p) => (
              <option key={p.id} value={p.id}>
                {p.name ?? p.id}
              </option>
            ))}
          </select>
        ))}
        <button type="button" disabled={new Set(picked.filter(Boolean)).size < 3} onClick={through}>
          Use that surface
        </button>
      </div>
    </details>
  );
}
