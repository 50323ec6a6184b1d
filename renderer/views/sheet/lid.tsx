import { memo } from 'react';
import { DASH, Ink, Mark, box, cross, disc, line, slice, trace } from './ink';
import { OBSTACLE_HANDLE } from './scene';
import type { Look } from './view';

// The lid and what is on it.

const chosen = ({ state }: Look, id: string): boolean => state.selection?.kind === 'point' && state.selection.id === id;

/** Swept way of a corner or the grip. */
export const SweptTrace = memo(({ id }: { id: string }) => (
  <Ink
    name={`swept trace of ${id}`}
    draw={(pen, { scene, at, palette }) => line(pen, (scene.traces.get(id) ?? []).map(at), palette.faint, 1)}
  />
));

/** The lid now, and as closed and as open. */
export const Outline = memo(() => (
  <Ink
    name="outline"
    draw={(pen, { scene, at, palette: c }) => {
      line(pen, scene.outlineClosed.map(at), c.soft, 1, DASH.hidden, true);
      if (scene.openDeg > 0) line(pen, scene.outlineOpen.map(at), c.soft, 1, DASH.phantom, true);
      const now = scene.outline.map(at);
      if (now.length >= 3) {
        trace(pen, now, true);
        pen.globalAlpha = 0.08;
        pen.fillStyle = c.ink;
        pen.fill();
        pen.globalAlpha = 1;
      }
      line(pen, now, c.ink, 2.5, DASH.full, true);
    }}
  />
));

/** The hinge's points, and its axis running on past them. */
export const Hinge = memo(() => (
  <Ink
    name="hinge"
    draw={(pen, { scene, at, palette: c }) => {
      if (!scene.hinge) return;
      const [a, b] = [at(scene.hinge[0]), at(scene.hinge[1])];
      const d = Math.hypot(b[0] - a[0], b[1] - a[1]);
      if (d > 1) {
        const [ex, ey] = [((b[0] - a[0]) / d) * 14, ((b[1] - a[1]) / d) * 14];
        line(pen, [[a[0] - ex, a[1] - ey], [b[0] + ex, b[1] + ey]], c.ink, 1, DASH.centre); // prettier-ignore
      }
      for (const p of [a, b]) {
        disc(pen, p, 6, c.paper, c.ink, 2);
        cross(pen, p, 9, c.ink, 1);
      }
    }}
  />
));

export const Corner = memo(({ id }: { id: string }) => (
  <Mark
    name={`corner ${id}`}
    at={({ scene, at }) => (scene.posed.has(id) ? at(scene.posed.get(id)!) : null)}
    draw={(pen, look) => {
      const c = look.palette;
      const own = chosen(look, id);
      box(pen, 7, 7, own ? c.accent : c.paper, own ? c.accent : c.ink, 1.5);
    }}
  />
));

export const Grip = memo(({ id }: { id: string }) => (
  <Mark
    name="grip"
    at={({ scene, at }) => (scene.posed.has(id) ? at(scene.posed.get(id)!) : null)}
    draw={(pen, look) =>
      box(pen, 14, 8, look.palette.paper, chosen(look, id) ? look.palette.accent : look.palette.ink, 2)
    }
  />
));

/** Centre-of-mass mark: a quartered disc, its area by mass; hollow when the load case takes it off. */
export const Mass = memo(({ id }: { id: string }) => (
  <Mark
    name={`mass ${id}`}
    at={({ scene, at }) => (scene.masses.has(id) ? at(scene.masses.get(id)!.at) : null)}
    draw={(pen, look) => {
      const { scene, state, palette: c } = look;
      const mass = scene.masses.get(id)!;
      const own = chosen(look, mass.pointId) || (state.selection?.kind === 'mass' && state.selection.id === id);
      const ink = own ? c.accent : c.ink;
      // small enough not to hide what stands beside it
      const r = Math.min(9, 4 + Math.cbrt(mass.kg));
      disc(pen, [0, 0], r, c.paper, ink, 2);
      if (!mass.off) for (const from of [0, Math.PI]) slice(pen, [0, 0], r, from, from + Math.PI / 2, ink);
    }}
  />
));

/** The lid's panel as thick as it is, and loads that take room, as their edges. */
export const LidBodies = memo(() => (
  <Ink
    name="bodies of the lid"
    draw={(pen, { scene, at, palette: c }) => {
      for (const edge of scene.bodies) line(pen, edge.map(at), c.soft, 1);
    }}
  />
));

/** A thing in the way, as its edges; a cross marks the middle to take hold of. */
export const Obstacle = memo(({ id }: { id: string }) => (
  <Ink
    name={`obstacle ${id}`}
    draw={(pen, { scene, at, palette: c }) => {
      for (const edge of scene.obstacles.get(id) ?? []) line(pen, edge.map(at), c.soft, 1.5);
      const middle = scene.posed.get(OBSTACLE_HANDLE + id);
      if (middle) cross(pen, at(middle), 5, c.soft, 1.5);
    }}
  />
));
