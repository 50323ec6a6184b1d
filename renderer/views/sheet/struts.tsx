import { memo } from 'react';
import { allowedSectors } from '../../../core/joint';
import { type EndName } from '../../../core/job';
import { type Vec3, add, cos, rad, rotateVec, scale, sin, sub, toRad } from '../../../core/space';
import { formatQuantity } from '../../../core/quantity';
import type { PosedJoint } from '../../../core/travel';
import { DASH, Ink, Mark, type Pen, type Px, arrow, beside, cross, disc, line, slice, tick } from './ink';
import { inView } from './projection';
import type { Look } from './view';

// The struts, their joints, and how they go.

const jointOf = ({ scene }: Look, strut: string, end: EndName): PosedJoint | null =>
  scene.struts.get(strut)?.joints.find((j) => j.end === end) ?? null;

/** Way of a strut's lid end, and the stretches of it where a joint is out of its range. */
export const StrutWay = memo(({ id }: { id: string }) => (
  <Ink
    name={`way of strut ${id}`}
    draw={(pen, { scene, at, palette: c }) => {
      const strut = scene.struts.get(id);
      if (!strut) return;
      const way = strut.way.map(at);
      line(pen, way, c.soft, 1);
      for (let i = 1; i < way.length; i++) {
        if (!strut.wayOut[i] && !strut.wayOut[i - 1]) continue;
        const [a, b] = [way[i - 1]!, way[i]!];
        line(pen, [a, b], c.bad, 3);
        // ticks across, so that the stretch is told by shape too
        tick(pen, a, b, b, 4, c.bad, 1);
      }
    }}
  />
));

/** Where the strut is on its way: its line every few degrees. */
export const StrutSweep = memo(({ id }: { id: string }) => (
  <Ink
    name={`sweep of strut ${id}`}
    draw={(pen, { scene, at, palette: c }) => {
      const strut = scene.struts.get(id);
      if (!strut) return;
      const base = at(strut.base);
      pen.globalAlpha = 0.5;
      strut.way.forEach((p, i) => i % 3 === 0 && line(pen, [base, at(p)], c.faint, 1));
      pen.globalAlpha = 1;
    }}
  />
));

/** Tube and rod, of true thickness where that is enough to be seen; broken in the bad colour where it can't be. */
export const StrutMark = memo(({ id }: { id: string }) => (
  <Ink
    name={`strut ${id}`}
    draw={(pen, { scene, state, at, palette: c }) => {
      const strut = scene.struts.get(id);
      if (!strut) return;
      const { pxPerMm } = state.sheet;
      const held = state.selection?.kind === 'strut' && state.selection.id === id;
      const share = strut.lengthMm > 0 ? Math.min(1, Math.max(0.1, (strut.compressedMm - 20) / strut.lengthMm)) : 1;
      const body = (base: Vec3, lid: Vec3, alpha: number): void => {
        const [a, b] = [at(base), at(lid)];
        const tubeEnd: Px = [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];
        const ink = strut.inside ? c.ink : c.bad;
        const dash = strut.inside ? DASH.full : DASH.stroke;
        const tubePx = strut.tubeMm * pxPerMm;
        pen.globalAlpha = alpha;
        pen.lineCap = 'round';
        line(pen, [a, b], ink, Math.max(2.5, strut.rodMm * pxPerMm), dash);
        line(pen, [a, tubeEnd], ink, Math.max(6, tubePx), dash);
        if (strut.inside) line(pen, [a, tubeEnd], held ? c.accent : c.paper, Math.max(3, tubePx - 3));
      };
      if (strut.twin) body(strut.twin.base, strut.twin.lid, 0.35);
      body(strut.base, strut.lid, 1);
    }}
  />
));

const SECTOR_PX = 46;

