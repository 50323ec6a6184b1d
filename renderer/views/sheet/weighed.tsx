import { memo } from 'react';
import { STANDARD_GRAVITY, formatOnScale, formatQuantity } from '../../../core/quantity';
import { add, dot, scale, sub, toRad } from '../../../core/space';
import { ellipseFactor, ellipseIn } from '../../../core/survey';
import { massCentre, poseAt } from '../../../core/travel';
import { type LiftedFound, type PullsFound, placeCovariance, pullSeen } from '../../../core/weigh';
import { weighedOf } from '../../state/weighed';
import { DASH, Ink, Mark, arrow, beside, cross, disc, line } from './ink';
import { drawEllipse } from './readings';

// What was weighed.

/** An arrow for the greatest pull read, px; shorter ones in proportion. */
const LONGEST_PX = 70;
/** Length of the arrow of the weight together, px. */
const ARROW_PX = 96;

/** Arrow at the grip for every pull read, as long as it is strong; the one at the present angle is labelled. */
export const PullReadings = memo(() => (
  <Ink
    name="pulls read"
    draw={(pen, look) => {
      const { state, at, palette: c } = look;
      const geometry = weighedOf(state.resolved).pulls?.geometry;
      const { weighings, hinge } = state.resolved;
      const rows = weighings?.pulls?.readings ?? [];
      if (!geometry || !look.scene.axis) return;
      const most = Math.max(...rows.map((r) => Math.abs(r.forceN)), 1e-9);
      const unitOf = weighings?.scale ?? (state.units.force === 'lbf' ? 'lb' : 'kg');
      for (const r of rows) {
        const { gripMm, way } = pullSeen(geometry, r, hinge.opens === 'down' ? -1 : 1);
        const length = (LONGEST_PX * Math.abs(r.forceN)) / most;
        const [a, b] = [at(gripMm), at(add(gripMm, scale(way, length / state.sheet.pxPerMm)))];
        const seen = Math.hypot(b[0] - a[0], b[1] - a[1]) > 8;
        const now = Math.abs(r.angleDeg - state.angleDeg) < 0.6;
        pen.globalAlpha = r.use === false ? 0.35 : 1;
        disc(pen, a, 3, c.accent, null);
        if (seen) arrow(pen, a, b, [9, 5], c.accent, now ? 3 : 1.5, r.use === false ? DASH.hidden : DASH.full);
        pen.globalAlpha = 1;
        if (now && seen) beside(pen, formatOnScale(r.forceN, unitOf), b[0], b[1], look);
      }
    }}
  />
));

/** Where the lifted lid rested: a small stand under the point. */
export const RestStand = memo(({ id }: { id: string }) => (
  <Mark
    name={`stand under ${id}`}
    at={({ scene, at }) => (scene.posed.has(id) ? at(scene.posed.get(id)!) : null)}
    draw={(pen, { palette }) => line(pen, [[0, 9], [8, 22], [-8, 22]], palette.accent, 1.5, DASH.full, true)} // prettier-ignore
  />
));

const nameOf = (found: PullsFound | LiftedFound): string => found.item?.name ?? found.item?.id ?? 'New item';

/** Where a weighed centre of mass lies, with the oval that holds it in 95 of 100 cases. */
export const WeighedPlace = memo(({ by }: { by: 'pulls' | 'lifted' }) => (
  <Ink
    name={`centre of mass from ${by}`}
    draw={(pen, look) => {
      const { state, scene, projection, palette: c } = look;
      const weighed = weighedOf(state.resolved);
      const found = weighed[by];
      const proposal = found?.proposal;
      if (!found || !proposal) return;
      const { axis } = scene;
      const turn = toRad(state.angleDeg);
      const at = axis ? poseAt(axis, proposal.at, turn) : proposal.at;
      const oval = ellipseIn(placeCovariance(proposal, axis?.opening ?? null, turn), projection.plane);
      const reach = drawEllipse(pen, { at, ...oval }, ellipseFactor(0.95) * state.sheet.pxPerMm, 48, look);
      const [x, y] = look.at(at);
      cross(pen, [x, y], 8, c.accent, 2);
      const both = weighed.pulls?.proposal && weighed.lifted?.proposal;
      const words = !both ? 'as weighed' : by === 'pulls' ? 'from pulls' : 'lifted off';
      const below = both && by === 'lifted';
      beside(pen, `${nameOf(found)}, ${words}`, x + Math.min(reach, 60) - 8, y + (below ? 26 : 6), look);
    }}
  />
));

/** Where all that is on the lid acts together, its weight, and how far it lies from the hinge; in the side view. */
export const Together = memo(() => (
  <Ink
    name="weight together"
    draw={(pen, look) => {
      const { state, scene, projection, palette: c } = look;
      const { axis } = scene;
      if (!axis || projection.plane !== 'side') return;
      const off = state.resolved.loadCases.find((x) => x.id === state.caseId)?.off ?? [];
      const all = massCentre(state.resolved, off);
      if (!all) return;
      const now = poseAt(axis, all.at, toRad(state.angleDeg));
      const onHinge = add(axis.origin, scale(axis.along, dot(sub(now, axis.origin), axis.along)));
      const at = look.at(now);
      const foot: [number, number] = [at[0], at[1] + ARROW_PX];
      disc(pen, at, 9, null, c.accent, 2);
      arrow(pen, at, foot, [11, 5], c.accent, 2.5);
      const weight = formatQuantity(all.kg * STANDARD_GRAVITY, 'force', state.units);
      beside(
        pen,
        `together ${formatQuantity(all.kg, 'mass', state.units, 1)}, ${weight}`,
        foot[0] - 8,
        foot[1] + 10,
        look,
      );
      // the arm, as a dimension between the hinge's upright and the arrow
      const hinge = look.at(onHinge);
      const y = Math.max(at[1], hinge[1]) + 44;
      if (Math.abs(hinge[0] - at[0]) < 30) return;
      line(pen, [[hinge[0], hinge[1]], [hinge[0], y + 6]], c.soft, 0.8); // prettier-ignore
      arrow(pen, [(hinge[0] + at[0]) / 2, y], [hinge[0], y], [8, 3], c.ink, 1);
      arrow(pen, [(hinge[0] + at[0]) / 2, y], [at[0], y], [8, 3], c.ink, 1);
      const mm = Math.abs(hinge[0] - at[0]) / state.sheet.pxPerMm;
      beside(pen, formatQuantity(mm, 'length', state.units), (hinge[0] + at[0]) / 2 - 34, y + 4, look);
    }}
  />
));