/** A joint: the sector in which the strut may lie for it, its stem, and the ball. */
export const JointSector = memo(({ strut: id, end }: { strut: string; end: EndName }) => (
  <Mark
    name={`${end} joint of strut ${id}`}
    at={(look) => {
      const joint = jointOf(look, id, end);
      return joint && look.at(joint.at);
    }}
    draw={(pen, look) => {
      const { projection, palette: c, scene } = look;
      const joint = jointOf(look, id, end)!;
      const strut = scene.struts.get(id)!;
      const other = end === 'base' ? strut.lid : strut.base;
      const way = scale(sub(other, joint.at), 1 / (strut.lengthMm || 1));
      const [stem, along] = [inView(joint.stem, projection), inView(way, projection)];
      const tone = joint.out ? c.bad : c.good;
      drawSectors(pen, allowedSectors(stem, along, joint.rangeDeg), tone);
      // stem: from the ball towards its mount and a little past the ball
      line(pen, [[-stem[0] * 30, stem[1] * 30], [stem[0] * 10, -stem[1] * 10]], tone, 3); // prettier-ignore
      disc(pen, [0, 0], 6, joint.out ? c.bad : c.paper, joint.out ? c.bad : c.ink, 2);
      if (joint.out) cross(pen, [0, 0], 10, c.bad, 2, true);
    }}
  />
));

function drawSectors(pen: Pen, sectors: ReturnType<typeof allowedSectors>, tone: string): void {
  pen.globalAlpha = sectors ? 0.16 : 0.08;
  if (!sectors) disc(pen, [0, 0], SECTOR_PX, tone, null);
  for (const [from, to] of sectors ?? []) slice(pen, [0, 0], SECTOR_PX, -to, -from, tone);
  pen.globalAlpha = 1;
  for (const edge of sectors?.flat() ?? [])
    line(pen, [[0, 0], [SECTOR_PX * cos(rad(edge)), -SECTOR_PX * sin(rad(edge))]], tone, 1, DASH.fine); // prettier-ignore
}

/** The surface a joint stands on: a hatched line or disc behind the ball, and its normal. */
export const MountMark = memo(({ strut, end }: { strut: string; end: EndName }) => (
  <Mark
    name={`mount of ${end} joint of strut ${strut}`}
    at={(look) => {
      const joint = jointOf(look, strut, end);
      return joint?.normal ? look.at(joint.at) : null;
    }}
    draw={(pen, look) => {
      const c = look.palette;
      const [nx, up] = inView(jointOf(look, strut, end)!.normal!, look.projection);
      const flat = Math.hypot(nx, up);
      if (flat < 0.2) {
        // seen from above: the surface is the sheet itself
        pen.setLineDash([2, 4]);
        return disc(pen, [0, 0], 26, null, c.soft, 1);
      }
      const [ux, uy] = [nx / flat, -up / flat];
      const foot: Px = [-ux * 22, -uy * 22];
      const along = (k: number): Px => [foot[0] - uy * k, foot[1] + ux * k];
      line(pen, [along(-24), along(24)], c.ink, 1.5);
      for (let k = -20; k <= 24; k += 8) {
        const [x, y] = along(k);
        line(pen, [[x, y], [x - ux * 6 + uy * 5, y - uy * 6 - ux * 5]], c.ink, 1); // prettier-ignore
      }
      line(pen, [foot, [0, 0]], c.soft, 1, [2, 3]);
    }}
  />
));

/** Length of an arrow seen square, px. */
const ARROW_PX = 70;

/** At a pivot the way to go for less force, with newtons per 10 mm; an arrow seen end-on is left out. */
export const PullArrow = memo(({ strut: id, end }: { strut: string; end: EndName }) => (
  <Ink
    name={`pull at ${end} joint of strut ${id}`}
    draw={(pen, look) => {
      const { state, scene, at, palette: c } = look;
      const strut = scene.struts.get(id);
      const pull = state.pulls?.outcome === look.seen.outcome ? state.pulls.byStrut.get(id)?.[end] : undefined;
      if (!strut || !pull || pull.perTenMm < 0.5 || state.drag) return;
      const turns = end === 'lid' && scene.axis;
      const way = turns ? rotateVec(pull.direction, turns.opening, toRad(state.angleDeg)) : pull.direction;
      const a = at(strut[end]);
      const b = at(add(strut[end], scale(way, ARROW_PX / state.sheet.pxPerMm)));
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      if (length < 18) return;
      const from: Px = [a[0] + ((b[0] - a[0]) / length) * 10, a[1] + ((b[1] - a[1]) / length) * 10];
      arrow(pen, from, b, [11, 6], c.accent, 3);
      const words = `−${formatQuantity(pull.perTenMm, 'force', state.units)} per 10 mm`;
      beside(pen, words, b[0] - 8, end === 'base' ? b[1] + 18 : b[1] - 8, look);
    }}
  />
));
